"""The canvas every document is painted on: it tags all paint and refuses to let any go untagged.

Takes  painting calls between `scope(mark)` and its end, links, places, outline entries.
Gives  pages whose every operator belongs to a structure element or an artifact, and at `finish` the bytes.
Knows  ReportLab's canvas; which paint belongs to which element is kept here, never in the tree.
"""

from __future__ import annotations

import io
import re
import zlib
from collections import deque
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from functools import cache
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFObjectReference, PDFPage, PDFString
from reportlab.pdfgen.canvas import Canvas

from generator.page.tokens import COLOURS
from generator.press import file, tree
from generator.press.operators import Construction, number
from generator.press.structure import LAYOUT, Artifact, Elem, UntaggedContent
from generator.press.text.draw import TEXT_BEGINS

# Operators that leave something on the page (ISO 32000-1, tables 60, 74, 77, 87, 92, 109).
_PAINT = frozenset(("Tj", "TJ", "'", '"', "f", "F", "f*", "B", "B*", "b", "b*", "S", "s", "sh", "Do", "BI"))
_WATCHED = _PAINT | {"BMC", "BDC", "EMC"}
_LITERAL = re.compile(r"\((?:\\.|[^\\()])*\)|<[0-9A-Fa-f\s]*>", re.S)


class TagCanvas(Canvas):  # type: ignore[misc]
    """A canvas that knows the structure tree.

    Pages may be painted in any order, and what repeats on them may wait for a number; the structure tree has its order from
    the document.

    root: the tree's Document element, with the document's language.
    """

    def __init__(self, root: Elem, size: tuple[float, float], *, title: str, author: str, issued: datetime) -> None:
        self.root = root
        self.content: dict[Elem, list[tree.Item]] = {}
        self.boxes: dict[Elem, tuple[float, float, float, float]] = {}
        self.parents: list[
            Elem | list[Elem] | str
        ] = []  # what the parent tree names, by key; as written, once it is told
        self._on_page: list[Elem] = []
        self._waiting: list[_Waiting] = []  # paint of this page that waits for a number
        # Pages with such paint: the number of the stream, and its code.
        self._unfinished: deque[tuple[int, bytes, list[_Waiting]]] = deque()
        self._numbers: list[int] = []  # of the pages, in the order in which they were painted
        self._entries: list[tuple[int, str, str, int]] = []  # of the outline: page (as painted), title, name, level
        self._page: Any = None  # the page just closed
        self._scope: Elem | Artifact | None = None
        self._ghost: Artifact | None = None
        super().__init__(
            io.BytesIO(), pagesize=size, pdfVersion=(1, 7), invariant=1, pageCompression=1, lang=root.language
        )
        self.file = file.File(self._doc)
        self.tree = tree.Tree(self)
        self._page_name: str = self._doc.thisPageName()
        self.setTitle(title)
        self.setAuthor(author)
        self.setSubject("")
        self.setCreator("gauzeleaf")
        self.setProducer("gauzeleaf")
        self.setViewerPreference("DisplayDocTitle", "true")
        self._doc._timeStamp = _Moment(issued)
        self.issued = issued

    def _make_preamble(self) -> None:
        # The stock preamble names Helvetica on every page; all our text sets its own font.
        self._preamble = "1 0 0 1 0 0 cm"

    # ---- marked content -------------------------------------------------------------------------------------

    def scope(self, mark: object | None) -> _Scope:
        """Whatever is painted inside belongs to mark, an Elem or an Artifact; scopes inside suspend the outer one.

        Raises:
            UntaggedContent: mark is neither.
        """
        if not isinstance(mark, (Elem, Artifact)):
            raise UntaggedContent(f"page {self._pageNumber}: paint for {mark!r}, which is no structure element")
        return _Scope(self, self._ghost or mark)

    @contextmanager
    def repeated(self, artifact: Artifact) -> Iterator[None]:
        """Whatever is painted inside has been said before (a repeated header row, a running head): an artifact."""
        outer, self._ghost = self._ghost, self._ghost or artifact
        try:
            yield
        finally:
            self._ghost = outer

    def _open(self, mark: Elem | Artifact) -> None:
        self._code.append(self._opened(mark))

    def _opened(self, mark: Elem | Artifact) -> str:
        if isinstance(mark, Artifact):
            return mark.operator()
        number = len(self._on_page)
        self._on_page.append(mark)
        self._note(mark, (self._page_name, number))
        return f"/{mark.role} <</MCID {number}>> BDC"

    def _shut(self) -> None:
        opened = self._code[-1]
        if isinstance(opened, str) and opened.startswith("/Artifact") and opened.endswith(("BMC", "BDC")):
            self._code.pop()  # nothing was painted in it
        else:
            self._code.append("EMC")

    def _note(self, elem: Elem, item: tree.Item) -> None:
        noted = self.content.get(elem)
        if noted is not None:
            noted.append(item)
            return
        self.content[elem] = [item]
        around = elem.around
        if around is not None:
            self._note(around, elem)

    def later(self, paint: Callable[[int], None]) -> None:
        """Leave a place in this page for paint that waits until `fill`; only for what is repeated, which has no place in the tree.

        Raises:
            UntaggedContent: it is no artifact.
        """
        if self._ghost is None:
            raise UntaggedContent(f"page {self._pageNumber}: what is read aloud cannot wait")
        self._code.append(_place_of(len(self._waiting)))
        self._waiting.append((paint, self._ghost))

    def fill(self, count: int) -> None:
        """Paint all that waits for the number of pages, each in its place."""
        while self._unfinished:
            stream, packed, waiting = self._unfinished.popleft()
            code = zlib.decompress(packed).decode("ascii")
            for place, (paint, ghost) in enumerate(waiting):
                self._code, self._ghost = list[str](), ghost
                paint(count)
                self._audit()
                code = code.replace(_place_of(place), "\n".join(self._code), 1)
            self._write_stream(stream, code)
        self._code, self._ghost = [], None

    def let_go(self, part: Elem, parent: Elem) -> None:
        """Write a part of the tree, all of whose pages are closed."""
        self.tree.let_go(part, parent)

    # ---- links and places -----------------------------------------------------------------------------------

    def link(self, rect: tuple[float, float, float, float], target: str, mark: object) -> None:
        """Lay a link over rect, in current coordinates; target is `#id` or an address; mark is its Link element."""
        if self._ghost is not None:
            return
        if not isinstance(mark, Elem) or mark.role != "Link":
            raise UntaggedContent(f"page {self._pageNumber}: a link to {target!r} without a Link element")
        key = len(self.parents)
        entries = {
            "Type": PDFName("Annot"),
            "Subtype": PDFName("Link"),
            "F": 4,
            "Border": PDFArray([0, 0, 0]),
            "StructParent": key,
            "Contents": PDFString(mark.contents or target),
            "Rect": PDFArray([round(v, 2) for v in self._absRect(rect, 1)]),
        }
        if target.startswith("#"):
            entries["Dest"] = self._bookmarkReference(target[1:])
        else:
            entries["A"] = PDFDictionary({"S": PDFName("URI"), "URI": PDFString(target)})
        name = f"Link{key}"
        self.parents.append(mark)
        self._note(mark, (self._page_name, self._doc.annotationName(name)))
        self._addAnnotation(PDFDictionary(entries), name)

    def place(self, name: str, top: float) -> None:
        """A link's target: name is the id, top the height on this page that a reader scrolls to."""
        self.bookmarkHorizontalAbsolute(name, top)

    def targets(self) -> set[str]:
        """Ids that links and places have named so far."""
        return {name for name in self._destinations if " " not in name}

    def bookmark(self, title: str, name: str, level: int) -> None:
        """An entry of the outline for a place already set; level 0 is the highest."""
        self._entries.append((len(self._numbers), title, name, level))

    # ---- paint in tokens ------------------------------------------------------------------------------------

    def fill_colour(self, name: str) -> None:
        """Fill in a named colour."""
        self._code.append(f"{_parts(name)} rg")

    def stroke_colour(self, name: str, width: float) -> None:
        """Stroke in a named colour, width in points."""
        self._code.append(f"{_parts(name)} RG {number(width)} w")

    def rect(self, x: float, y: float, width: float, height: float, stroke: int = 1, fill: int = 0) -> None:
        """A box, its lower left corner at x, y."""
        self._code.append(f"n {number(x)} {number(y)} {number(width)} {number(height)} re")
        self._strokeAndFill(stroke, fill)

    def line(self, x0: float, y0: float, x1: float, y1: float) -> None:
        """A straight stroke."""
        self._code.append(f"n {number(x0)} {number(y0)} m {number(x1)} {number(y1)} l S")

    def rule(self, x0: float, y: float, x1: float, colour: str, width: float) -> None:
        """A level line, as decoration."""
        with self.scope(LAYOUT):
            self.stroke_colour(colour, width)
            self.line(x0, y, x1, y)

    # ---- pages ----------------------------------------------------------------------------------------------

    def _setAnnotations(self, page: Any) -> None:  # noqa: N802 - the name ReportLab calls
        super()._setAnnotations(page)
        self._page = page
        page.__NoDefault__ = [*PDFPage.__NoDefault__, "StructParents", "Tabs"]
        page.StructParents, page.Tabs = len(self.parents), PDFName("S")
        self.parents.append(self._on_page)
        self._on_page = []

    def _startPage(self) -> None:  # noqa: N802 - the name ReportLab calls
        super()._startPage()
        self._page_name = self._doc.thisPageName()

    def showPage(self) -> None:  # noqa: N802 - the name ReportLab calls
        self._audit()
        super().showPage()
        page, self._page = self._page, None
        code, page.stream = page.stream, ""
        stream = self.file.reserve()
        page.Contents = self.file.name(stream)
        if self._waiting:
            # Packed in haste: it is only for a while.
            self._unfinished.append((stream, zlib.compress(code.encode("ascii"), 1), self._waiting))
            self._waiting = []
        else:
            self._write_stream(stream, code)
        name = page.__InternalName__
        self._doc.Pages.pages[-1] = PDFObjectReference(name)
        self.file.settle(name)

    def end_page(self, number: int) -> None:
        """Close a page; number: which it is of the document. Pages may be painted in another order than they are bound."""
        self._numbers.append(number)
        self.showPage()

    def _write_stream(self, number: int, code: str) -> None:
        # Level 6 takes twice the time for a tenth less.
        packed = zlib.compress(code.encode("ascii"), 4)
        self.file.add(number, b"<</Filter/FlateDecode/Length %d>>\nstream\n%s\nendstream" % (len(packed), packed))

    def _bind(self) -> None:
        """Put pages and outline in the document's order."""
        numbers = [*self._numbers, *range(len(self._numbers), len(self._doc.Pages.pages))]
        order = sorted(range(len(numbers)), key=numbers.__getitem__)
        self._doc.Pages.pages = [self._doc.Pages.pages[at] for at in order]
        level = -1
        for _, title, name, wanted in sorted(self._entries, key=lambda entry: numbers[entry[0]] if numbers else 0):
            # Columns that run over pages may meet their headings in another order than the document has them.
            level = min(wanted, level + 1)
            self.addOutlineEntry(title, name, level)

    def _audit(self) -> None:
        """Refuse a page with paint outside every tag, or with tags that do not close."""
        depth = 0
        for part in self._code:
            if isinstance(part, Construction):
                continue
            if part.startswith(TEXT_BEGINS):
                operators = ["TJ"]  # a text object of ours: it opens no tag, and its glyphs need not be read
            else:
                operators = (_LITERAL.sub(" ", part) if "(" in part or "<" in part else part).split()
                if _WATCHED.isdisjoint(operators):
                    continue
            for operator in operators:
                depth += (operator in ("BMC", "BDC")) - (operator == "EMC")
                if depth not in (0, 1, 2) or (operator in _PAINT and not depth):
                    raise UntaggedContent(f"page {self._pageNumber}: operator {operator} at tag depth {depth}")
        if depth:
            raise UntaggedContent(f"page {self._pageNumber}: a tag was never closed")

    def finish(self) -> bytes:
        """Write tree, metadata and file."""
        if len(self._code):
            self.showPage()
        self._bind()
        tree.write(self)
        written = self.file.closed(self)
        del self.tree, self.file  # they hold this and its document
        return written


