"""Say which way a language runs.

Takes  a BCP 47 tag.
Gives  `is_rtl`: whether it is written from right to left.
Knows  the languages and scripts written so; nothing of letters.
"""

from __future__ import annotations

# ISO 639 codes of the languages written from right to left.
_RIGHT_TO_LEFT = frozenset({"ar", "arc", "ckb", "dv", "fa", "he", "ku", "ps", "sd", "ug", "ur", "yi"})
# ISO 15924 codes of the scripts written so.
_SCRIPTS = ("Arab", "Hebr", "Thaa", "Syrc", "Nkoo", "Adlm")


def is_rtl(language: str) -> bool:
    """True for a language written from right to left; a script subtag (`pa-Arab`) decides."""
    parts = language.replace("_", "-").split("-")
    scripts = [part.title() for part in parts[1:] if len(part) == 4 and part.isalpha()]
    if scripts:
        return scripts[0] in _SCRIPTS
    return parts[0].lower() in _RIGHT_TO_LEFT
