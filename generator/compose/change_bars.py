"""Put a bar beside what changed since the approved revision before.

Takes  a finished document's XHTML, the line that each of its ids came from, and what changed, by file.
Gives  `barred`: the same XHTML with the class `changed` on each row, item or paragraph that holds a changed line.
Knows  which element a bar stands beside: the innermost that is a row, an item or a paragraph.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from markupsafe import escape

from generator.protocol.changes import Changed
from generator.source.span import Span

_TAG = re.compile(r"<(/?)([a-z0-9]+)((?:\s[^<>]*?)?)(/?)>")
_CHAPTER = '<section class="chapter"'
_TEXT = re.compile(r'<span id="([^"]+)">([^<]*)</span>')
_ID = re.compile(r'\sid="([^"]+)"')
_CLASS = re.compile(r'\sclass="([^"]*)"')
# A bar beside a cell would stand in the table: beside its row it stands in the margin.
_BARRED = frozenset(("p", "li", "tr", "dt", "dd", "h1", "h2", "h3", "h4"))
_WINS = frozenset(("tr", "li"))


def barred(xhtml: str, sources: Mapping[str, Span], changed: Mapping[str, Changed], chapters: Mapping[str, str]) -> str:
    """Mark what changed, each in the chapter of its own file.

    An id that stands for a whole row or paragraph marks that; any other what it stands in.

    Args:
        chapters: by file, the id of its chapter; a file without one is not printed.
    """
    for file, one in changed.items():
        if file not in chapters or not (one.lines or one.texts):
            continue
        start = xhtml.index(f'{_CHAPTER} id="{chapters[file]}"')
        end = xhtml.find(_CHAPTER, start + 1)
        end = len(xhtml) if end < 0 else end
        xhtml = xhtml[:start] + _in_chapter(xhtml[start:end], sources, file, one) + xhtml[end:]
    return xhtml


def _in_chapter(xhtml: str, sources: Mapping[str, Span], file: str, changed: Changed) -> str:
    ids = {name for name, span in sources.items() if span.file == file and span.line in changed.lines}
    # Of a list only its first line is known: its new rows are told by their words.
    texts = {str(escape(text)) for text in changed.texts}
    for said in _TEXT.finditer(xhtml):
        if said[2].replace("\N{NO-BREAK SPACE}", " ") in texts and said[1] in sources and sources[said[1]].file == file:
            ids.add(said[1])
    starts: set[int] = set()
    open_: list[tuple[str, int]] = []
    for tag in _TAG.finditer(xhtml):
        closes, name, attributes, empty = tag.groups()
        if closes:
            while open_ and open_.pop()[0] != name:
                pass
            continue
        if not empty:
            open_.append((name, tag.start()))
        named = _ID.search(attributes)
        if named is not None and named[1] in ids:
            around = [pair for pair in open_ if pair[0] in _BARRED]
            rows = [pair for pair in around if pair[0] in _WINS]
            if rows or around:
                starts.add((rows or around)[-1][1])
    parts, at = [], 0
    for start in sorted(starts):
        opening = _TAG.match(xhtml, start)
        assert opening is not None, "it was found here"
        parts += [xhtml[at:start], _with_class(opening)]
        at = opening.end()
    return "".join([*parts, xhtml[at:]])


def _with_class(tag: re.Match[str]) -> str:
    _, name, attributes, empty = tag.groups()
    own = _CLASS.search(attributes)
    if own is None:
        attributes += ' class="changed"'
    else:
        attributes = f'{attributes[: own.start()]} class="{own[1]} changed"{attributes[own.end() :]}'
    return f"<{name}{attributes}{empty}>"
