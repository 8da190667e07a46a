"""Rules C01 to C11: the clinic's settings as a whole."""

from __future__ import annotations

import pytest

from tests.protocol.rules.slips import Fine, Slip, edited, told

BAND2 = "    - {weight: 5 kg to 10 kg, distal_girth: 8 cm, proximal_girth: 12 cm, covered_length: 18 cm}\n"
ALARMS = (
    "tail-cold",
    "toes-no-flinch",
    "bleeding-through",
    "hard-breathing",
    "collapse",
    "pale-gums",
    "fits",
    "blue-tongue",
)

SLIPS = (
    # C01. Clinic open mon to fri 08:00-18:30 and sat 08:30-13:00: by hand, uncovered are sat 08:00-08:30, sat 13:00-18:30, sun 08:00-18:30.
    Slip(
        "clinic.yaml",
        "answers: always",
        "answers: {mon to sun: 18:30 to 08:00}",
        "hours-not-covered",
        "answers:",
        "warning",
        "from sat 08:00 to sat 08:30, and 2 more stretches",
    ),
    # One night in seven nobody answers: sun 08:00 runs over midnight to mon 08:00, when the clinic opens. Saturday is covered by hand.
    Slip(
        "clinic.yaml",
        "answers: always",
        'answers: {mon to fri: 18:30 to 08:00, sat: "08:00 to 08:30, 13:00 to 08:00"}',
        "hours-not-covered",
        "answers:",
        "warning",
        "from sun 08:00 to mon 08:00 |",
    ),
    # C02.
    Slip("clinic.yaml", BAND2, "", "size-bands-gap", "{weight: 10 kg and over", "warning", "from 5 kg to 10 kg"),
    Slip(
        "clinic.yaml",
        "weight: 5 kg to 10 kg",
        "weight: 4 kg to 10 kg",
        "size-bands-overlap",
        "weight: 4 kg",
        says="end the first at 4 kg",
    ),
    Slip(
        "clinic.yaml",
        "distal_girth: 8 cm, proximal_girth: 12 cm",
        "distal_girth: 12 cm, proximal_girth: 8 cm",
        "limb-tapers-upward",
        "distal_girth: 12 cm",
        "warning",
    ),
    # C03. The longest sling of the base stays 14 d; 14 d tightens none of them, 13 d one.
    Slip("clinic.yaml", "remove_by: 10 d", "remove_by: 14 d", "house-limit-idle", "remove_by:", "warning", "`sling`"),
    Slip(
        "modifiers.yaml",
        "{change_every: 3 d to 4 d}",
        "{change_every: 3 d to 7 d}",
        "modifier-idle",
        "change_every:",
        "warning",
        "`growing`",
    ),
    Slip(
        "modifiers.yaml",
        "{change_every: 3 d to 4 d}",
        "{change_every: 3 d to 4 d, supervised: no}",
        "modifier-idle",
        "supervised:",
        "warning",
    ),
    # C04.
    Slip("modifiers.yaml", "  warns: Two people.\n", "", "modifier-without-effect", "it may bite", says="`shy animal`"),
    Slip(
        "modifiers.yaml",
        "  derived: age under 6 months, or under 12 months over 25 kg\n",
        "",
        "modifier-not-derived",
        "outgrows the bandage",
        says="derived: age under 6 months",
    ),
    # C05.
    Slip("clinic.yaml", "{number: 2,", "{number: 1,", "copy-number-twice", "copies:\n ", says="number 1"),
    # C09.
    Slip(
        "clinic.yaml",
        "{name: S. Yilmaz,",
        "{name: j. adeyemi,",
        "staff-twice",
        "{name: j. adeyemi",
        says="is in the list twice",
    ),
    Slip(
        "clinic.yaml",
        "since: 2025-03-03}",
        "since: 2025-03-03, until: 2025-03-02}",
        "staff-days",
        "until: 2025-03-02",
        says="left on 2025-03-02",
    ),
    # C10.
    Slip(
        "clinic.yaml",
        "Dr J. Ferrow]}",
        "Dr J. Ferrow], one_clinician: yes}",
        "one-clinician-of-several",
        "one_clinician: yes",
        says="names 2",
    ),
    # C11. ISO 9001:2015 7.2 d (evidence of competence); nobody judges their own.
    Slip(
        "training.yaml",
        "name: Dr J. Ferrow",
        "name: Dr J. Ferow",
        "trained-stranger",
        "Dr J. Ferow",
        says="write `Dr J. Ferrow`, or add",
    ),
    Slip(
        "training.yaml",
        "by: Dr M. Tamsin",
        "by: Dr M. Tamson",
        "trained-stranger",
        "Dr M. Tamson",
        says="write `Dr M. Tamsin`",
    ),
    Slip("training.yaml", "by: Dr M. Tamsin", "by: j. adeyemi", "trained-by-oneself", "by: j. adeyemi"),
    Slip(
        "training.yaml",
        "competent: 2026-09-03",
        "competent: 2026-08-31",
        "competent-before-read",
        "competent: 2026-08-31",
    ),
    Slip(
        "training.yaml",
        "name: Dr J. Ferrow",
        "name: j. adeyemi",
        "trained-twice",
        "name: j. adeyemi",
        says="revision 3",
    ),
    # C06.
    Slip(
        "signs.yaml",
        "owner: The bandage is wet.",
        "owner: the two middle nails move apart",
        "sign-words-twice",
        "owner: the two",
        says="`nails-apart`",
    ),
    # C07.
    Slip(
        "stock.yaml",
        "    family: low-adherent absorbent pad\n",
        "",
        "contact-family-missing",
        "  low-adherent pad:\n    layer: contact",
        says="family:",
    ),
    Slip(
        "stock.yaml",
        "    thickness: 2 mm\n",
        "    thickness: 2 mm\n    family: hydrogel\n",
        "family-of-other-layer",
        "family: hydrogel",
    ),
    # C08.
    Slip(
        "pictures.yaml",
        "Smell the bandage at both ends.",
        "Smell the bandage.",
        "picture-without-line",
        "smell: Smell the bandage",
        "warning",
        "write the line as its protocol has it: `Smell the bandage at both ends.`",
    ),
    Slip(
        "pictures.yaml",
        "smell: Smell",
        "no chewing: Smell",
        "picture-forbids",
        "no chewing: Smell",
        says="forbids nothing",
    ),
)

