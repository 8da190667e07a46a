"""The order of the work, and the only file that knows it: read, check, reckon, compose, press.

Takes  what a shell gathered: a folder, names, a patient, the moment.
Gives  problems, plans, documents as bytes. Writes nothing.
Knows  which room comes after which; nothing of arguments, screens or exit statuses.
"""

from __future__ import annotations

import contextlib
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from generator import shelf, standing
from generator.opening import OpenBook
from generator.protocol.animal import doubts, read_patient
from generator.protocol.book import OF_PLANS
from generator.protocol.kinds import STAGES
from generator.protocol.model import Patient, Protocol
from generator.protocol.schema import FOLDER, schema_files
from generator.protocol.shapes import is_unsound, nearest
from generator.reckon import reckon
from generator.reckon.clock import located
from generator.reckon.plan import Plan
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.source.tree import Node

if TYPE_CHECKING:
    from generator.page.document import Document
    from generator.press import TooLong
    from generator.protocol.approval import Standing
    from generator.reckon.order_list import OrderList
    from generator.words import signoff
    from generator.words.catalogue import Words

OWNER_CATALOGUE = "owner.po"
LEDGER = "signed.json"


@dataclass(frozen=True)
class Chosen:
    """The protocols a command named, each at its stage; and the stored blend, if that is what was named."""

    parts: tuple[Protocol, ...]
    stored: Protocol | None = None
    files: frozenset[str] = field(default_factory=frozenset)


def choose(opened: OpenBook, names: Sequence[str], option: str = "--protocol") -> Chosen:
    """Find protocols by `slug` or `slug@stage`, as typed behind an option.

    Raises:
        Refusal: no such protocol or stage, or a file that the plan needs has errors.
    """
    book = opened.book
    problems: list[Problem] = []
    parts: list[Protocol] = []
    stored: Protocol | None = None
    for name in names:
        slug, _, stage = name.partition("@")
        protocol = book.protocols.get(slug)
        span = Span(f"{option} {name}")
        if protocol is None:
            unread = next((file for file in opened.readings if Path(file).stem == slug), None)
            if unread is not None and any(p.span.file == unread for p in opened.problems):
                problems += [p for p in opened.problems if p.span.file == unread and p.severity == "error"]
                continue
            problems.append(unknown(slug, span, book.protocols))
            continue
        if not is_unsound(protocol.blend) and protocol.blend:
            stored = protocol
            inner = choose(opened, protocol.blend, option)
            parts += inner.parts
            continue
        if is_unsound(protocol.stages):
            continue
        if protocol.stages and stage not in protocol.stages:
            problems.append(
                Problem(
                    "stage-missing" if not stage else "stage-unknown",
                    span,
                    f"`{slug}` has stages, and none is named" if not stage else f"`{slug}` has no stage `{stage}`",
                    "the stage is read from the wound by a clinician; it decides what may touch it",
                    "name one: " + ", ".join(f"`{slug}@{s}`" for s in STAGES if s in protocol.stages),
                )
            )
            continue
        if stage and not protocol.stages:
            problems.append(
                Problem(
                    "stage-unknown",
                    span,
                    f"`{slug}` has no stages",
                    "a stage that is not there cannot be followed",
                    f"write `{slug}`",
                )
            )
            continue
        parts.append(protocol.stages[stage] if protocol.stages else protocol)
    if problems:
        raise Refusal(in_order(problems))
    files = {part.file for part in parts} | ({stored.file} if stored else set())
    files |= {file for file in opened.readings if Path(file).stem in OF_PLANS}
    errors = [p for p in opened.problems if p.severity == "error" and p.span.file in files]
    errors += [p for p in opened.problems if p.name == "file-missing"]
    if errors:
        raise Refusal(in_order(errors))
    if stored is not None and len(names) > 1:
        raise Refusal(
            [
                Problem(
                    "blend-in-blend",
                    Span(f"{option} {stored.protocol}"),
                    f"`{stored.protocol}` is a stored blend and cannot be joined once more",
                    "what a clinician signed would no longer be what is printed",
                    "name its parts one by one, or the stored blend alone",
                )
            ]
        )
    return Chosen(tuple(parts), stored, frozenset(files))


