"""Say each line of a sheet in the owner's language, with the clinic's beside it where nobody has signed it off.

Takes  the words of both languages, the reader's conventions, a `Writer`.
Gives  `Line`s: safe markup, the language it is in, and its counterpart in the clinic's language if it needs one.
Knows  that a whole line falls back, never half of one, and that a figure is written anew for each language.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time
from fractions import Fraction
from typing import Literal

from markupsafe import Markup, escape

from generator.compose.echo import in_order, same_facts
from generator.compose.phrases import PHRASES
from generator.compose.writer import Writer, filled
from generator.source.span import Span
from generator.words import isolation, moments, numbers
from generator.words.catalogue import Said, Words
from generator.words.fields import has_words
from generator.words.languages import language_name
from generator.words.local import Local
from generator.words.numbers import System
from generator.words.telephone import telephone

# A value for a field: written when it is known in which language the line will stand.
Value = Callable[[Local], Markup]


@dataclass(frozen=True, slots=True)
class Line:
    """One line. text: as printed, in `language`. draft: nobody has signed it, so `gloss` says the same in `gloss_language`.

    id: of the block, where the text is authored. foreign: not in the language of the sheet it stands on.
    """

    text: Markup
    language: str
    draft: bool = False
    gloss: Markup = field(default_factory=Markup)
    gloss_language: str = ""
    id: str = ""
    foreign: bool = False

    def __html__(self) -> str:
        """Inside other words; one in another language says so, and keeps its own direction there."""
        if not self.foreign:
            return self.text
        return Markup('<span lang="{}">{}</span>').format(
            self.language, Markup(isolation.FSI) + self.text + Markup(isolation.PDI)
        )


@dataclass(slots=True)
class Voice:
    """One of these a sheet.

    unsigned, missing, signed: lines that nobody has signed, that nobody has translated, and that stand alone in another
    language than the clinic's.
    """

    words: Words
    clinic_words: Words
    local: Local
    clinic_local: Local
    writer: Writer
    unsigned: int = 0
    missing: int = 0
    signed: int = 0

    # ---- lines --------------------------------------------------------------------------------------------

    def say(self, phrase: str, **values: Value) -> Line:
        """A fixed line by its id."""
        return self._line(PHRASES[phrase], values)

    def authored(self, text: str, span: Span | None, name: str, **values: Value) -> Line:
        """A line from the clinic's files, translated if its catalogue has it; its block carries `id`."""
        return replace(self._line(text, values), id=self.writer.block_id(name, span))

    def label(self, phrase: str, **values: Callable[[Local], str]) -> str:
        """A fixed line as bare text, for drawings; an unsigned one in both languages."""
        said = self._said(PHRASES[phrase])
        text = self._plain(said, values)
        if said.is_draft:
            return f"{text} / {self._plain(self.clinic_words.say(PHRASES[phrase]), values)}"
        return text

    def _said(self, message: str) -> Said:
        said = self.words.say(message)
        self.unsigned += said.is_draft
        self.missing += said.is_missing
        self.signed += said.is_signed and has_words(message) and said.language != self.clinic_words.language
        return said

    def _line(self, message: str, values: dict[str, Value]) -> Line:
        said = self._said(message)
        text = self._filled(said, values)
        foreign = said.language != self.words.language
        if not said.is_draft:
            return Line(text, said.language, foreign=foreign)
        other = self.clinic_words.say(message)
        gloss = self._filled(other, values)
        same_facts(text, gloss)
        return Line(text, said.language, True, gloss, other.language, foreign=foreign)

    def both(self, phrase: str, **values: Value) -> tuple[Line, Line]:
        """A fixed line in the owner's language and in the clinic's, whether signed or not."""
        other = self.clinic_words.say(PHRASES[phrase])
        return self.say(phrase, **values), Line(self._filled(other, values), other.language)

    def is_unsigned(self, *phrases: str) -> bool:
        """Whether any of these lines is a draft."""
        return any(self.words.say(PHRASES[phrase]).is_draft for phrase in phrases)

    def in_clinic_words(self) -> Voice:
        """The same document, said in the clinic's language."""
        return replace(self, words=self.clinic_words, local=self.clinic_local, unsigned=0, missing=0, signed=0)

    def language_of(self, phrase: str) -> str:
        """The language in which a fixed line comes out."""
        return self.words.say(PHRASES[phrase]).language

    def local_of(self, said: Said) -> Local:
        """The conventions of the language a line really came out in."""
        return self.local_in(said.language)

    def local_in(self, language: str) -> Local:
        """The reader's conventions in one of the sheet's languages."""
        if language == self.local.language:
            return self.local
        if language == self.clinic_local.language:
            return self.clinic_local
        return Local(language, self.local.territory, self.local.cycle, self.local.is_staff)

    def _filled(self, said: Said, values: dict[str, Value]) -> Markup:
        local = self.local_of(said)
        fields = {name: value(local) for name, value in values.items()}
        return in_order(said, filled(said.text, fields), fields)

    def _plain(self, said: Said, values: dict[str, Callable[[Local], str]]) -> str:
        local = self.local_of(said)
        return str(filled(said.text, {name: Markup(escape(value(local))) for name, value in values.items()}).unescape())

    # ---- values -------------------------------------------------------------------------------------------

    def moment(self, at: datetime, name: str = "moment", edge: moments.Edge = "by", year: bool = True) -> Value:
        """Weekday, date and time."""
        return lambda local: self.writer.moment(at, isolation.dated(moments.moment(at, local, edge, year)), name)

    def date_of(self, at: datetime, name: str = "date", edge: moments.Edge = "by", year: bool = False) -> Value:
        """The date a moment is printed under."""
        return lambda local: self.writer.moment(
            at, isolation.dated(moments.long_date(moments.shown_day(at, local, edge), local, year)), name
        )

    def clock_of(self, at: datetime, name: str = "time", edge: moments.Edge = "by") -> Value:
        """The clock time of a moment."""
        return lambda local: self.writer.moment(at, isolation.ltr(moments.clock(at.timetz(), local, edge)), name)

    def day(self, day: date, name: str = "day", year: bool = True) -> Value:
        """A calendar day with its weekday."""
        return lambda local: self.writer.day(day, moments.long_date(day, local, year), name)

    def opening(self, at: time | None, edge: moments.Edge) -> Value:
        """An opening or closing time; None is the midnight that ends the day."""
        clock = at or time(0)
        return lambda local: self.writer.clock(clock, isolation.ltr(moments.clock(clock, local, edge)), "hours")

    def minutes(self, number: int, name: str) -> Value:
        """A length of time in minutes."""
        return lambda local: self.writer.number(name, number, isolation.ltr(moments.duration(number, "minute", local)))

    def count(self, number: int, name: str) -> Value:
        """A whole number."""
        return lambda local: self.writer.number(name, number, numbers.plain_number(number, local))

    def lead(self, cm: Fraction, system: System, name: str) -> Value:
        """A length that must not be exceeded."""
        return lambda local: self.writer.number(
            name, cm, isolation.ltr(numbers.length(cm, system, local, "m", down=True))
        )

    def name(self, text: str, span: Span | None, of: str) -> Value:
        """A name of an animal, a person or a place, as it was written."""
        return lambda local: self.writer.authored(isolation.name(text), span, of)

    def word(self, text: str) -> Value:
        """A word that is neither a figure nor authored, such as a weekday."""
        return lambda local: Markup(escape(text))

    def issued(self, at: datetime, local: Local) -> Markup:
        """The clock time of issue, with the zone's offset; its date stands at the head of the same page."""
        offset = at.strftime("%z")
        shown = f"{isolation.ltr(moments.clock(at.timetz(), local, 'from'))} {isolation.ltr(f'UTC{offset[:3]}:{offset[3:5]}')}"
        return self.writer.moment(at, shown, "issued")

    def language_name(self, tag: str) -> Value:
        """The name of a language in the language of the line; the tag itself where nobody knows it."""
        return lambda local: Markup(escape(language_name(tag, local)))

    def weekday(self, number: int, width: Literal["short", "long"] = "short") -> Value:
        """A day of the week, Monday is 0. As a figure: Vietnamese and Portuguese count their days."""
        day = date(2024, 1, 1 + number)

        def shown(local: Local) -> Markup:
            words = moments.short_weekday(day, local) if width == "short" else moments.weekday(day, local)
            return self.writer.number("weekday", number + 1, words)

        return shown


def phone_link(writer: Writer, number: str, home: str, span: Span | None) -> Markup:
    """A telephone number as a link over its digits."""
    line = telephone(number, home)
    return Markup('<a href="{}"><span id="{}">{}</span></a>').format(
        line.uri, writer.block_id("phone", span), isolation.ltr(line.shown)
    )
