"""The patient file: names of every kind, figures no animal has, moments that cannot be."""

from __future__ import annotations

from copy import deepcopy
from datetime import UTC, datetime
from fractions import Fraction
from functools import cache
from typing import Any

import pytest

from generator.protocol.animal import doubts, read_patient
from generator.protocol.model import Book, Patient
from generator.reckon import reckon
from generator.source.problem import Problem, Refusal
from generator.source.text import read_tree
from tests.conftest import ROOT, review
from tests.protocol.samples import samples
from tests.protocol.writing import Path, Written, changed, renamed, without, write
from tests.reckon.zones import zone

MAPLE = "protocols/patients/maple.yaml"
NOW = datetime(2027, 3, 13, 18, 0, tzinfo=UTC)


def maple() -> Any:
    # A copy: tests change it, and the samples are shared.
    return deepcopy(samples()[MAPLE][1])


def read(data: Any) -> tuple[Patient | None, list[Problem], Written]:
    written = write(data)
    reading = read_tree(written.text.encode(), "maple.yaml")
    if reading.tree is None:
        return None, list(reading.problems), written
    patient, problems = read_patient(reading.tree)
    return patient, [*reading.problems, *problems], written


def only(data: Any) -> tuple[Problem, Written]:
    patient, problems, written = read(data)
    assert len(problems) == 1, [(p.name, p.what) for p in problems] or "nothing was said"
    assert patient is None
    assert problems[0].why
    assert problems[0].fix
    return problems[0], written


def accepted(data: Any) -> Patient:
    patient, problems, _ = read(data)
    assert problems == []
    assert patient is not None
    return patient


NAMES = [
    "{pet}", "<b>", "50 %", "../../x", "{{ 7*7 }}", "{% if x %}", "{0.__class__}", "Biscuit & Co", "<3", '<img src="x"/>', "</para>", "None", "Null", "True", "no", "CON", "a/b", "C:\\x", "=1+1", "@home", "-", "#1",
    "O'Malley", '"Bo"', "Zoë", "Łukasz", "مریم‌ها", "שמש", "小雪", "น้ำตาล", "ਸ਼ੇਰੂ", "👩‍⚕ Bo", "Bo, the second", "Bo: the first", "12", "1e3", "010",
]  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_a_name_is_text_whatever_it_looks_like(name: str) -> None:
    assert accepted(changed(maple(), ("patient", "name"), name)).name == name
    assert accepted(changed(maple(), ("owner", "name"), name)).owner_name == name


def test_equal_names_are_equal_however_their_accents_are_stored() -> None:
    one, other = (accepted(changed(maple(), ("patient", "name"), name)).name for name in ("Zo\u00eb", "Zoe\u0308"))
    assert one == other == "Zo\u00eb"


