"""The closed XHTML vocabulary: every element, attribute and class a document may use, and what each means on paper.

Takes  nothing: plain values.
Gives  `ELEMENTS`, `ATTRIBUTES`, `CLASSES`; whatever is not listed here is refused by `page/xhtml.py`.
Knows  what a template may ask for; not how the press or a browser does it.

A page in short:

    <html xmlns="http://www.w3.org/1999/xhtml" lang="en"><head><title>…</title></head>
    <body class="sheet">                        sheet | card | binder: margins, least sizes, body size
      <aside class="band alarm">DRAFT …</aside>  across the top of every page; tone ink | alarm | leaf
      <aside class="tab" data-place="2/7">…</aside>  at the outer edge of every page: the second of seven places
      <header class="running">…</header>        furniture, repeated on every page of its scope
      <footer class="running">…<span class="page-number"/> of <span class="page-count"/></footer>
      <main> blocks </main>                     or <section class="chapter" id="…"> each with its own furniture
    </body></html>
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

# What may stand inside an element: "flow" takes text and blocks mixed (a stretch of text becomes a paragraph),
# "blocks" no bare text, "phrase" text and inline elements only, "empty" nothing, else the named elements only.
Holds = Literal["flow", "blocks", "phrase", "empty", "listed"]


@dataclass(frozen=True, slots=True)
class Element:
    """One element: what it may hold, its attributes beside the global ones, and its meaning for the layout."""

    holds: Holds
    meaning: str
    inside: tuple[str, ...] = ()  # for "listed": the children allowed
    attributes: tuple[str, ...] = ()
    required: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Class:
    """One class name: the elements it may stand on, its meaning, and the group of which only one may be given."""

    on: tuple[str, ...]
    meaning: str
    group: str = ""


@dataclass(frozen=True, slots=True)
class Attribute:
    """One attribute: the form of its value (a regular expression for the whole value) and its meaning."""

    form: str
    meaning: str


BLOCKS = (
    "header", "footer", "main", "section", "article", "div", "aside", "nav", "p", "h1", "h2", "h3", "h4",
    "ul", "ol", "dl", "table", "figure", "hr",
)  # fmt: skip
PHRASES = ("strong", "em", "a", "time", "data", "span", "br")
GROUPS = ("section", "article", "div", "aside", "header", "footer", "main", "nav")  # the elements that hold blocks
TEXTS = ("p", "h1", "h2", "h3", "h4", "caption", "figcaption", "dt", "dd", "li", "td", "th")

GLOBAL_ATTRIBUTES = ("id", "class", "lang", "dir")

ATTRIBUTES: Mapping[str, Attribute] = MappingProxyType({
    "id": Attribute(r"[A-Za-z][A-Za-z0-9_.:/-]*", "name of this place; once a document; what links and sources name"),
    "class": Attribute(r".*", "names from CLASSES, split by spaces"),
    "lang": Attribute(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*", "BCP 47 language of the content"),
    "dir": Attribute(r"ltr|rtl", "direction; when absent it follows `lang`"),
    "xmlns": Attribute(r"http://www\.w3\.org/1999/xhtml", "on html only"),
    "charset": Attribute(r"utf-8", "on meta only, for browsers"),
    "name": Attribute(r"viewport", "on meta only, for browsers"),
    "content": Attribute(r".*", "on meta only, for browsers"),
    "href": Attribute(r"#.+|tel:\+?[0-9-]+|https:.+|mailto:.+", "`#id`, `tel:`, `https:` or `mailto:`"),
    "title": Attribute(r".+", "spoken description of a link where its words do not say enough; wanted with page-of"),
    "datetime": Attribute(r".+", "the moment in ISO 8601"),
    "value": Attribute(r".+", "of data: the bare figure; of li: its number"),
    "start": Attribute(r"[0-9]+", "number of the first item of an ol"),
    "scope": Attribute(r"col|row", "which cells a th heads; required"),
    "colspan": Attribute(r"[1-9]", "columns a cell covers"),
    "data-widths": Attribute(
        r"[0-9.]+( [0-9.]+)*", "relative widths of the columns of a table, dl or `columns`, first to last"
    ),
    "data-gap": Attribute(r"[0-9.]+", "gap between `columns`, in ems of the body size (1.9 when absent)"),
    "data-drawing": Attribute(r".+", "id of a drawing in Document.drawings; on li: a picture as the item's mark"),
    "data-alt": Attribute(r"[\s\S]*", "what the drawing says, in words; required beside data-drawing; on figure not empty"),
    "data-share": Attribute(r"0?\.[0-9]+|1", "share of the width at hand that the drawing is given (1 when absent)"),
    "data-ticks": Attribute(r"[1-9][0-9]?", "so many empty tick boxes after the text (p, li, td)"),
    "data-rows-mm": Attribute(r"[0-9.]+", "least height in millimetres of each body row (grid: 8 when absent)"),
    "data-lines": Attribute(r"[1-9][0-9]?", "of p.blank: lines to write on (1 when absent)"),
    "data-place": Attribute(r"[1-9][0-9]?/[1-9][0-9]?", "of aside.tab: which place down the edge, and of how many"),
    "data-size": Attribute(r"[0-9.]+", "of body: size in points where the document is not fitted to a page count"),
})  # fmt: skip


ELEMENTS: Mapping[str, Element] = MappingProxyType({
    "html": Element("listed", "the document; `lang` is its main language", ("head", "body"), ("xmlns",), ("lang",)),
    "head": Element("listed", "not printed", ("title", "meta")),
    "title": Element("phrase", "not printed: the PDF's title comes from Document.title"),
    "meta": Element("empty", "not printed", (), ("charset", "name", "content")),
    "body": Element("blocks", "the pages; class sheet, card or binder is required", (), ("data-size",), ("class",)),
    "main": Element("blocks", "the content when there are no chapters"),
    "section": Element("blocks", "a part; class chapter starts a page, and its own page numbers"),
    "article": Element("blocks", "a part that stands alone"),
    "header": Element("blocks", "class running: top of every page of its scope; else a group at the start of a part"),
    "footer": Element("blocks", "class running: foot of every page of its scope; else a group at the end of a part"),
    "div": Element("flow", "a group: columns, a box or nothing visible", (), ("data-widths", "data-gap")),
    "aside": Element("flow", "as div, for what stands beside the main text; class band: across every page's top; class tab: at its edge",
                     (), ("data-place",)),
    "nav": Element("blocks", "class contents: the list of contents; li > a[href=#id], nested ol allowed"),
    "p": Element("phrase", "a paragraph", (), ("data-ticks", "data-lines")),
    "h1": Element("phrase", "title of the document or chapter; also its bookmark"),
    "h2": Element("phrase", "heading; bookmark; never last on a page"),
    "h3": Element("phrase", "heading; bookmark; never last on a page"),
    "h4": Element("phrase", "heading without bookmark; never last on a page"),
    "ul": Element("listed", "a list; its mark by class mark-…, mark-bullet when none", ("li",)),
    "ol": Element("listed", "a numbered list; mark-decimal when no class", ("li",), ("start",)),
    "li": Element("flow", "an item; a mark class here wins over the list's", (),
                  ("value", "data-drawing", "data-alt", "data-ticks")),
    "dl": Element("listed", "rows of a label and what it says", ("dt", "dd"), ("data-widths",)),
    "dt": Element("phrase", "the label"),
    "dd": Element("flow", "what it says"),
    "table": Element("listed", "a table; widths by content when data-widths is absent",
                     ("caption", "thead", "tbody"), ("data-widths", "data-rows-mm")),
    "caption": Element("phrase", "a heading above the table, kept with it"),
    "thead": Element("listed", "rows repeated at the top of each page the table reaches", ("tr",)),
    "tbody": Element("listed", "rows", ("tr",)),
    "tr": Element("listed", "a row, never broken over pages", ("th", "td")),
    "th": Element("flow", "a header cell", (), ("scope", "colspan"), ("scope",)),
    "td": Element("flow", "a cell", (), ("colspan", "data-ticks")),
    "figure": Element("listed", "a drawing, as wide as its place allows", ("figcaption",),
                      ("data-drawing", "data-alt", "data-share"), ("data-drawing", "data-alt")),
    "figcaption": Element("phrase", "words under the drawing, kept with it"),
    "hr": Element("empty", "a rule across, in the colour of its surroundings"),
    "strong": Element("phrase", "bold"),
    "em": Element("phrase", "bold too: no italics on any sheet"),
    "a": Element("phrase", "a link; class page-of, empty: the page number of its target", (),
                 ("href", "title"), ("href",)),
    "time": Element("phrase", "a moment", (), ("datetime",), ("datetime",)),
    "data": Element("phrase", "a figure; `id` is the Figure's", (), ("value",), ("value",)),
    "span": Element("phrase", "a stretch of text: another language, a colour, a page number"),
    "br": Element("empty", "a new line"),
})  # fmt: skip

_PARTS = (*BLOCKS, "li", "caption", "figcaption")
_COLOURED = (*TEXTS, *GROUPS, "ul", "ol", "dl", "table", "figure", "span", "strong", "em", "a", "time", "data")
_BOXES = ("div", "aside", "section", "article")

CLASSES: Mapping[str, Class] = MappingProxyType({
    # pages
    "sheet": Class(("body",), "an owner's sheet: small notes never below 12 pt", "kind"),
    "card": Class(("body",), "a floor card: close margins, small notes down to 9 pt", "kind"),
    "binder": Class(("body",), "a binder: 20 mm binding edge, mirrored on even pages", "kind"),
    "chapter": Class(("section",), "starts on a new page and counts its own pages; may hold its own furniture"),
    "right-hand": Class(("section",), "with chapter: starts on an odd page, a blank one goes before if needed"),
    "running": Class(("header", "footer"), "furniture: repeated on every page of the body or chapter it opens"),
    "band": Class(("aside",), "furniture: a strip across the top of every page; its first page is read aloud"),
    "tab": Class(("aside",), "furniture: a few words at the outer edge of every page, at their place of data-place; never read aloud, so"
                             " that the contents or a heading say them too"),
    # breaking
    "keep": Class(_PARTS, "never broken over two pages when it fits on one"),
    "with-next": Class((*_PARTS, "tr"), "on the same page as the start of what follows"),
    "new-page": Class(BLOCKS, "starts a new page"),
    # groups
    "columns": Class(GROUPS, "children side by side, widths by data-widths (equal when absent), mirrored right to left"),
    "middle": Class((*GROUPS, "tr", "table"), "with columns, rows or box: contents centred in height"),
    "bottom": Class((*GROUPS, "tr", "table"), "with columns, rows or box: contents at the foot"),
    "tight": Class(_PARTS, "less space: within a box, between items, under a paragraph"),
    "airy": Class(_PARTS, "more space after"),
    "flush": Class(_PARTS, "no space after"),
    # boxes
    "box": Class(_BOXES, "padding, rounded corners, hairline border; a tone below changes ground and border"),
    "square": Class(_BOXES, "with box: square corners"),
    "tint": Class(_BOXES, "with box: pale green ground, no border", "tone"),
    "deadline": Class(_BOXES, "with box: dark green ground, white text", "tone"),
    "alarm": Class(tuple(dict.fromkeys((*_BOXES, *_COLOURED))),
                   "with box: red border on pale red, headings and marks red; with band: red strip; else red text",
                   "tone"),
    "outline": Class(_BOXES, "with box: ink border on white", "tone"),
    "side-rule": Class(_BOXES, "with box: a thick rule on the starting side only, ground by tone"),
    "close": Class(("main", "section"), "lines closer to one another: a sheet that says everything twice"),
    # type
    "display": Class(("h1", "p"), "the largest title", "size"),
    "lead": Class(TEXTS, "much larger and bold: the date in the deadline box, a telephone number", "size"),
    "large": Class((*TEXTS, *GROUPS), "a step larger", "size"),
    "small": Class((*TEXTS, *GROUPS, "table", "dl", "ul", "ol"), "small note; never below 12 pt on a sheet", "size"),
    "fine": Class((*TEXTS, *GROUPS), "the line that identifies the sheet: 9 pt and more", "size"),
    "quiet": Class(_COLOURED, "grey-green text", "tone"),
    "leaf": Class((*_COLOURED, "aside"), "green text; with band: green strip", "tone"),
    "ink": Class((*_COLOURED, "aside"), "black text; with band: black strip", "tone"),
    "centre": Class((*TEXTS, *GROUPS, "figure"), "centred", "align"),
    "end": Class((*TEXTS, *GROUPS, "figure"), "at the far edge: right in left-to-right text", "align"),
    "caution": Class(("p",), "red, bold, after a red triangle; kept on the page of what follows"),
    "gloss": Class(("p",), "the same words in the clinic's language: small and grey, under the line they explain"),
    "draft": Class(TEXTS, "words not yet signed off: an open lozenge in the margin beside them"),
    "changed": Class((*_PARTS, "tr", "td", "th", "dt", "dd"), "changed since the last revision: a bar in the outer margin"),
    "blank": Class(("p",), "a label, then a line to write on up to the edge"),
    "under": Class(("p",), "with blank: the label small under the line, as for signatures"),
    # lists
    **{
        f"mark-{name}": Class(("ul", "ol", "li"), meaning, "mark")
        for name, meaning in (
            ("bullet", "a dot"), ("none", "no mark, no indent"), ("tick", "an empty tick box"),
            ("triangle", "a filled triangle, red"), ("ring", "an open ring, red"), ("cross", "a bold cross, red"),
            ("disc", "the number in a filled disc"), ("decimal", "the number and a full stop"),
            ("drawing", "each li's own drawing (data-drawing), 10 mm wide and more"),
        )
    },
    # tables and rows
    "hairline": Class(("table", "dl"), "a hairline under each row (a table's look when no class is given)", "ruling"),
    "grid": Class(("table",), "every cell ruled, rows high enough to write in", "ruling"),
    "unruled": Class(("table",), "no lines", "ruling"),
    "number": Class(("td", "th"), "figures: at the far edge", "align"),
    "total": Class(("tr",), "bold, with a heavier rule above: the last row"),
    "shaded": Class(("tr", "td", "th"), "pale green ground"),
    # links and numbers filled by the press
    "contents": Class(("nav",), "list of contents: dotted leader and page number after each link"),
    "page-of": Class(("a",), "empty link: prints the page number of its target"),
    "if-more": Class(("p",), "in running furniture: printed only on pages that another one follows"),
    "page-number": Class(("span",), "empty: this page's number", "counter"),
    "page-count": Class(("span",), "empty: how many pages the document has", "counter"),
    "chapter-page": Class(("span",), "empty: this page's number within its chapter", "counter"),
    "chapter-pages": Class(("span",), "empty: how many pages the chapter has", "counter"),
})  # fmt: skip
