"""Rules R32, R33, R35 to R38, R40: sources, signs, dates, history, people, blends and what is named instead."""

from __future__ import annotations

import pytest

from tests.protocol.rules.slips import Fine, Slip, edited, told

SIGNS = "signs: [toes-cold-or-discoloured, toes-no-flinch, bleeding-through, collapse, nails-apart, wet, bad-smell, slipped, more-lame, strike-through, chewing]"
ROW2 = "  - {revision: 2, date: 2025-08-20, change: limits written as windows, why: yearly review, by: R. Osei-Lund}\n"
BLEND = "blend: [splinted-limb, open-wound@inflammatory]"

SLIPS = (
    # R32.
    Slip(
        "soft-padded.yaml",
        "  first_check: common practice\n",
        "",
        "source-missing",
        "first_check: 12 h",
        says="first_check: common practice",
        severity="warning",
    ),
    Slip(
        "splinted-limb.yaml",
        "  remove_when: common practice\n",
        "",
        "source-missing",
        "remove_when: union",
        severity="warning",
    ),
    Slip(
        "open-wound.yaml",
        "      change_every: {published: [30]}\n",
        "",
        "source-missing",
        "change_every: 4 d to 5 d",
        severity="warning",
    ),
    Slip(
        "soft-padded.yaml",
        "  first_check: common practice\n",
        "  first_check: common practice\n  release: house rule\n",
        "source-of-nothing",
        "sources:\n ",
        says="release",
    ),
    Slip(
        "soft-padded.yaml",
        "  first_check: common practice\n",
        "  frist_check: common practice\n",
        "source-of-nothing",
        "sources:\n ",
        says="write `first_check`",
    ),
    Slip(
        "soft-padded.yaml",
        "{published: [3]}",
        "{published: [940]}",
        "citation-unknown",
        "sources:\n ",
        says="published 940",
    ),
    # R33.
    Slip(
        "soft-padded.yaml",
        SIGNS,
        SIGNS.replace("nails-apart", "nails-appart"),
        "sign-unknown",
        "signs:",
        says="write `nails-apart`",
    ),
    Slip(
        "soft-padded.yaml",
        SIGNS,
        SIGNS.replace("collapse,", "hard-breathing, collapse, pale-gums, fits, blue-tongue,"),
        "too-many-emergencies",
        "signs:",
        says="8 signs",
    ),
    # R35. ISO 9001:2015 7.5; ISO/IEC 17025:2017 8.3: approved before it is issued.
    Slip(
        "soft-padded.yaml",
        "role: clinician, date: 2026-08-28",
        "role: clinician, date: 2026-08-19",
        "dates-out-of-order",
        "approved_by:",
        says="2026-08-20",
    ),
    Slip(
        "soft-padded.yaml",
        "role: head technician, date: 2026-08-20",
        "role: head technician, date: 2026-08-29",
        "dates-out-of-order",
        "approved_by:",
    ),
    Slip("soft-padded.yaml", "effective: 2026-09-01", "effective: 2026-08-27", "dates-out-of-order", "effective:"),
    Slip(
        "soft-padded.yaml",
        "review_by: 2027-09-01",
        "review_by: 2026-09-01",
        "dates-out-of-order",
        "review_by:",
        says="is not after",
    ),
    Slip("open-wound.yaml", "effective: 2026-09-01", "effective: 2026-08-27", "dates-out-of-order", "effective:"),
    Slip("open-fracture.yaml", "effective: 2026-09-01", "effective: 2026-08-27", "dates-out-of-order", "effective:"),
    # R36.
    Slip("soft-padded.yaml", ROW2, "", "history-gap", "- {revision: 3", says="revision 2 is missing"),
    Slip(
        "soft-padded.yaml",
        "revision: 3\neffective",
        "revision: 4\neffective",
        "revision-without-history",
        "- {revision: 3",
        says="protocol is revision 4",
    ),
    Slip(
        "soft-padded.yaml",
        "  - {revision: 3, date",
        "  - {revision: 5, date",
        "revision-without-history",
        "- {revision: 5",
    ),
    Slip(
        "soft-padded.yaml",
        "  - {revision: 2, date",
        "  - {revision: 3, date",
        "history-out-of-order",
        "date: 2025-08-20",
        says="newest first",
    ),
    Slip("soft-padded.yaml", "date: 2025-08-20", "date: 2026-08-21", "history-dates", "- {revision: 2"),
    Slip("soft-padded.yaml", "date: 2024-08-20", "date: 2025-08-21", "history-dates", "- {revision: 1"),
    Slip("open-fracture.yaml", ROW2, "", "history-gap", "- {revision: 3"),
    # R58. ISO 9001:2015 7.5.2 (identification). Base: `id_form: LB-###`.
    Slip(
        "soft-padded.yaml", "id: LB-001", "id: LB-01", "id-of-another-form", "id: LB-01", says="the form is `id_form`"
    ),
    Slip("soft-padded.yaml", "id: LB-001", "id: lb-001", "id-of-another-form", "id: lb-001", says="write `LB-001`"),
    Slip("soft-padded.yaml", "id: LB-001", "id: LB-31", "id-of-another-form", "id: LB-31", says="write `LB-031`"),
    Slip("open-fracture.yaml", "id: LB-020", "id: LB-B20", "id-of-another-form", "id: LB-B20"),
    # R37.
    Slip(
        "soft-padded.yaml",
        "approved_by: {name: Dr M. Tamsin",
        "approved_by: {name: R. Osei-Lund",
        "approved-by-its-author",
        "approved_by:",
        says="Dr M. Tamsin, Dr J. Ferrow",
    ),
    Slip(
        "soft-padded.yaml",
        "approved_by: {name: Dr M. Tamsin",
        "approved_by: {name: Dr M. Tamsen",
        "approver-unknown",
        "approved_by:",
        says="`Dr M. Tamsin`",
    ),
    Slip(
        "open-wound.yaml",
        "approved_by: {name: Dr M. Tamsin",
        "approved_by: {name: Dr K. Wold",
        "approver-unknown",
        "approved_by:",
    ),
    Slip(
        "open-fracture.yaml", "decided_by: Dr J. Ferrow", "decided_by: R. Osei-Lund", "approver-unknown", "decided_by:"
    ),
    # R38.
    Slip(
        "open-fracture.yaml",
        BLEND,
        "blend: [splinted-limb, opne-wound@inflammatory]",
        "part-unknown",
        "blend:",
        says="`open-wound`",
    ),
    Slip(
        "open-fracture.yaml",
        BLEND,
        "blend: [splinted-limb, open-wound]",
        "part-without-stage",
        "blend:",
        says="`open-wound@inflammatory`",
    ),
    Slip(
        "open-fracture.yaml",
        BLEND,
        "blend: [splinted-limb, foot-bandage@inflammatory]",
        "part-unknown",
        "blend:",
        says="no stage",
    ),
    Slip("open-fracture.yaml", BLEND, "blend: [splinted-limb, open-fracture]", "part-is-blend", "blend:"),
    Slip("open-fracture.yaml", "part: splinted-limb", "part: soft-padded", "settled-by-stranger", "part: soft-padded"),
    Slip(
        "open-fracture.yaml",
        "change_every: 12 h to 24 h",
        "change_every: 12 h to 25 h",
        "blend-looser-than-part",
        "change_every:",
        says="24 h",
    ),
    Slip(
        "open-fracture.yaml",
        "first_check: 4 h to 12 h",
        "first_check: 4 h to 30 h",
        "blend-looser-than-part",
        "first_check:",
    ),
    Slip(
        "open-fracture.yaml",
        "{interval: 4 h, who: technician}",
        "{interval: 13 h, who: technician}",
        "blend-looser-than-part",
        "check_every:",
        says="12 h",
    ),
    # R40.
    Slip(
        "soft-padded.yaml",
        "instead: splinted-limb",
        "instead: splinted-lim",
        "instead-unknown",
        "instead: splinted-lim",
        "warning",
        "`instead: splinted-limb`",
    ),
    Slip(
        "soft-padded.yaml",
        "instead: splinted-limb",
        "instead: soft-padded",
        "instead-unknown",
        "instead: soft-padded",
        "warning",
        "itself",
    ),
)

