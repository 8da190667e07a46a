"""Telephone numbers: the target that is dialled, the digits that are read."""

from __future__ import annotations

import re

import pytest

from generator.words.telephone import calling_code, telephone

# All numbers are from ranges kept for fiction: 555-0100 to 555-0199 of the North American plan; Ofcom's numbers for
# television and radio drama; the German regulator's numbers for media productions (30 23125).
CLINIC = "+1 802-555-0142"
LONDON = "+44 20 7946 0958"


@pytest.mark.parametrize(
    ("number", "home", "uri", "shown"),
    [
        ("+1 802-555-0178", CLINIC, "tel:+18025550178", "(802) 555-0178"),
        ("+18025550178", CLINIC, "tel:+18025550178", "(802) 555-0178"),
        ("+1 (802) 555.0178", CLINIC, "tel:+18025550178", "(802) 555-0178"),
        # RFC 3966 and ITU-T E.123: international with + and country code first.
        ("+1 202 555 0143", LONDON, "tel:+12025550143", "+1 202-555-0143"),
        # E.123: national (0xx) with spaces, no dashes.
        (LONDON, LONDON, "tel:+442079460958", "020 7946 0958"),
        ("+44 (0)20 7946 0958", LONDON, "tel:+442079460958", "020 7946 0958"),
        (LONDON, CLINIC, "tel:+442079460958", "+44 20 7946 0958"),
        # A national form with five digits in a row gives way to the international one.
        ("+44 1632 960123", LONDON, "tel:+441632960123", "+44 1632 960 123"),
        ("+49 30 23125 123", "+49 30 23125 000", "tel:+493023125123", "030 23 125 123"),
        # Italy dials the zero from everywhere; Spain and Poland have none.
        ("+39 06 5550 1234", "+39 06 5550 0000", "tel:+390655501234", "06 5550 1234"),
        # No trunk digit is known for Nepal, so nothing is guessed.
        ("+977 1 555 0123", "+977 1 555 0100", "tel:+97715550123", "+977 1 555 0123"),
    ],
)
def test_a_number_is_dialled_and_read_as_the_country_does(number: str, home: str, uri: str, shown: str) -> None:
    phone = telephone(number, home)
    assert phone.uri == uri
    assert phone.shown == shown


@pytest.mark.parametrize("number", ["+441632960123", "+18025550178", "+85212345678", "+493023125123", "+6125550123456"])
def test_no_run_of_digits_is_longer_than_four_and_none_is_lost(number: str) -> None:
    for home in (CLINIC, LONDON, number):
        phone = telephone(number, home)
        assert max(len(run) for run in re.findall(r"\d+", phone.shown)) <= 4
        digits = re.sub(r"\D", "", phone.shown)
        assert number.endswith(digits.lstrip("0"))


@pytest.mark.parametrize(
    "number", ["802-555-0142", "911", "+911", "+0 802 555 0142", "+1234567890123456", "", "call us"]
)
def test_what_cannot_be_dialled_from_anywhere_is_refused(number: str) -> None:
    with pytest.raises(ValueError, match="international form"):
        telephone(number, CLINIC)


def test_country_codes_have_one_to_three_digits() -> None:
    # ITU-T E.164, list of assigned country codes.
    assert [calling_code(n) for n in ("+18025550142", "+7495", "+442079460958", "+353209123456", "+50922", "+97715")] == [
        "1", "7", "44", "353", "509", "977",
    ]  # fmt: skip
