"""Every key of a patient: which animal, which limb, when the bandage went on.

Takes  a located tree, from a file or made of options.
Gives  `read_patient`: a `Patient`, or None with the problems; `doubts`: warnings on one that was read.
Knows  the words of a patient file and what two keys may not stand together; nothing of protocols.
"""

from __future__ import annotations

import contextlib
import math
import unicodedata
from collections.abc import Mapping
from dataclasses import fields
from fractions import Fraction
from typing import Any

from generator.protocol import kinds, quantity
from generator.protocol import model as m
from generator.protocol.settings import language
from generator.protocol.shapes import (
    DATE,
    LENGTH,
    MOMENT,
    Choice,
    Form,
    Key,
    ListOf,
    MapOf,
    Record,
    Spans,
    UnsoundValue,
    Words,
    YesNo,
    is_unsound,
)
from generator.protocol.vocabulary import slug
from generator.source.problem import Problem
from generator.source.tree import Entries, Node

VISITS = ("check", "change", "recheck", "removal")
# The lightest newborn kitten and the heaviest giant dog, with room to spare; beyond these a unit has slipped.
WEIGHTS = {"cat": (Fraction(5, 100), Fraction(16)), "dog": (Fraction(5, 100), Fraction(120))}
_GIRTH = Form(LENGTH.parse, "a girth", "14 cm", least=Fraction(1), most=Fraction(90))


def _born(text: str) -> Any:
    return None if text == "unknown" else DATE.parse(text)


_NAME = Words("Maple", most=80)
PATIENT = Record(
    "`patient`",
    (
        Key("name", _NAME),
        Key("species", Choice(("dog", "cat"), "a species")),
        Key("weight", Form(lambda t: quantity.amount(t, "mass"), "a weight", "18.4 kg", least=Fraction(1, 100))),
        Key(
            "born",
            Form(_born, "a date, or `unknown`", "2022-05-01"),
            say="a growing animal's bandage is looked at sooner",
        ),
        Key("file_number", Words("2027-0142", most=30), required=False),
    ),
    lambda **v: v,
)
_OWNER = Record(
    "`owner`",
    (Key("name", Words("T. Arkady", most=80)), Key("language", Form(language, "a language tag", "es"))),
    lambda **v: v,
)
_LIMB = Record(
    "`limb`",
    (
        Key("site", Choice(kinds.PATIENT_SITES, "a site")),
        Key("distal_girth", _GIRTH, required=False),
        Key("proximal_girth", _GIRTH, required=False),
        Key(
            "covered_length",
            Form(LENGTH.parse, "a length", "26 cm", least=Fraction(2), most=Fraction(120)),
            required=False,
        ),
    ),
    m.LimbSite,
)


def _visit_name(text: str) -> str:
    if text not in VISITS:
        raise quantity.Unreadable(
            "unknown-word",
            f"`{text}` is not a visit that can be booked",
            "the booked time would not be printed",
            "known: " + ", ".join(VISITS),
        )
    return text


_WOUND = Record(
    "`wound`",
    (
        Key("exudate", Choice(kinds.EXUDATES, "an amount of fluid"), say="how much fluid the wound gives"),
        Key(
            "features",
            ListOf(Choice(kinds.WOUND_FEATURES, "a feature of a wound"), least=0, distinct=True),
            required=False,
            default=(),
            say="what rules some dressings out",
        ),
        Key("contact", Words("foam sheet", most=60), required=False, say="the clinician's own choice of dressing"),
        Key("because", Words("the clinician's reason"), required=False, say="needed for a dressing that dries on"),
    ),
    m.Wound,
)


def _protocol_name(text: str) -> str:
    slug(text.partition("@")[0])
    return text


_EARLIER = Record(
    "an earlier bandage",
    (
        Key("protocol", Form(_protocol_name, "a protocol's name", "open-wound@inflammatory")),
        Key("on", MOMENT),
        Key("off", MOMENT),
    ),
    m.Application,
)
RECORD = Record(
    "the patient file",
    (
        Key("patient", PATIENT),
        Key("owner", _OWNER),
        Key("limb", _LIMB),
        Key(
            "skin",
            Choice(("intact", "incision", "wound"), "a state of the skin"),
            say="it decides whether a contact layer goes on",
        ),
        Key("reason", Words("incision", most=60), required=False),
        Key("condition", ListOf(Words("no deep pain", most=60), least=0, distinct=True), required=False, default=()),
        Key("applied", MOMENT, required=False),
        Key("planned", MOMENT, required=False),
        Key("first", YesNo(), required=False),
        Key("began", MOMENT, required=False),
        Key(
            "earlier",
            ListOf(_EARLIER),
            required=False,
            default=(),
            say="the bandages of this limb that have come off, oldest first; instead of `first` or `began`",
        ),
        Key("wound", _WOUND, required=False, say="what the clinician saw; it chooses the contact layer"),
        Key("issued_by", Words("Dr J. Ferrow", most=80)),
        Key("explained_by", Words("R. Osei-Lund", most=80), required=False, say="who explains the sheet to the owner"),
        Key("visits", MapOf(_visit_name, MOMENT, "a moment for each booked visit"), required=False, default={}),
    ),
    lambda **v: v,
    needed="the plan is reckoned for this one animal, by what stands here",
)


