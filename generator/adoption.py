"""The order of the work when a clinic takes over protocols from a library: find, rewrite, see what is missing, judge, hand over.

Takes  two open books, the names asked for, the moment.
Gives  `offers`: what a library holds; `adopt`: the files to write, and what is then to be done by people. Writes nothing.
Knows  which file of which book holds what; what changes in a protocol is said in `protocol/adopting.py`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from generator import shelf
from generator.opening import OpenBook, judged
from generator.protocol import adopting
from generator.protocol.adopting import Terms
from generator.protocol.book import SETTINGS
from generator.protocol.kinds import KINDS
from generator.protocol.model import Protocol
from generator.protocol.schema import FOLDER, MODELINE, modeline, schema_files
from generator.protocol.shapes import TO_DECIDE, UnsoundValue, is_unsound, nearest, shortened
from generator.reckon.clock import located
from generator.source.editing import Unchangeable, appended, edited, indent_in, lines_of
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.source.text import Reading, read_tree
from generator.source.tree import Entries, Node

# Where the things that a protocol names are kept, and under which key of that file.
_KEPT_IN = {"material": ("stock", "materials"), "sign": ("signs", None)}


@dataclass(frozen=True, slots=True)
class Offer:
    """A protocol of a library. `has`: the clinic's book has one of this name already; None where there is no such book."""

    slug: str
    number: str
    kind: str
    title: str
    has: bool | None


@dataclass(frozen=True, slots=True)
class Need:
    """What a protocol names and the clinic's book lacks.

    lines: what the library writes for it, less what only its own clinic could know; empty if it has none. They belong at the
    end of `file`, `indent` spaces to the right.
    """

    what: str
    name: str
    file: str
    indent: int
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Mark:
    """A figure to be confirmed: its place and the line as it stands there."""

    span: Span
    line: str


@dataclass(frozen=True, slots=True)
class Adoption:
    """What taking over comes to.

    files: to write, by place. protocols: those of them that are protocols. added: what other files of the book then hold besides.
    needs: what the book will still lack. marks: figures to confirm. problems: those that the new protocols will have.
    """

    files: Mapping[Path, bytes]
    protocols: tuple[Path, ...]
    added: tuple[Need, ...]
    needs: tuple[Need, ...]
    marks: tuple[Mark, ...]
    problems: tuple[Problem, ...]


def is_shipped(opened: OpenBook) -> bool:
    """Whether a book is the library that comes with the tool."""
    return _same(opened.folder, shelf.shipped("protocols"))


def _same(one: Path, other: Path) -> bool:
    return one.resolve() == other.resolve()


# ---- what there is ---------------------------------------------------------------------------------------------


def offers(library: OpenBook, opened: OpenBook) -> tuple[Offer, ...]:
    """What a library holds, and which of it the clinic's book has."""
    found = library.reviewed.book.protocols if library.reviewed.book else {}
    own = None if _same(library.folder, opened.folder) else _stems(opened)
    return tuple(
        Offer(
            slug,
            _said(protocol, "id"),
            _kind_in_words(protocol),
            _said(protocol, "title"),
            None if own is None else slug in own,
        )
        for slug, protocol in sorted(found.items())
    )


def _said(protocol: Protocol, key: str) -> str:
    value = getattr(protocol, key)
    return "?" if is_unsound(value) else str(value)


def _kind_in_words(protocol: Protocol) -> str:
    if is_unsound(protocol.kind):
        return "?"
    if protocol.kind == "blend":
        return "stored blend"
    return KINDS[protocol.kind].words if protocol.kind in KINDS else "open wound, by stage"


def _stems(opened: OpenBook) -> frozenset[str]:
    """The names of all files of a book: a name is taken also where the file cannot be read."""
    return frozenset(Path(name).stem for name in opened.readings)


# ---- taking over -----------------------------------------------------------------------------------------------


