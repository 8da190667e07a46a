"""Small sound books, each with one animal, that between them use every key of the vocabulary where it can make a difference."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from typing import Any

from tests.compose.seeing import PATIENT, SmallBook, tree_of
from tests.protocol.samples import samples
from tests.protocol.writing import Path, at, changed, without

# Of lists that only grow longer the first two rows serve as well.
_LONG = ("history", "references", "do_not_use_when", "copies", "use_when", "staff")


def _shipped(name: str) -> Any:
    return _shorter(samples()[f"protocols/{name}.yaml"][1])


def _shorter(data: Any) -> Any:
    if isinstance(data, dict):
        return {key: _shorter(item[:2] if key in _LONG else item) for key, item in data.items()}
    return data


def put(data: Any, path: Path, value: Any) -> Any:
    """A copy with a value at a path, the last key of which may be new; None takes the key away."""
    if value is None:
        return without(data, path)
    return changed(data, path[:-1], {**at(data, path[:-1]), path[-1]: value})


def _materials(protocol: Any) -> set[str]:
    layers = [*protocol.get("layers", ()), *(one for s in protocol.get("stages", {}).values() for one in s["layers"])]
    named = {layer["material"] for layer in layers if "material" in layer}
    return named.union(*(layer.get("prefer", ()) for layer in layers))


def _signs(protocol: Any) -> set[str]:
    return {
        *protocol.get("signs", ()),
        *(sign for s in protocol.get("stages", {}).values() for sign in s.get("signs", ())),
    }


def _by_the_wound(*prefer: str) -> Any:
    """The layers of the inflammatory stage, the wound choosing its dressing."""
    layers = _shipped("open-wound")["stages"]["inflammatory"]["layers"]
    contact = {"layer": "contact", "material": "by the wound", "prefer": list(prefer), "count": "1"}
    return [contact if layer["layer"] == "contact" else layer for layer in layers]


def _some(data: Any, keys: set[str]) -> Any:
    return {key: value for key, value in data.items() if key in keys}


def small(
    animal: str, *slugs: str, asked: str, at_work: str, modifiers: set[str], edits: tuple[tuple[str, Path, Any], ...]
) -> SmallBook:
    """A book of these protocols, with the stock and the signs that they name.

    Args:
        asked: the protocol to put on, as typed. at_work: the moment of asking. edits: file, path, value that is put there.
    """
    files = {f"{slug}.yaml": _shipped(slug) for slug in slugs}
    files |= {
        "modifiers.yaml": _some(_shipped("modifiers"), modifiers),
        "clinic.yaml": _shipped("clinic"),
        "training.yaml": {"training": []},
        PATIENT: _shipped(f"patients/{animal}"),
    }
    for file, path, value in edits:
        if file in files:
            files[file] = put(files[file], path, value)
    used = [files[f"{slug}.yaml"] for slug in slugs]
    materials, signs = set().union(*map(_materials, used)), set().union(*map(_signs, used))
    files["stock.yaml"] = {"materials": _some(_shipped("stock")["materials"], materials)}
    files["signs.yaml"] = _some(_shipped("signs"), signs)
    for file, path, value in edits:
        if file in ("stock.yaml", "signs.yaml"):
            files[file] = put(files[file], path, value)
    trees = {name: tree_of(data, name) for name, data in files.items()}
    return SmallBook(files, (asked,), datetime.fromisoformat(at_work), trees)


# Every hour at which the clinic is closed.
_NIGHTS = {"mon to fri": "18:30 to 08:00", "sat": "08:00 to 24:00", "sun": "00:00 to 12:00, 12:00 to 08:00"}


_BAND = {"weight": "25 kg to 35 kg", "distal_girth": "13 cm", "proximal_girth": "23 cm", "covered_length": "36 cm"}


@cache
def books() -> dict[str, SmallBook]:
    """By name; between them they use every key, each where it can make a difference."""
    return {
        "support": small(
            "maple", "padded-limb-support", asked="padded-limb-support", at_work="2027-03-13T10:40", modifiers={"thin or old", "growing"},
            edits=(
                ("clinic.yaml", ("closed",), ["2027-03-19", "2027-03-27"]),
                ("clinic.yaml", ("clinic", "languages"), ["en", "es"]),
                ("clinic.yaml", ("staff",), [{"name": "J. Adeyemi", "role": "technician", "since": "2025-03-03", "until": "2027-06-30"}, {"name": "S. Yilmaz", "role": "night technician"}]),
                ("clinic.yaml", ("house_limits",), {"support": {"change_every": "3 d to 6 d", "check_every": "6 h", "remove_by": {"incision": "12 d"}}}),
                ("training.yaml", ("training",), [{"name": "J. Adeyemi", "protocol": "LB-SUP-002", "revision": "4", "read": "2026-10-26", "competent": "2026-10-30", "by": "Dr M. Tamsin"}]),
                ("padded-limb-support.yaml", ("layers", 1, "size"), "10 cm by 10 cm"),
                ("padded-limb-support.yaml", ("steps", 1, "because"), "damp skin goes soft"),
                (PATIENT, ("owner", "language"), "en"),
                (PATIENT, ("patient", "file_number"), "LB-7"),
                (PATIENT, ("condition",), ["thin or old"]),
                (PATIENT, ("visits",), {"change": "2027-03-18T10:00"}),
            ),
        ),
        "estimate": small(
            "sorrel", "padded-limb-support", asked="padded-limb-support", at_work="2027-04-06T09:55", modifiers={"thin or old", "sighthound"},
            edits=(
                ("clinic.yaml", ("emergency_place", "answers"), _NIGHTS),
                ("clinic.yaml", ("clinic", "units"), "both"),
                ("clinic.yaml", ("size_bands",), {"hindlimb below stifle": [_BAND]}),
                ("clinic.yaml", ("house_limits",), {"support.soft": {"first_check": "6 h to 12 h", "recheck_every": "48 h to 72 h", "remove_when": "no swelling"}}),
            ),
        ),
        "splint": small(
            "pollen", "splinted-limb", asked="splinted-limb", at_work="2027-03-12T16:20", modifiers={"growing"},
            edits=(
                ("splinted-limb.yaml", ("layers", 4, "length"), "20 cm"),
                ("splinted-limb.yaml", ("only_for",), "growing"),
                ("splinted-limb.yaml", ("layers", 0, "length"), "30 cm"),
                ("splinted-limb.yaml", ("covers", "joints"), ["toes", "carpus", "tarsus"]),
                ("clinic.yaml", ("house_limits",), {"support.splint": {"supervised": "yes", "go_home": "no"}}),
                (PATIENT, ("applied",), None),
                (PATIENT, ("planned",), "2027-03-12T16:10"),
            ),
        ),
        "stage": small(
            "juniper", "open-wound", asked="open-wound@inflammatory", at_work="2027-03-10T15:50", modifiers={"cat"},
            edits=(
                ("open-wound.yaml", ("stages", "inflammatory", "use_when"), ["a fresh or dirty wound"]),
                ("open-wound.yaml", ("stages", "inflammatory", "signs"), ["wet", "toes-cold-or-discoloured", "bad-smell", "slipped", "nails-apart"]),
                ("open-wound.yaml", ("stages", "inflammatory", "owner"), _shipped("padded-limb-support")["owner"]),
                ("open-wound.yaml", ("stages", "inflammatory", "supplies"), ["sterile saline"]),
                ("open-wound.yaml", ("stages", "inflammatory", "review"), ["Is dead tissue left?"]),
                ("open-wound.yaml", ("review",), ["Does it smell?"]),
                ("open-wound.yaml", ("supplies",), ["clippers"]),
                (PATIENT, ("explained_by",), "R. Osei-Lund"),
            ),
        ),
        "dressing": small(
            "juniper", "open-wound", asked="open-wound@inflammatory", at_work="2027-03-10T15:50", modifiers={"cat"},
            edits=(
                ("open-wound.yaml", ("stages", "inflammatory", "layers"), _by_the_wound("foam sheet", "sterile absorbent pad")),
                ("open-wound.yaml", ("stages", "inflammatory", "limits", "change_every"), "12 h to 72 h"),
                (PATIENT, ("wound",), {"exudate": "moderate", "features": ["infected"], "contact": "sterile absorbent pad", "because": "it weeps"}),
                (PATIENT, ("began",), None),
                (PATIENT, ("earlier",), [{"protocol": "open-wound@inflammatory", "on": "2027-03-08T09:00", "off": "2027-03-09T09:00"}]),
            ),
        ),
        "preferred": small(
            "juniper", "open-wound", asked="open-wound@inflammatory", at_work="2027-03-10T15:50", modifiers={"cat"},
            edits=(
                ("open-wound.yaml", ("stages", "inflammatory", "layers"), _by_the_wound("foam sheet", "sterile absorbent pad")),
                ("open-wound.yaml", ("stages", "inflammatory", "limits", "change_every"), "12 h to 72 h"),
                (PATIENT, ("wound",), {"exudate": "moderate"}),
            ),
        ),
        "sling": small(
            "rowan", "velpeau-sling", asked="velpeau-sling", at_work="2027-03-11T11:10", modifiers={"cat"},
            edits=(
                # Who prepared it approved it, which one_clinician alone allows.
                ("clinic.yaml", ("signs_for",), {"head technician": "R. Osei-Lund", "clinicians": ["Dr J. Ferrow"], "one_clinician": "yes"}),
                ("velpeau-sling.yaml", ("prepared_by", "name"), "Dr J. Ferrow"),
            ),
        ),
        "pressure": small(
            "kestrel", "pressure-bandage", asked="pressure-bandage", at_work="2027-03-14T01:55", modifiers=set(),
            edits=(("clinic.yaml", ("house_limits",), {"haemorrhage": {"release": "14 min"}}),),
        ),
        "parts": small(
            "brindle", "open-fracture-before-fixation", "splinted-limb", "open-wound", asked="open-fracture-before-fixation", at_work="2027-03-13T12:25",
            modifiers={"oedema"},
            edits=(
                ("open-fracture-before-fixation.yaml", ("steps",), None),
                ("open-fracture-before-fixation.yaml", ("limits", "change_every"), "8 h to 20 h"),
                ("open-fracture-before-fixation.yaml", ("limits", "supervised"), "yes"),
                ("open-fracture-before-fixation.yaml", ("supplies",), ["sterile saline"]),
                ("open-fracture-before-fixation.yaml", ("review",), ["Does it smell?"]),
                ("open-fracture-before-fixation.yaml", ("reviewed_against",), {slug: _shipped(slug)["revision"] for slug in ("splinted-limb", "open-wound")}),
            ),
        ),
        "incision": small(
            "maple", "sling-after-incision", "carpal-flexion-sling", "closed-wound-cover", asked="sling-after-incision", at_work="2027-03-13T10:40",
            modifiers=set(),
            edits=((PATIENT, ("limb", "site"), "left fore"), (PATIENT, ("reason",), "sutured wound"), (PATIENT, ("owner", "language"), "en")),
        ),
        "blend": small(
            "brindle", "open-fracture-before-fixation", "splinted-limb", "open-wound", asked="open-fracture-before-fixation", at_work="2027-03-13T12:25",
            modifiers={"oedema"},
            edits=(
                # Against the trade's order of precedence, so that it is this line that decides.
                ("open-fracture-before-fixation.yaml", ("settles",), [_shipped("open-fracture-before-fixation")["settles"][0] | {"part": "open-wound"}]),
            ),
        ),
    }  # fmt: skip