def read_patient(node: Node) -> tuple[m.Patient | None, list[Problem]]:
    """Read one patient.

    Returns:
        The patient, or None where anything in it could not be read; and every problem.
    """
    problems: list[Problem] = []
    v = RECORD.read(node, problems)
    if is_unsound(v):
        return None, problems
    spans: dict[str, Any] = dict(v["spans"])
    assert isinstance(node, Entries)
    _together(v, spans, node, problems)
    for group in ("patient", "owner"):
        if not is_unsound(v[group]):
            spans |= {f"{group}.{k}": s for k, s in v[group]["spans"].items()}
    _plausible(v, problems)
    if problems:
        return None, problems
    patient, owner = v["patient"], v["owner"]
    return (
        m.Patient(
            name=unicodedata.normalize("NFC", patient["name"]), species=patient["species"], weight=patient["weight"], born=patient["born"],
            file_number=patient["file_number"], owner_name=owner["name"], language=owner["language"], limb=v["limb"], skin=v["skin"],
            reason=v["reason"], condition=v["condition"], applied=v["applied"] or v["planned"], is_planned=v["planned"] is not None,
            began=v["began"], issued_by=v["issued_by"], visits=v["visits"],
            explained_by=v["explained_by"], wound=v["wound"], earlier=v["earlier"], spans=spans,
        ),
        problems,
    )  # fmt: skip


def _together(v: Mapping[str, Any], spans: Mapping[str, Any], node: Entries, problems: list[Problem]) -> None:
    """Keys that need each other or exclude each other."""
    here = node.entries[0][0].span if node.entries else node.span
    has = {key for key in ("applied", "planned", "first", "began", "earlier") if node.get(key) is not None}
    # A misspelt key was already named; asking for it once more would be a second problem for one slip.
    misspelt = any(p.name == "unknown-key" and p.span.file == here.file for p in problems)
    if {"applied", "planned"} <= has:
        problems.append(
            Problem(
                "applied-and-planned",
                spans["planned"],
                "both `applied` and `planned` are given",
                "every limit counts from one moment only",
                "keep `applied` if the bandage is on, `planned` if it will be",
            )
        )
    elif not {"applied", "planned"} & has and not misspelt:
        problems.append(
            Problem(
                "key-missing",
                here,
                "the patient file has neither `applied` nor `planned`",
                "every limit counts from that minute",
                "add a line such as `applied: 2027-03-13T10:30`",
            )
        )
    if "earlier" in has and has & {"first", "began"}:
        rival = "began" if "began" in has else "first"
        problems.append(
            Problem(
                "course-told-twice",
                spans[rival],
                f"`earlier` tells when bandaging began, and so does `{rival}`",
                "the end of bandaging counts from the first application, which must not be told twice",
                f"delete the line `{rival}`",
            )
        )
    elif {"first", "began"} <= has:
        first = v["first"]
        if is_unsound(first) or first:
            problems.append(
                Problem(
                    "first-and-began",
                    spans["began"],
                    "the bandage is said to be the first, and to have begun earlier",
                    "the end of bandaging counts from the first application",
                    "delete one of the two lines",
                )
            )
    elif not {"first", "began", "earlier"} & has and not misspelt:
        problems.append(
            Problem(
                "first-or-began",
                here,
                "nothing says whether this is the first bandage of the course",
                "the end of bandaging counts from the first application, and a change must not restart it",
                "add `first: yes` (`--first yes`), or `began:` (`--began`) with the moment of the first application, or `earlier:` with each bandage before",
            )
        )
    elif "first" in has and not is_unsound(v["first"]) and not v["first"]:
        problems.append(
            Problem(
                "first-or-began",
                spans["first"],
                "this is not the first bandage, but its beginning is not given",
                "the end of bandaging counts from the first application, and a change must not restart it",
                "replace the line by `began:` with the moment of the first application",
            )
        )
    limb = v["limb"]
    if not is_unsound(limb):
        given = [f.name for f in fields(m.LimbSite) if f.name in limb.spans and f.name not in ("site", "spans")]
        missing = [n for n in ("distal_girth", "proximal_girth", "covered_length") if n not in given]
        limb_misspelt = any(p.name == "unknown-key" and "`limb`" in p.what for p in problems)
        if given and missing and not limb_misspelt:
            problems.append(
                Problem(
                    "half-measured",
                    limb.spans[given[0]],
                    "the limb is measured only in part: `" + "`, `".join(missing) + "` missing",
                    "a length reckoned half from a tape and half from a table is neither measured nor an estimate",
                    "measure all three, or leave all three out and print an estimate",
                )
            )


