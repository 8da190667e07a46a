"""Rules R16, R17, R24, R27 to R30: how long, by when, watched by whom, and what goes home."""

from __future__ import annotations

import pytest

from tests.protocol.rules.slips import Fine, Slip, edited, told

OWNER_TEXT = (
    "owner:\n  what_it_does: The bandage helps the leg.\n  every_day:\n    - Look at the two middle toes once for each box.\n"
    "    - Feel the toes. Warm and soft is right.\n    - Smell the bandage at both ends.\n"
    "  keep_dry:\n    - Put a cover over it to go out.\n    - Take the cover off as soon as you are indoors.\n"
    "  exercise: {walks: 4 a day, minutes_each: 5 min, lead: 2 m}\n  never:\n    - Do not cut, loosen or tape the bandage.\n"
    "    - Do not let {pet} jump or run.\n    - Came off? Do not put it back. Ring us.\n    - Do not tie the cover with rubber bands.\n    - Do not give human medicine. It can kill.\n"
)
EMERGENCY, URGENT = (
    "toes-cold-or-discoloured, toes-no-flinch, bleeding-through, collapse, ",
    "nails-apart, wet, bad-smell, slipped, more-lame, ",
)
SIGNS = f"signs: [{EMERGENCY}{URGENT}strike-through, chewing]"
TAPE = "on_skin_at_most: 7 d"

# File, the line as it is, the ceiling in minutes as the trade has it, the line's key. Sources: Gleason 2023 (soft, 7 d);
# Ferrigno (splint change, cast inspection: 7 d); Canine Sports Medicine p. 368 (Ehmer 14 d); Allard 2007 (Velpeau 14 d);
# Campbell 2015 (wounds); Tobias 2012 (tie-over 12 h); Technical aspects of fluid therapy (catheter 12 h); the rest common practice.
H, D = 60, 24 * 60
CEILINGS = (
    ("soft-padded.yaml", "first_check: 12 h to 24 h", "first_check", 48 * H),
    ("soft-padded.yaml", "change_every: 3 d to 7 d", "change_every", 7 * D),
    ("heavy-padded.yaml", "first_check: 12 h to 24 h", "first_check", 24 * H),
    ("heavy-padded.yaml", "change_every: 48 h to 72 h", "change_every", 72 * H),
    ("heavy-padded.yaml", "remove_by: 5 d", "remove_by", 5 * D),
    ("splinted-limb.yaml", "change_every: 5 d to 7 d", "change_every", 7 * D),
    ("cast-limb.yaml", "recheck_every: 7 d", "recheck_every", 7 * D),
    ("foot-bandage.yaml", "change_every: 48 h to 72 h", "change_every", 72 * H),
    ("closed-wound.yaml", "change_every: 3 d to 7 d", "change_every", 7 * D),
    ("tieover.yaml", "first_check: 6 h to 12 h", "first_check", 12 * H),
    ("velpeau-sling.yaml", "change_every: 4 d to 7 d", "change_every", 7 * D),
    ("velpeau-sling.yaml", "remove_by: 14 d", "remove_by", 14 * D),
    ("ehmer-sling.yaml", "remove_by: 12 d", "remove_by", 14 * D),
    ("ehmer-sling.yaml", "recheck_every: 48 h to 72 h", "recheck_every", 3 * D),
    ("carpal-sling.yaml", "remove_by: 12 d", "remove_by", 14 * D),
    ("robinson-sling.yaml", "remove_by: 10 d", "remove_by", 14 * D),
    ("hobbles.yaml", "remove_by: 12 d", "remove_by", 14 * D),
    ("head-cover.yaml", "change_every: 24 h to 72 h", "change_every", 72 * H),
    ("chest-wrap.yaml", "first_check: 6 h to 12 h", "first_check", 12 * H),
    ("catheter-cover.yaml", "change_every: 24 h to 48 h", "change_every", 72 * H),
    ("pressure-bandage.yaml", "release: 15 min", "release", 15),
    ("pressure-bandage.yaml", "remove_by: 20 min", "remove_by", 20),
)


@pytest.mark.parametrize(("file", "line", "key", "minutes"), CEILINGS)
def test_a_limit_is_right_at_its_ceiling_and_stopped_a_minute_later(
    file: str, line: str, key: str, minutes: int
) -> None:
    assert told({file: edited(file, (f"  {line}\n", f"  {key}: {minutes} min\n"))}) == ()
    Slip(
        file, f"  {line}\n", f"  {key}: {minutes + 1} min\n", "limit-over-ceiling", f"{key}: {minutes + 1} min"
    ).judge()


