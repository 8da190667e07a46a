"""Write the nodes of a document as markup that HTML and XML read alike.

Takes  nodes of `page/xhtml.py`, the drawings by id, the measure.
Gives  `Writing`: markup with drawings, tick boxes, lines to write on and the mark of each item filled in.
Knows  what a browser needs said (which way a line runs, what a table scrolls in); how it looks: `page/style_rules.py`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from xml.sax.saxutils import escape, quoteattr

from generator.page.direction import is_rtl
from generator.page.document import Draw
from generator.page.lettering import TooNarrow
from generator.page.markup import Node, Text, is_blank
from generator.page.paths import Measure, Picture
from generator.page.style_sheet import rem
from generator.page.svg import as_svg
from generator.page.tokens import COLOURS, MILLIMETRE, PHONE, PICTOGRAM
from generator.page.vocabulary import PHRASES, TEXTS

_EMPTY = frozenset({"br", "hr", "meta"})
_COUNTERS = frozenset({"page-number", "page-count", "chapter-page", "chapter-pages"})
_KEPT = ("id", "href", "title", "datetime", "value", "start", "scope", "colspan")
_BETWEEN = re.compile(r"(\s*·\s*)")
_LINE = '<span class="line" aria-hidden="true"></span>'


def attribute(name: str, value: str) -> str:
    """An attribute with the space before it."""
    return f" {name}={quoteattr(value)}"


@dataclass(frozen=True, slots=True)
class Way:
    """Which way things run: blocks and marks one way, the words perhaps another; and what stands around."""

    block: str
    words: str
    in_columns: bool = False
    in_band: bool = False  # of which nothing is ever hidden

    @classmethod
    def of(cls, language: str) -> Way:
        """Of a whole part in one language."""
        own = _direction(language)
        return cls(own, own)


def _direction(language: str) -> str:
    return "rtl" if is_rtl(language) else "ltr"


class Writing:
    """One of these a document. wide: width between the margins of its page, points."""

    def __init__(self, body: Node, drawings: Mapping[str, Draw], measure: Measure, wide: float) -> None:
        self.places = {node.id: _heading(node) for node in body.walk() if node.id is not None}
        self.drawings = drawings
        self.measure = measure
        self.wide = wide

    # ---- nodes ----------------------------------------------------------------------------------------------

    def children(self, node: Node, way: Way) -> str:
        """Everything inside a node; a stretch of words that runs against its block is isolated."""
        made: list[str] = []
        loose: list[Node | Text] = []
        for child in node.children:
            if isinstance(child, Text) or child.tag in PHRASES:
                loose.append(child)
                continue
            made += [self._words(loose, way), self.node(child, node, way)]
            loose = []
        return "".join([*made, self._words(loose, way)])

    def _words(self, words: Sequence[Node | Text], way: Way) -> str:
        inner = replace(way, block=way.words)
        text = "".join(
            escape(w.text, {"\r": "&#13;"}) if isinstance(w, Text) else self.node(w, None, inner) for w in words
        )
        if way.words == way.block or all(isinstance(w, Text) and is_blank(w.text) for w in words):
            return text
        return f'<bdi dir="{way.words}">{text}</bdi>'

    def node(self, node: Node, parent: Node | None, way: Way) -> str:
        """One element and all below it."""
        inner = self._turned(node, way)
        attributes = [attribute(name, node.get(name)) for name in _KEPT if name in node.attributes]
        if "lang" in node.attributes:
            attributes += [attribute("lang", node.get("lang")), attribute("xml:lang", node.get("lang"))]
        # Words inside a line are isolated by `dir`; a block says it only where its own layout turns.
        if "dir" in node.attributes or inner.block != way.block:
            attributes.append(attribute("dir", inner.block))
        if node.tag == "a" and "page-of" in node.classes and "title" not in node.attributes:
            attributes.append(attribute("aria-label", self.places[node.get("href")[1:]]))
        if node.tag in ("ul", "ol"):
            attributes.append(' role="list"')  # a list without the browser's own marks is no list to some readers
        classes = set(node.classes)
        if node.tag == "li" and parent is not None:
            classes = {name for name in classes if not name.startswith("mark-")} | {_mark(node, parent)}
        if classes:
            attributes.insert(0, attribute("class", " ".join(sorted(classes))))
        styles = _styles(node, parent)
        if styles:
            attributes.append(attribute("style", "; ".join(styles)))
        if node.tag == "p" and not way.in_band and _only_page_numbers(node.children):
            attributes.append(' hidden="hidden"')
        if node.tag in _EMPTY:
            return f"<{node.tag}{''.join(attributes)}/>"
        opened = f"<{node.tag}{''.join(attributes)}>"
        content = self._content(node, parent, inner)
        return self._framed(node, f"{opened}{content}</{node.tag}>")

    def _turned(self, node: Node, way: Way) -> Way:
        """Which way the inside of a node runs, as on paper: a line in another language stands where its neighbours stand."""
        way = replace(
            way,
            in_columns=way.in_columns or "columns" in node.classes,
            in_band=way.in_band or "band" in node.classes,
        )
        if "lang" in node.attributes:
            own = _direction(node.get("lang"))
            way = replace(way, words=own, block=way.block if node.tag in TEXTS else own)
        if "dir" in node.attributes:
            way = replace(way, words=node.get("dir"), block=node.get("dir"))
        return way

    def _content(self, node: Node, parent: Node | None, way: Way) -> str:
        if node.tag == "figure":
            return self._figure(node, parent, way) + self.children(node, way)
        if node.tag == "li" and "data-drawing" in node.attributes:
            picture = self._drawn(node.get("data-drawing"), (PICTOGRAM,))
            return f'<span class="mark">{self._svg(picture, node.get("data-alt"))}</span>' + self.children(node, way)
        if node.tag == "p" and "blank" in node.classes:
            label = f'<span class="label">{self.children(node, way)}</span>' if node.children else ""
            lines = _LINE * int(node.get("data-lines", "1"))
            return lines + label if "under" in node.classes else label + lines
        content = self._without_page_numbers(node, way) if node.tag == "p" else self.children(node, way)
        if node.tag == "table":
            return _with_widths(node, content)
        return content + _ticks(node)

    def _framed(self, node: Node, markup: str) -> str:
        """A table in the frame that it scrolls in, which the keyboard can reach and a reader names."""
        if node.tag != "table":
            return markup
        caption = next((c.plain() for c in node.elements("caption")), "")
        heads = [n.plain() for n in node.walk() if n.tag == "th" and n.get("scope") == "col"]
        named = caption or ", ".join(head for head in heads if head)
        said = f' role="region"{attribute("aria-label", named)}' if named else ""
        return f'<div class="scroll" tabindex="0"{said}>{markup}</div>'

    # ---- page numbers ---------------------------------------------------------------------------------------

    def _without_page_numbers(self, node: Node, way: Way) -> str:
        """A paragraph in which "page … of …" between two dots is kept as text and not shown: a screen has no pages."""
        has_numbers = any(isinstance(c, Node) and c.classes & _COUNTERS for c in node.children)
        if way.in_band or not has_numbers or _only_page_numbers(node.children):
            return self.children(node, way)
        made, shown = [], False
        for between, stretch in _stretches(node.children):
            dot, words = escape(between), self._words(stretch, way)
            hides = _only_page_numbers(stretch)
            # The dot goes with what is hidden; the first words in sight need none.
            if hides:
                made.append(f'<span hidden="hidden">{dot}{words}</span>')
            else:
                made.append((dot if shown or not dot else f'<span hidden="hidden">{dot}</span>') + words)
                shown = True
        return "".join(made)

    # ---- drawings -------------------------------------------------------------------------------------------

    def _figure(self, node: Node, parent: Node | None, way: Way) -> str:
        """The drawing for a phone and, where a wider one shows more and has the room, that one too."""
        name, alternative = node.get("data-drawing"), node.get("data-alt")
        share = float(node.get("data-share", "1"))
        if parent is not None and "columns" in parent.classes:
            share *= _share(node, parent)
        narrow = self._drawn(name, (max(PHONE * share, PICTOGRAM), PHONE, self.wide))
        small = self._svg(narrow, alternative)
        if way.in_columns:
            return small
        wide = self._drawn(name, (self.wide * share, self.wide))
        if wide.width <= narrow.width:
            return small
        return f'<div class="when-narrow">{small}</div><div class="when-wide">{self._svg(wide, alternative)}</div>'

    def _drawn(self, name: str, widths: Iterable[float]) -> Picture:
        """The drawing at the first width that holds its words."""
        draw, last = self.drawings[name], TooNarrow(name, 0.0)
        for width in widths:
            try:
                return draw(width, self.measure)
            except TooNarrow as error:
                last = error
        raise last

    def _svg(self, picture: Picture, alternative: str) -> str:
        said = replace(picture, alternative=" ".join(alternative.split()))
        return as_svg(said, COLOURS, self.measure)


def _heading(node: Node) -> str:
    """What to call the place a link goes to."""
    return next((n.plain() for n in node.walk() if n.tag in ("h1", "h2", "h3", "h4")), node.plain()[:80])


def _mark(item: Node, parent: Node) -> str:
    """The class of an item's mark: its own, else the list's, else that of its kind of list."""
    for node in (item, parent):
        for name in sorted(node.classes):
            if name.startswith("mark-"):
                return name
    return "mark-decimal" if parent.tag == "ol" else "mark-bullet"


def _shares(node: Node) -> list[float]:
    return [float(v) for v in node.get("data-widths").split()] or [1.0] * len(node.elements())


def _share(node: Node, parent: Node) -> float:
    shares = _shares(parent)
    return shares[parent.elements().index(node)] / sum(shares)


def _styles(node: Node, parent: Node | None) -> list[str]:
    """What a document gives as numbers, as variables that the style sheet reads."""
    found = []
    if parent is not None and "columns" in parent.classes and "data-widths" in parent.attributes:
        found.append(f"--share: {_shares(parent)[parent.elements().index(node)]:g}")
    if "columns" in node.classes and "data-gap" in node.attributes:
        found.append(f"--gap: {node.get('data-gap')}")
    if node.tag == "dl" and "data-widths" in node.attributes:
        label, value = _shares(node)
        found += [f"--label: {label:g}fr", f"--value: {value:g}fr"]
    if node.tag == "table":
        found.append(f"--columns: {_columns(node)}")
        if "data-rows-mm" in node.attributes:
            found.append(f"--row: {rem(float(node.get('data-rows-mm')) * MILLIMETRE)}")
    return found


def _columns(table: Node) -> int:
    rows = [n for n in table.walk() if n.tag == "tr"]
    return max((sum(int(c.get("colspan", "1")) for c in r.elements("td", "th")) for r in rows), default=1)


def _with_widths(table: Node, content: str) -> str:
    """The widths a table was given, after its caption."""
    if "data-widths" not in table.attributes:
        return content
    shares = _shares(table)
    parts = "".join(f'<col style="width: {share / sum(shares):.1%}"/>' for share in shares)
    group = f"<colgroup>{parts}</colgroup>"
    before, caption, after = content.partition("</caption>")
    return before + caption + group + after if caption else group + content


def _ticks(node: Node) -> str:
    boxes = "<span></span>" * int(node.get("data-ticks", "0"))
    return f'<span class="ticks" aria-hidden="true">{boxes}</span>' if boxes else ""


def _stretches(children: Iterable[Node | Text]) -> list[tuple[str, list[Node | Text]]]:
    """The content of a line between its middle dots, each with the dot before it."""
    found: list[tuple[str, list[Node | Text]]] = [("", [])]
    for child in children:
        if isinstance(child, Node):
            found[-1][1].append(child)
            continue
        for index, part in enumerate(_BETWEEN.split(child.text)):
            if index % 2:
                found.append((part, []))
            elif part:
                found[-1][1].append(Text(part, child.line))
    return found


def _only_page_numbers(stretch: Sequence[Node | Text]) -> bool:
    """Whether it counts pages and says nothing else: no figure, no text with a place of its own, and hardly a word.

    "page … of …" has a word for each number; a sentence that says more stays in sight, with dashes for its numbers.
    """
    nodes = [child for child in stretch if isinstance(child, Node)]
    words = [word for child in stretch if isinstance(child, Text) for word in child.text.replace("·", " ").split()]
    return bool(nodes) and all(node.classes & _COUNTERS for node in nodes) and len(words) <= len(nodes) + 1
