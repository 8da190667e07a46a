"""Other engines, given the same text: WeasyPrint, typst (both `pip install gauzeleaf[bench]`) and Debian's Chromium.

Takes  a document's XHTML.
Gives  `PEERS`: of each engine what it is fed, how it prints inside this process, and the command that prints from a cold start.
Knows  a plain print style sheet and plain typst markup; nothing of our layout.

Not the same work, always in the peers' favour: they start from ready text (a cold sheet of ours first reads the book, judges, reckons and
composes); they draw no pictures and no QR code; heads and feet stand once, not on every page; no page numbers in contents, feet or
references; no search for the size at which a sheet keeps to its pages; nothing kept together but by their own defaults; WeasyPrint
writes no tags. typst writes tags and Chromium does too. Word spaces, margins and so the number of pages are each engine's own.
"""

from __future__ import annotations

import importlib.util
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from tests.bench.yardstick import FONTS

_VOID = ("hr", "br", "meta", "img", "link")
_FACES = "".join(
    f"@font-face {{ font-family: {family}; font-weight: {weight}; src: url({(FONTS / f'{file}-{face}.ttf').as_uri()}) }}\n"
    for family, file in (("Latin", "NotoSans"), ("Arab", "NotoSansArabic"), ("Signs", "NotoSansMath"))
    for face, weight in (("Regular", 400), ("Bold", 700))
    if (FONTS / f"{file}-{face}.ttf").is_file()
)
CSS = (
    _FACES
    + """
@page { size: A4; margin: 15mm }
body { font: 12pt/1.36 Latin, Arab, Signs; margin: 0 }
body.binder { font-size: 11pt }
h1 { font-size: 1.7em; margin: 0 0 .3em } h2, h3 { font-size: 1.15em; margin: .6em 0 .2em } p, ul, ol, dl { margin: .2em 0 }
ul, ol { padding-inline-start: 1.2em } .fine { font-size: .75em } .small { font-size: .85em } .lead { font-size: 1.6em; font-weight: bold }
.columns { display: table; table-layout: fixed; width: 100% } .columns > * { display: table-cell; vertical-align: top }
.box { border: 1pt solid #146b5a; padding: .4em } .chapter { break-before: page } dt { font-weight: bold } dd { margin: 0 0 0 1em }
table { border-collapse: collapse; width: 100% } th, td { border: .5pt solid #999; padding: .2em; text-align: start; vertical-align: top }
"""
)
_WEASYPRINT = "import sys\nfrom weasyprint import HTML\nHTML(sys.argv[1]).write_pdf(sys.argv[2])\n"
_TYPST = (
    "import sys, typst\n"
    "typst.compile(sys.argv[1], output=sys.argv[2], font_paths=[sys.argv[3]], ignore_system_fonts=True)\n"
)


@dataclass(frozen=True)
class Peer:
    """One engine. source: what it is fed, from XHTML; print: the PDF, from that; cold: the command for a file of it."""

    name: str
    suffix: str
    present: Callable[[], bool]
    source: Callable[[str], str]
    print: Callable[[str], bytes]
    cold: Callable[[Path, Path, Path], list[str]]


def html_of(xhtml: str) -> str:
    """HTML with the style sheet inside; empty elements closed, as HTML wants it."""
    opened = re.sub(
        r"<(\w+)((?:\s[^<>]*?)?)\s*/>", lambda m: m[0] if m[1] in _VOID else f"<{m[1]}{m[2]}></{m[1]}>", xhtml
    )
    direction = ' dir="rtl"' if 'lang="ar"' in xhtml[:120] else ""
    head = f'<meta charset="utf-8"/><style>{CSS}</style>'
    opened = re.sub(r"<html\b", f"<html{direction}", opened, count=1)
    return re.sub(r"<head>|(?=<body)", lambda m: m[0] + head, opened, count=1)


def typst_of(xhtml: str) -> str:
    """The same text as typst markup."""
    html = ElementTree.fromstring(xhtml)
    body = next(node for node in html if _tag(node) == "body")
    size = "11pt" if "binder" in body.get("class", "") else "12pt"
    language = html.get("lang", "en")
    return (
        f'#set page(paper: "a4", margin: 15mm)\n#set text(size: {size}, lang: "{language}", font: ("Noto Sans", "Noto Sans Arabic", "Noto Sans Math"))\n'
        "#set table(stroke: 0.5pt + gray, inset: 3pt)\n" + _inside(body)
    )


def _tag(node: ElementTree.Element) -> str:
    return str(node.tag).rpartition("}")[2]


def _inside(node: ElementTree.Element) -> str:
    said = _text(node.text)
    for child in node:
        said += _element(child) + _text(child.tail)
    return said


def _text(text: str | None) -> str:
    said = re.sub(r"[ \n\t]+", " ", text or "")
    escaped = said.replace("\\", "\\\\").replace('"', '\\"')
    return f'#"{escaped}";' if said.strip() else (" " if said else "")


