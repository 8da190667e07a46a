"""Write figures, moments and authored text into a document so that their origin survives.

Takes  figures, moments, authored text with its place, drawings.
Gives  `Writer`: safe markup for each, and what the finished document needs: its drawings and sources by id.
Knows  that an id stands once a document, and that a digit has no other way onto paper.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from fractions import Fraction

from markupsafe import Markup, escape

from generator.page.document import Draw
from generator.reckon.plan import Figure
from generator.source.span import Span

_ID = re.compile(r' id="([^"]+)"')
# A number and its unit stay on one line (ISMP: unit beside number): "leaving 2" at the end of a line is read as it stands.
_AMOUNT = re.compile(r"(\d) (?=(?:%|(?:cm|mm|min|mmHg|kgf|kg|g|m|h|d|wk)\b))")
_NAME = "\N{FIRST STRONG ISOLATE}"  # opens a name, which is printed letter by letter as it was typed
_NOT_IN_ID = re.compile(r"[^A-Za-z0-9_.-]+")


@dataclass(slots=True)
class Writer:
    """One of these a document. Everything it returns is markup that a template prints as it stands."""

    drawings: dict[str, Draw] = field(default_factory=dict)
    sources: dict[str, Span] = field(default_factory=dict)
    _used: dict[str, int] = field(default_factory=dict)

    def id(self, name: str) -> str:
        """An id no other element of the document has, made from a name."""
        base = _NOT_IN_ID.sub("-", name).strip("-.") or "x"
        base = base if base[0].isalpha() else f"x-{base}"
        count = self._used.get(base, 0) + 1
        self._used[base] = count
        return base if count == 1 else self.id(f"{base}.{count}")

    def figure(self, figure: Figure, shown: str) -> Markup:
        """A figure as `<data>`: its bare value kept beside the words shown."""
        if isinstance(figure.value, datetime):
            return self.moment(figure.value, shown, figure.name)
        return self.number(figure.name, figure.number, shown)

    def number(self, name: str, value: Fraction | int | str, shown: str, span: Span | None = None) -> Markup:
        """A number as `<data>`; whole numbers stay whole, others are written as a decimal. span: the line it was written in."""
        bare = value if isinstance(value, str) else plain(Fraction(value))
        key = self.id(name)
        if span is not None:
            self.sources[key] = span
        return Markup('<data id="{}" value="{}">{}</data>').format(key, bare, shown)

    def moment(self, moment: datetime, shown: str, name: str = "moment") -> Markup:
        """A moment as `<time>`: ISO 8601 with its offset, to the minute."""
        assert moment.tzinfo is not None, "a moment on paper knows its offset"
        when = moment.isoformat(timespec="minutes")
        return Markup('<time id="{}" datetime="{}">{}</time>').format(self.id(name), when, shown)

    def day(self, day: date, shown: str, name: str = "day") -> Markup:
        """A calendar day as `<time>`."""
        return Markup('<time id="{}" datetime="{}">{}</time>').format(self.id(name), day.isoformat(), shown)

    def clock(self, clock: time, shown: str, name: str = "clock") -> Markup:
        """A time of day, such as an opening hour, as `<time>`."""
        when = clock.isoformat(timespec="minutes")
        return Markup('<time id="{}" datetime="{}">{}</time>').format(self.id(name), when, shown)

    def authored(self, text: str, span: Span | None, name: str = "text") -> Markup:
        """Text somebody wrote in a file, with the line it came from; never markup, never a template."""
        key = self.id(name)
        self.sources[key] = span or Span("")
        whole = text if text.startswith(_NAME) else _AMOUNT.sub("\\1\N{NO-BREAK SPACE}", text)
        return Markup('<span id="{}">{}</span>').format(key, whole)

    def block_id(self, name: str, span: Span | None) -> str:
        """The id of a block whose whole content is authored, for "too long" messages."""
        key = self.id(name)
        self.sources[key] = span or Span("")
        return key

    def once(self, xhtml: str) -> str:
        """The document with every id standing once: a template may print one value in two places."""
        seen: set[str] = set()

        def renamed(found: re.Match[str]) -> str:
            name = found[1]
            if name not in seen:
                seen.add(name)
                return found[0]
            other = self.id(name)
            seen.add(other)
            if name in self.sources:
                self.sources[other] = self.sources[name]
            return f' id="{other}"'

        return _ID.sub(renamed, xhtml)

    def drawing(self, name: str, draw: Draw) -> str:
        """Keep a drawing; returns the id that `data-drawing` names."""
        key = self.id(f"drawing.{name}")
        self.drawings[key] = draw
        return key


def plain(value: Fraction) -> str:
    """A number as data: whole where it is whole, else as many decimals as say it, at most six."""
    if value.denominator == 1:
        return str(value.numerator)
    return f"{float(value):.6f}".rstrip("0").rstrip(".")


def filled(pattern: str, fields: Mapping[str, Markup | str]) -> Markup:
    """Put fields into a sentence: the sentence is escaped, fields that are markup stay markup.

    Raises:
        KeyError: the sentence names a field that was not given.
    """
    out = Markup()
    for index, part in enumerate(re.split(r"\{([a-z_]+)\}", pattern)):
        out += escape(fields[part]) if index % 2 else escape(part)
    return out
