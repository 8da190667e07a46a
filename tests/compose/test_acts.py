"""A sign beside a line says what the line says, or there is none."""

from __future__ import annotations

import pytest

from generator.compose.acts import sign_for
from tests.compose.plans import book


@pytest.mark.parametrize(
    ("line", "never", "sign"),
    [
        ("Look at the two middle toes, morning and evening.", False, "look-at-toes"),
        ("Keep the cone on, also at night.", False, "cone"),
        ("Let {pet} out on a lead only, for the toilet.", False, "short-lead"),
        ("Take the cover off as soon as you are indoors.", False, "cover-off-indoors"),
        ("Do not let {pet} jump, play or use stairs.", True, "no-jumping"),
        ("Do not cut, loosen or tape the bandage.", True, "no-cutting"),
        # A forbidding line among what to do, and a bidding one under Never, get none: the sign would say the opposite.
        ("Do not take the cone off.", False, None),
        ("Do not take the cone off.", True, None),
        ("Give only the medicine that we gave you.", True, None),
        ("Ruhe.", False, None),
    ],
)
def test_signs(line, never, sign):
    assert sign_for(line, never) == sign


def test_no_forbidding_sign_ever_stands_among_what_to_do():
    for protocol in book().protocols.values():
        for one in (protocol, *protocol.stages.values()):
            if one.owner is not None:
                assert all(
                    not (sign_for(line, False) or "").startswith("no-")
                    for line in (*one.owner.every_day, *one.owner.keep_dry)
                )
                assert all((sign_for(line, True) or "no-").startswith("no-") for line in one.owner.never)