def adopt(
    opened: OpenBook, library: OpenBook, names: Sequence[str], now: datetime, *, with_needs: bool, again: str
) -> Adoption:
    """Take protocols over into a book.

    Args:
        opened: the clinic's own book.
        library: the book they come from.
        names: slugs or document numbers.
        now: the moment; the day counts in the clinic's zone.
        with_needs: also add what the protocols name and the book lacks.
        again: the options typed, as they would have to be typed again.
    Raises:
        Refusal: with everything that stands against it; nothing is changed then.
    """
    _must_be_own(opened, library)
    chosen, unknown = _chosen(library, names)
    problems = [*unknown, *_taken(opened, chosen), *_parts_missing(opened, library, chosen, names, again)]
    if problems:
        raise Refusal(in_order(problems))
    files = {
        opened.folder / f"{slug}.yaml": _rewritten(slug, *_read(library, slug), _terms(opened, library, chosen, now))
        for slug in chosen
    }
    protocols = tuple(files)
    needs = _needs(opened, library, chosen)
    added = tuple(need for need in needs if need.lines) if with_needs else ()
    files |= _with_needs(library, added, _today(opened, now))
    needs = tuple(need for need in needs if need not in added)
    before = shelf.yaml_files(opened.folder, patients=False)
    after = judged(opened.folder, before | {place.as_posix(): data for place, data in files.items()})
    _must_not_harm(opened, after)
    files |= _schemas_missing(opened.folder)
    written = {place.as_posix() for place in protocols}
    named = {need.name for need in needs}
    return Adoption(
        files,
        protocols,
        added,
        needs,
        tuple(_marks(protocols, files)),
        # That a material or sign is missing is said with the lines to add; once is enough.
        tuple(p for p in after.problems if p.span.file in written and not _is_about(p, named)),
    )


def _schemas_missing(folder: Path) -> dict[Path, bytes]:
    """The schemas that the first line of each new file leads to; of those that lie there already none is touched."""
    places = {folder / FOLDER / name: data for name, data in schema_files().items()}
    return {place: data for place, data in places.items() if not place.exists()}


def _is_about(problem: Problem, named: Iterable[str]) -> bool:
    return problem.name in ("material-unknown", "sign-unknown") and any(f"`{name}`" in problem.what for name in named)


def _must_be_own(opened: OpenBook, library: OpenBook) -> None:
    """A clinic's own book with its settings, and not the library itself."""
    folder = opened.folder.as_posix()
    if is_shipped(opened) or _same(opened.folder, library.folder):
        raise Refusal(
            [
                Problem(
                    "book-is-library",
                    Span(folder),
                    "this is the library itself, not a book of your own",
                    "a protocol counts in a clinic only after its own people have read and signed it",
                    "name your own book with `--book DIR`, or start one with `gauzeleaf new our-book`",
                )
            ]
        )
    missing = [problem for problem in opened.problems if problem.name == "file-missing"]
    if missing:
        raise Refusal(missing)
    # What the settings hold is looked up by name: a slip in one value does no harm here, a file that is no YAML does.
    unread = {name for name, reading in opened.readings.items() if Path(name).stem in SETTINGS and reading.tree is None}
    if unread:
        raise Refusal([problem for problem in opened.problems if problem.span.file in unread])


def _chosen(library: OpenBook, names: Sequence[str]) -> tuple[tuple[str, ...], list[Problem]]:
    """The slugs of what was asked for, each once; and what is not there."""
    protocols = library.reviewed.book.protocols if library.reviewed.book else {}
    numbers = {_said(protocol, "id").casefold(): slug for slug, protocol in protocols.items()}
    chosen: dict[str, None] = {}
    problems: list[Problem] = []
    for name in names:
        slug = name if name in protocols else numbers.get(name.casefold())
        if slug is not None:
            chosen[slug] = None
            continue
        unread = [p for p in library.problems if Path(p.span.file).stem == name and p.severity == "error"]
        problems += unread or [_unknown(name, protocols)]
    return tuple(chosen), problems


def _unknown(name: str, protocols: Mapping[str, Protocol]) -> Problem:
    known = [*protocols, *(_said(protocol, "id") for protocol in protocols.values())]
    close = nearest(name, known) or nearest(name.upper(), known)
    return Problem(
        "protocol-unknown",
        Span(f"adopt {name}"),
        f"the library has no protocol `{name}`",
        "only what is in the library can be taken over",
        (f"the nearest is `{close}`; " if close else "") + "`gauzeleaf adopt` by itself lists what there is",
    )


