"""A book is looked at again and again: nothing half-saved is judged, nothing that is away for a moment is told, nothing stops it."""

from __future__ import annotations

import io
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pypdfium2
import pytest

from generator import opening, shelf, watching
from generator.cli import watch as screen
from generator.source.problem import Problem, Refusal
from generator.source.span import Span
from generator.watching import EditedPage, Found, Page, Round, changes, difference
from tests.compose.plans import ROOT

START = datetime(2027, 3, 15, 9, tzinfo=UTC)
AWAY = Problem("file-unreadable", Span("a.yaml"), "the file cannot be read", "why", "fix")
SLIP = Problem("tab", Span("a.yaml", 1, 1), "a tab stands here", "why", "fix")


class Ended(Exception):
    """The script of looks is at its end."""


def told(looks: Sequence[object], judged: Sequence[Sequence[Problem]]) -> list[Round]:
    """The rounds of a watch whose folder looks like this, one look after the other, and is judged like this, in turn."""
    stamps, found, rounds, clock = iter(looks), iter(judged), [], iter(range(10**6))

    def look() -> object:
        try:
            return next(stamps)
        except StopIteration:
            raise Ended from None

    with pytest.raises(Ended):
        watching.watch(
            look,  # type: ignore[arg-type]
            lambda: Found(tuple(next(found)), None),
            lambda *_: Page(None, None),
            rounds.append,
            lambda: START + timedelta(seconds=next(clock)),
            lambda seconds: None,
        )
    assert next(found, None) is None, "it was judged less often than expected"
    return rounds


A, A2, A3 = {"a.yaml": (1, 10)}, {"a.yaml": (2, 0)}, {"a.yaml": (3, 12)}


def test_nothing_is_judged_while_nothing_is_saved():
    assert [r.saved for r in told([A, A, A, A], [[]])] == [()]


def test_a_file_that_is_still_being_written_is_waited_for():
    # Emptied, then filled: what it held in between is never judged.
    rounds = told([A, A2, A3, A3, A3], [[], [SLIP]])
    assert [(r.saved, r.mended, r.fresh) for r in rounds] == [((), 0, 0), ((("a.yaml", "saved"),), 0, 1)]


def test_a_new_file_and_one_that_is_gone_are_named_so():
    rounds = told([A, {"b.yaml": (1, 1)}, {"b.yaml": (1, 1)}], [[], []])
    assert rounds[1].saved == (("a.yaml", "gone"), ("b.yaml", "new"))


def test_a_folder_that_cannot_be_listed_for_a_moment_is_passed_over():
    assert len(told([A, None, None, A, A], [[]])) == 1


def test_a_file_that_is_away_for_a_moment_is_not_told():
    rounds = told([A, A2, A2, A2, A2], [[], [AWAY], [AWAY], []])
    assert [len(r.found.problems) for r in rounds] == [0, 0]


def test_a_file_that_stays_away_is_told_once_and_so_is_its_return():
    looks = [A, *[A2] * 10]
    # One look to settle, four of patience, then told; two more find the same; then it can be read.
    rounds = told(looks, [[], *[[AWAY]] * 5, [AWAY], [AWAY], []])
    assert [[p.name for p in r.found.problems] for r in rounds] == [[], ["file-unreadable"], []]
    assert (rounds[2].saved, rounds[2].mended) == ((), 1)


def test_a_folder_that_empties_for_a_moment_is_not_told():
    assert len(told([A, {}, {}, {}, A, A], [[], [SLIP], [SLIP], []])) == 1


def test_changes_and_differences():
    assert changes(A, A) == ()
    moved = Problem(SLIP.name, Span("a.yaml", 9, 1), SLIP.what, SLIP.why, SLIP.fix)
    # A problem that a new line above it has moved is the one it was; a second of its kind is new.
    assert difference([SLIP], [moved]) == (0, 0)
    assert difference([SLIP, AWAY], [moved, SLIP]) == (1, 1)


# ---- the page that is edited -----------------------------------------------------------------------------------------


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "protocols", tmp_path / "protocols")
    return tmp_path / "protocols"


def found_in(folder: Path) -> Found:
    try:
        opened = opening.open_book(folder.parent.as_posix(), patients=True)
    except Refusal as refusal:
        return Found(refusal.problems, None)
    return Found(opened.problems, opened)


