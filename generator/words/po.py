"""Read and write PO catalogues, each message with its place.

Takes  the text of a `.po` file and its name.
Gives  a `Catalogue` of header and messages, every message with its line; the text of a catalogue.
Knows  the PO form of GNU gettext; nothing of what makes a translation good (`words/check.py`).
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from generator.source.problem import Problem
from generator.source.span import Span

_ESCAPES = {"n": "\n", "t": "\t", "r": "\r", '"': '"', "\\": "\\"}
_LINE = re.compile(r'(?:(msgctxt|msgid_plural|msgid|msgstr)(?:\[(\d+)\])?\s*)?"((?:[^"\\]|\\.)*)"\s*\Z')


@dataclass(frozen=True, slots=True)
class Entry:
    """One message: English source, context where one word has two meanings, and its translations by plural form."""

    source: str
    translations: tuple[str, ...]
    span: Span
    context: str | None = None
    plural: str | None = None
    places: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    flags: tuple[str, ...] = ()
    comments: tuple[str, ...] = ()

    @property
    def key(self) -> tuple[str | None, str]:
        """What names a message: context and source."""
        return self.context, self.source

    @property
    def is_translated(self) -> bool:
        """Every form holds words."""
        return bool(self.translations) and all(text.strip() for text in self.translations)


@dataclass(frozen=True, slots=True)
class Catalogue:
    """One language's messages as they stand in the file."""

    file: str
    header: Mapping[str, str]
    header_span: Span
    opening: tuple[str, ...]
    entries: tuple[Entry, ...]
    obsolete: tuple[Span, ...] = ()
    problems: tuple[Problem, ...] = ()


@dataclass(slots=True)
class _Draft:
    """A message while its lines are read."""

    line: int = 0
    parts: dict[str, str] = field(default_factory=dict)
    comments: dict[str, list[str]] = field(default_factory=dict)
    last: str = ""

    def comment(self, kind: str) -> tuple[str, ...]:
        return tuple(self.comments.get(kind, ()))


def read(text: str, file: str) -> Catalogue:
    """Read a catalogue; what cannot be read becomes a problem and its message is left out."""
    done: list[_Draft] = []
    obsolete: list[Span] = []
    problems: list[Problem] = []
    draft = _Draft()
    for number, line in enumerate(text.removeprefix("\ufeff").split("\n"), 1):
        line = line.rstrip("\r")
        if not line.strip() or line.startswith("#"):
            if draft.parts:
                done.append(draft)
                draft = _Draft()
            if line.startswith("#~"):
                obsolete.append(Span(file, number, 1, len(line)))
            elif line.startswith("#"):
                kind = line[1:2] if line[1:2] in (".", ":", ",", "|") else ""
                draft.comments.setdefault(kind, []).append(line[1 + len(kind) :].strip())
            continue
        found = _LINE.match(line)
        if found is None or not (found[1] or draft.last):
            problems.append(
                Problem(
                    "catalogue-unreadable",
                    Span(file, number, 1, max(1, len(line))),
                    "this line is no part of a message",
                    "the message around it would be printed in English, or wrongly",
                    'write `msgid "…"` or `msgstr "…"`, quotes closed, or start the line with #',
                )
            )
            continue
        keyword = (found[1] + (f"[{found[2]}]" if found[2] else "")) if found[1] else draft.last
        if found[1] in ("msgid", "msgctxt") and "msgid" in draft.parts:
            done.append(draft)
            draft = _Draft()
        if found[1] and keyword in draft.parts:
            problems.append(
                Problem(
                    "catalogue-unreadable",
                    Span(file, number),
                    f"`{keyword}` stands twice in one message",
                    "which of the two is meant cannot be told",
                    "delete one, or put an empty line between two messages",
                )
            )
        draft.line = draft.line or (number if found[1] == "msgid" else 0)
        draft.last = keyword
        draft.parts[keyword] = draft.parts.get(keyword, "") + _unescaped(found[3])
    if draft.parts:
        done.append(draft)
    return _catalogue(file, done, obsolete, problems)


def write(catalogue: Catalogue) -> str:
    """The text of a catalogue, in the order of its entries. The same entries give the same bytes: no date of making."""
    rows = [f"# {line}".rstrip() for line in catalogue.opening]
    rows += ['msgid ""', 'msgstr ""', *(_quoted(f"{key}: {value}\n") for key, value in catalogue.header.items())]
    for entry in catalogue.entries:
        rows.append("")
        rows += [f"# {line}" for line in entry.comments]
        rows += [f"#. {line}" for line in entry.notes]
        rows += [f"#: {place}" for place in entry.places]
        if entry.flags:
            rows.append("#, " + ", ".join(entry.flags))
        if entry.context is not None:
            rows.append(f"msgctxt {_quoted(entry.context)}")
        rows.append(f"msgid {_quoted(entry.source)}")
        if entry.plural is None:
            rows.append(f"msgstr {_quoted(entry.translations[0] if entry.translations else '')}")
        else:
            rows.append(f"msgid_plural {_quoted(entry.plural)}")
            rows += [f"msgstr[{index}] {_quoted(text)}" for index, text in enumerate(entry.translations)]
    return "\n".join(rows) + "\n"


def _catalogue(file: str, drafts: Sequence[_Draft], obsolete: list[Span], problems: list[Problem]) -> Catalogue:
    header: dict[str, str] = {}
    header_span, opening = Span(file, 1, 1), tuple[str, ...]()
    entries: list[Entry] = []
    for draft in drafts:
        if "msgid" not in draft.parts:
            problems.append(
                Problem(
                    "catalogue-unreadable",
                    Span(file, max(1, draft.line)),
                    "a message has no `msgid`",
                    "nothing says which English sentence it translates",
                    "add the `msgid` line, or delete the message",
                )
            )
            continue
        source, span = draft.parts["msgid"], Span(file, draft.line, 1, 5)
        forms = [
            draft.parts[key] for key in sorted((k for k in draft.parts if k.startswith("msgstr")), key=_form_number)
        ]
        if source == "" and "msgctxt" not in draft.parts:
            header_span, opening = span, draft.comment("")
            for row in "".join(forms).split("\n"):
                key, colon, value = row.partition(":")
                if colon:
                    header[key.strip()] = value.strip()
            continue
        flags = tuple(flag.strip() for row in draft.comment(",") for flag in row.split(",") if flag.strip())
        entries.append(
            Entry(
                source,
                tuple(forms),
                span,
                draft.parts.get("msgctxt"),
                draft.parts.get("msgid_plural"),
                draft.comment(":"),
                draft.comment("."),
                flags,
                draft.comment(""),
            )
        )
    return Catalogue(file, header, header_span, opening, tuple(entries), tuple(obsolete), tuple(problems))


def _form_number(keyword: str) -> int:
    found = re.search(r"\d+", keyword)
    return int(found[0]) if found else 0


def _unescaped(text: str) -> str:
    return re.sub(r"\\(.)", lambda found: _ESCAPES.get(found[1], found[1]), text)


def _quoted(text: str) -> str:
    for letter, escape in (("\\", "\\\\"), ('"', '\\"'), ("\n", "\\n"), ("\t", "\\t"), ("\r", "\\r")):
        text = text.replace(letter, escape)
    return f'"{text}"'