SLIPS = (
    # R24, each reason of its own; and `check_every`, whose interval is what counts.
    Slip("soft-padded.yaml", "incision: 14 d", "incision: 15 d", "limit-over-ceiling", "remove_by:", says="`incision`"),
    Slip("flexion-sling.yaml", "femur: 10 d", "femur: 11 d", "limit-over-ceiling", "remove_by:", says="10 d"),
    Slip(
        "pressure-bandage.yaml",
        "interval: 5 min",
        "interval: 6 min",
        "limit-over-ceiling",
        "interval: 6 min",
        says="5 min",
    ),
    Slip(
        "open-wound.yaml",
        "change_every: 4 d to 5 d",
        "change_every: 4 d to 8 d",
        "limit-over-ceiling",
        "change_every: 4 d to 8 d",
        says="published 30",
    ),
    # R27. What an owner needs: ACVS owner page; Côté p. 1161; Zeltzman.
    Slip("soft-padded.yaml", OWNER_TEXT, "", "owner-text-missing", "go_home:"),
    Slip("open-wound.yaml", OWNER_TEXT, "", "owner-text-missing", "stages:"),
    Slip(
        "soft-padded.yaml",
        SIGNS,
        SIGNS.replace(EMERGENCY, ""),
        "emergency-sign-missing",
        "signs:",
        says="toes-cold-or-discoloured",
    ),
    Slip(
        "soft-padded.yaml",
        SIGNS,
        SIGNS.replace(URGENT, ""),
        "urgent-sign-missing",
        "signs:",
        says="nails-apart",
    ),
    Slip("open-wound.yaml", SIGNS, SIGNS.replace(URGENT, ""), "urgent-sign-missing", "signs:"),
    Slip("soft-padded.yaml", "  first_check: 12 h to 24 h\n", "", "first-check-missing", "limits:"),
    Slip("soft-padded.yaml", "  check_every: {interval: 12 h, who: owner}\n", "", "check-every-missing", "limits:"),
    Slip("splinted-limb.yaml", "  change_every: 5 d to 7 d\n", "", "deadline-missing", "limits:"),
    Slip("soft-padded.yaml", ", leave_showing: tips of the two middle toes", "", "toes-not-showing", "covers:"),
    Slip("open-wound.yaml", ", leave_showing: tips of the two middle toes", "", "toes-not-showing", "covers:"),
    Slip(
        "splinted-limb.yaml",
        ", leave_showing: tips of the two middle toes",
        "",
        "toes-not-showing",
        "covers:",
        "warning",
    ),
    Slip("soft-padded.yaml", "supervised: no", "supervised: yes", "supervised-goes-home", "go_home:"),
    # R28.
    Slip(
        "velpeau-sling.yaml", "remove_by: 14 d", "remove_by: 5 d", "change-after-removal", "change_every:", says="7 d"
    ),
    Slip("velpeau-sling.yaml", "remove_by: 14 d", "remove_by: 6 h", "change-after-removal", "change_every:"),
    Slip("ehmer-sling.yaml", "remove_by: 12 d", "remove_by: 2 d", "recheck-after-removal", "recheck_every:"),
    Slip(
        "closed-wound.yaml",
        "first_check: 24 h to 48 h",
        "first_check: 24 h to 72 h\n  recheck_every: 4 d",
        "source-missing",
        "recheck_every: 4 d",
        severity="warning",
    ),
    Slip(
        "tail-cover.yaml",
        "change_every: 24 h to 48 h",
        "change_every: 8 h to 11 h",
        "first-check-after-change",
        "first_check:",
        says="11 h",
    ),
    Slip(
        "hobbles.yaml",
        "  recheck_every: 3 d to 4 d\n  remove_by: 12 d\n",
        "  recheck_every: 6 h\n  remove_by: 23 h\n",
        "first-check-after-removal",
        "first_check:",
    ),
    # R29. Gleason 2023: 7 d.
    Slip("soft-padded.yaml", TAPE, "on_skin_at_most: 10081 min", "tape-too-long-on-skin", "on_skin_at_most:"),
    Slip("soft-padded.yaml", TAPE, "on_skin_at_most: 6 d", "tape-outlasted", "on_skin_at_most:", says="7 d"),
    Slip(
        "cast-limb.yaml",
        "change_every: 5 d to 7 d",
        "change_every: 5 d to 8 d",
        "tape-outlasted",
        "on_skin_at_most:",
        says="shorten `change_every` to 7 d",
    ),
    Slip(
        "closed-wound.yaml",
        "count: 2, on_skin_at_most: 7 d",
        "count: 2, on_skin_at_most: 3 d",
        "tape-outlasted",
        "on_skin_at_most:",
    ),
    # R30.
    Slip("velpeau-sling.yaml", "  remove_by: 14 d\n", "", "removal-missing", "limits:", says="remove_by: 10 d"),
    Slip("heavy-padded.yaml", "  remove_by: 5 d\n", "", "removal-missing", "limits:", says="remove_by: 5 d"),
    # R16. Common practice; no printed time was found for a veterinary pressure bandage.
    Slip("pressure-bandage.yaml", "supervised: yes", "supervised: no", "pressure-bandage-unwatched", "supervised:"),
    Slip("pressure-bandage.yaml", "go_home: no", "go_home: yes", "pressure-bandage-goes-home", "go_home:"),
    Slip("pressure-bandage.yaml", "  release: 15 min\n", "", "pressure-release-missing", "limits:"),
    Slip("pressure-bandage.yaml", "  remove_by: 20 min\n", "", "pressure-removal-missing", "limits:"),
    Slip(
        "pressure-bandage.yaml",
        "  check_every: {interval: 5 min, who: technician}\n",
        "",
        "pressure-watcher-missing",
        "limits:",
    ),
    Slip("pressure-bandage.yaml", "who: technician", "who: owner", "pressure-watcher-untrained", "who: owner"),
    Slip(
        "pressure-bandage.yaml",
        "  - {do: Release the wrap., by: 15 min}\n",
        "",
        "pressure-release-step-missing",
        "steps:",
    ),
    Slip(
        "pressure-bandage.yaml",
        "  - {do: Take the whole bandage off., by: 20 min}\n",
        "",
        "pressure-removal-step-missing",
        "steps:",
    ),
    Slip(
        "pressure-bandage.yaml",
        '  - {check: "Every 5 minutes: toes warm, no blood through.", if_not: release the wrap and call the clinician}\n',
        "",
        "pressure-check-missing",
        "steps:",
    ),
    Slip(
        "pressure-bandage.yaml", "off., by: 20 min", "off., by: 21 min", "step-after-limit", "by: 21 min", says="20 min"
    ),
    Slip(
        "pressure-bandage.yaml",
        "wrap., by: 15 min",
        "wrap., by: 16 min",
        "step-after-limit",
        "by: 16 min",
        says="15 min",
    ),
    # R17.
    Slip(
        "pressure-bandage.yaml",
        "references:\n",
        OWNER_TEXT + "references:\n",
        "pressure-bandage-has-owner-text",
        "owner:",
    ),
    Slip(
        "open-fracture.yaml",
        "blend: [splinted-limb, open-wound@inflammatory]",
        "blend: [splinted-limb, pressure-bandage]",
        "pressure-bandage-blended",
        "blend:",
    ),
)

