"""One cause, one problem: a value that could not be read is never judged, and never hides what stands beside it."""

from __future__ import annotations

import pytest

from tests.protocol.rules.slips import BASE, edited, sound, told

PROTOCOLS = sorted(path.name for path in (BASE / "protocols").glob("*.yaml"))


def test_the_sound_book_holds_every_kind_and_no_problem() -> None:
    from generator.protocol.kinds import KIND_WORDS

    assert told({}) == ()
    texts = "".join(sound()[name] for name in PROTOCOLS)
    assert [kind for kind in KIND_WORDS if f"kind: {kind}\n" not in texts] == []
    assert "blend: [" in texts


# One value that cannot be read, and the name of its own problem.
UNREADABLE = (
    ("soft-padded.yaml", "change_every: 3 d to 7 d", "change_every: 7", "number-without-unit"),
    ("soft-padded.yaml", "first_check: 12 h to 24 h", "first_check: 24 hrs", "unknown-unit"),
    (
        "soft-padded.yaml",
        "remove_by: {swelling: 3 d, incision: 14 d}",
        "remove_by: {swelling: 3}",
        "number-without-unit",
    ),
    ("soft-padded.yaml", "go_home: yes", "go_home: perhaps", "not-yes-or-no"),
    ("soft-padded.yaml", "passes: 3, overlap: 50 %", "passes: three, overlap: 50 %", "not-a-whole-number"),
    ("soft-padded.yaml", "passes: 3, overlap: 50 %", "passes: 3, overlap: 50", "number-without-unit"),
    ("soft-padded.yaml", "{layer: padding, ", "{layer: paddding, ", "unknown-word"),
    ("soft-padded.yaml", "kind: support.soft", "kind: support.sfot", "unknown-word"),
    ("soft-padded.yaml", "revision: 3\neffective", "revision: three\neffective", "not-a-whole-number"),
    ("soft-padded.yaml", "effective: 2026-09-01", "effective: 1/9/26", "not-a-date"),
    ("soft-padded.yaml", "  - {revision: 2, date: 2025-08-20", "  - {revision: 2, date: 2025-13-20", "no-such-date"),
    ("soft-padded.yaml", "prepared_by: {name: R. Osei-Lund", "prepared_by: {nam: R. Osei-Lund", "unknown-key"),
    ("soft-padded.yaml", "signs: [toes-cold-or-discoloured", "signs: [Toes Cold", "not-a-slug"),
    ("soft-padded.yaml", "change_every: {published: [3]}", "change_every: hearsay", "unknown-source"),
    ("velpeau-sling.yaml", "remove_by: 14 d", "remove_by: 14", "number-without-unit"),
    ("splinted-limb.yaml", "bone: tibia", "bone: tibbia", "unknown-word"),
    ("splinted-limb.yaml", "joints: [tarsus, stifle]", "joints: [tarsus, stiffle]", "unknown-word"),
    ("pressure-bandage.yaml", "release: 15 min", "release: 15", "number-without-unit"),
    ("pressure-bandage.yaml", "supervised: yes", "supervised: of course", "not-yes-or-no"),
    ("open-wound.yaml", "change_every: 48 h to 72 h", "change_every: 72", "number-without-unit"),
    ("open-fracture.yaml", "change_every: 12 h to 24 h", "change_every: 24", "number-without-unit"),
    # Texts too long to print are unreadable too, and many rules look for words.
    ("tieover.yaml", "Lay the alginate and the pack.", "Lay the pack. " * 20, "text-too-long"),
    ("splinted-limb.yaml", "do: Roll gauze the same way.", "do: " + "Roll on. " * 30, "text-too-long"),
    ("splinted-limb.yaml", "  - a reason to use it", "  - " + "a reason, " * 60, "text-too-long"),
    ("pressure-bandage.yaml", "do: Release the wrap.", "do: " + "Release the wrap. " * 15, "text-too-long"),
    (
        "velpeau-sling.yaml",
        "case: a lateral luxation of the shoulder",
        "case: " + "a lateral luxation " * 30,
        "text-too-long",
    ),
    (
        "ehmer-sling.yaml",
        "  - a craniodorsal hip luxation put back within a week",
        "  - " + "a craniodorsal luxation " * 30,
        "text-too-long",
    ),
    (
        "modifiers.yaml",
        "warns: Cats bear slings badly and show harm late.",
        "warns: " + "Cats show harm late. " * 30,
        "text-too-long",
    ),
    ("clinic.yaml", "clinicians: [Dr M. Tamsin, Dr J. Ferrow]", "clinicians: nobody", "wrong-form"),
    ("clinic.yaml", "answers: always", "answers: mostly", "unknown-word"),
    ("clinic.yaml", "weight: 5 kg to 10 kg", "weight: 5 to 10", "number-without-unit"),
    ("signs.yaml", "  urgency: urgent\n", "  urgency: rather\n", "unknown-word"),
    ("stock.yaml", "layer: padding\n    widths: [2 in", "layer: pading\n    widths: [2 in", "unknown-word"),
    ("stock.yaml", "family: low-adherent absorbent pad", "family: mystery", "unknown-word"),
    ("modifiers.yaml", "{change_every: 3 d to 4 d}", "{change_every: 4}", "number-without-unit"),
)


