"""Numbers and units: rounded half up, no trailing zero, unit beside the number."""

from __future__ import annotations

from fractions import Fraction

import pytest

from generator.words.local import Local
from generator.words.numbers import length, mass, measure, money, numbers_in, plain_number, rounded

EN = Local("en", "US")


@pytest.mark.parametrize(
    ("value", "places", "shown"),
    [
        ("2.25", 1, "2.3"),  # half up; half even would give 2.2
        ("2.35", 1, "2.4"),
        ("0.05", 1, "0.1"),
        ("5", 1, "5"),
        ("4.96", 1, "5"),  # no trailing zero: 5.0 is read as 50 (ISMP list of error-prone abbreviations)
        ("0.5", 1, "0.5"),  # no naked decimal point (the same list)
        ("18.4", 1, "18.4"),
        ("10", 0, "10"),
        ("100", 2, "100"),
        ("0.125", 2, "0.13"),
        ("-2.25", 1, "\u22122.3"),
        ("0.04", 1, "0"),
        ("-0.04", 1, "0"),
    ],
)
def test_numbers_are_rounded_half_up_without_trailing_zeros(value: str, places: int, shown: str) -> None:
    assert plain_number(Fraction(value), EN, places) == shown


def test_rounding_is_exact_where_floats_are_not() -> None:
    # 2.675 as a binary float lies below itself and would round down.
    assert rounded(Fraction("2.675"), 2) == Fraction("2.68")
    assert rounded(Fraction(1, 3), 3) == Fraction("0.333")


def test_the_unit_stands_behind_a_no_break_space() -> None:
    assert measure(Fraction("7.5"), "cm", EN) == "7.5\u00a0cm"
    assert measure(Fraction("16.1"), "mm[Hg]", EN) == "16.1\u00a0mmHg"
    assert measure(50, "%", EN) == "50\u00a0%"


@pytest.mark.parametrize(
    ("local", "shown"),
    # Decimal sign and unit: Unicode CLDR 47. A language without conventions of its own for the territory keeps its comma.
    [
        (Local("es", "US"), "18.4\u00a0kg"), (Local("es", "ES"), "18,4\u00a0kg"), (Local("de", "DE"), "18,4\u00a0kg"),
        (Local("ru", "RU"), "18,4\u00a0кг"), (Local("vi", "VN"), "18,4\u00a0kg"), (Local("ar", "EG"), "18.4\u00a0كغم"),
        (Local("zh-Hant", "TW"), "18.4\u00a0公斤"), (Local("he", "IL"), "18.4\u00a0ק״ג"), (Local("fr", "CA"), "18,4\u00a0kg"),
    ],
)  # fmt: skip
def test_a_weight_is_written_as_its_reader_writes_it(local: Local, shown: str) -> None:
    assert measure(Fraction("18.4"), "kg", local) == shown


def test_units_follow_the_clinic() -> None:
    # 14 cm / 2.54 = 5.5118 in; 18.4 kg / 0.45359237 = 40.565 lb (international yard and pound agreement, 1959).
    assert length(14, "metric", EN) == "14\u00a0cm"
    assert length(14, "us", EN) == "5.5\u00a0in"
    # Of both, first what the reader's country is used to.
    assert length(14, "both", EN) == "5.5\u00a0in\u00a0(14\u00a0cm)"
    assert length(14, "both", Local("es", "MX")) == "14\u00a0cm\u00a0(5.5\u00a0in)"
    assert length(14, "both", Local("en", "US", is_staff=True)) == "14\u00a0cm\u00a0(5.5\u00a0in)"
    assert mass(Fraction("18.4"), "us", EN) == "40.6\u00a0lb"
    assert mass(Fraction("18.4"), "both", EN) == "40.6\u00a0lb\u00a0(18.4\u00a0kg)"


def test_what_must_not_be_exceeded_is_cut_and_not_rounded() -> None:
    # 2 m = 6.56 ft: rounded to 7 it would be a longer lead than the protocol allows.
    assert length(200, "us", EN, unit="m", down=True) == "6\u00a0ft"
    assert length(200, "metric", EN, unit="m", down=True) == "2\u00a0m"
    assert length(150, "metric", EN, unit="m", down=True) == "1.5\u00a0m"


def test_figures_are_always_the_digits_0_to_9() -> None:
    for language in ("ar", "fa", "ur", "hi", "th", "my", "ne"):
        for unit in ("cm", "kg", "mm[Hg]", "h", "d"):
            for number in (1, 2, 5, 11):
                shown = measure(number, unit, Local(language, "US"))
                assert numbers_in(shown) == (str(number),), shown
                assert shown.count(str(number)) == 1
                assert "-" not in shown, "the name of a unit in the data, not its words"


def test_money_is_rounded_half_up_to_the_currencys_own_places() -> None:
    assert money(Fraction("1.1"), "USD", EN) == "$1.10"
    assert money(Fraction("0.005"), "USD", EN) == "$0.01"
    assert money(Fraction("1234.5"), "USD", EN) == "$1234.50"
    # ISO 4217: the yen has no minor unit.
    assert money(Fraction("110.5"), "JPY", EN) == "¥111"
    assert money(Fraction("1.1"), "EUR", Local("de", "DE")) == "1,10\u00a0€"
    assert money(Fraction("1.1"), "USD", Local("ht", "US")) == "$1.10"


def test_digits_of_other_scripts_count_as_the_same_number() -> None:
    assert numbers_in("٢٤ h, 7") == ("24", "7")