FINE = (
    Fine("soft-padded.yaml", "change_every: 3 d to 7 d", "change_every: 168 h"),
    Fine("soft-padded.yaml", OWNER_TEXT, OWNER_TEXT.replace("helps", "steadies")),
    # An owner's text in a bandage that stays is no harm: it may go home one day.
    Fine("heavy-padded.yaml", "supervised: no", "supervised: yes"),
    # The change may come after the end for one reason, if not for all.
    Fine("soft-padded.yaml", "{swelling: 3 d, incision: 14 d}", "{swelling: 2 d, incision: 7 d}"),
    Fine("heavy-padded.yaml", "on_skin_at_most: 3 d", "on_skin_at_most: 72 h"),
    Fine("pressure-bandage.yaml", "Take the whole bandage off., by: 20 min", "Remove the whole bandage., by: 19 min"),
    Fine("pressure-bandage.yaml", "Release the wrap., by: 15 min", "Loosen the wrap., by: 15 min"),
    Fine("splinted-limb.yaml", "remove_when: union on radiograph", "remove_when: union on the second radiograph"),
    # No remove_by is asked of a splint: its end is a clinical one.
    Fine(
        "head-cover.yaml",
        "covers: {from: forehead, to: neck, leave_showing: the other ear and both eyes}",
        "covers: {from: forehead, to: neck, leave_showing: both eyes}",
    ),
)


@pytest.mark.parametrize("slip", SLIPS, ids=str)
def test_one_slip_brings_one_problem_at_its_line(slip: Slip) -> None:
    slip.judge()


@pytest.mark.parametrize("fine", FINE, ids=str)
def test_what_is_right_is_left_alone(fine: Fine) -> None:
    fine.judge()


def test_release_belongs_to_pressure_bandages_alone() -> None:
    text = edited(
        "soft-padded.yaml",
        ("  supervised: no\n", "  release: 3 d\n  supervised: no\n"),
        ("sources:\n", "sources:\n  release: house rule\n"),
    )
    assert [(p.name, p.span.line) for p in told({"soft-padded.yaml": text})] == [
        ("release-not-here", text[: text.index("  release: 3 d")].count("\n") + 1)
    ]


def test_a_release_after_the_removal_is_told_once() -> None:
    text = edited(
        "pressure-bandage.yaml",
        ("  remove_by: 20 min\n", "  remove_by: 12 min\n"),
        ("wrap., by: 15 min", "wrap., by: 12 min"),
        ("off., by: 20 min", "off., by: 12 min"),
    )
    assert [p.name for p in told({"pressure-bandage.yaml": text})] == ["release-after-removal"]


def test_tape_is_opened_by_the_end_where_there_is_no_change() -> None:
    # Not going home, so that no change is asked for; 14 d of tape on skin is twice Gleason's week.
    text = edited(
        "closed-wound.yaml",
        ("  change_every: 3 d to 7 d\n", ""),
        ("go_home: yes", "go_home: no"),
        ("who: owner", "who: technician"),
    )
    found = told({"closed-wound.yaml": text})
    assert [p.name for p in found] == ["tape-outlasted"]
    assert "change_every: 7 d" in found[0].fix
