"""How the protocols of a book stand in its record: approved as they are, changed since, or never approved.

Takes  an open book and its protocols.
Gives  `standing`, `standings`; `against_use`: what to say of one that is not approved; `changes_of`: what changed, line by line.
Knows  where an approved revision is kept; nothing of papers.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from generator import shelf
from generator.opening import OpenBook
from generator.protocol.approval import Approval, Standing, standing_of
from generator.protocol.changes import Difference, differences, is_control, where
from generator.protocol.content import content_digest
from generator.protocol.model import Protocol
from generator.protocol.shapes import UnsoundValue, is_unsound, shortened
from generator.protocol.training import against_record
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.source.text import read_tree
from generator.source.tree import Node

_WHY = "whoever learned the approved words does not know the others, and nobody has answered for them"
# Lines of a change that a message shows; the change sheet has them all.
_MOST = 40


def standing(opened: OpenBook, protocol: Protocol) -> Standing:
    """How one protocol stands.

    Raises:
        Refusal: the record is damaged.
        UnsoundValue: its number or revision could not be read.
    """
    return standing_of(protocol, opened.record)


def standings(opened: OpenBook, protocols: Iterable[Protocol]) -> tuple[Standing, ...]:
    """How each protocol stands, every file once."""
    by_file = {protocol.file: protocol for protocol in protocols}
    return tuple(standing(opened, protocol) for protocol in by_file.values())


def kept_tree(opened: OpenBook, approval: Approval) -> Node:
    """An approved revision, as it was.

    Raises:
        Refusal: it is not kept, or what is kept is not what was approved.
    """
    place = shelf.kept_file(opened.folder, approval.kept)
    tree = read_tree(shelf.read_file(place, "approved revision"), place.as_posix()).tree
    if tree is None or content_digest(tree) != approval.digest:
        raise Refusal(
            [
                Problem(
                    "kept-revision-differs",
                    Span(place.as_posix(), 1, 1),
                    f"what is kept as {approval.id} revision {approval.revision} is not what was approved",
                    "changes would be told from words that nobody approved",
                    "bring back the copy of this file from the day of approval; these files are never edited",
                )
            ]
        )
    return tree


def changes_of(opened: OpenBook, one: Standing) -> tuple[Difference, ...]:
    """What changed in a protocol against the revision it is compared with; nothing where there is none.

    Raises:
        Refusal: that revision is not kept as it was approved.
    """
    tree = opened.readings[one.protocol.file].tree
    if one.against is None or tree is None:
        return ()
    return differences(kept_tree(opened, one.against), tree)


def against_use(opened: OpenBook, one: Standing) -> Problem | None:
    """What to say of a protocol that is not approved as it stands, with the lines that changed; None of one that is."""
    protocol, approval = one.protocol, one.approval
    span = protocol.span("revision")
    if one.is_approved:
        return None
    if approval is None:
        awaits = "" if one.against is None else f"; the last approved one is revision {one.against.revision}"
        return Problem(
            "not-approved",
            span,
            f"nobody has approved {protocol.id} revision {protocol.revision}{awaits}",
            "an animal or an owner would get what no clinician has answered for",
            f"have a clinician read it, then run `gauzeleaf approve {protocol.id} --by NAME`",
        )
    found = [change for change in changes_of(opened, one) if not is_control(change)] or changes_of(opened, one)
    more = len(found) - _MOST
    also = tuple((change.at, _told(change)) for change in found[:_MOST])
    return Problem(
        "changed-under-revision",
        span,
        f"{protocol.id} revision {protocol.revision} does not say what {approval.approved_by} approved on {approval.approved_on}: "
        f"{len(found)} {'place differs' if len(found) == 1 else 'places differ'}{f', {more} of them not shown' if more > 0 else ''}",
        _WHY,
        f"raise the revision with `gauzeleaf revise {protocol.id} --why REASON` and have it approved, or put the approved words back",
        also=also,
    )


def _told(change: Difference) -> str:
    place = where(change.path)
    if change.after is None:
        return f"{place}: `{shortened(change.was, 80)}` stood here and is gone"
    if change.before is None:
        return f"{place}: new"
    return f"{place}: was `{shortened(change.was, 80)}`"


def problems_of(opened: OpenBook) -> tuple[Problem, ...]:
    """All that a book's record has to say against its protocols: warnings of what is not approved, errors of numbers out of use.

    A book of which nothing was ever approved gets one warning, not one for each protocol.
    """
    book = opened.reviewed.book
    if book is None:
        return ()
    try:
        is_new = not opened.record.approvals
    except Refusal as refusal:
        return refusal.problems
    broken = {problem.span.file for problem in opened.problems if problem.severity == "error"}
    found: list[Problem] = []
    for protocol in book.protocols.values():
        if protocol.file in broken:
            continue  # what is wrong with it comes first
        try:
            gone = out_of_use(opened, protocol)
            told = None if is_new else against_use(opened, standing(opened, protocol))
        except (UnsoundValue, Refusal):
            continue  # it has its own problem already, or will have it once it is printed
        found += [gone] if gone is not None else []
        found += [replace(told, severity="warning")] if told is not None else []
    if is_new and book.protocols:
        found.append(
            Problem(
                "nothing-approved",
                Span(opened.folder.as_posix()),
                "no protocol of this book has been approved yet: all that is printed says TRIAL, and no sheet goes home",
                "an animal or an owner would get what no clinician has answered for",
                "have a clinician read each protocol, then run `gauzeleaf approve ID --by NAME`, or `gauzeleaf approve --all --by NAME`",
                "warning",
            )
        )
    return in_order((*found, *training_problems(opened)))


def training_problems(opened: OpenBook) -> tuple[Problem, ...]:
    """Rows of the record of training that the record of approvals contradicts.

    Raises:
        Refusal: the record of approvals is damaged.
    """
    book = opened.reviewed.book
    if book is None or is_unsound(book.training):
        return ()
    return against_record(book.training, book.protocols.values(), opened.record)


def out_of_use(opened: OpenBook, protocol: Protocol) -> Problem | None:
    """What to say of a protocol whose number was withdrawn, or belonged to another one; None of any other."""
    if is_unsound(protocol.id):
        return None
    gone = opened.record.withdrawn(protocol.id)
    if gone is not None:
        return Problem(
            "number-withdrawn",
            protocol.span("id"),
            f"the document number `{protocol.id}` was withdrawn on {gone.on} by {gone.by}: {gone.why}",
            "copies that were called in under this number would seem to count again",
            "take the file out of the book, or give the protocol a number that was never used",
        )
    others = {row.protocol for row in opened.record.of(protocol.id)} - {protocol.protocol}
    if others and not any(row.protocol == protocol.protocol for row in opened.record.of(protocol.id)):
        return Problem(
            "number-of-another",
            protocol.span("id"),
            f"under the number `{protocol.id}` this book approved `{', '.join(sorted(others))}`, not `{protocol.protocol}`",
            "an inspector must find one document under one number, for good",
            "give this protocol a number that was never used",
        )
    return None
