"""Slips that hurt: what a hurried hand or a bad copy does to layers, limits, signs, steps, owner lines and blends.

Takes  a file's data and the shipped book; ceilings come from the table of kinds, materials from the stock.
Gives  `MAKERS`, one function for each part of a page.
Knows  the parts of a page; not which slips a rule stops.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Any

from generator.protocol.kinds import FIRMNESS, KINDS, LAYERS
from generator.protocol.model import Book
from generator.protocol.rules.contact_interval import FAMILIES
from tests.conftest import ROOT, review
from tests.protocol.mutants.mutant import Made, Maker, bodies
from tests.protocol.writing import Path, changed, without


@cache
def book() -> Book:
    """The shipped book, once for all mutants: only the mutated file is read anew."""
    found = review(ROOT / "protocols").book
    assert found is not None
    return found


def _list(data: Any, path: Path, kind: str, key: str) -> Iterator[tuple[Path, str, list[Any]]]:
    body = data
    for step in path:
        body = body[step]
    if isinstance(body.get(key), list):
        yield (*path, key), kind, body[key]


def _lists(data: Any, key: str) -> Iterator[tuple[Path, str, list[Any]]]:
    """Every list of this key: of the file, or of each of its stages."""
    for path, kind, _ in bodies(data):
        yield from _list(data, path, kind, key)


def layers(data: Any) -> Iterator[Made]:
    """Neighbours exchanged, a layer twice, each stocked material, each tighter word, heavy elastic."""
    for path, kind, rows in _lists(data, "layers"):
        for index, layer in enumerate(rows):
            name = layer["layer"]
            if index + 1 < len(rows):
                swapped = [*rows[:index], rows[index + 1], layer, *rows[index + 2 :]]
                yield "neighbours exchanged", "layers", kind, name, changed(data, path, swapped)
            yield "written twice", "layers", kind, name, changed(data, path, [*rows[: index + 1], *rows[index:]])
            for other in LAYERS:
                if other not in [row["layer"] for row in rows]:
                    added = {"layer": other, **_usual(other, layer)}
                    place = [LAYERS.index(row["layer"]) < LAYERS.index(other) for row in rows].count(True)
                    if index == 0:
                        yield (
                            "layer added",
                            "layers",
                            kind,
                            other,
                            changed(data, path, [*rows[:place], added, *rows[place:]]),
                        )
            here = (*path, index)
            strange: set[str] = set()
            for material in book().stock.values():
                if material.layer in strange:
                    continue  # One of each other layer stands for all of that layer.
                if "material" in layer and material.name != layer["material"]:
                    strange |= {material.layer} - {name}
                    of = "its own layer" if material.layer == name else "another layer"
                    detail = f"{material.family or material.name}"
                    yield (
                        f"material of {of}",
                        f"{name}",
                        kind,
                        detail,
                        changed(data, (*here, "material"), material.name),
                    )
            if "firmness" in layer:
                first, _, rest = layer["firmness"].partition(" ")
                word = first.rstrip(",;")
                for tighter in FIRMNESS[FIRMNESS.index(word) + 1 :] if word in FIRMNESS else ():
                    yield (
                        "laid tighter",
                        name,
                        kind,
                        f"{word} to {tighter}",
                        changed(data, (*here, "firmness"), f"{tighter} {rest}".strip()),
                    )
            if "passes" in layer:
                for passes in ("0", "1", "4", "8"):
                    if passes != layer["passes"]:
                        yield (
                            "other passes",
                            name,
                            kind,
                            f"{layer['passes']} to {passes}",
                            changed(data, (*here, "passes"), passes),
                        )
            material_ = book().stock.get(layer.get("material", ""))
            if name == "outer" and material_ is not None and material_.extension:
                narrow = {"under 14 cm": "5 cm", "14 cm and over": "2.5 cm"}
                yield "narrow on a wide limb", name, kind, "", changed(data, (*here, "width"), narrow)
            for overlap in ("10 %", "80 %") if "overlap" in layer else ():
                yield "overlap out of range", name, kind, overlap, changed(data, (*here, "overlap"), overlap)
            if name == "stirrups":
                yield "tape left longer", name, kind, "8 d", changed(data, here, layer | {"on_skin_at_most": "8 d"})
        for drop in ("padding", "conforming"):
            steps = (*path[:-1], "steps")
            bare = changed(data, path, [row for row in rows if row["layer"] != drop])
            yield "layer gone with its steps", drop, kind, "", _steps_without(bare, steps, drop)


def people(data: Any) -> Iterator[Made]:
    """Signatures that count for nothing, and names and numbers that lead nowhere."""
    kind = str(data.get("kind", "blend"))
    yield "number mistyped", "id", kind, data["id"][:-1], changed(data, ("id",), data["id"][:-1])
    author = data["prepared_by"]["name"]
    for name, detail in ((author, "the author"), ("Dr Nobody", "a stranger")):
        yield "approved by another", "approved_by", kind, detail, changed(data, ("approved_by", "name"), name)
    for index, row in enumerate(data.get("do_not_use_when", [])):
        for name, detail in (("no-such-protocol", "unknown"), (data["protocol"], "itself")):
            sent = row | {"instead": name}
            yield "sent to another protocol", "instead", kind, detail, changed(data, ("do_not_use_when", index), sent)
    if "signs" in data:
        yield "sign unknown", "signs", kind, "", changed(data, ("signs",), [*data["signs"], "no-such-sign"])


def without_modifiers(data: Any) -> Iterator[Made]:
    """Slips in a book that has no modifiers: what these warn of must then stand in the protocol (`judge.NO_MODIFIERS`)."""
    kind = str(data.get("kind", "blend"))
    if kind not in ("sling.velpeau", "sling.ehmer", "support.splint", "support.cast"):
        return  # No rule asks the modifiers about any other kind.
    yield NO_MODIFIERS, "nothing else", kind, "", {**data}
    for path, part, rows in _lists(data, "steps"):
        for index, step in enumerate(rows):
            if "do" in step and "layer" not in step and len(rows) > 1:
                yield (
                    NO_MODIFIERS,
                    "step left out",
                    part,
                    step["do"],
                    changed(data, path, rows[:index] + rows[index + 1 :]),
                )
    cases = data.get("do_not_use_when", [])
    for index, row in enumerate(cases):
        left = cases[:index] + cases[index + 1 :]
        if left:
            lacking = changed(data, ("do_not_use_when",), left)
            yield NO_MODIFIERS, "case left out", kind, row["case"], lacking
            joints = data["covers"].get("joints")
            if joints and "stifle" not in joints:
                held = changed(lacking, ("covers", "joints"), [*joints, "stifle"])
                yield NO_MODIFIERS, "case left out, stifle held", kind, row["case"], held


NO_MODIFIERS = "no modifiers in the book"


def _usual(layer: str, like: dict[str, Any]) -> dict[str, str]:
    return {
        "stirrups": {"material": "porous tape", "count": "2", "on_skin_at_most": "24 h"},
        "contact": {"material": "low-adherent pad", "count": "1"},
        "padding": {"material": "cast padding", "passes": "1", "overlap": "50 %", "firmness": "even"},
        "conforming": {"material": "conforming gauze", "passes": "1", "overlap": "50 %", "firmness": "light"},
        "splint": {"material": "gutter splint", "count": "1"},
        "outer": {"material": "cohesive wrap", "passes": "1", "overlap": "50 %", "firmness": "light"},
    }[layer]


def _steps_without(data: Any, path: Path, layer: str) -> Any:
    steps = data
    for step in path:
        steps = steps[step]
    return changed(data, path, [row for row in steps if row.get("layer") != layer])


def ceilings(data: Any) -> Iterator[Made]:
    """Each limit one minute past the ceiling of its kind, set where it was not set; and past the contact family's time."""
    for path, kind, body in bodies(data):
        if "limits" not in body or kind not in KINDS:
            continue
        here = (*path, "limits")
        for key, ceiling in KINDS[kind].ceilings.items():
            past = f"{ceiling.limit.shortest.seconds // 60 + 1} min"
            value: Any = past
            if key == "check_every":
                value = {"interval": past, "who": "technician"}
            yield "past its ceiling", key, kind, past, changed(data, here, {**body["limits"], key: value})
        contact = next((row for row in body["layers"] if row["layer"] == "contact"), None)
        for material in book().stock.values() if contact is not None and "change_every" in body["limits"] else ():
            if material.layer == "contact" and material.family in FAMILIES:
                longest = FAMILIES[material.family][0].shortest.seconds
                rows = [row | {"material": material.name} if row is contact else row for row in body["layers"]]
                past_family = changed(data, (*path, "layers"), rows)
                limits = {**body["limits"], "change_every": f"{longest // 60 + 1} min"}
                yield (
                    "past its family's time",
                    "change_every",
                    kind,
                    material.family,
                    changed(past_family, here, limits),
                )
        if "check_every" in body["limits"]:
            for interval in ("13 h", "24 h", "7 d"):
                rarer = {**body["limits"], "check_every": {**body["limits"]["check_every"], "interval": interval}}
                yield "checked more seldom", "check_every", kind, interval, changed(data, here, rarer)


