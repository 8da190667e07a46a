"""Read a printed page as its reader would: which digits stand on it, in which order, how long its lines are, which way it runs.

Takes  a `Document`, and the bytes of the PDF made of it.
Gives  `faults`: everything that a reader would stumble over, in words; empty for a good page.
Knows  pikepdf, `tests/press/geometry.py` and the document's XHTML; nothing of the code that made the file.
"""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import pikepdf

from generator.page.document import Document
from generator.page.paths import Label
from generator.page.xhtml import Node, read
from generator.words.isolation import bare
from tests.press.geometry import sheets

# Longer, and the eye loses the next line (Bringhurst, The Elements of Typographic Style, 2.1.2: 45 to 75 letters).
MOST_LETTERS = 70
RIGHT_TO_LEFT = frozenset({"ar", "fa", "ur", "he"})
_NUMBER = re.compile(r"\d+(?:[:.,-]\d+)*")
_HEADINGS = frozenset({"H1", "H2", "H3", "H4"})
_LARGEST_MARK = 16.0  # points: a mark before a line is no larger
_PICTURE = (28.0, 40.0)  # points: sides of the ground of a picture that stands before lines


@dataclass(frozen=True, slots=True)
class Row:
    """What stands on one baseline of one column, from left to right. words: the text as painted, spaces included."""

    page: int
    tag: str
    text: str
    x0: float
    x1: float
    baseline: float
    size: float
    order: int

    def __str__(self) -> str:
        return f"page {self.page} ({self.x0:.0f}, {self.baseline:.0f}) {self.text[:60]!r}"


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its letters as pdfplumber gives them, and the small outlines that belong to no tag."""

    letters: tuple[dict[str, Any], ...]
    marks: tuple[tuple[float, float, float, float], ...]  # left, bottom, right, top


def pages(data: bytes) -> tuple[Page, ...]:
    """The pages of a file."""
    out = []
    for sheet in sheets(data):
        outlines = [(o["x0"], o["y0"], o["x1"], o["y1"]) for o in sheet.shapes if o.get("tag") == "Artifact"]
        pictures = [box for box in outlines if all(_PICTURE[0] < side < _PICTURE[1] for side in _sides(box))]
        marks = tuple(
            box
            for box in outlines
            if all(3 < side < _LARGEST_MARK for side in _sides(box)) and not any(_inside(box, one) for one in pictures)
        )
        marks += tuple(pictures)
        out.append(Page(tuple(c for c in sheet.chars if c["text"] not in ("\u200b", "")), marks))
    return tuple(out)


Box = tuple[float, float, float, float]


def _sides(box: Box) -> tuple[float, float]:
    return box[2] - box[0], box[3] - box[1]


def _inside(box: Box, around: Box) -> bool:
    return all(a <= b + 1 for a, b in zip(around[:2], box[:2], strict=True)) and all(
        b <= a + 1 for a, b in zip(around[2:], box[2:], strict=True)
    )


def faults(document: Document, data: bytes) -> list[str]:
    """Everything wrong with a printed document; a line each."""
    found = pages(data)
    rows = [row for number, page in enumerate(found, 1) for row in _rows(number, page)]
    base = document.language.split("-")[0]
    out = [
        *lost_digits(document, found),
        *disordered(document, found),
        *headings_last(rows),
        *without_glyph(data, found),
    ]
    if base not in ("zh", "ja", "ko", "th", "hi", "pa", *RIGHT_TO_LEFT):
        out += long_lines(rows, document)
    out += wrong_way(found, rows, base in RIGHT_TO_LEFT)
    return out


# ---- figures --------------------------------------------------------------------------------------------------


def lost_digits(document: Document, found: tuple[Page, ...]) -> list[str]:
    """Digits of the document that do not stand on paper, or that paper has too many of."""
    texts = [*_texts(document, len(found)), *_item_numbers(read(document.xhtml))]
    wanted = Counter(letter for text in texts for letter in text if letter.isdigit())
    printed = Counter(letter for page in found for c in page.letters for letter in c["text"] if letter.isdigit())
    out = [f"digits lost: {dict(wanted - printed)}"] if wanted - printed else []
    return [*out, f"digits too many: {dict(printed - wanted)}"] if printed - wanted else out


def _item_numbers(html: Node) -> Iterator[str]:
    """The numbers that the press sets before the items of a numbered list."""
    for node in html.walk():
        if node.tag == "ol":
            for number, item in enumerate(node.elements("li"), int(node.get("start", "1"))):
                if not any(name.startswith("mark-") for name in item.classes):
                    yield str(number)


def disordered(document: Document, found: tuple[Page, ...]) -> list[str]:
    """Telephone numbers, times and other figures whose signs do not follow each other from left to right on paper."""
    printed = [line for page in found for line in _from_left(page)]
    body = read(document.xhtml).elements("body")[0]
    wanted: Counter[str] = Counter()
    for part in body.elements():
        times = 1 if part.tag == "main" else len(found)
        for node in part.walk():
            if node.tag not in ("time", "data", "a") or not node.plain().strip():
                continue
            shown = bare(node.plain())
            for number in [shown] if node.get("href").startswith("tel:") else _NUMBER.findall(shown):
                wanted[number] += times
    out = []
    for number, times in wanted.items():
        seen = sum(line.count(number) for line in printed)
        if seen < times:
            out.append(f"not in order: {number!r} is printed {seen} times of {times}")
    return out


def _texts(document: Document, count: int) -> Iterator[str]:
    """Everything a document says, furniture once a page, page numbers and the words of drawings included."""
    for part in read(document.xhtml).elements("body")[0].elements():
        for page in range(1, count + 1) if part.tag != "main" else (0,):
            yield part.plain()
            for node in part.walk():
                if page and node.tag == "span" and {"page-number", "page-count"} & set(node.classes):
                    yield str(page if "page-number" in node.classes else count)
    drawn = [node.get("data-drawing") for node in _walk(document) if node.get("data-drawing")]
    for name in drawn:
        # What a drawing says does not hang on its width.
        picture = document.drawings[name](2000.0, lambda text, size, _: len(text) * size)
        yield from (operation.text for operation in picture.operations if isinstance(operation, Label))


def _walk(document: Document) -> Iterator[Node]:
    yield from read(document.xhtml).elements("body")[0].walk()


def _from_left(page: Page) -> Iterator[str]:
    """The text of each baseline as the eye meets it from left to right, whatever order it was painted in."""
    by_line: dict[float, list[dict[str, Any]]] = {}
    for letter in page.letters:
        by_line.setdefault(round(letter["matrix"][5], 1), []).append(letter)
    for letters in by_line.values():
        letters.sort(key=lambda c: (c["x0"], c["x1"]))
        yield "".join(c["text"] for c in letters).replace("\u00a0", " ").replace("\u202f", " ")


def without_glyph(data: bytes, found: tuple[Page, ...]) -> list[str]:
    """Characters that print as the font's sign for "no glyph" (glyph 0), or that no program could read."""
    out = [
        f"unreadable: {c['text']}"
        for p in found
        for c in p.letters
        if c["text"].startswith("(cid") or "\ufffd" in c["text"]
    ]
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Dictionary) and thing.get("/Subtype") == "/CIDFontType2":
                glyphs = bytes(thing.CIDToGIDMap.read_bytes())
                numbers = [int.from_bytes(glyphs[at : at + 2], "big") for at in range(2, len(glyphs), 2)]
                out += [f"{thing.BaseFont}: a code stands for glyph 0" for number in numbers if number == 0]
    return out