def edit(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def words_of(file: Path) -> str:
    with pypdfium2.PdfDocument(io.BytesIO(file.read_bytes())) as document:
        return " ".join(page.get_textpage().get_text_bounded() for page in document)


def test_the_page_of_the_saved_protocol_is_printed_whole_or_stays_as_it_was(folder: Path, tmp_path: Path):
    page, file = EditedPage(tmp_path / "output"), folder / "padded-limb-support.yaml"
    place = tmp_path / "output" / "LB-SUP-002.pdf"
    name = file.as_posix()
    assert page(found_in(folder), [(folder / "stock.yaml").as_posix()], START) == Page(None, None)
    assert not place.exists()
    edit(file, "title: Padded limb bandage", "title: Padded limb bandage again")
    assert page(found_in(folder), [name], START) == Page(place, START)
    assert "Padded limb bandage again" in words_of(place)
    # Another protocol's error does not stand against this page.
    edit(folder / "velpeau-sling.yaml", "title:", "titel:")
    later = START + timedelta(minutes=1)
    assert page(found_in(folder), [name], later).at == later
    # Its own error does, even where its number cannot be read; the page stays.
    edit(file, "id: LB-SUP-002", "id: to decide")
    before = place.read_bytes()
    assert page(found_in(folder), [name], later + timedelta(minutes=1)) == Page(place, later, 1)
    assert place.read_bytes() == before
    # A saved setting prints the page that was edited last.
    edit(file, "id: to decide", "id: LB-SUP-002")
    last = later + timedelta(minutes=2)
    assert page(found_in(folder), [(folder / "stock.yaml").as_posix()], last) == Page(place, last)
    assert [path.name for path in (tmp_path / "output").iterdir()] == ["LB-SUP-002.pdf"]


def test_a_protocol_that_is_deleted_is_no_page_any_more(folder: Path, tmp_path: Path):
    page, file = EditedPage(tmp_path / "output"), folder / "tail-bandage.yaml"
    printed = page(found_in(folder), [file.as_posix()], START)
    assert printed.at == START
    file.unlink()
    assert page(found_in(folder), [], START + timedelta(minutes=1)) == Page(None, None)


def test_a_place_that_is_taken_is_said_and_nothing_stops(folder: Path, tmp_path: Path):
    (tmp_path / "output" / "LB-SUP-002.pdf").mkdir(parents=True)
    page = EditedPage(tmp_path / "output")(found_in(folder), [(folder / "padded-limb-support.yaml").as_posix()], START)
    assert (page.at, page.errors) == (None, 1)
    assert "no plain file" in page.why


def test_a_book_that_cannot_be_opened_keeps_its_page(folder: Path, tmp_path: Path):
    page, file = EditedPage(tmp_path / "output"), folder / "padded-limb-support.yaml"
    page(found_in(folder), [file.as_posix()], START)
    kept = page(Found((AWAY,), None), [file.as_posix()], START + timedelta(minutes=1))
    assert kept == Page(tmp_path / "output" / "LB-SUP-002.pdf", START, 1)


def test_stamps_name_the_files_that_are_judged(folder: Path):
    (folder / "notes.txt").write_text("not of the book")
    (folder / "folder.yaml").mkdir()
    names = {path.as_posix() for path in [*folder.glob("*.yaml"), *folder.glob("patients/*.yaml")] if path.is_file()}
    assert set(shelf.stamps(folder) or {}) == names
    assert shelf.stamps(folder / "nowhere") == {}


# ---- on the screen ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("mended", "fresh", "said"),
    [(0, 0, "nothing mended, nothing new"), (1, 0, "1 problem mended"), (2, 1, "2 problems mended, 1 new"), (0, 3, "3 new problems")],
)  # fmt: skip
def test_what_changed_is_said_in_words(mended: int, fresh: int, said: str, capsys):
    place = Path("output/LB-SUP-002.pdf")
    screen.show(Round(START, (("b/a.yaml", "saved"),), Found((SLIP,), None), mended, fresh, Page(place, START, 1)))
    out, err = capsys.readouterr()
    assert out == ""
    lines = err.splitlines()
    assert lines[0].startswith("-- 09:00:00  a.yaml saved -----")
    assert lines[-2:] == [
        f"{said}: 1 error.",
        "output/LB-SUP-002.pdf stays as printed at 09:00:00: 1 error stands against it.",
    ]


# ---- for real ---------------------------------------------------------------------------------------------------------


@pytest.fixture
def watched(folder: Path, tmp_path: Path) -> Iterator[tuple[subprocess.Popen[str], Path]]:
    log = tmp_path / "log.txt"
    with log.open("w", encoding="utf-8") as err:
        process = subprocess.Popen(
            [sys.executable, "-m", "generator", "check", folder.parent.as_posix(), "--watch", "--no-fit",
             "--output", (tmp_path / "output").as_posix()],
            cwd=ROOT, stderr=err, stdout=err, text=True, env={**os.environ, "PYTHONPATH": str(ROOT)},
            # Whoever runs the tests in the background ignores Ctrl-C, and so would this process.
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
        )  # fmt: skip
        yield process, log
        process.kill()
        process.wait()


def until(log: Path, words: str, seconds: float = 60) -> str:
    """What the log holds once it holds these words."""
    end = time.monotonic() + seconds
    while words not in (text := log.read_text(encoding="utf-8")):
        assert time.monotonic() < end, text
        time.sleep(0.1)
    return text


@pytest.mark.skipif(sys.platform == "win32", reason="Ctrl-C is sent to another process in another way there")
def test_it_watches_a_real_folder_until_ctrl_c(watched, folder: Path, tmp_path: Path):
    process, log = watched
    until(log, "Ctrl-C ends.")
    file = folder / "padded-limb-support.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text("", encoding="utf-8")
    file.write_text(text.replace("change_every: 3 d to 7 d", "change_every: 7"), encoding="utf-8")
    seen = until(log, "not printed: 1 error stands against it.")
    assert "padded-limb-support.yaml saved" in seen
    assert "error: number-without-unit" in seen
    assert not (tmp_path / "output").exists()
    file.write_text(text, encoding="utf-8")
    seen = until(log, "LB-SUP-002.pdf printed.")
    # The slip alone: of a protocol that cannot be read it is not told how it stands.
    assert "1 problem mended: no problems." in seen
    process.send_signal(signal.SIGINT)
    assert process.wait(30) == 0
    seen = log.read_text(encoding="utf-8")
    assert seen.splitlines()[-1].startswith("Watched ")
    assert "Traceback" not in seen
    assert "empty-file" not in seen
    assert (tmp_path / "output" / "LB-SUP-002.pdf").read_bytes().startswith(b"%PDF")