def signs(data: Any) -> Iterator[Made]:
    """Each sign, every emergency sign, every urgent sign, and all of them left out."""
    if "signs" not in data:
        return
    kind = str(data["kind"])
    urgency = {name: book().signs[name].urgency if name in book().signs else "" for name in data["signs"]}
    for name in data["signs"]:
        yield (
            "sign left out",
            f"{urgency[name]} sign",
            kind,
            name,
            changed(data, ("signs",), [s for s in data["signs"] if s != name]),
        )
    for level in ("emergency", "urgent", "same day"):
        kept = [name for name in data["signs"] if urgency[name] != level]
        yield "signs of one urgency left out", f"{level} signs", kind, "", changed(data, ("signs",), kept)


# Acts that a careless hand could write into a protocol.
_ACTS = (
    "Push the bone back in.",
    "Close the tape in a ring round the limb.",
    "Wrap a full circle of tape round the leg.",
)


def steps(data: Any) -> Iterator[Made]:
    """Cautions left out or moved behind the act, checks and acts left out, neighbours exchanged, harmful acts put in."""
    for path, kind, rows in _lists(data, "steps"):
        for index, step in enumerate(rows):
            here = (*path, index)
            words = step.get("caution") or step.get("check") or step.get("do") or ""
            if "caution" in step:
                bare = {k: v for k, v in step.items() if k not in ("caution", "because")}
                guard = {k: step[k] for k in ("caution", "because") if k in step}
                if bare:
                    yield "caution left out", "steps", kind, words, changed(data, here, bare)
                for later, other in enumerate(rows[index + 1 :], index + 1):
                    if "do" in other and "caution" not in other:
                        moved = [*rows[:index], bare, *rows[index + 1 : later], guard | other, *rows[later + 1 :]]
                        yield "caution moved behind the act", "steps", kind, words, changed(data, path, moved)
                        break
                last = [*rows[:index], bare, *rows[index + 1 :], guard]
                yield "caution moved to the end", "steps", kind, words, changed(data, path, last)
                if "do" in step:
                    reordered = bare | guard
                    yield "caution written after its act", "steps", kind, words, changed(data, here, reordered)
            if "check" in step:
                yield "check left out", "steps", kind, words, changed(data, path, rows[:index] + rows[index + 1 :])
                first = [step, *rows[:index], *rows[index + 1 :]]
                if index:
                    yield "check moved to the beginning", "steps", kind, words, changed(data, path, first)
            elif "do" in step:
                yield "step left out", "steps", kind, step["do"], changed(data, path, rows[:index] + rows[index + 1 :])
            if index + 1 < len(rows):
                swapped = [*rows[:index], rows[index + 1], step, *rows[index + 2 :]]
                pair = f"{_short(step)} / {_short(rows[index + 1])}"
                yield "neighbours exchanged", "steps", kind, pair, changed(data, path, swapped)
        without_checks = [row for row in rows if "check" not in row]
        yield "every check left out", "steps", kind, "", changed(data, path, without_checks)
        without_cautions = [{k: v for k, v in row.items() if k not in ("caution", "because")} for row in rows]
        if all(without_cautions):
            yield "every caution left out", "steps", kind, "", changed(data, path, without_cautions)
        for act in _ACTS:
            yield "harmful act put in", "steps", kind, act, changed(data, path, [{"do": act}, *rows])


