"""Many sheets in one process, as a resident service or a batch prints them, against a canvas that draws the same glyphs.

Every sheet is another animal's, with a name not used before. What the process keeps from sheet to sheet is whatever the product keeps:
compiled templates, open fonts, prepared paragraphs and shaped stretches of the sentences that all sheets share. The canvas keeps its
parsed fonts and makes a new file each time. One sheet of each kind is printed before the clock runs.

The sheet from right to left is the English one with Arabic words in place of its own (`documents.right_to_left`: few words, many
repeats, labels inside drawings still English). Arabic lines stand further apart, so it runs to a second page and other sizes are tried
on the way: beside the sheets as they are, both are timed at one given size, where only the text differs. Its canvas shapes every
stretch anew with ReportLab's own `shapeStr`.

The other engines start from ready text (`peers` says what is not the same work): compare them with the press alone. WeasyPrint keeps
its fonts and style sheet, typst its compiler with what that remembers; Chromium is started anew for every sheet.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[2]))

from generator.page.document import Document
from generator.press import press
from tests.bench import yardstick
from tests.bench.documents import NAME, Sheets, right_to_left
from tests.bench.peers import Peer, present
from tests.bench.rounds import Timed, as_installed, clocked, milliseconds, options, ratios, told, turns

_GIVEN = (12.0,)


def each(work: Callable[[Any], object], batches: Sequence[Sequence[Any]]) -> Timed:
    """What a sheet takes; every turn has a batch of its own, the last one warms up."""
    work(batches[-1][0])
    return clocked(lambda turn: [work(one) for one in batches[turn]], len(batches[0]))


def renamed(pages: Sequence[dict[str, Any]], name: str) -> list[dict[str, Any]]:
    return [page | {"runs": [[text.replace(NAME, name), *rest] for text, *rest in page["runs"]]} for page in pages]


def drawn(document: Document) -> list[dict[str, Any]]:
    return yardstick.runs_of(press(document).data)


def fed(peer: Peer, batches: Sequence[Sequence[Document]]) -> list[list[str]]:
    return [[peer.source(document.xhtml) for document in batch] for batch in batches]


@as_installed()
def main() -> None:
    wanted = options(__doc__, sheets=(4, "sheets in a turn"))
    sheets = Sheets()

    def fresh(of: Callable[[], Any]) -> list[list[Any]]:
        return [[of() for _ in range(wanted.sheets)] for _ in range(wanted.rounds)] + [[of()]]

    def latin() -> Document:
        return sheets.compose(sheets.plan()[1])

    def turned() -> Document:
        name, plan = sheets.plan()
        return right_to_left(sheets.compose(plan), name)

    def at_size(document: Document) -> Document:
        return replace(document, fit=_GIVEN, max_pages=None)

    pages = drawn(sheets.pattern)
    arabic_pages = drawn(right_to_left(sheets.pattern, NAME))
    yardstick.register([*pages, *arabic_pages])
    arabic = fresh(turned)
    works = {
        "press": each(press, fresh(latin)),
        "compose and press": each(lambda plan: press(sheets.compose(plan)), fresh(lambda: sheets.plan()[1])),
        "canvas": each(yardstick.draw, fresh(lambda: renamed(pages, sheets.plan()[0]))),
        "press ar": each(press, arabic),
        "canvas ar": each(yardstick.draw, fresh(lambda: arabic_pages)),
        "press at size": each(press, fresh(lambda: at_size(latin()))),
        "press ar at size": each(press, fresh(lambda: at_size(turned()))),
    }
    english = fresh(latin)
    peers = [] if wanted.no_peers else present()
    for peer in peers:
        batches, arabic_batches = fed(peer, english), fed(peer, arabic)
        if peer.name == "Chromium":
            batches, arabic_batches = [batch[:1] for batch in batches], [batch[:1] for batch in arabic_batches]
        works[peer.name] = each(peer.print, batches)
        works[f"{peer.name} ar"] = each(peer.print, arabic_batches)
    taken = turns(works, wanted.rounds)

    def show(what: str, ours: str, theirs: str, unit: str, goal: str = "", clock: str = "processor") -> None:
        own, other = taken[ours], taken[theirs]
        told(
            what,
            ratios(own, other, clock),
            unit,
            goal,
            f"{milliseconds(own, clock)} against {milliseconds(other, clock)}",
        )

    show("warm sheet, Latin, composed and pressed", "compose and press", "canvas", "× the canvas", "≤ 1.5")
    show("warm sheet, Latin, pressed", "press", "canvas", "× the canvas", "≤ 1.5")
    show("warm sheet, right to left, pressed", "press ar", "press", "× our Latin", "≤ 1.5")
    show("the same, both at 12 pt", "press ar at size", "press at size", "× our Latin", "≤ 1.5")
    show("the same, both by the canvas", "canvas ar", "canvas", "× the canvas's Latin")
    show("warm sheet, right to left, pressed", "press ar", "canvas ar", "× the shaping canvas")
    for peer in peers:
        goal = "" if peer.name == "typst" else "< 1"
        show("warm sheet, Latin, pressed", "press", peer.name, f"× {peer.name}", goal, "wall")
        show("warm sheet, right to left, pressed", "press ar", f"{peer.name} ar", f"× {peer.name}", goal, "wall")
    told("warm sheets a second, composed and pressed", [1 / one.processor for one in taken["compose and press"]], "/s")


if __name__ == "__main__":
    main()
