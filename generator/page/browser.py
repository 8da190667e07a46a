"""Write a document as one page for a browser: read aloud, translated and enlarged by any phone.

Takes  a `Document`, and the measure its drawings are laid out with.
Gives  `browser_page`: HTML that is well-formed XML too, with its style sheet and drawings inside it and no script.
Knows  what of a page only paper has (page numbers), and what only a browser needs; the markup: `page/browser_nodes.py`.
"""

from __future__ import annotations

from xml.sax.saxutils import escape

from generator.page.browser_nodes import Way, Writing, attribute
from generator.page.direction import is_rtl
from generator.page.document import Document
from generator.page.markup import Node
from generator.page.paths import Measure
from generator.page.style_sheet import measure as page_width
from generator.page.style_sheet import on_every_page, rem, style_sheet
from generator.page.svg import clean
from generator.page.tokens import BODY_SIZE
from generator.page.xhtml import read

# Nothing from elsewhere, no script, no frame: what is not in the file cannot be loaded.
POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"


def browser_page(document: Document, measure: Measure) -> str:
    """The document as one page.

    Raises:
        OutsideVocabulary: the XHTML uses what no document may use.
        KeyError: a figure names a drawing that the document does not carry.
    """
    html = read(document.xhtml)
    body = html.elements("body")[0]
    kind = next(kind for kind in BODY_SIZE if kind in body.classes)
    way = Way.of(document.language)
    writing = Writing(body, document.drawings, measure, page_width(kind, document.paper))
    content = writing.children(_furnished(body), way)
    # What a browser prints is set as small as the press could have set it, so that it comes near its page count.
    size = document.fit[-1] if document.fit else float(body.get("data-size") or BODY_SIZE[kind])
    language = attribute("lang", document.language) + attribute("xml:lang", document.language)
    direction = "rtl" if is_rtl(document.language) else "ltr"
    bands = " ".join(
        part.plain() for aside in body.elements("aside") if "band" in aside.classes for part in aside.elements()
    )
    rules = style_sheet(document.paper) + (on_every_page(bands) if bands else "")
    opening = attribute("class", " ".join(sorted(body.classes))) + attribute("style", f"--paper: {rem(size)}")
    return (
        "<!DOCTYPE html>\n"
        f'<html xmlns="http://www.w3.org/1999/xhtml"{language} dir="{direction}">\n<head>\n'
        '<meta charset="utf-8"/>\n'
        f'<meta http-equiv="Content-Security-Policy"{attribute("content", POLICY)}/>\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1"/>\n'
        # A phone would take file and sheet numbers for telephone numbers and offer to ring them.
        '<meta name="format-detection" content="telephone=no, date=no, address=no, email=no"/>\n'
        '<meta name="referrer" content="no-referrer"/>\n'
        f"<title>{escape(clean(document.title))}</title>\n"
        f"<style>\n{rules}</style>\n"
        f"</head>\n<body{opening}>\n{content}</body>\n</html>\n"
    )


def _furnished(body: Node) -> Node:
    """The body with its bands before everything else, and each running foot after what it runs under."""
    return Node(body.tag, body.attributes, body.classes, _ordered(body), body.line, body.column)


def _ordered(node: Node) -> tuple[Node, ...]:
    bands: list[Node] = []
    heads: list[Node] = []
    content: list[Node] = []
    feet: list[Node] = []
    for child in node.elements():
        running = "running" in child.classes
        kept = child
        if "chapter" in child.classes:
            kept = _furnished(child)
        place = (
            bands
            if "band" in child.classes
            else heads
            if running and child.tag == "header"
            else feet
            if running
            else content
        )
        place.append(kept)
    return (*bands, *heads, *content, *feet)