@pytest.mark.parametrize(("file", "old", "new", "name"), UNREADABLE)
def test_an_unreadable_value_brings_its_own_problem_and_no_other(file: str, old: str, new: str, name: str) -> None:
    assert [(p.name, p.span.file) for p in told({file: edited(file, (old, new))})] == [(name, file)]


@pytest.mark.parametrize(
    ("unreadable", "slip", "name"),
    [
        (
            ("passes: 3, overlap: 50 %", "passes: three, overlap: 50 %"),
            ("firmness: snug", "firmness: nicely"),
            "firmness-unknown",
        ),
        (
            ("passes: 3, overlap: 50 %", "passes: three, overlap: 50 %"),
            ("passes: 1, overlap: 50 %", "passes: 1"),
            "passes-missing",
        ),
        (
            ("passes: 3, overlap: 50 %", "passes: three, overlap: 50 %"),
            ("material: cohesive wrap", "material: cohesive rap"),
            "material-unknown",
        ),
        (
            ("first_check: 12 h to 24 h", "first_check: soon"),
            ("change_every: 3 d to 7 d", "change_every: 3 d to 8 d"),
            "limit-over-ceiling",
        ),
        (
            ("effective: 2026-09-01", "effective: soon"),
            ("role: clinician, date: 2026-08-28", "role: clinician, date: 2026-08-19"),
            "dates-out-of-order",
        ),
        (
            ("remove_by: {swelling: 3 d, incision: 14 d}", "remove_by: 14"),
            ("supervised: no", "supervised: yes"),
            "supervised-goes-home",
        ),
    ],
)
def test_an_unreadable_value_does_not_hide_the_problem_beside_it(
    unreadable: tuple[str, str], slip: tuple[str, str], name: str
) -> None:
    assert name in [p.name for p in told({"soft-padded.yaml": edited("soft-padded.yaml", unreadable, slip)})]


def test_one_unreadable_stage_does_not_hide_another() -> None:
    text = edited(
        "open-wound.yaml",
        ("change_every: 48 h to 72 h", "change_every: 72"),
        ("change_every: 4 d to 5 d", "change_every: 4 d to 8 d"),
    )
    assert [p.name for p in told({"open-wound.yaml": text})] == ["number-without-unit", "limit-over-ceiling"]


def test_a_head_line_shared_by_three_stages_is_told_once() -> None:
    text = edited("open-wound.yaml", ("review_by: 2027-09-01", "review_by: 2026-08-01"))
    assert [p.name for p in told({"open-wound.yaml": text})] == ["dates-out-of-order"]


@pytest.mark.parametrize("file", ["clinic.yaml", "stock.yaml", "signs.yaml"])
def test_a_missing_settings_file_is_one_problem(file: str) -> None:
    assert [p.name for p in told({file: ""})] == ["file-missing"]


def test_a_book_without_modifiers_lacks_only_what_they_warned_of() -> None:
    assert {p.name for p in told({"modifiers.yaml": ""})} == {"cat-not-warned-of"}


@pytest.mark.parametrize("file", ["splinted-limb.yaml", "open-wound.yaml", "pressure-bandage.yaml", "modifiers.yaml"])
def test_a_file_that_cannot_be_read_is_not_said_to_be_missing(file: str) -> None:
    broken = sound()[file] + 'a quote: "left open\n'
    assert [(p.name, p.span.file) for p in told({file: broken})] == [("quote-open", file)]


def test_a_line_taken_out_is_told_where_it_is_missed_and_nowhere_else() -> None:
    # Structure apart (a key with all its lines below it), every single line; two problems for one line are one too many.
    kept = (
        "soft-padded.yaml",
        "splinted-limb.yaml",
        "velpeau-sling.yaml",
        "pressure-bandage.yaml",
        "open-wound.yaml",
        "open-fracture.yaml",
    )
    others = dict.fromkeys(set(PROTOCOLS) - set(kept), "")
    assert told(others) == ()
    twice = {}
    for file in kept:
        lines = sound()[file].splitlines(keepends=True)
        for i, line in enumerate(lines):
            if line.endswith(":\n") or line.startswith("blend:"):
                continue
            found = told(others | {file: "".join(lines[:i] + lines[i + 1 :])})
            if len(found) > 1:
                twice[f"{file}:{i + 1} {line.strip()[:40]}"] = [p.name for p in found]
    assert twice == {}