FINE = (
    Fine(
        "clinic.yaml",
        "answers: always",
        'answers: {mon to fri: 18:30 to 08:00, sat: "08:00 to 08:30, 13:00 to 08:00", sun: 08:00 to 24:00, mon: 00:00 to 08:00}',
    ),
    Fine("clinic.yaml", "remove_by: 10 d", "remove_by: 13 d"),
    # Read and shown on one day; an older revision beside the newer one; a clinician needs no row under `staff`.
    Fine("training.yaml", "competent: 2026-09-03", "competent: 2026-09-01"),
    Fine(
        "training.yaml",
        "name: Dr J. Ferrow, protocol: LB-001, revision: 3",
        "name: J. Adeyemi, protocol: LB-001, revision: 2",
    ),
    Fine("training.yaml", "name: Dr J. Ferrow", "name: S. Yilmaz"),
    # One day at work, and a clinician who is listed with a role of their own.
    Fine("clinic.yaml", "since: 2025-03-03}", "since: 2025-03-03, until: 2025-03-03}"),
    Fine("clinic.yaml", "{name: S. Yilmaz, role: night technician}", "{name: Dr J. Ferrow, role: surgeon}"),
    Fine("clinic.yaml", "id_form: LB-###\n", ""),
    Fine("clinic.yaml", "id_form: LB-###", "id_form: ??-0##"),
    # A limit for bandages that this book does not hold yet has nothing to be compared with.
    Fine("clinic.yaml", "  sling:\n    remove_by: 10 d", "  cover.wound:\n    first_check: 24 h"),
    Fine("modifiers.yaml", "    all: {recheck_every: 48 h}", "    all: {go_home: no}"),
    Fine("modifiers.yaml", "  warns: Two people.\n", "  forbids: [support.cast]\n"),
)


@pytest.mark.parametrize("slip", SLIPS, ids=str)
def test_one_slip_brings_one_problem_at_its_line(slip: Slip) -> None:
    slip.judge()


@pytest.mark.parametrize("fine", FINE, ids=str)
def test_what_is_right_is_left_alone(fine: Fine) -> None:
    fine.judge()


def test_bands_out_of_order_are_told_as_such() -> None:
    first = "    - {weight: 2 kg to 5 kg, distal_girth: 6 cm, proximal_girth: 9 cm, covered_length: 15 cm}\n"
    text = edited("clinic.yaml", (first + BAND2, BAND2 + first))
    assert "size-bands-out-of-order" in [p.name for p in told({"clinic.yaml": text})]


def test_a_book_without_alarms_is_told_so_once() -> None:
    text = edited(
        "signs.yaml",
        ("  urgency: emergency\n", "  urgency: same day\n"),
        *((f"{name}: {{urgency: emergency", f"{name}: {{urgency: same day") for name in ALARMS),
    )
    found = [p for p in told({"signs.yaml": text}) if p.span.file == "signs.yaml"]
    assert [p.name for p in found] == ["no-emergency-sign"]
    text = edited(
        "signs.yaml",
        ("  urgency: urgent\n", "  urgency: same day\n"),
        *(
            (f"{name}: {{urgency: urgent", f"{name}: {{urgency: same day")
            for name in ("wet", "bad-smell", "slipped", "more-lame")
        ),
    )
    assert [p.name for p in told({"signs.yaml": text}) if p.span.file == "signs.yaml"] == ["no-urgent-sign"]


def test_a_limit_for_a_kind_that_the_book_does_not_hold_is_not_called_idle() -> None:
    text = edited("clinic.yaml", ("  sling:\n    remove_by: 10 d", "  cover.tail:\n    change_every: 24 h to 30 d"))
    assert [p.name for p in told({"clinic.yaml": text})] == ["house-limit-idle"]
    assert told({"clinic.yaml": text, "tail-cover.yaml": ""}) == ()


def test_an_unreadable_limit_may_be_looser_so_the_house_limit_is_not_called_idle() -> None:
    house = edited("clinic.yaml", ("remove_by: 10 d", "remove_by: 14 d"))
    sling = edited("hobbles.yaml", ("remove_by: 12 d", "remove_by: 12"))
    assert [p.name for p in told({"clinic.yaml": house, "hobbles.yaml": sling})] == ["number-without-unit"]