def unknown(slug: str, span: Span, protocols: Iterable[str]) -> Problem:
    close = nearest(slug, list(protocols))
    return Problem(
        "protocol-unknown",
        span,
        f"the book has no protocol `{slug}`",
        "nothing can be printed for it",
        (f"the nearest is `{close}`; " if close else "") + "the book has: " + ", ".join(sorted(protocols)),
    )


def elsewhere(opened: OpenBook, *chosen: Chosen | None) -> tuple[Problem, ...]:
    """Problems of the book that do not touch this plan: warnings now, errors for whoever keeps the book."""
    used = {file for one in chosen if one is not None for file in one.files}
    return tuple(p for p in opened.problems if p.span.file not in used and p.severity == "error")


def patient_from(tree: Node) -> Patient:
    """Read a patient.

    Raises:
        Refusal: with everything wrong in it.
    """
    patient, problems = read_patient(tree)
    if patient is None:
        raise Refusal(in_order(problems))
    return patient


def make_plan(opened: OpenBook, chosen: Chosen, patient: Patient, now: datetime, then: Chosen | None = None) -> Plan:
    """Reckon a plan; `now` may be naive, in the clinic's zone. `then`: the bandage that follows a pressure bandage."""
    moment, release = located(now, opened.zone), shelf.zone_release()
    if then is not None:
        from generator.reckon.sequence import reckon_sequence

        plan = reckon_sequence(
            chosen.parts, then.parts, patient, opened.book, moment, opened.zone, stored=chosen.stored, then_stored=then.stored, zone_release=release
        )  # fmt: skip
    else:
        plan = reckon(
            chosen.parts, patient, opened.book, moment, opened.zone, stored=chosen.stored, zone_release=release
        )
    # What was told beside it is kept with it: a later reader must find it without the screen.
    plan = replace(
        plan, warnings=(*doubts(patient), *elsewhere(opened, chosen, then)), standings=_standings(opened, chosen)
    )
    if plan.then is not None and then is not None:
        plan = replace(plan, then=replace(plan.then, standings=_standings(opened, then)))
    told = unapproved(opened, plan)
    return replace(plan, warnings=(*plan.warnings, *(replace(problem, severity="warning") for problem in told)))


def _standings(opened: OpenBook, chosen: Chosen) -> tuple[Standing, ...]:
    return standing.standings(opened, (*chosen.parts, *([chosen.stored] if chosen.stored else [])))


def unapproved(opened: OpenBook, plan: Plan) -> tuple[Problem, ...]:
    """What stands against using a plan: of each protocol that nobody approved as it stands, why."""
    asked = (*plan.standings, *(plan.then.standings if plan.then is not None else ()))
    return tuple(problem for one in asked if (problem := standing.against_use(opened, one)) is not None)


def marked(document: Document, *plans: Plan | None) -> Document:
    """The document, marked on every page where something in it has not been approved."""
    from generator.compose.on_trial import on_trial

    return on_trial(document) if any(plan is not None and plan.is_on_trial for plan in plans) else document


def _refuse_on_trial(opened: OpenBook, plan: Plan) -> None:
    problems = unapproved(opened, plan)
    if problems:
        raise Refusal(
            replace(problem, fix=f"{problem.fix}; for a drill or for proofreading, print with `--trial`")
            for problem in problems
        )


# ---- documents -------------------------------------------------------------------------------------------------


def templates_of(opened: OpenBook) -> Mapping[str, str]:
    """Every template by name; a book's own replace the shipped ones."""
    from generator.compose.render import Templates

    shipped = shelf.shipped("templates")
    texts = shelf.text_files(shipped, "*.j2")
    own = shelf.room_beside(opened.folder, "templates")
    clinics = shelf.text_files(own, "*.j2") if own != shipped else {}
    ours = frozenset(name for name, text in texts.items() if clinics.get(name, text) == text)
    return Templates(texts | clinics, ours, shelf.Kept(shipped, ".jinja"))