# ---- lines ----------------------------------------------------------------------------------------------------


def _rows(number: int, page: Page) -> list[Row]:
    by_line: dict[tuple[float, float, bool], list[tuple[int, dict[str, Any]]]] = {}
    for order, letter in enumerate(page.letters):
        key = round(letter["matrix"][5], 1), round(letter["size"], 1), letter.get("tag") == "Artifact"
        by_line.setdefault(key, []).append((order, letter))
    out = []
    for letters in by_line.values():
        letters.sort(key=lambda pair: pair[1]["x0"])
        run: list[tuple[int, dict[str, Any]]] = []
        for pair in letters:
            # Spaces are letters too: a gap is the edge of a column, or of a cell.
            if run and pair[1]["x0"] - max(c["x1"] for _, c in run) > 0.3 * pair[1]["size"]:
                out.append(_row(number, run))
                run = []
            run.append(pair)
        out.append(_row(number, run))
    return [row for row in out if row.text.strip()]


def _row(number: int, run: list[tuple[int, dict[str, Any]]]) -> Row:
    inked = [c for _, c in run if c["text"].strip()] or [c for _, c in run]
    return Row(
        number, str(inked[0].get("tag")), "".join(c["text"] for _, c in run), min(c["x0"] for c in inked),
        max(c["x1"] for c in inked), run[0][1]["matrix"][5], run[0][1]["size"], min(order for order, _ in run),
    )  # fmt: skip