def _short(step: Any) -> str:
    name = step.get("layer", "")
    return ("check" if "check" in step else f"lays {name}" if name else "act") + (
        " with caution" if "caution" in step else ""
    )


# What no owner may be told. Every one is an act of the printed list of things not to do at home (ACVS owner page), of the
# household medicines that kill, or of how often to look.
HARMFUL_LINES = (
    "If it looks tight, loosen the wrap.",
    "Cut the top edge if it rubs.",
    "Tape it again if it slips.",
    "Rewrap the leg if it comes off.",
    "Put the bandage back on if it slips.",
    "Take the bandage off at night.",
    "Open the wrap to look at the skin.",
    "Trim the frayed end with scissors.",
    "Do not wait. Loosen the bandage.",
    "Tighten the wrap when it gets loose.",
    "Add more tape at the top.",
    "Dry a wet bandage with a hair dryer.",
    "Put ice on the bandage.",
    "Rub some cream under the edge.",
    "Give half an aspirin for pain.",
    "Change the bandage at home.",
    "Unwrap it a little if the toes swell.",
    "Bathe {pet} with the bandage on.",
)
OTHER_COUNTS = ("Look at the toes once a day.", "Check the toes three times a day.", "Look at the toes each morning.")


def owner(data: Any) -> Iterator[Made]:
    """Harmful lines put in, and prohibitions turned round."""
    for path, kind, body in [((), str(data.get("kind", "blend")), data)]:
        text = body.get("owner")
        if not isinstance(text, dict):
            continue
        # A third of them for each protocol: no rule for owner lines asks for the kind, and every line comes in many.
        start = sum(map(ord, data["protocol"])) % 3
        for line in (HARMFUL_LINES[0], *HARMFUL_LINES[1 + start :: 3]):
            for key in ("every_day",) if line != HARMFUL_LINES[0] else ("every_day", "keep_dry", "never"):
                if key in text:
                    yield (
                        "harmful owner line put in",
                        key,
                        kind,
                        line,
                        changed(data, (*path, "owner", key), [*text[key], line]),
                    )
        for line in OTHER_COUNTS:
            yield (
                "another number of checks",
                "every_day",
                kind,
                line,
                changed(data, (*path, "owner", "every_day"), [*text["every_day"], line]),
            )
        for index, line in enumerate(text.get("never", [])):
            if line.startswith("Do not "):
                turned = line.removeprefix("Do not ")
                turned = turned[0].upper() + turned[1:]
                yield (
                    "prohibition turned round",
                    "never",
                    kind,
                    turned,
                    changed(data, (*path, "owner", "never", index), turned),
                )
        for key in [key for key in text if isinstance(text[key], list)]:
            yield (
                "one line for a whole list",
                key,
                kind,
                "",
                changed(data, (*path, "owner", key), ["Be kind to {pet}."]),
            )


