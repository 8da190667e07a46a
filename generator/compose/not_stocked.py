"""Say that a width is not in stock, and what the nearest one changes.

Takes  a `not-stocked` note with its figures; or, for the binder, the layers of a protocol and a material.
Gives  one sentence for card and plan, one clause for the binder.
Knows  the words; the turns and the pressure were reckoned elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from markupsafe import Markup

from generator.compose import hand
from generator.compose.writer import Writer
from generator.protocol.model import Layer, Material
from generator.reckon.not_stocked import is_same, nearest_first, pressure_factor
from generator.reckon.plan import Figure, Note, Plan

CODE = "not-stocked"


def not_stocked_lines(plan: Plan, w: Writer) -> list[Markup]:
    """A sentence for each layer whose width is not in stock."""
    return [not_stocked_sentence(note, w) for note in plan.notes if note.code == CODE]


def is_said_already(note: Note, notes: Iterable[Note]) -> bool:
    """Whether it is a warning of a narrow elastic strip, and the note on its width says how much harder that one presses."""
    if note.code != "narrow-elastic":
        return False
    layer = dict(note.values)["layer"]
    others = (dict(other.values) for other in notes if other.code == CODE)
    return any(
        v["layer"] == layer
        and v["pressure_taken"] is None
        and v["pressure_factor"] is not None
        and v["pressure_factor"].number > 1
        for v in others
    )


def not_stocked_sentence(note: Note, w: Writer) -> Markup:
    """`Outer 10 cm wide (by the protocol) is not in stock; nearest 7.5 cm: about 6.9 turns a pass, not 5.2; …`."""
    v = dict(note.values)
    asked = (
        Markup("by the protocol")
        if v["girth"] is None
        else Markup("by the mean girth of {}").format(hand.figure(w, v["girth"]))
    )
    words = Markup("{} {} wide ({}) is not in stock; nearest {}").format(
        v["layer"].capitalize(), hand.figure(w, v["wanted"]), asked, hand.figure(w, v["taken"])
    )
    changes = []
    if v["turns_taken"] is not None:
        changes.append(
            Markup("about {} turns a pass, not {}").format(
                hand.figure(w, v["turns_taken"]), hand.figure(w, v["turns_wanted"])
            )
        )
    elif v["rolls_meant_for_wanted"]:
        changes.append(Markup("the protocol counts its rolls in the width it asks for"))
    if v["pressure_taken"] is not None:
        changes.append(_by_the_pulls_stated(v["pressure_taken"], v["pressure_wanted"], w))
    elif v["pressure_factor"] is not None:
        changes.append(_at_the_same_pull(hand.figure(w, v["pressure_factor"], 2, "up")))
    return words + (Markup(": {}").format(Markup("; ").join(changes)) if changes else Markup()) + Markup(".")


def not_stocked_clause(layers: Iterable[Layer], material: Material, w: Writer) -> Markup:
    """`; 10 cm asked for: not in stock, 7.5 cm is the nearest, with 1.34 times the turns …`; nothing where all are stocked."""
    clauses = Markup()
    for wanted, layer in _missing(layers, material).items():
        taken = nearest_first(material.widths, [wanted])[0]
        factor = pressure_factor(wanted, taken)
        shown = w.number("turns-factor", factor, hand.number(factor, 2, "up"))
        clauses += Markup("; {} is asked for, not in stock; nearest {}").format(
            w.number("wanted", wanted, hand.measure(wanted, "cm")), w.number("taken", taken, hand.measure(taken, "cm"))
        )
        if layer.passes is not None:
            clauses += Markup(": {} times the turns").format(shown)
        if layer.layer != "stirrups" and (layer.layer != "padding" or material.extension > 0):
            clauses += Markup("; {}").format(
                _at_the_same_pull(w.number("pressure-factor", factor, hand.number(factor, 2, "up")))
            )
    return clauses


def missing_widths(layers: Iterable[Layer], material: Material | None) -> tuple[Fraction, ...]:
    """The widths that layers ask for of a material and the shelf has not, each once."""
    return tuple(_missing(layers, material))


def _missing(layers: Iterable[Layer], material: Material | None) -> dict[Fraction, Layer]:
    """Each such width with the first layer that asks for it."""
    found: dict[Fraction, Layer] = {}
    if material is None or not material.widths:
        return found
    for layer in layers:
        if layer.material != material.name or layer.width is None:
            continue
        asked = [width for _, width in layer.width] if isinstance(layer.width, tuple) else [layer.width]
        for width in asked:
            if not any(is_same(width, stocked) for stocked in material.widths):
                found.setdefault(width, layer)
    return found


def _at_the_same_pull(factor: Markup) -> Markup:
    return Markup("at the same pull {} times the pressure (mmHg not estimated)").format(factor)


def _by_the_pulls_stated(taken: tuple[Figure, Figure], wanted: tuple[Figure, Figure], w: Writer) -> Markup:
    """A clinic that stretches each width alike states pulls in step with the widths: then nothing changes."""
    here, there = (
        Markup("{} at the toes and {} at the top").format(*(hand.figure(w, end, 0) for end in pair))
        for pair in (taken, wanted)
    )
    if here.striptags() == there.striptags():
        return Markup("by the pulls stated the same pressure under this layer alone, an estimate: {}").format(here)
    return Markup("by the pulls stated, under this layer alone, an estimate of {}, not {}").format(here, there)