def _element(node: ElementTree.Element) -> str:
    tag, classes = _tag(node), set(node.get("class", "").split())
    if tag in ("h1", "h2", "h3", "h4"):
        return f"\n#heading(level: {tag[1]})[{_inside(node)}]\n"
    if tag == "p":
        size = next((s for c, s in (("lead", "1.6em"), ("small", "0.85em"), ("fine", "0.75em")) if c in classes), "1em")
        return f"\n#par[#text(size: {size})[{_inside(node)}]]\n"
    if tag == "strong":
        return f"#strong[{_inside(node)}]"
    if tag in ("ul", "ol"):
        items = ", ".join(f"[{_inside(item)}]" for item in node)
        return f"\n#{'list' if tag == 'ul' else 'enum'}({items})\n"
    if tag == "table":
        return _table(node)
    if tag == "dl":
        return f"\n#grid(columns: (1fr, 2fr), gutter: 4pt, {', '.join(f'[{_inside(part)}]' for part in node)})\n"
    if tag == "hr":
        return "\n#line(length: 100%, stroke: 0.5pt)\n"
    said = _inside(node)
    if "columns" in classes and len(node):
        said = f"\n#grid(columns: {len(node)}, gutter: 8pt, {', '.join(f'[{_element(part)}]' for part in node)})\n"
    if "box" in classes:
        said = f"\n#block(stroke: 1pt, inset: 5pt, width: 100%)[{said}]\n"
    return f"\n#pagebreak(weak: true)\n{said}" if "chapter" in classes else said


def _table(node: ElementTree.Element) -> str:
    rows = [row for row in node.iter() if _tag(row) == "tr"]
    count = max(sum(int(cell.get("colspan", "1")) for cell in row) for row in rows)
    head = [row for part in node if _tag(part) == "thead" for row in part]
    cells = ["table.header(" + ", ".join(map(_cell, (cell for row in head for cell in row))) + ")"] if head else []
    cells += [_cell(cell) for row in rows if row not in head for cell in row]
    return f"\n#table(columns: ({'1fr, ' * count}), {', '.join(cells)})\n"


def _cell(cell: ElementTree.Element) -> str:
    said = f"#strong[{_inside(cell)}]" if _tag(cell) == "th" else _inside(cell)
    return f"table.cell(colspan: {cell.get('colspan', '1')})[{said}]"


@cache
def _weasyprint() -> tuple[Any, Any, Any]:
    from weasyprint import CSS as STYLE
    from weasyprint import HTML
    from weasyprint.text.fonts import FontConfiguration

    fonts = FontConfiguration()
    return HTML, fonts, [STYLE(string=CSS, font_config=fonts)]


def _print_weasyprint(source: str) -> bytes:
    html, fonts, styles = _weasyprint()
    # The style sheet was read before: the one inside the text is left out.
    plain = re.sub(r"<style>.*?</style>", "", source, flags=re.S)
    return bytes(html(string=plain).write_pdf(stylesheets=styles, font_config=fonts))


@cache
def _typst() -> Any:
    import typst

    return typst.Compiler(font_paths=[str(FONTS)], ignore_system_fonts=True)


def _print_typst(source: str) -> bytes:
    return bytes(_typst().compile(input=source.encode()))


def _chromium(source: Path, target: Path, folder: Path) -> list[str]:
    # A root user has no sandbox; a profile of its own, so that no other browser is asked to do it.
    own = ["--no-sandbox"] if os.geteuid() == 0 else []
    return ["chromium", "--headless", *own, "--disable-gpu", "--no-first-run", f"--user-data-dir={folder / 'profile'}", "--no-pdf-header-footer", f"--print-to-pdf={target}", source.as_uri()]  # fmt: skip


def _print_chromium(source: str) -> bytes:
    """Started anew."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as name:
        folder = Path(name)
        (folder / "page.html").write_text(source, encoding="utf-8")
        subprocess.run(
            _chromium(folder / "page.html", folder / "page.pdf", folder), check=True, capture_output=True, timeout=300
        )
        return (folder / "page.pdf").read_bytes()


def _has(module: str) -> Callable[[], bool]:
    return lambda: importlib.util.find_spec(module) is not None


def _script(program: str) -> Callable[[Path, Path, Path], list[str]]:
    def command(source: Path, target: Path, folder: Path) -> list[str]:
        # A module, not `-c`, so that it may be compiled like ours.
        place = folder / f"print_{target.stem}.py"
        place.write_text(program, encoding="utf-8")
        return [sys.executable, str(place), str(source), str(target), str(FONTS)]

    return command


PEERS = (
    Peer("WeasyPrint", "html", _has("weasyprint"), html_of, _print_weasyprint, _script(_WEASYPRINT)),
    Peer("typst", "typ", _has("typst"), typst_of, _print_typst, _script(_TYPST)),
    Peer("Chromium", "html", lambda: shutil.which("chromium") is not None, html_of, _print_chromium, _chromium),
)


def present() -> list[Peer]:
    """The engines at hand; each that is not is named."""
    for peer in PEERS:
        if not peer.present():
            sys.stdout.write(f"         {peer.name} is absent: no figure\n")
    return [peer for peer in PEERS if peer.present()]