def _plausible(v: Mapping[str, Any], problems: list[Problem]) -> None:
    """Figures that no dog or cat has: each judged by itself, so that one slip never hides another."""
    for judge in (_weight, _girths, _moments):
        with contextlib.suppress(UnsoundValue):
            judge(v, problems)


def _weight(v: Mapping[str, Any], problems: list[Problem]) -> None:
    """A weight that no dog or cat has."""
    patient = v["patient"]
    least, most = WEIGHTS[patient["species"]]
    spans: Spans = patient["spans"]
    if not least <= patient["weight"] <= most:
        problems.append(
            Problem(
                "weight-out-of-range",
                spans["weight"],
                f"no {patient['species']} weighs that",
                "rolls and estimates hang on the weight",
                "look at the number and its unit",
            )
        )


def _girths(v: Mapping[str, Any], problems: list[Problem]) -> None:
    """Girths that no leg has."""
    limb = v["limb"]
    # Measured in part, it has a problem of its own already.
    if None not in (limb.distal_girth, limb.proximal_girth, limb.covered_length):
        if limb.proximal_girth < limb.distal_girth / 2:
            problems.append(
                Problem(
                    "girth-out-of-range",
                    limb.spans["proximal_girth"],
                    "the limb would be half as thick at the top as at the foot",
                    "the wrap is laid from the foot upward, and its length hangs on both girths",
                    "the distal girth is the one next to the toes: look whether the two are exchanged",
                )
            )
        elif limb.distal_girth * 5 < limb.proximal_girth:
            problems.append(
                Problem(
                    "girth-out-of-range",
                    limb.spans["proximal_girth"],
                    "the limb would be five times as thick at the top as at the foot",
                    "no leg has that shape: a unit or a figure has slipped",
                    "measure both girths again, in cm",
                )
            )
        # A leg's girths differ by less than 2π for each cm along it: a steeper cone is a slip of the tape.
        elif abs(limb.proximal_girth - limb.distal_girth) > 6 * limb.covered_length:
            problems.append(
                Problem(
                    "girth-out-of-range",
                    limb.spans["covered_length"],
                    "the limb would widen faster than it is long",
                    "no leg has that shape: a unit or a figure has slipped",
                    "measure the covered length again, in cm",
                )
            )


def _moments(v: Mapping[str, Any], problems: list[Problem]) -> None:
    """Moments that cannot follow one another."""
    patient = v["patient"]
    began, applied = v["began"], v["applied"] or v["planned"]
    if (
        began is not None
        and applied is not None
        and (began.tzinfo is None) == (applied.tzinfo is None)
        and began > applied
    ):
        problems.append(
            Problem(
                "began-after-applied",
                v["spans"]["began"],
                "bandaging is said to have begun after this bandage went on",
                "the end of bandaging would move later",
                "write the moment of the first application, or `first: yes`",
            )
        )
    born = patient["born"]
    if born is not None and applied is not None and applied.date() < born:
        problems.append(
            Problem(
                "applied-before-birth",
                v["spans"]["applied" if v["applied"] else "planned"],
                "the bandage went on before the animal was born",
                "one of the two dates is wrong, and the age decides how soon the bandage is looked at",
                "look at `born` and at the date of the bandage",
            )
        )


def doubts(patient: m.Patient) -> list[Problem]:
    """Warnings on figures that are possible one by one and hardly together; the plan is made all the same.

    Flesh weighs about 1 g/cm³ (from memory), so the part under the bandage, a cone cut off, cannot outweigh the animal.
    """
    limb = patient.limb
    if limb.distal_girth is None or limb.proximal_girth is None or limb.covered_length is None:
        return []
    found = []
    # A leg is thicker towards the body; a foot that swells can turn that round, so it is only doubted (common practice).
    if limb.distal_girth > limb.proximal_girth:
        found.append(
            Problem(
                "girths-exchanged",
                limb.spans["distal_girth"],
                "the limb is thicker at the toes' end than at the body's end",
                "the wrap is laid from the foot upward, and its length and width hang on both girths",
                "exchange `distal_girth` and `proximal_girth`, or leave them if the foot is so swollen",
                severity="warning",
                also=((limb.spans["proximal_girth"], "the other girth is here"),),
            )
        )
    one, other = float(limb.distal_girth), float(limb.proximal_girth)
    volume_cm3 = float(limb.covered_length) * (one * one + one * other + other * other) / (12 * math.pi)
    if volume_cm3 <= float(patient.weight) * 1000:
        return found
    return [
        *found,
        Problem(
            "limb-outweighs-animal",
            patient.spans.get("patient.weight") or limb.spans["distal_girth"],
            f"the part under the bandage alone would weigh about {volume_cm3 / 1000:.1f} kg, more than the animal",
            "the weight or a girth has slipped, and rolls and widths hang on them",
            "look at the weight, both girths and the covered length, and at their units",
            severity="warning",
        ),
    ]