def blends(data: Any) -> Iterator[Made]:
    """Parts exchanged, limits lengthened, the revisions that were read changed."""
    if "blend" not in data:
        return
    parts = [f"{p.protocol}@{s}" for p in book().protocols.values() for s in p.stages] + [
        p.protocol for p in book().protocols.values() if not p.stages and not p.blend
    ]
    for index, part in enumerate(data["blend"]):
        for other in parts:
            if other not in data["blend"]:
                yield (
                    "part exchanged",
                    "blend",
                    "blend",
                    f"{part.partition('@')[0]} to {other}",
                    changed(data, ("blend", index), other),
                )
    for other in parts:
        if other not in data["blend"]:
            yield "part added", "blend", "blend", other, changed(data, ("blend",), [*data["blend"], other])
    read = {part.partition("@")[0]: book().protocols[part.partition("@")[0]].revision for part in data["blend"]}
    for slug, revision in read.items():
        for other_revision in (revision - 1, revision + 1):
            if other_revision:
                wrong = {name: str(number) for name, number in (read | {slug: other_revision}).items()}
                detail = "older" if other_revision < revision else "newer"
                yield (
                    "another revision was read",
                    "reviewed_against",
                    "blend",
                    detail,
                    {**data, "reviewed_against": wrong},
                )
        lacking = {name: str(number) for name, number in read.items() if name != slug}
        yield "a part was not read", "reviewed_against", "blend", "", {**data, "reviewed_against": lacking}
    stranger = {name: str(number) for name, number in read.items()} | {"pressure-bandage": "1"}
    yield "a stranger was read", "reviewed_against", "blend", "", {**data, "reviewed_against": stranger}
    if "limits" in data:
        for key, value in data["limits"].items():
            if isinstance(value, str) and re.search(r"\d", value):
                yield "past its part", f"limits.{key}", "blend", value, changed(data, ("limits", key), "60 d")
        yield "every limit left out", "limits", "blend", "", without(data, ("limits",))


def by_the_wound(data: Any) -> Iterator[Made]:
    """A contact layer left to the wound where it may not be, or without what to choose from."""
    for path, kind, rows in _lists(data, "layers"):
        for index, layer in enumerate(rows):
            here = (*path, index)
            if "prefer" in layer:
                continue
            open_ = {k: v for k, v in layer.items() if k != "size"} | {"material": "by the wound"}
            yield (
                "left to the wound",
                layer["layer"],
                kind,
                "with prefer",
                changed(data, here, open_ | {"prefer": ["foam sheet", "silicone net"]}),
            )
            if layer["layer"] == "contact":
                yield "left to the wound", layer["layer"], kind, "without prefer", changed(data, here, open_)
                for names in (["cast padding"], ["no such sheet"], ["haemostatic pad"]):
                    yield (
                        "left to the wound",
                        layer["layer"],
                        kind,
                        names[0],
                        changed(data, here, open_ | {"prefer": names}),
                    )
                yield (
                    "prefer beside a material",
                    layer["layer"],
                    kind,
                    "",
                    changed(data, here, layer | {"prefer": ["foam sheet"]}),
                )


MAKERS: tuple[Maker, ...] = (layers, ceilings, signs, steps, owner, blends, by_the_wound, people, without_modifiers)
