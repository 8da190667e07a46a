"""How many forms a word has beside a count, and which count takes which.

Takes  a language.
Gives  the line `Plural-Forms` of its catalogue, from CLDR's rules for whole numbers.
Knows  that a form no count up to a thousand takes is one that no translator could fill in; nothing of catalogues.
"""

from __future__ import annotations

from generator.words.local import cldr_name, fact

# Counts on a sheet are walks, days, pages.
COUNTS = range(1001)
# The order in which CLDR names its kinds of counts (UTS 35, part 3, "Language Plural Rules").
_KINDS = ("zero", "one", "two", "few", "many", "other")


def plural_forms(language: str) -> str:
    """`nplurals=2; plural=(n != 1);` as gettext writes it, with a form for each kind of count that occurs.

    Spanish tells millions apart, Russian fractions: neither is ever counted here, and a form for them would stay empty.

    Raises:
        UnknownLanguageError: CLDR has nothing for this language.
    """
    if language.split("-")[0] == "ht":
        # One form (from memory, as in `words/check.py`).
        return "nplurals=1; plural=0;"
    from babel.plural import PluralRule, to_gettext

    rule = fact(cldr_name(language, "001"), "plural_form")
    met = {rule(count) for count in COUNTS}
    kinds = [kind for kind in _KINDS if kind in met]
    # The last kind is whatever the others are not.
    whole = PluralRule({kind: rule.rules[kind] for kind in kinds[:-1]})
    return str(to_gettext(whole))
