"""The plural rule a new catalogue starts with."""

from __future__ import annotations

import pytest

from generator.words.catalogue import plural_rule
from generator.words.local import UnknownLanguageError
from generator.words.plurals import plural_forms


# GNU gettext manual 0.22, section 11.2.6 "Additional functions for plural forms": the rules it lists by family of languages.
# Left out are those in which CLDR counts otherwise (Irish, Latvian, Lithuanian; Vietnamese, which CLDR 48 counts by two forms).
@pytest.mark.parametrize(
    ("languages", "published"),
    [
        ("ja ko zh-Hans zh-Hant", "nplurals=1; plural=0;"),
        ("de nl sv da es it el tr hu bg", "nplurals=2; plural=n != 1;"),
        ("fr pt-BR", "nplurals=2; plural=n>1;"),
        ("ru uk", "nplurals=3; plural=n%10==1 && n%100!=11 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2;"),
        ("cs sk", "nplurals=3; plural=(n==1) ? 0 : (n>=2 && n<=4) ? 1 : 2;"),
        ("pl", "nplurals=3; plural=n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2;"),
        ("ro", "nplurals=3; plural=n==1 ? 0 : (n==0 || (n%100 > 0 && n%100 < 20)) ? 1 : 2;"),
        ("sl", "nplurals=4; plural=n%100==1 ? 0 : n%100==2 ? 1 : n%100==3 || n%100==4 ? 2 : 3;"),
        ("ar", "nplurals=6; plural=n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n%100>=3 && n%100<=10 ? 3 : n%100>=11 ? 4 : 5;"),
    ],
)  # fmt: skip
def test_every_count_takes_the_form_that_the_published_rule_gives(languages: str, published: str) -> None:
    expected = plural_rule(published)
    assert expected is not None
    for language in languages.split():
        found = plural_rule(plural_forms(language))
        assert found is not None, language
        assert found[0] == expected[0], language
        assert [found[1](n) for n in range(1001)] == [expected[1](n) for n in range(1001)], language


def test_haitian_creole_has_one_form() -> None:
    # From memory: the noun does not change beside a count.
    assert plural_forms("ht") == "nplurals=1; plural=0;"


def test_a_language_nobody_knows_is_an_error() -> None:
    with pytest.raises(UnknownLanguageError):
        plural_forms("xx")
