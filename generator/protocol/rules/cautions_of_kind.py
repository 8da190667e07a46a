"""R49: the cautions of a kind of bandage stand before the act they guard.

What it looks for: a caution, or for some matters an act, known by its words, at or before the step that it guards.
Why it matters: what the trade has learned from harm is lost the day a line is left out or read too late.
Stops: a limb bandage with no caution on the toes, or with one that is read when they are covered.
Write instead: the step that the message gives.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from generator.protocol.kinds import STAGES
from generator.protocol.model import Book, Protocol, Step
from generator.protocol.rules.reach import as_parts, first_laying, last_laying, lays, on_limb
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import speaks_of
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem

STAGE_KINDS = tuple(f"wound.{stage}" for stage in STAGES)
RIGID = ("support.splint", "support.cast")


@dataclass(frozen=True, slots=True)
class _Guard:
    """said: what the caution is on. pattern: what it is known by. write: a step to copy. concerns: which protocols.

    before: it stands no later than the first step that lays one of these layers. by_last: or than the last that lays this one.
    in_act: the act itself may say it.
    """

    said: str
    pattern: str
    write: str
    concerns: Callable[[Protocol, Book], bool]
    before: tuple[str, ...] = ()
    by_last: tuple[str, ...] = ()
    in_act: bool = False


def _of(*kinds: str) -> Callable[[Protocol, Book], bool]:
    return lambda protocol, book: protocol.kind in kinds


def _from_toes(protocol: Protocol, book: Book) -> bool:
    covers = protocol.covers
    return (
        on_limb(protocol) and covers is not None and (protocol.kind == "sling.ehmer" or speaks_of(covers.from_, TOES))
    )


def _has_tape(protocol: Protocol, book: Book) -> bool:
    return protocol.layer("stirrups") is not None and protocol.kind not in ("cover.tail", "haemorrhage.pressure")


def _is_taped(protocol: Protocol, book: Book) -> bool:
    return protocol.kind in ("sling.ehmer", "sling.hobbles", "sling.flexion9090") and not _is_elastic(protocol, book)


def _is_elastic(protocol: Protocol, book: Book) -> bool:
    outer = protocol.layer("outer")
    material = book.stock.get(outer.material) if outer is not None and outer.material is not None else None
    return material is not None and not is_unsound(material) and material.extension > 0


def _rerolled(protocol: Protocol, book: Book) -> bool:
    # Where blood runs, seconds count; what is laid then is off within minutes.
    return protocol.purpose != "haemorrhage" and _is_elastic(protocol, book)


TOES = r"\btoes?\b|\bdigits?\b|\bfoot\b|\bpaw\b"
_SEEN = r"(cover|show|sight|free|visible|see|hide)"
SHOWN = rf"\b{_SEEN}\w*\b.*\b(toes?|digits?)\b|\b(toes?|digits?)\b.*\b{_SEEN}\w*\b"
RING = r"\bring\b|\btourniquet\b|\bcircle\b|\btight\b"
# Toes in sight: published 6, 9, 13. No closed ring: published 11, 75. Stirrup ends up before the outer layer: published 3, 11. A stuck
# dressing is floated off: published 30. Bone: published 32. Too tight, too little padding: published 12, 13. Chest: published 9.
# Flexion: published 5, 9. Toe wool: published 62, 82. The others are common practice.
_GUARDS = (
    _Guard("the toes that stay in sight", SHOWN,
           "- {caution: Do not cover the tips of the two middle toes., because: they are the only window on the blood supply, layer: padding, do: Roll the padding from the toes upward.}",
           _from_toes, by_last=("conforming", "outer")),
    _Guard("tape that closes in a ring", RING,
           "- {caution: Do not close tape in a ring round the limb., because: a ring becomes a tourniquet when the foot swells, layer: stirrups, do: Lay one stirrup on each side of the limb.}",
           _has_tape, before=("stirrups",)),
    _Guard("tape that closes in a ring", RING,
           "- {caution: Do not close tape in a ring on skin., because: a ring becomes a tourniquet when the foot swells, layer: outer, do: Start the tape over the padding.}",
           _is_taped, before=("outer",)),
    _Guard("the ends of the stirrups, folded up", r"\b(fold|twist|turn|stick|stuck)\w*\b.*\b(stirrups?|tape|strips?|ends?)\b|\b(stirrups?|tape|strips?)\b.*\b(fold|twist|stick|stuck)",
           '- {do: "Fold each stirrup end, twisted half a turn, up onto the gauze."}',
           _has_tape, before=("outer",), in_act=True),
    _Guard("the wrap that is unrolled and rolled again", r"\bre-?roll|\bunroll|\boff the roll\b",
           '- {layer: outer, do: "Lay the re-rolled outer wrap from the toes upward, one light pass."}',
           _rerolled, by_last=("outer",), in_act=True),
    _Guard("a dressing that sticks", r"\bstuck\b|\bsticks?\b|\bpull\b",
           '- {caution: Do not pull a stuck dressing., because: it tears living tissue away, do: "If it sticks, float it off with sterile saline."}',
           _of(*STAGE_KINDS, "wound.tieover"), before=("stirrups", "contact")),
    _Guard("bone that shows", r"\bbones?\b",
           '- {caution: Do not push bone or tissue back in., because: it drags dirt in and injures vessels, layer: contact, do: Cover the wound with a sterile pad.}',
           _of("wound.inflammatory", "haemorrhage.pressure"), by_last=("contact",)),
    _Guard("the edge of the splint", r"\bedges?\b|\bskin\b|\bends?\b",
           "- {caution: Do not let a splint edge touch skin., because: a hard edge cuts in within hours, layer: splint, do: Set the splint along the limb.}",
           _of(*RIGID), before=("splint",)),
    _Guard("gauze pulled tight over thin padding", r"\btight\b|\bthin\b",
           "- {caution: Do not pull gauze tight over thin cotton., because: tight gauze without bulk stops the blood, layer: conforming, do: Roll conforming gauze the same way.}",
           _of("support.heavy"), before=("conforming",)),
    _Guard("the chest of a sleeping animal", r"\btight\b|\basleep\b|\bsleeping\b|\bwak(es|ing)\b|\bfull of air\b",
           "- {caution: Do not pull the wrap tight on a sleeping animal., because: it tightens when the chest fills on waking, layer: outer, do: Lay the outer wrap while the chest is full of air.}",
           _of("sling.velpeau", "cover.trunk"), before=("outer",)),
    _Guard("how far the carpus is bent", r"\bfully\b|\bmoderate|\bfull flexion\b",
           "- {caution: Do not bend the carpus fully., because: full flexion stops the blood and shortens the tendons, do: Bend the carpus moderately.}",
           _of("sling.carpal"), before=("conforming",)),
    _Guard("the width at which the limbs are tied", r"\bbridge\b|\bwid(e|er|th)\b",
           "- {caution: Do not make the bridge wider than the dog stands., because: the hip slides out when the limbs part, layer: outer, do: Join the bands with a bridge of tape.}",
           _of("sling.hobbles"), by_last=("outer",)),
    _Guard("a damp foot", r"\bdamp\b|\bdry\b|\bwet\b",
           '- {caution: Do not wrap a damp foot., because: damp skin under a wrap goes soft and breaks, do: "Dry the foot fully, between every toe."}',
           _of("wound.foot"), before=("padding",)),
    _Guard("padding between the toes", r"\b(strips?|wool|padding|cotton)\b[^.]*\b(between|spaces?)\b",
           '- {layer: padding, do: "Lay a small strip of padding in every space between toes."}',
           _of("wound.foot"), before=("conforming",), in_act=True),
    _Guard("the animal that is never left alone", r"\b(leave|alone|watch)\b",
           "- {caution: Do not leave the animal., because: loss of blood supply is silent and fast, do: Name one trained technician who does nothing but watch.}",
           _of("haemorrhage.pressure"), before=("padding", "conforming", "outer")),
    _Guard("a wrap that stops the vein", r"\btight\b|\bring\b|\bvein\b",
           "- {caution: Do not wrap tape or gauze tight round the limb., because: a tight ring stops the vein and the foot swells, layer: conforming, do: Roll gauze lightly.}",
           _of("cover.catheter"), before=("conforming", "outer")),
    _Guard("the airway", r"\bbreath|\bthroat\b|\bairway\b|\bneck\b",
           "- {caution: Do not wrap tight round the throat., because: a tight wrap takes the breath, layer: conforming, do: Roll gauze loosely.}",
           _of("cover.head"), before=("conforming", "outer")),
    _Guard("pull on the tail", r"\bpull\b|\btight\b|\btension\b|\bstretch",
           "- {caution: Do not stretch the wrap on the tail., because: on so thin a part any pull stops the blood, layer: outer, do: Lay the outer wrap without pull.}",
           _of("cover.tail"), before=("outer",)),
)  # fmt: skip
_ROLLS_OVER_TOES = r"\broll\b.*\b(toes?|paw|foot)\b"


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    said: set[str] = set()
    for part in as_parts(protocol, book):
        for guard in _GUARDS:
            if guard.concerns(part, book):
                for problem in _judge(part, guard):
                    if problem.what not in said:
                        said.add(problem.what)
                        yield problem


def _judge(protocol: Protocol, guard: _Guard) -> Iterator[Problem]:
    steps = protocol.steps
    at = next((number for number, step in enumerate(steps) if _says(step, guard)), None)
    if at is None:
        yield Problem(
            "caution-missing",
            protocol.span("steps:"),
            f"no {'step' if guard.in_act else 'caution'} speaks of {guard.said}",
            "what harm has taught is lost the day the line is left out",
            f"add a line `{guard.write}`",
            severity="warning",
        )
        return
    limit = _latest(steps, guard)
    if limit is not None and at > limit:
        yield Problem(
            "caution-late",
            steps[at].spans["caution" if steps[at].caution is not None else "do"],
            f"what is said of {guard.said} comes after the act",
            "read after the act, it comes too late",
            "move it to the step that it guards, or before",
            severity="warning",
            also=((steps[limit].spans["do"], "the act is here"),),
        )


def _says(step: Step, guard: _Guard) -> bool:
    words = [step.caution, *([step.do] if guard.in_act else [])]
    return any(text is not None and speaks_of(text, guard.pattern) for text in words)


def _latest(steps: tuple[Step, ...], guard: _Guard) -> int | None:
    """The number of the step by which it must have been said; None where no step says which layer it lays."""
    if guard.pattern == SHOWN:
        # Whatever is rolled over the foot can cover the toes, padding too.
        over = next(
            (
                n
                for n, step in enumerate(steps)
                if lays(step, "padding", "conforming", "splint", "outer") and speaks_of(str(step.do), _ROLLS_OVER_TOES)
            ),
            None,
        )
        if over is not None:
            return over
    if guard.before:
        return first_laying(steps, *guard.before)
    found = (last_laying(steps, layer) for layer in guard.by_last)
    return next((number for number in found if number is not None), None)


RULE = Rule(
    id="R49",
    name="caution-missing",
    looks_for="The cautions of a kind of bandage stand in its steps, at or before the act they guard: toes in sight, no ring of tape, "
    "stuck dressings floated off, bone left alone, splint edges off the skin, and those of each sling and cover.",
    why="What harm has taught is lost the day a line is left out or read too late.",
    source="published 3, 5, 6, 9, 11, 12, 13, 30, 32, 62, 75, 82; common practice",
    broken="kind: support.soft\n"
    "steps:\n"
    '  - {layer: stirrups, do: "Lay one stirrup on each side, free ends well past the toes."}\n'
    "  - ...\n",
    mended="kind: support.soft\n"
    "steps:\n"
    '  - {caution: Do not close tape in a ring round the limb., because: a ring becomes a tourniquet when the foot swells, layer: stirrups, do: "Lay one stirrup on each side, free ends well past the toes."}\n'
    "  - ...\n",
    check=check,
    also=("caution-late",),
    blends=True,
)