def languages(opened: OpenBook) -> tuple[str, ...]:
    """The languages a sheet can be printed in: English, and every one that has a catalogue."""
    rooms = (shelf.shipped("locales"), shelf.room_beside(opened.folder, "locales"))
    found = {
        path.parent.name.replace("_", "-")
        for room in rooms
        if room.is_dir()
        for path in room.glob(f"*/{OWNER_CATALOGUE}")
    }
    return ("en", *sorted(found - {"en"}))


def words_for(opened: OpenBook, language: str, span: Span) -> Words:
    """The words of one language.

    Raises:
        Refusal: there is no catalogue for it.
    """
    from generator.words.catalogue import load_words

    base = language.split("-")[0]
    offered = languages(opened)
    tag = next((t for t in (language, base) if t in offered), None)
    if tag is None:
        raise Refusal(
            [
                Problem(
                    "language-without-catalogue",
                    span,
                    f"there are no words in `{language}` yet",
                    "a sheet that the owner cannot read helps nobody",
                    "print it in one of: "
                    + ", ".join(offered)
                    + " (`--language en`), and have it read aloud by somebody who speaks the owner's language",
                )
            ]
        )
    if tag == "en":
        return load_words(language, None, {})
    words: Words | None = None
    rooms = dict.fromkeys((shelf.shipped("locales"), shelf.room_beside(opened.folder, "locales")))
    for room in rooms:
        file = room / tag.replace("-", "_") / OWNER_CATALOGUE
        if not file.is_file():
            continue
        own = load_words(language, _text(file, "catalogue"), _ledger(file.with_name(LEDGER)), file.as_posix())
        # A clinic's own words stand over the shipped ones, which still say what it has no words for.
        words = own.over(words) if words is not None else own
    assert words is not None, "a language is offered because it has a catalogue"
    errors = [problem for problem in words.problems if problem.severity == "error"]
    if errors:
        raise Refusal(errors)
    return words


def _text(file: Path, what: str) -> str:
    try:
        return shelf.read_file(file, what).decode("utf-8")
    except UnicodeDecodeError:
        raise Refusal(
            [
                Problem(
                    "not-utf-8",
                    Span(file.as_posix(), 1, 1),
                    f"the {what} is not written in UTF-8",
                    "its letters would print wrong",
                    "save it as UTF-8",
                )
            ]
        ) from None


def _ledger(file: Path) -> signoff.Ledger:
    """Who signed which message; nobody, where there is no ledger."""
    from generator.words import signoff

    if not file.is_file():
        return signoff.NOBODY
    ledger, problems = signoff.read_ledger(_text(file, "ledger"), file.as_posix())
    errors = [problem for problem in problems if problem.severity == "error"]
    if errors:
        raise Refusal(errors)
    return ledger


def sheet(
    opened: OpenBook, plan: Plan, language: str | None = None, *, clinic_copy: bool = False, trial: bool = False
) -> Document:
    """Compose the owner's sheet, in the owner's language or the one given.

    Args:
        trial: also of a protocol that nobody has approved as it stands; each page then says so.
    Raises:
        Refusal: the bandage does not go home, there are no words, or it is not approved and no trial was asked for.
    """
    from generator.compose import owner_sheet

    if not trial:
        _refuse_on_trial(opened, plan)

    wanted = language or plan.patient.language
    span = Span("--language") if language else plan.patient.spans.get("owner.language", Span("language"))
    words = words_for(opened, wanted, span)
    clinic_words = words_for(opened, opened.book.clinic.languages[0], opened.book.clinic.spans.get("languages", span))
    document = owner_sheet(plan, words, clinic_words, templates_of(opened), clinic_copy=clinic_copy)
    if document.is_draft and not opened.book.clinic.drafts:
        raise Refusal(
            [
                Problem(
                    "drafts-forbidden",
                    span,
                    f"words of this sheet in `{wanted}` still await a qualified person's sign-off, and this clinic forbids drafts",
                    "an unread translation can say the opposite of what is meant",
                    "print in another language, have the words signed (`gauzeleaf words sign`), or set `drafts: allow` in clinic.yaml",
                    also=(
                        (
                            opened.book.clinic.spans.get("drafts", opened.book.clinic.spans[""]),
                            "drafts are forbidden here",
                        ),
                    ),
                )
            ]
        )
    return marked(document, plan)