def long_lines(rows: list[Row], document: Document) -> list[str]:
    """Lines of more than 70 letters, running heads and feet and the band across the page apart."""
    band = "".join(node.plain() for node in _walk(document) if "band" in node.classes)
    return [
        f"{len(row.text.strip())} letters in a line: {row}"
        for row in rows
        if row.tag != "Artifact" and len(row.text.strip()) > MOST_LETTERS and bare(row.text.strip()) not in bare(band)
    ]


def headings_last(rows: list[Row]) -> list[str]:
    """Headings with nothing under them on their page."""
    out = []
    for heading in rows:
        if heading.tag not in _HEADINGS:
            continue
        under = (
            row
            for row in rows
            if row.page == heading.page and row.tag not in (*_HEADINGS, "Artifact") and row.baseline < heading.baseline
        )
        # A heading beside a picture is indented: whatever follows stands a little to either side of it.
        if not any(row.x0 < heading.x1 + 60 and row.x1 > heading.x0 - 60 for row in under):
            out.append(f"a heading is the last on its page: {heading}")
    return out


# ---- direction ------------------------------------------------------------------------------------------------


def wrong_way(found: tuple[Page, ...], rows: list[Row], from_right: bool) -> list[str]:
    """Marks on the wrong side of their lines, and columns and days that follow each other in the wrong direction."""
    out = []
    for number, page in enumerate(found, 1):
        texts = [row for row in rows if row.page == number]
        for left, bottom, right, top in page.marks:
            beside = [row for row in texts if bottom - 2 < row.baseline + 0.3 * row.size < top + 2]
            gaps = [(left - row.x1) if from_right else (row.x0 - right) for row in beside]
            # The lozenge of a draft stands before the box to tick.
            if not any(-1 < gap < 2.4 * row.size for gap, row in zip(gaps, beside, strict=True)):
                side = "left" if from_right else "right"
                out.append(f"page {number}: the mark at ({left:.0f}, {bottom:.0f}) has no line on its {side}")
        headings = sorted((row for row in texts if row.tag in ("H2", "H3")), key=lambda row: row.order)
        for one, other in pairwise(headings):
            if abs(one.baseline - other.baseline) < 0.5 and (other.x0 > one.x0) == from_right:
                out.append(f"columns run the wrong way: {one} | {other}")
        out += _days_wrong(number, page, from_right)
    return out


def _days_wrong(number: int, page: Page, from_right: bool) -> list[str]:
    """The days of a strip: the figure whose rows hold two or more numbers, in the order in which they are painted."""
    out = []
    rows: dict[tuple[int, float], list[float]] = {}
    before: dict[str, Any] | None = None
    # The number of a day is set larger than its weekday, which is a number too in some languages (Vietnamese: Th 2).
    largest = max((c["size"] for c in page.letters if c.get("tag") == "Figure"), default=0.0)
    for letter in page.letters:
        if letter.get("tag") != "Figure" or not letter["text"].isdigit() or letter["size"] < largest - 0.1:
            continue
        # The first digit of each number tells where its cell stands.
        key = letter["mcid"], round(letter["matrix"][5], 1)
        joined = before is not None and key == (before["mcid"], round(before["matrix"][5], 1))
        if not (joined and abs(letter["x0"] - before["x1"]) < 1):  # type: ignore[index]
            rows.setdefault(key, []).append(letter["x0"])
        before = letter
    for places in rows.values():
        if len(places) > 3 and places != sorted(places, reverse=from_right):
            out.append(f"page {number}: the days run the wrong way: {[round(x) for x in places]}")
    return out