FINE = (
    # Whose word something else is may be said too: a line of its own in `sources` is no misspelt limit.
    Fine(
        "soft-padded.yaml",
        "  first_check: common practice\n",
        "  first_check: common practice\n  toe wool: {published: [62, 82]}\n  do_not_use_when: {published: [5]}\n",
    ),
    Fine("soft-padded.yaml", "effective: 2026-09-01", "effective: 2026-08-28"),
    Fine("soft-padded.yaml", "role: head technician, date: 2026-08-20", "role: head technician, date: 2026-08-28"),
    # A history that was begun in the middle has no first row, and two changes may fall on one day.
    Fine(
        "soft-padded.yaml",
        "  - {revision: 1, date: 2024-08-20, change: first issue, why: new book, by: R. Osei-Lund}\n",
        "",
    ),
    Fine("soft-padded.yaml", "date: 2024-08-20", "date: 2025-08-20"),
    Fine("open-fracture.yaml", "change_every: 12 h to 24 h", "change_every: 12 h to 1440 min"),
    Fine(
        "soft-padded.yaml",
        SIGNS,
        SIGNS.replace("collapse,", "hard-breathing, collapse, pale-gums, fits,"),
    ),
)


@pytest.mark.parametrize("slip", SLIPS, ids=str)
def test_one_slip_brings_one_problem_at_its_line(slip: Slip) -> None:
    slip.judge()


