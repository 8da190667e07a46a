"""The binder as the product prints it, at about 28, 97 and 400 pages and of 100 protocols, against a canvas that draws the same glyphs at the same places.

The documents are the shipped book's binder with fewer protocols, or with its protocols once more under other slugs and numbers and with
the words of each line in another order (`documents`). The shortest is nearly all appendices and forms, which every binder has. Imports
are not counted and nothing is kept: every time is taken in a copy of a process that has printed one small sheet, so caches begin empty.
The canvas has its fonts parsed before.

Composing (templates, from a checked book) and pressing are timed one after the other, and added. Beside the press stands what it would
take without tags, and without shaping (`without`): the price of each. Peak memory is that of whole processes started anew, one that
presses a ready document and one that reads the book, composes and presses.

The other engines print the same text at about 97 pages (`peers` says what is not the same work): compare them with the press alone.
"""

from __future__ import annotations

import gc
import pickle
import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from generator.page.document import Document
from generator.press import press
from tests.bench import without, yardstick
from tests.bench.documents import binder_book, chapters_for, compose, shipped, varied
from tests.bench.peers import present
from tests.bench.rounds import added, apart, as_installed, forked, milliseconds, options, ratios, told, turns
from tests.bench.yardstick import ROOT
from tests.press import papers

SIZES = (28, 97, 400)
PROTOCOLS = 100  # of the longest binder: whatever number of pages that is


def no_tags(document: Document) -> object:
    with without.no_tags():
        return press(document)


def no_shaping(document: Document) -> object:
    with without.no_shaping():
        return press(document)


def peak(*what: str) -> int:
    """Peak resident memory of a process started anew, KiB."""
    command = [sys.executable, "-m", "tests.bench.binder", "--alone", *what]
    return int(subprocess.run(command, check=True, capture_output=True, text=True, cwd=ROOT).stdout.split()[-1])


def high_water() -> int:
    """Most memory that this program has held, KiB.

    On Linux the kernel's figure for the program itself: `ru_maxrss` is handed down from the process that started it, and a
    large parent hides a small child's peak.
    """
    status = Path("/proc/self/status")
    if status.exists():
        return next(int(row.split()[1]) for row in status.read_text().splitlines() if row.startswith("VmHWM"))
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss


def alone(what: str) -> None:
    """Press a stored document, or make and press the binder of so many protocols; tell the peak."""
    if what.isdigit():
        press(compose(binder_book(int(what))))
    else:
        press(pickle.loads(Path(what).read_bytes()))
    sys.stdout.write(f"{high_water()}\n")


def memory(documents: dict[int, Document], chapters: dict[int, int], pages: dict[int, int]) -> None:
    """Print what a further page takes."""
    small, large = min(pages), max(pages)
    further = pages[large] - pages[small]
    with tempfile.TemporaryDirectory() as name:
        stored = {size: Path(name, f"{size}.pickle") for size in (small, large)}
        for size, place in stored.items():
            place.write_bytes(pickle.dumps(documents[size]))
        pressed = {size: peak(str(place)) for size, place in stored.items()}
    whole = {size: peak(str(chapters[size])) for size in (small, large)}
    for what, peaks in (("pressed", pressed), ("read, composed and pressed", whole)):
        value = (peaks[large] - peaks[small]) / further
        told(
            f"peak memory a further page, {what}",
            [value],
            "KiB",
            "≤ 90",
            f"{peaks[large] / 1024:.0f} MiB at {pages[large]} pages",
        )


@as_installed()
def main() -> None:
    if sys.argv[1:2] == ["--alone"]:
        return alone(sys.argv[2])
    wanted = options(__doc__)
    press(papers.sheet())  # whatever is loaded late is loaded now
    whole = apart(partial(_pages, len(shipped().protocols)))
    chapters = {size: chapters_for(size, *whole) for size in SIZES}
    chapters[97] = about_97(chapters[97])
    longest = apart(partial(_pages, PROTOCOLS))[1]
    chapters[longest] = PROTOCOLS
    sizes = (*SIZES, longest)
    documents = {size: varied(compose(binder_book(number))) for size, number in chapters.items()}
    pages = {size: apart(partial(_count, document)) for size, document in documents.items()}
    middle = documents[97]
    letters = apart(lambda: yardstick.runs_of(press(middle).data))
    yardstick.register(letters)
    works: dict[str, Callable[[object], object]] = {"canvas": lambda _: len(yardstick.draw(letters))}
    for size in sizes:
        works[f"compose {size}"] = partial(_composed, chapters[size])
        works[f"press {size}"] = partial(_pressed, documents[size])
    works["no tags"] = lambda _: no_tags(middle)
    works["no shaping"] = lambda _: no_shaping(middle)
    peers = [] if wanted.no_peers else present()
    for peer in peers:
        works[peer.name] = partial(_printed, peer.print, peer.source(middle.xhtml))
    gc.collect()
    gc.freeze()  # what the copies inherit is not theirs to search
    taken = turns({name: forked(work) for name, work in works.items()}, wanted.rounds)

    canvas = taken["canvas"]
    pressed = {size: taken[f"press {size}"] for size in sizes}
    ways = {
        "composed and pressed": {size: added(taken[f"compose {size}"], pressed[size]) for size in sizes},
        "pressed": pressed,
    }
    name = f"binder of {pages[97]} pages"
    for way, times in ways.items():
        compared = f"{milliseconds(times[97])} against {milliseconds(canvas)}"
        told(f"{name}, {way}", ratios(times[97], canvas), "× the canvas", "≤ 4", compared)
    for missing in ("tags", "shaping"):
        without_it = taken[f"no {missing}"]
        compared = f"{milliseconds(pressed[97])} against {milliseconds(without_it)}"
        told(f"price of {missing}: pressed with / without", ratios(pressed[97], without_it), "×", "", compared)
        told(f"{name}, pressed without {missing}", ratios(without_it, canvas), "× the canvas")
    for way, times in ways.items():
        for low, high, goal in ((28, 400, "≤ 1.1"), (97, 400, ""), (97, longest, "≤ 1.1"), (400, longest, "≤ 1.1")):
            flat = [ratio * pages[low] / pages[high] for ratio in ratios(times[high], times[low])]
            told(f"seconds a page, {pages[high]} / {pages[low]} pages, {way}", flat, "×", goal)
    for way, times in ways.items():
        for size in sizes:
            told(f"{way}, {pages[size]} pages", [pages[size] / one.processor for one in times[size]], "pages/s")
    memory(documents, chapters, pages)
    for peer in peers:
        other, goal = taken[peer.name], "" if peer.name == "typst" else "< 1"
        compared = f"{milliseconds(pressed[97], 'wall')} against {milliseconds(other, 'wall')}"
        told(f"{name}, pressed", ratios(pressed[97], other, "wall"), f"× {peer.name}", goal, compared)


def about_97(chapters: int) -> int:
    """Fewer protocols have fewer sources to name, so the reckoned number may be one or two short."""
    while apart(partial(_pages, chapters))[1] < 95:
        chapters += 1
    return chapters


def _pages(chapters: int) -> tuple[dict[str, int], int]:
    printed = press(compose(binder_book(chapters)))
    return dict(printed.page_of), printed.pages


def _count(document: Document) -> int:
    return press(document).pages


def _composed(chapters: int, _: object) -> int:
    return len(compose(binder_book(chapters)).xhtml)


def _pressed(document: Document, _: object) -> int:
    return press(document).pages


def _printed(work: Callable[[str], bytes], source: str, _: object) -> int:
    return len(work(source))


if __name__ == "__main__":
    main()
