"""Tabs at the outer edge of the paper, which say on every page to which part of a binder it belongs.

Takes  an aside of class tab, and where the edge of a page is.
Gives  `Tab`, furniture; `Edge` and `edge_of`, where tabs stand on a page.
Knows  that tabs of one number of places stand in the same places on every page, whatever else is there. A filled block
       reaches the very edge, for a binder is leafed through closed; its words keep to what a printer can print.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from generator.page.tokens import BAR, BAR_AWAY, TAB_AIR, TAB_PITCH, UNPRINTABLE, Margins
from generator.page.xhtml import Node
from generator.press.block import CLOSE, Pen, Stack
from generator.press.look import Look
from generator.press.operators import number
from generator.press.structure import Elem

if TYPE_CHECKING:
    from generator.press.lay import Layer


class Crowded(ValueError):
    """A tab says more than its place holds: it needs fewer words."""


@dataclass(frozen=True, slots=True)
class Edge:
    """Where tabs stand on one page, points: x of the paper's edge and of a tab's inner side; the live height.

    turned: the outer edge is the left one.
    """

    outer: float
    inner: float
    top: float
    bottom: float
    turned: bool

    @property
    def room(self) -> float:
        """For words, across the tab, points."""
        return abs(self.outer - self.inner) - UNPRINTABLE


def edge_of(paper: tuple[float, float], margins: Margins, *, turned: bool) -> Edge:
    """Between the edge and the change bars; from the upper margin to the lower."""
    width, height = paper
    reach = margins.outer - BAR_AWAY - BAR / 2 - TAB_AIR
    outer, inner = (0.0, reach) if turned else (width, width - reach)
    return Edge(outer, inner, height - margins.top, margins.bottom, turned)


@dataclass(frozen=True, slots=True)
class Tab:
    """Words at place `place`, counted from 1, of `places` down the edge."""

    words: Stack
    place: int
    places: int

    def show(self, pen: Pen, edge: Edge) -> None:
        """Paint it: a block, and words turned a quarter, their feet to the outer edge.

        Raises:
            Crowded: the words do not fit.
        """
        step = (edge.top - edge.bottom) / self.places
        top, length = edge.top - (self.place - 1) * step - TAB_AIR, step - 2 * TAB_AIR
        across, high = length - 2 * TAB_AIR, self.words.height(length - 2 * TAB_AIR)
        if high > edge.room + CLOSE or self.words.narrowest() > across + CLOSE:
            raise Crowded(f"a tab has {across:.0f} by {edge.room:.0f} pt for its words, which need {high:.0f} pt")
        left = min(edge.outer, edge.inner)
        canvas = pen.canvas
        with canvas.scope(Elem("Sect")):
            canvas.fill_colour("leaf")
            canvas.rect(left, top - length, abs(edge.outer - edge.inner), length, stroke=0, fill=1)
        # The words' own axes: along the edge, and from it towards the text.
        if edge.turned:
            turn = f"0 -1 1 0 {number(UNPRINTABLE)} {number(top - TAB_AIR)}"
        else:
            turn = f"0 1 -1 0 {number(edge.outer - UNPRINTABLE)} {number(top - length + TAB_AIR)}"
        canvas._code.append(f"q {turn} cm")
        self.words.show(pen, 0.0, (edge.room + high) / 2, across, high)
        canvas._code.append("Q")


def tab_of(layer: Layer, node: Node, look: Look) -> Tab:
    """A tab from its markup. It is repeated on every page and so stands outside the tree, as running heads do."""
    inner = look.step("fine")._replace(
        colour="white", accent="white", bold=True, align="center", measured=False, pitch=TAB_PITCH
    )
    place, places = map(int, node.get("data-place").split("/"))
    return Tab(Stack(layer.flow(node.children, inner, Elem("Sect"))), place, places)