@pytest.mark.parametrize(
    ("path", "text", "name"),
    [
        # 300 letters, with and without a place to break the line
        (("patient", "name"), "x" * 300, "text-too-long"), (("patient", "name"), "Bo " * 100, "text-too-long"), (("patient", "name"), "x" * 81, "text-too-long"), (("owner", "name"), "x" * 300, "text-too-long"),
        (("issued_by",), "x" * 300, "text-too-long"), (("patient", "file_number"), "9" * 31, "text-too-long"), (("reason",), "x" * 61, "text-too-long"),
        (("patient", "species"), "rabbit", "unknown-word"), (("patient", "species"), "Dog", "unknown-word"), (("patient", "species"), "doog", "unknown-word"),
        (("patient", "weight"), "18.4", "number-without-unit"), (("patient", "weight"), "18,4 kg", "decimal-comma"), (("patient", "weight"), "-1 kg", "not-a-number"), (("patient", "weight"), "18.4 cm", "unknown-unit"),
        (("patient", "weight"), "12 lbs", "unknown-unit"), (("patient", "weight"), "0 kg", "number-out-of-range"), (("patient", "weight"), "1e1 kg", "not-a-number"), (("patient", "weight"), "１８ kg", "foreign-digits"),
        (("patient", "weight"), "184 kg", "weight-out-of-range"), (("patient", "weight"), "18.4 g", "weight-out-of-range"), (("patient", "weight"), "450 kg", "weight-out-of-range"), (("patient", "weight"), "300 lb", "weight-out-of-range"),
        (("patient", "born"), "2027-02-29", "no-such-date"), (("patient", "born"), "about 2020", "not-a-date"), (("patient", "born"), "2022", "not-a-date"), (("patient", "born"), "Unknown", "not-a-date"),
        (("patient", "born"), "2027-03-14", "applied-before-birth"), (("patient", "born"), "2037-01-01", "applied-before-birth"),
        (("owner", "language"), "Spanish", "not-a-language"), (("owner", "language"), "es_MX", "not-a-language"), (("owner", "language"), "ES", "not-a-language"), (("owner", "language"), "x-klingon", "not-a-language"),
        (("owner", "language"), "english", "not-a-language"), (("owner", "language"), "e", "not-a-language"), (("owner", "language"), "../es", "not-a-language"),
        (("limb", "site"), "left leg", "unknown-word"), (("limb", "site"), "hind", "unknown-word"), (("skin",), "ok", "unknown-word"), (("skin",), "no", "unknown-word"),
        (("limb", "distal_girth"), "0 cm", "number-out-of-range"), (("limb", "distal_girth"), "0.9 cm", "number-out-of-range"), (("limb", "distal_girth"), "140 cm", "number-out-of-range"), (("limb", "distal_girth"), "14 m", "number-out-of-range"),
        (("limb", "distal_girth"), "14", "number-without-unit"), (("limb", "distal_girth"), "-14 cm", "not-a-number"), (("limb", "distal_girth"), "14 kg", "unknown-unit"), (("limb", "covered_length"), "1 cm", "number-out-of-range"),
        (("limb", "covered_length"), "260 cm", "number-out-of-range"), (("limb", "covered_length"), "26 in to 27 in", "not-an-amount"),
        (("applied",), "2027-03-13", "not-a-moment"), (("applied",), "yesterday", "not-a-moment"), (("applied",), "2027-03-13T10:30:20", "not-a-moment"),
        (("condition",), "oedema", "wrong-form"), (("condition",), ["oedema", "oedema"], "listed-twice"), (("first",), "true", "not-yes-or-no"),
        (("visits",), {"check": "Sunday"}, "not-a-moment"), (("visits",), {"chekc": "2027-03-14T10:00"}, "unknown-word"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_by_its_name(path: Path, text: Any, name: str) -> None:
    data = changed(maple(), path, text) if path[0] != "visits" else {**maple(), "visits": text}
    data = {**data, "patient": {**data["patient"], "file_number": text}} if path[-1] == "file_number" else data
    problem, written = only(data)
    assert problem.name == name
    if name not in ("applied-before-birth", "listed-twice", "unknown-word", "not-a-moment"):
        assert (problem.span.line, problem.span.column) == written.values[path]


def test_the_date_before_birth_points_at_the_bandage() -> None:
    problem, written = only(changed(maple(), ("patient", "born"), "2027-03-14"))
    assert (problem.span.line, problem.span.column) == written.values[("applied",)]
    accepted(changed(maple(), ("patient", "born"), "2027-03-13"))


@pytest.mark.parametrize(
    "text",
    ["\u202eelpaM", "Ma\u200bple", "Ma\u00adple", "\u2067Maple\u2069", "Maple\ufeff", "Ma\x00ple", "Maple\u0085"],
)
def test_a_name_with_letters_that_cannot_be_seen_is_refused(text: str) -> None:
    line = 'patient: {name: "' + text + '", species: dog, weight: 18.4 kg, born: unknown}'
    assert [p.name for p in read_tree(line.encode(), "maple.yaml").problems] in (
        ["hidden-character"],
        ["hidden-character"] * 2,
    )


@pytest.mark.parametrize(("species", "least", "most"), [("cat", "50 g", "16 kg"), ("dog", "50 g", "120 kg")])
def test_the_lightest_kitten_and_the_heaviest_dog_are_patients(species: str, least: str, most: str) -> None:
    for weight in (least, most):
        data = changed(changed(maple(), ("patient", "species"), species), ("patient", "weight"), weight)
        assert accepted(data).species == species
    for weight in ("49 g", "16.1 kg" if species == "cat" else "120.1 kg"):
        problem, written = only(
            changed(changed(maple(), ("patient", "species"), species), ("patient", "weight"), weight)
        )
        assert problem.name == "weight-out-of-range"
        assert (problem.span.line, problem.span.column) == written.values[("patient", "weight")]


def test_pounds_and_inches_are_what_they_are() -> None:
    data = changed(maple(), ("patient", "weight"), "40 lb")
    data = changed(
        data,
        ("limb",),
        {"site": "left hind", "distal_girth": "5.5 in", "proximal_girth": "8.5 in", "covered_length": "10 in"},
    )
    patient = accepted(data)
    assert patient.weight == 40 * Fraction("0.45359237")
    assert (patient.limb.distal_girth, patient.limb.covered_length) == (Fraction("13.97"), Fraction("25.4"))


SHAPES = [
    # distal, proximal, length: a leg cannot be so
    ("22 cm", "10 cm", "26 cm", "girth-out-of-range"),  # half as thick at the top: exchanged
    ("5 cm", "26 cm", "26 cm", "girth-out-of-range"),  # five times as thick
    ("10 cm", "30 cm", "3 cm", "girth-out-of-range"),  # widens faster than it is long
    ("11 cm", "22 cm", "26 cm", None),
    ("22 cm", "11 cm", "26 cm", None),
    ("5 cm", "25 cm", "26 cm", None),
]


@pytest.mark.parametrize(("distal", "proximal", "length", "name"), SHAPES)
def test_a_limb_has_the_shape_of_a_leg(distal: str, proximal: str, length: str, name: str | None) -> None:
    data = changed(
        maple(),
        ("limb",),
        {"site": "left hind", "distal_girth": distal, "proximal_girth": proximal, "covered_length": length},
    )
    _, problems, _ = read(data)
    assert [p.name for p in problems] == ([name] if name else [])


@pytest.mark.parametrize(
    "gone",
    [
        ("distal_girth",),
        ("proximal_girth",),
        ("covered_length",),
        ("distal_girth", "covered_length"),
        ("distal_girth", "proximal_girth"),
        ("proximal_girth", "covered_length"),
    ],
    ids="+".join,
)
def test_a_limb_is_measured_whole_or_not_at_all(gone: tuple[str, ...]) -> None:
    data = maple()
    for key in gone:
        data = without(data, ("limb", key))
    problem, _ = only(data)
    assert problem.name == "half-measured"
    assert all(f"`{key}`" in problem.what for key in gone)
    assert not accepted({**data, "limb": {"site": "left hind"}}).limb.is_measured


def test_the_bandage_is_on_or_planned_and_not_both() -> None:
    planned = renamed(maple(), ("applied",), "planned")
    assert accepted(planned).is_planned
    problem, written = only({**maple(), "planned": "2027-03-14T10:30"})
    assert problem.name == "applied-and-planned"
    assert problem.span.line == written.values[("planned",)][0]
    problem, _ = only(without(maple(), ("applied",)))
    assert (problem.name, "`applied` nor `planned`" in problem.what) == ("key-missing", True)


@pytest.mark.parametrize(
    ("given", "name"),
    [
        ({}, "first-or-began"),
        ({"first": "no"}, "first-or-began"),
        ({"first": "yes", "began": "2027-03-06T09:00"}, "first-and-began"),
        ({"began": "2027-03-13T10:31"}, "began-after-applied"),
        ({"first": "yes"}, None),
        ({"began": "2027-03-06T09:00"}, None),
        ({"first": "no", "began": "2027-03-06T09:00"}, None),
        ({"began": "2027-03-13T10:30"}, None),
    ],
    ids=str,
)
def test_the_course_has_one_beginning(given: dict[str, str], name: str | None) -> None:
    data = {**without(maple(), ("first",)), **given}
    _, problems, _ = read(data)
    assert [p.name for p in problems] == ([name] if name else [])


def test_an_unreadable_beginning_is_not_also_a_missing_one() -> None:
    problem, _ = only(changed(maple(), ("first",), "maybe"))
    assert problem.name == "not-yes-or-no"
    problem, _ = only({**without(maple(), ("first",)), "began": "last week"})
    assert problem.name == "not-a-moment"


def test_moments_with_an_offset_and_without_one_are_both_read() -> None:
    for text in ("2027-03-13T10:30", "2027-03-13 10:30", "2027-03-13T10:30-05:00", "2027-03-13T15:30Z"):
        assert accepted(changed(maple(), ("applied",), text)).applied.minute == 30


@cache
def book() -> Book:
    found = review(ROOT / "protocols").book
    assert found is not None
    return found


def refused(data: Any, now: datetime = NOW, protocol: str = "padded-limb-support") -> list[str]:
    patient = accepted(data)
    with pytest.raises(Refusal) as refusal:
        reckon([book().protocols[protocol]], patient, book(), now, zone("America/New_York"))
    return [p.name for p in refusal.value.problems]


@pytest.mark.parametrize(
    ("path", "value", "names"),
    [
        (("applied",), "2027-03-13T13:01", ["applied-in-future"]),  # now is 13:00 EST
        (("limb", "site"), "head", ["site-not-covered"]),
        (("skin",), "wound", None),
        (("reason",), "tiredness", ["reason-not-offered"]),
        (("condition",), ["no such thing"], ["condition-unknown"]),
        (("condition",), ["growing"], ["condition-derived"]),
    ],
)
def test_a_plan_is_refused_for_one_reason(path: Path, value: Any, names: list[str] | None) -> None:
    data = changed(maple(), path, value)
    if names is None:
        assert reckon(
            [book().protocols["padded-limb-support"]], accepted(data), book(), NOW, zone("America/New_York")
        ).layers
    else:
        assert refused(data) == names


def test_a_bandage_on_a_minute_ago_is_no_future() -> None:
    data = changed(maple(), ("applied",), "2027-03-13T13:00")
    assert reckon(
        [book().protocols["padded-limb-support"]], accepted(data), book(), NOW, zone("America/New_York")
    ).events


def test_a_bandage_planned_ahead_is_reckoned_and_says_so() -> None:
    data = changed(renamed(maple(), ("applied",), "planned"), ("planned",), "2027-03-20T09:00")
    plan = reckon([book().protocols["padded-limb-support"]], accepted(data), book(), NOW, zone("America/New_York"))
    assert "planned" in {note.code for note in plan.notes}


def test_moments_typed_in_another_zone_are_compared_as_instants() -> None:
    # Began 10:00 in New York is 15:00Z; applied 14:59Z is before it.
    data = {**without(changed(maple(), ("applied",), "2027-03-13T14:59Z"), ("first",)), "began": "2027-03-13T10:00"}
    assert refused(data) == ["began-after-applied"]


@pytest.mark.parametrize(
    ("weight", "doubted"),
    # A cylinder of girth 4π cm is 4 cm across: 4π cm² x 40 cm is 503 cm³, half a kilogram of flesh.
    [("500 g", True), ("510 g", False)],
)
def test_a_limb_that_outweighs_its_animal_is_doubted(weight: str, doubted: bool) -> None:
    data = maple()
    data["patient"]["weight"] = weight
    data["limb"] |= {"distal_girth": "12.566 cm", "proximal_girth": "12.566 cm", "covered_length": "40 cm"}
    patient, problems, _ = read(data)
    assert patient is not None
    assert not problems
    found = doubts(patient)
    assert [(p.name, p.severity) for p in found] == ([("limb-outweighs-animal", "warning")] if doubted else [])


@pytest.mark.parametrize(("distal", "doubted"), [("22 cm", False), ("22.1 cm", True)])
def test_a_limb_that_is_thicker_at_the_toes_is_doubted(distal: str, doubted: bool) -> None:
    data = maple()
    data["limb"] |= {"distal_girth": distal, "proximal_girth": "22 cm"}
    patient, problems, _ = read(data)
    assert patient is not None
    assert not problems
    assert [(p.name, p.severity) for p in doubts(patient)] == ([("girths-exchanged", "warning")] if doubted else [])


@pytest.mark.parametrize("file", [name for name in samples() if "/patients/" in name])
def test_no_shipped_patient_is_doubted(file: str) -> None:
    patient, _, _ = read(samples()[file][1])
    assert patient is not None
    assert doubts(patient) == []