def _taken(opened: OpenBook, chosen: Sequence[str]) -> list[Problem]:
    """Protocols whose place in the clinic's book is not free."""
    stems = _stems(opened)
    calls_itself = {
        str(protocol.protocol): protocol
        for protocol in (opened.reviewed.book.protocols if opened.reviewed.book else {}).values()
        if not is_unsound(protocol.protocol)
    }
    problems = []
    for slug in chosen:
        place = opened.folder / f"{slug}.yaml"
        if slug in stems or place.exists() or place.is_symlink():
            lies = next((name for name in opened.readings if Path(name).stem == slug), place.as_posix())
            span = Span(lies)
        elif slug in calls_itself:
            span = calls_itself[slug].span("protocol")
        else:
            continue
        problems.append(
            Problem(
                "protocol-in-book",
                span,
                f"your book has a protocol `{slug}` already",
                "taking it over again would lay another clinic's words over yours",
                "leave it out; or, to compare the two, start a second book with `gauzeleaf new FOLDER`",
            )
        )
    return problems


def _parts_missing(
    opened: OpenBook, library: OpenBook, chosen: Sequence[str], names: Sequence[str], again: str
) -> list[Problem]:
    """Parts of a stored blend that would be in neither the clinic's book nor this command."""
    own = opened.reviewed.book.protocols if opened.reviewed.book else {}
    problems = []
    for slug in chosen:
        tree, _ = _read(library, slug)
        parts = [part.text for part in adopting.parts_of(tree)]
        lacking = [part.partition("@")[0] for part in parts]
        lacking = [part for part in dict.fromkeys(lacking) if part not in _stems(opened) and part not in chosen]
        if lacking:
            problems.append(
                Problem(
                    "part-not-in-book",
                    Span(f"adopt {slug}"),
                    f"`{slug}` is a stored blend, and your book has no "
                    + " and no ".join(f"`{part}`" for part in lacking),
                    "a part that is not found is missing from the animal",
                    f"take its parts over with it: `gauzeleaf adopt {' '.join((*lacking, *names))}{again}`",
                )
            )
        for part in parts:
            name, _, stage = part.partition("@")
            if name in own and name not in chosen and stage and not _has_stage(own[name], stage):
                problems.append(
                    Problem(
                        "part-not-in-book",
                        Span(f"adopt {slug}"),
                        f"`{slug}` is a stored blend, and your own `{name}` has no stage `{stage}`",
                        "a part that is not found is missing from the animal",
                        f"add the stage `{stage}` to {own[name].file} first, or leave the blend out",
                    )
                )
    return problems


def _has_stage(protocol: Protocol, stage: str) -> bool:
    try:
        return stage in protocol.stages
    except UnsoundValue:
        return True  # It could not be read; its own file says why.


def _read(library: OpenBook, slug: str) -> tuple[Entries, Reading]:
    reading = next(reading for name, reading in library.readings.items() if Path(name).stem == slug)
    assert isinstance(reading.tree, Entries), "a protocol that was read is a group of keys"
    return reading.tree, reading


def _today(opened: OpenBook, now: datetime) -> date:
    try:
        return located(now, opened.zone).date()
    except (Refusal, UnsoundValue):
        return now.date()  # The clinic's zone could not be read; `check` says why.


def _terms(opened: OpenBook, library: OpenBook, chosen: Sequence[str], now: datetime) -> Terms:
    own = opened.reviewed.book.protocols if opened.reviewed.book else {}
    revisions = {slug: TO_DECIDE if is_unsound(p.revision) else str(p.revision) for slug, p in own.items()}
    words = ("the shipped library", "the shipped book") if is_shipped(library) else ("another clinic's book",) * 2
    return Terms(
        *words,
        today=_today(opened, now),
        book=_stems(opened) | frozenset(chosen),
        revisions=revisions | dict.fromkeys(chosen, "1"),
    )


def _rewritten(slug: str, tree: Entries, reading: Reading, terms: Terms) -> bytes:
    try:
        text = edited(reading.lines, tree, tuple(adopting.changes(tree, terms)), adopting.head(tree, terms))
    except Unchangeable:
        raise Refusal(
            [
                Problem(
                    "layout-unchangeable",
                    tree.span,
                    f"`{slug}` is laid out so that its signatures cannot be taken out without touching other lines",
                    "a line that changes by the way would reach an animal unread",
                    "copy the file by hand and write each key of its head on a line of its own",
                )
            ]
        ) from None
    # The library may have the line or not, and at its own place; in a clinic's file it stands first.
    own = "".join(line for line in text.splitlines(keepends=True) if not line.startswith(MODELINE))
    return f"{modeline('protocol')}\n{own}".encode()


# ---- what it needs ---------------------------------------------------------------------------------------------