def sheets(
    opened: OpenBook,
    plan: Plan,
    languages: Sequence[str | None],
    *,
    clinic_copy: bool = False,
    trial: bool = False,
) -> list[tuple[Document, bool]]:
    """Compose the sheet in each language, all of one plan; with `clinic_copy` also the copy that the clinic keeps of each.

    Args:
        languages: BCP 47 tags; None is the owner's own.
    Returns:
        Each document, and whether it is the clinic's copy.
    Raises:
        Refusal: with what stands against any of them.
    """
    made: list[tuple[Document, bool]] = []
    problems: list[Problem] = []
    for language in languages:
        try:
            for copy in (False, True) if clinic_copy else (False,):
                made.append((sheet(opened, plan, language, clinic_copy=copy, trial=trial), copy))
        except Refusal as refusal:
            problems += refusal.problems
    if problems:
        raise Refusal(dict.fromkeys(problems))
    return made


def card(opened: OpenBook, plan: Plan) -> Document:
    """Compose the floor card; of a pressure bandage that another follows, the card with both clocks."""
    from generator.compose import floor_card, sequence_card

    document = (sequence_card if plan.then is not None else floor_card)(plan, templates_of(opened))
    return marked(document, plan, plan.then)


def workings(opened: OpenBook, plan: Plan) -> Document:
    """Compose the workings, for staff."""
    from generator.compose import workings as compose_workings

    return marked(compose_workings(plan, templates_of(opened), warnings=opened.problems), plan, plan.then)


def workings_text(opened: OpenBook, plan: Plan) -> str:
    """The workings for the screen."""
    from generator.compose import workings_text as text

    return text(plan, warnings=opened.problems)


def change_card(opened: OpenBook, plan: Plan) -> Document | None:
    """Compose the card of the next change; None where no change is planned or nothing is asked at it."""
    from generator.compose import change_card as compose

    document = compose(plan, templates_of(opened))
    return None if document is None else marked(document, plan)


def visits(opened: OpenBook, plan: Plan) -> bytes:
    """The visits as a calendar file.

    Raises:
        Refusal: nobody has approved the protocol as it stands; a calendar has no place to say so.
    """
    from generator.compose import visits as compose_visits

    problems = unapproved(opened, plan)
    if problems:
        raise Refusal(problems)

    return compose_visits(plan, words_for(opened, "en", Span("language")))


def plan_data(plan: Plan) -> dict[str, Any]:
    from generator.compose import plan_data as data

    return data(plan)


def plan_text(plan: Plan) -> str:
    from generator.compose import plan_text as text

    return text(plan)


def course_text(plan: Plan) -> str:
    """All bandages of the animal, and when they end."""
    from generator.compose import course_text as text

    return text(plan)


def supplies(places: Sequence[Path], with_changes: bool) -> tuple[OrderList, tuple[Problem, ...]]:
    """What plans that were written before take from the shelf, added up; and what is doubtful in them.

    Raises:
        Refusal: with everything that keeps one of them from being read.
    """
    from generator.compose.plan_file import read_plans
    from generator.reckon.order_list import order_list

    files, problems = shelf.plan_files(places)
    plans, found = read_plans(files)
    problems += [problem for problem in found if problem.severity == "error"]
    if problems:
        raise Refusal(in_order(problems))
    warnings = in_order(found)
    return order_list(plans, with_changes), warnings


def order_text(order: OrderList) -> str:
    from generator.compose.order_list import order_text as text

    return text(order)


def order_csv(order: OrderList) -> bytes:
    from generator.compose.order_list import order_csv as rows

    return rows(order)


def order_data(order: OrderList) -> dict[str, Any]:
    from generator.compose.order_list import order_data as data

    return data(order)


def press(document: Document) -> bytes:
    """Press a document.

    Raises:
        Refusal: it does not fit its pages, or a letter has no glyph.
    """
    from generator import press as room

    with _every_glyph(document):
        try:
            return room.press(document).data
        except room.TooLong as error:
            raise Refusal([_too_long(error, document)]) from None