# Paint that waits, and the artifact it belongs to.
_Waiting = tuple[Callable[[int], None], Artifact]


def _place_of(number: int) -> str:
    """What holds the place of paint that waits, on a line of its own: a comment (ISO 32000-1, 7.2.3), for our streams have none."""
    return f"%{number};"


class _Scope:
    """A stretch of marked content, as long as the block of code runs."""

    __slots__ = ("_canvas", "_mark", "_outer")

    def __init__(self, canvas: TagCanvas, mark: Elem | Artifact) -> None:
        self._canvas = canvas
        self._mark = mark

    def __enter__(self) -> None:
        canvas = self._canvas
        self._outer = canvas._scope
        if self._outer is not None:
            canvas._shut()
        canvas._scope = self._mark
        canvas._open(self._mark)

    def __exit__(self, *_: object) -> None:
        canvas = self._canvas
        canvas._shut()
        canvas._scope = self._outer
        if self._outer is not None:
            canvas._open(self._outer)


class _Moment:
    """What ReportLab asks of a time stamp, told of the document's own moment of issue."""

    def __init__(self, issued: datetime) -> None:
        offset = issued.utcoffset()
        if offset is None:
            raise ValueError("the moment of issue carries no time zone")
        minutes = int(offset.total_seconds() // 60)
        sign = -1 if minutes < 0 else 1
        self.YMDhms = (issued.year, issued.month, issued.day, issued.hour, issued.minute, issued.second)
        self.dhh, self.dmm = sign * (abs(minutes) // 60), abs(minutes) % 60
        self.t = issued.timestamp()


@cache
def _parts(name: str) -> str:
    """Red, green and blue of a colour, 0 to 1."""
    value = COLOURS[name]
    return " ".join(f"{int(value[at : at + 2], 16) / 255:.4f}" for at in (1, 3, 5))
