"""Who reads: language and region, and where the conventions for them come from.

Takes  a BCP 47 tag, the territory of the clinic, the clinic's time zone.
Gives  `Local`, with its hour cycle; the territory of a zone; facts of the Unicode CLDR by path.
Knows  babel's data files (CLDR), never read for American or British English, nor for Haitian Creole.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Any, Literal

Cycle = Literal[12, 24]


class UnknownLanguageError(ValueError):
    """No conventions are known for this language."""


@dataclass(frozen=True, slots=True)
class Local:
    """Language and region of a reader.

    language: BCP 47 (`es`, `pt-BR`, `zh-Hans`). territory: ISO 3166 (`US`), where the reader lives: it decides the
    hour cycle, since an owner reads the clocks of the country more often than those of the language.
    cycle: set to overrule that. is_staff: exact 24-hour times, 00:00 included; owners never get a midnight or a noon
    in bare figures.
    """

    language: str
    territory: str = "US"
    cycle: Cycle | None = None
    is_staff: bool = False

    @property
    def hours(self) -> Cycle:
        """12 or 24."""
        return self.cycle or (24 if self.is_staff else _cycle(self.language, self.territory))

    @property
    def base(self) -> str:
        """The language without script and region: `zh` of `zh-Hans`."""
        return self.language.split("-")[0]


# Zones of the United States, so that a sheet in English opens no data file. IANA time zone database, zone.tab.
_US = re.compile(
    r"(America/(New_York|Chicago|Denver|Los_Angeles|Phoenix|Anchorage|Detroit|Boise|Juneau|Sitka|Metlakatla|Yakutat|Nome|Adak"
    r"|Menominee|(Indiana|Kentucky|North_Dakota)/\w+)|Pacific/Honolulu|US/[\w-]+)\Z"
)


@lru_cache(maxsize=64)
def territory_of(zone: str) -> str:
    """The territory an IANA zone belongs to, such as `US` for `America/New_York`; `001`, the world, where it has none."""
    if _US.match(zone):
        return "US"
    if zone == "Europe/London":
        return "GB"
    from babel.core import get_global

    # An old name (`Asia/Calcutta`, `Canada/Eastern`) is an alias of the zone that has the territory.
    found = str(get_global("zone_territories").get(get_global("zone_aliases").get(zone, zone), "ZZ"))
    return "001" if found == "ZZ" else found


@lru_cache(maxsize=64)
def cldr_name(language: str, territory: str) -> str:
    """The nearest set of conventions CLDR has: language with territory, else the language as it is.

    Raises:
        UnknownLanguageError: CLDR, as babel ships it, has nothing for this language.
    """
    from babel.localedata import exists

    parts = language.replace("-", "_").split("_")
    has_region = any(re.fullmatch(r"[A-Z]{2}|\d{3}", part) for part in parts[1:])
    names = [*([] if has_region else [f"{'_'.join(parts)}_{territory}"]), "_".join(parts), parts[0]]
    for name in names:
        if re.fullmatch(r"[A-Za-z]{2,3}(_[A-Za-z0-9]+)*", name) and exists(name):
            return name
    raise UnknownLanguageError(f"no dates, times and units are known for the language `{language}`")


def fact(name: str, *path: str) -> Any:
    """One fact of CLDR: a mapping, a pattern or a string.

    babel's own `Locale` writes what it has looked up back into data shared by all languages: after Urdu has been read
    in the same run, stand-alone weekday names of German come back in Urdu (babel 2.18.0). Reading `load()` and following
    the references here, without writing, keeps a run that prints many languages right.
    """
    from babel.localedata import load

    data = load(name)
    node: Any = data
    for key in path:
        node = _whole(node, data)[key]
    return _whole(node, data)


def _whole(node: Any, data: dict[str, Any]) -> Any:
    from babel.localedata import Alias, merge

    if isinstance(node, Alias):
        return _whole(_follow(node, data), data)
    if isinstance(node, tuple):
        alias, others = node
        whole = dict(_whole(_follow(alias, data), data))
        merge(whole, others)
        return whole
    return node


def _follow(alias: Any, data: dict[str, Any]) -> Any:
    node: Any = data
    for key in alias.keys:
        node = _whole(node, data)[key]
    return node


@lru_cache(maxsize=64)
def _cycle(language: str, territory: str) -> Cycle:
    if territory == "US":
        return 12
    if territory == "GB":
        return 24
    from babel.core import get_global
    from babel.languages import get_official_languages
    from babel.localedata import exists

    # A language without a set of its own for this territory follows what the territory's own languages do.
    spoken = [*get_official_languages(territory, de_facto=True), "en"]
    names = [cldr_name(language, territory), *(f"{tongue}_{territory}" for tongue in spoken)]
    names.append(str(get_global("likely_subtags").get(f"und_{territory}", "")))
    # Where no territory is known (zone UTC), the language itself decides.
    name = (
        names[0]
        if territory == "001"
        else next((n for n in names if n.endswith(f"_{territory}") and exists(n)), names[0])
    )
    pattern = str(fact(name, "time_formats", "short").pattern)
    return 12 if re.search("[hK]", re.sub("'[^']*'", "", pattern)) else 24


def unit_pattern(local: Local, unit: str, number: Fraction | int, width: Literal["long", "short"]) -> str:
    """How a language writes an amount of a unit, such as `{0} horas`; the form fits the number.

    CLDR leaves the long form out where it is the same as the short one. Arabic and Hebrew have forms that say one and
    two without a figure; the plain form stands in for them, so that every sheet shows the same figures as its English.
    """
    from decimal import Decimal

    exact = Fraction(number)
    name = cldr_name(local.language, local.territory)
    category = fact(name, "plural_form")(Decimal(exact.numerator) / Decimal(exact.denominator))
    by_width = fact(name, "unit_patterns", unit)
    for key in (width, "short"):
        # A width may itself be a reference with exceptions (babel 2.19.0), which only `fact` follows.
        forms = fact(name, "unit_patterns", unit, key) if key in by_width else {}
        found = next((form for form in (forms.get(category), forms.get("other")) if form and "{0}" in form), None)
        if found:
            return str(found)
    raise UnknownLanguageError(f"no words are known for `{unit}` in the language `{local.language}`")


def decimal_sign(local: Local) -> str:
    """`.` or `,`: what stands before tenths where this reader lives."""
    own: Mapping[str, str] = {"en": ".", "ht": "." if local.territory == "US" else ","}
    if local.base in own:
        return own[local.base]
    return str(fact(cldr_name(local.language, local.territory), "number_symbols", "latn", "decimal"))
