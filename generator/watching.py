"""Look at a book's files again and again: judge them when they were saved, print the page that is being edited.

Takes  how to judge, how to tell; the clock and how to wait.
Gives  `watch`, which never ends by itself, and the `Round`s it tells; `EditedPage`, the page of the protocol that was saved.
Knows  when a file is done being written, and what is only away for a moment; nothing of screens.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from generator import binding, flow, shelf
from generator.opening import OpenBook
from generator.protocol.book import SETTINGS
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem, Refusal

# Twice a second is faster than a hand goes from the keyboard to the page, and no burden on a folder of the network.
PAUSE_S = 0.5
# So many looks in a row must find something unreadable before it is told: editors and networks take a file away for a moment.
PATIENCE = 4
_AWAY = frozenset({"file-unreadable", "folder-missing"})
_NO_ROOM = frozenset({"cannot-write", "place-taken"})

Stamps = Mapping[str, tuple[int, int]]


@dataclass(frozen=True, slots=True)
class Found:
    """A book as judged. opened: None where it could not even be opened."""

    problems: tuple[Problem, ...]
    opened: OpenBook | None

    @property
    def is_away(self) -> bool:
        """Whether a file or the folder was not to be read, which may pass by itself."""
        return any(problem.name in _AWAY for problem in self.problems)


@dataclass(frozen=True, slots=True)
class Page:
    """What became of the page that is being edited.

    file: where it lies; None where no protocol was saved yet. at: when it was last printed whole in this watch, or None.
    errors: how many stand against printing it now; 0: it is printed. why: the reason, where it is none of the book's.
    """

    file: Path | None
    at: datetime | None
    errors: int = 0
    why: str = ""


@dataclass(frozen=True, slots=True)
class Round:
    """One look that found something changed, and what came of it.

    saved: files that were written, new, or taken away, by name, each with that word. mended, fresh: problems that are gone and
    new since the look before. The first round has no `saved` and no page.
    """

    at: datetime
    saved: tuple[tuple[str, str], ...]
    found: Found
    mended: int
    fresh: int
    page: Page | None


def watch(
    stamps: Callable[[], Stamps | None],
    judge: Callable[[], Found],
    page: Callable[[Found, Sequence[str], datetime], Page],
    tell: Callable[[Round], None],
    clock: Callable[[], datetime],
    sleep: Callable[[float], None],
) -> None:
    """Judge once, then whenever the files have changed and have lain still from one look to the next. Ends when `sleep` raises.

    Args:
        stamps: of each file its time and size; None where the folder cannot be listed just now.
        page: prints the page that is being edited, given what was found and the files that were saved.
    """
    known = seen = stamps() or {}
    found = judge()
    tell(Round(clock(), (), found, 0, 0, None))
    away = PATIENCE if found.is_away else 0
    while True:
        sleep(PAUSE_S)
        now = stamps()
        if now is None:
            continue
        if now != seen:
            seen = now  # Perhaps half written: an editor empties a file before it fills it.
            continue
        saved = changes(known, now)
        if not saved and not away:
            continue
        before, judged = found, judge()
        if (judged.is_away or (known and not now)) and away < PATIENCE:
            away += 1
            continue
        away = PATIENCE if judged.is_away else 0
        if not saved and judged.problems == before.problems:
            continue
        known, found = now, judged
        mended, fresh = difference(before.problems, found.problems)
        at = clock()
        tell(Round(at, saved, found, mended, fresh, page(found, [name for name, word in saved if word != "gone"], at)))


def changes(before: Stamps, now: Stamps) -> tuple[tuple[str, str], ...]:
    """Each file that is not as it was, with `saved`, `new` or `gone`, in the order of names."""
    words = {name: "gone" for name in before if name not in now}
    words |= {name: "saved" if name in before else "new" for name in now if before.get(name) != now[name]}
    return tuple(sorted(words.items()))


def difference(before: Sequence[Problem], now: Sequence[Problem]) -> tuple[int, int]:
    """How many problems are gone and how many are new. One that only moved to another line is the same one."""
    old, new = (Counter((p.span.file, p.name, p.what) for p in problems) for problems in (before, now))
    return (old - new).total(), (new - old).total()


class EditedPage:
    """The page of the protocol that was saved last, printed anew with each round: whole, or left as it was."""

    def __init__(self, output: Path) -> None:
        self._output = output
        self._slug: str | None = None
        # By protocol: a page keeps its place while its number cannot be read.
        self._places: dict[str, Path] = {}
        self._printed: dict[Path, datetime] = {}

    def __call__(self, found: Found, written: Sequence[str], at: datetime) -> Page:
        """Print the page, if nothing stands against it.

        Args:
            written: the files of this round that are there. A protocol among them is the page being edited from now on.
            at: aware; the moment of issue.
        """
        slugs = [Path(name).stem for name in written if Path(name).parent.name != "patients"]
        self._slug = next((slug for slug in slugs if slug not in SETTINGS), self._slug)
        opened, slug = found.opened, self._slug
        if opened is not None and slug not in {Path(name).stem for name in opened.readings}:
            self._slug = slug = None
        if slug is None:
            return Page(None, None)
        place = self._place_of(slug, opened)
        if opened is None:
            return Page(place, self._printed.get(place), len(found.problems))
        try:
            shelf.write_whole({place: flow.press(binding.chapters(opened, [slug], at))})
        except Refusal as refusal:
            full = next((p for p in refusal.problems if p.name in _NO_ROOM), None)
            why = f"{full.what}; {full.fix}" if full is not None else ""
            return Page(place, self._printed.get(place), len(refusal.problems), why)
        self._printed[place] = at
        return Page(place, at)

    def _place_of(self, slug: str, opened: OpenBook | None) -> Path:
        book = opened.reviewed.book if opened is not None else None
        protocol = book.protocols.get(slug) if book is not None else None
        if protocol is not None and not is_unsound(protocol.id):
            self._places[slug] = self._output / f"{shelf.file_name(protocol.id)}.pdf"
        return self._places.setdefault(slug, self._output / f"{shelf.file_name(slug)}.pdf")