def browser(document: Document) -> bytes:
    """The document as a page for a browser, its drawings laid out as the press would.

    Raises:
        Refusal: a letter in a drawing has no glyph.
    """
    from generator.page.browser import browser_page
    from generator.press.text import measure

    with _every_glyph(document):
        return browser_page(document, lambda text, size, bold: measure(text, size, bold, document.language)).encode()


@contextlib.contextmanager
def _every_glyph(document: Document) -> Iterator[None]:
    from generator.press.text import MissingGlyph

    try:
        yield
    except MissingGlyph as error:
        letters = tuple(letter for letter, _ in error.missing)
        raise Refusal([unprintable(letters, error.language, _where(document, set(letters)))]) from None


def unprintable(letters: Sequence[str], language: str, span: Span) -> Problem:
    """What to say of letters that no font at hand has, and what would bring each of them."""
    from generator.press.text import extra_for

    brought: dict[str | None, list[str]] = {}
    for letter in letters:
        brought.setdefault(extra_for({letter}), []).append(f"U+{ord(letter):04X} {unicodedata.name(letter, 'unnamed')}")
    ways = [
        (f"install the fonts with `pip install '{extra}'`" if extra else "write the text without this character")
        + (f" ({', '.join(named)})" if len(brought) > 1 else "")
        for extra, named in brought.items()
    ]
    return Problem(
        "letter-without-glyph",
        span,
        f"no font here can print {', '.join(name for named in brought.values() for name in named)} (language {language})",
        "a box or a gap on paper in the place of a letter could be read as anything",
        "; ".join(ways),
    )


def _where(document: Document, letters: set[str]) -> Span:
    """The line that one of these letters was written in."""
    from generator.page.xhtml import read

    for node in read(document.xhtml).walk():
        span = document.sources.get(node.id or "")
        if span is not None and letters & set(node.plain()):
            return span
    return Span(document.title)


def _too_long(error: TooLong, document: Document) -> Problem:
    span = error.span or Span(document.title)
    return Problem(
        "sheet-too-long",
        span,
        str(error),
        "type below 12 pt is not read at arm's length, and nothing may be cut off",
        "say this in fewer words",
    )


def explained(plan: Plan) -> list[dict[str, str]]:
    """Every figure of a plan with its working and where it comes from, inputs before results."""
    from generator.compose.explain import explain

    return explain(plan)


def name_of(plan: Plan, kind: str, document: Document | None = None) -> str:
    """The file name of a document: animal, protocol, day, kind; language and DRAFT where they apply."""
    named = _named(plan) + (["then", *_named(plan.then)] if plan.then is not None else [])
    parts = [plan.patient.name, *named, plan.applied.date().isoformat(), kind]
    if document is not None and kind in ("sheet", "clinic-copy"):
        parts += [language for language in (document.language, document.beside) if language]
        if document.is_draft:
            parts.append("DRAFT")
    if plan.is_on_trial or (plan.then is not None and plan.then.is_on_trial):
        parts.append("TRIAL")
    return shelf.file_name(*parts)


def _named(plan: Plan) -> list[str]:
    bandage = plan.bandage
    return [bandage.stored.protocol] if bandage.stored is not None else [part.protocol for part in bandage.parts]


def new_book(folder: Path) -> dict[Path, bytes]:
    """The files of a new book, by the place they go to; with them the schemas that an editor checks them by."""
    source, own = shelf.shipped("protocols"), folder / "protocols"
    files = {
        own / Path(name).relative_to(source.as_posix()): data
        for name, data in shelf.yaml_files(source, patients=True).items()
    }
    # In a new book nobody has been trained on anything: what stays is how a row is written.
    record = own / "training.yaml"
    head, _, rows = files[record].partition(b"training:\n")
    example = next(row for row in rows.splitlines() if b"competent" in row)
    files[record] = head.replace(b" All of it is invented.", b"") + b"# " + example.strip() + b"\ntraining: []\n"
    return files | {own / FOLDER / name: data for name, data in schema_files().items()}