def _needs(opened: OpenBook, library: OpenBook, chosen: Sequence[str]) -> tuple[Need, ...]:
    """Materials and signs that are named and not there, each once."""
    wanted: dict[tuple[str, str], None] = {}
    for slug in chosen:
        materials, signs = adopting.needs(_read(library, slug)[0])
        wanted |= dict.fromkeys(("material", name) for name in materials)
        wanted |= dict.fromkeys(("sign", name) for name in signs)
    there = {what: _kept(opened, what) for what in _KEPT_IN}
    return tuple(
        Need(what, name, file, indent_in(group, 2 if _KEPT_IN[what][1] else 0), _lines(library, what, name))
        for what, name in sorted(wanted, key=lambda need: need[0])
        for file, group in (there[what],)
        if group is None or group.get(name) is None
    )


def _kept(opened: OpenBook, what: str) -> tuple[str, Entries | None]:
    """The file of a book that keeps such things, and the group in it."""
    stem, key = _KEPT_IN[what]
    name, reading = next((n, r) for n, r in opened.readings.items() if Path(n).stem == stem)
    node: Node | None = reading.tree
    if key is not None:
        node = node.get(key) if isinstance(node, Entries) else None
    return name, node if isinstance(node, Entries) else None


def _lines(library: OpenBook, what: str, name: str) -> tuple[str, ...]:
    """How the library writes a material or a sign, less what only its own clinic could know; nothing where it cannot be cut out."""
    stem, key = _KEPT_IN[what]
    reading = next((r for n, r in library.readings.items() if Path(n).stem == stem), None)
    tree = reading.tree if reading is not None else None
    group = tree.get(key) if key is not None and isinstance(tree, Entries) else tree
    if reading is None or tree is None or not isinstance(group, Entries) or group.get(name) is None:
        return ()
    try:
        if what == "material":
            node = group.get(name)
            assert node is not None
            text = edited(reading.lines, tree, adopting.without_what_is_not_ours(node))
            again = read_tree(text.encode(), "").tree
            inner = again.get(key) if key is not None and isinstance(again, Entries) else None
            return lines_of(text.split("\n"), inner, name) if isinstance(inner, Entries) else ()
        return lines_of(reading.lines, group, name)
    except Unchangeable:
        return ()


def _with_needs(library: OpenBook, needs: Sequence[Need], today: date) -> dict[Path, bytes]:
    """The files that keep them, with the missing ones added at their ends."""
    words = "the shipped library" if is_shipped(library) else "another clinic's book"
    files: dict[Path, bytes] = {}
    problems: list[Problem] = []
    for what, (_, key) in _KEPT_IN.items():
        blocks = {need.name: need.lines for need in needs if need.what == what}
        if not blocks:
            continue
        place = Path(next(need.file for need in needs if need.what == what))
        left_out = ", price and tension left out: measure and price your own" if what == "material" else ""
        try:
            data = shelf.read_file(place, "file")
            files[place] = appended(
                data,
                place.as_posix(),
                blocks,
                key,
                f"added on {today} from {words}{left_out}; read every line before use",
            )
        except Unchangeable:
            problems.append(
                Problem(
                    "no-room-at-the-end",
                    Span(place.as_posix(), 1, 1),
                    f"nothing can be added at the end of this file without touching what stands in it: {', '.join(blocks)}",
                    "a line that changes by the way would count in every plan",
                    "leave `--with-needs` out: the lines are then shown, to be pasted where they belong",
                )
            )
    if problems:
        raise Refusal(problems)
    return files


def _must_not_harm(before: OpenBook, after: OpenBook) -> None:
    """Nothing that was right in the clinic's settings may be wrong afterwards: every plan of the book hangs on them."""
    settings = {name for name in after.readings if Path(name).stem in SETTINGS}
    known = {(p.name, p.what) for p in before.problems}
    new = [
        p for p in after.problems if p.severity == "error" and p.span.file in settings and (p.name, p.what) not in known
    ]
    if new:
        raise Refusal(new)


def _marks(protocols: Sequence[Path], files: Mapping[Path, bytes]) -> Iterable[Mark]:
    for place in protocols:
        for number, line in enumerate(files[place].decode().split("\n"), 1):
            if f"# {TO_DECIDE}: " in line:
                figure, _, mark = line.strip().partition(f"  # {TO_DECIDE}: ")
                said = f"{shortened(figure, 60)}  # {TO_DECIDE}: {mark}"
                yield Mark(Span(place.as_posix(), number, len(line) - len(line.lstrip()) + 1), said)