@pytest.mark.parametrize("fine", FINE, ids=str)
def test_what_is_in_order_is_left_alone(fine: Fine) -> None:
    fine.judge()


def test_one_person_may_sign_twice_only_where_nobody_else_is_there() -> None:
    alone = edited(
        "clinic.yaml",
        (
            "{head technician: R. Osei-Lund, clinicians: [Dr M. Tamsin, Dr J. Ferrow]}",
            "{head technician: Dr M. Tamsin, clinicians: [Dr M. Tamsin]}",
        ),
    )
    says_so = alone.replace("clinicians: [Dr M. Tamsin]}", "clinicians: [Dr M. Tamsin], one_clinician: yes}")
    both = edited("soft-padded.yaml", ("prepared_by: {name: R. Osei-Lund", "prepared_by: {name: Dr M. Tamsin"))
    fracture = edited("open-fracture.yaml", ("decided_by: Dr J. Ferrow", "decided_by: Dr M. Tamsin"))
    trained = edited(
        "training.yaml",
        ("name: Dr J. Ferrow", "name: J. Adeyemi"),
        ("revision: 3, read: 2026-09-02", "revision: 2, read: 2026-08-30"),
    )
    fracture_and_training = {"open-fracture.yaml": fracture, "training.yaml": trained}
    assert told({"clinic.yaml": says_so, "soft-padded.yaml": both, **fracture_and_training}) == ()
    # Inferred from the names it is not: the clinic must say it (accreditation asks that it say so).
    (unsaid,) = told({"clinic.yaml": alone, "soft-padded.yaml": both, **fracture_and_training})
    assert unsaid.name == "approved-by-its-author"
    assert "write `one_clinician: yes` under `signs_for` in clinic.yaml" in unsaid.fix
    # That it has one clinician lets nobody else sign twice.
    technician = edited("soft-padded.yaml", ("approved_by: {name: Dr M. Tamsin", "approved_by: {name: R. Osei-Lund"))
    names = {p.name for p in told({"clinic.yaml": says_so, "soft-padded.yaml": technician, **fracture_and_training})}
    assert names == {"approved-by-its-author"}
    assert [p.name for p in told({"soft-padded.yaml": both})] == ["approved-by-its-author"]


def test_a_blend_may_not_let_home_what_one_part_keeps() -> None:
    kept = edited("splinted-limb.yaml", ("go_home: yes", "go_home: no"), ("who: owner", "who: technician"))
    let = edited("open-fracture.yaml", ("go_home: no", "go_home: yes"))
    found = told({"splinted-limb.yaml": kept, "open-fracture.yaml": let})
    assert [(p.name, p.span.file) for p in found] == [("blend-looser-than-part", "open-fracture.yaml")]
    assert found[0].also[0][0].file == "splinted-limb.yaml"


def test_a_blend_may_not_give_the_watch_to_somebody_less_trained() -> None:
    watched = edited("splinted-limb.yaml", ("{interval: 12 h, who: owner}", "{interval: 12 h, who: technician}"))
    given = edited("open-fracture.yaml", ("{interval: 4 h, who: technician}", "{interval: 4 h, who: owner}"))
    found = told({"splinted-limb.yaml": watched, "open-fracture.yaml": given})
    assert [p.name for p in found] == ["blend-looser-than-part"]
    assert "technician" in found[0].fix


def test_a_protocol_that_is_gone_is_missed_by_its_blend_and_by_whoever_sends_there() -> None:
    found = told({"splinted-limb.yaml": ""})
    assert [(p.name, p.span.file) for p in found] == [
        ("part-unknown", "open-fracture.yaml"),
        ("instead-unknown", "soft-padded.yaml"),
    ]
