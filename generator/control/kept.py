"""Find revisions by what is typed: `LB-SUP-002@3`, a document number and a revision.

Takes  an open book, words as typed.
Gives  `approval_named`, `document_named`; `edition_of` an approved revision; `edition_now`: of what the book says.
Knows  that a number outlives its file: a withdrawn document is still found.
"""

from __future__ import annotations

from generator.control.named import errors_in, number_of, protocols_named
from generator.opening import OpenBook
from generator.protocol.approval import Approval
from generator.protocol.comparison import Edition
from generator.protocol.model import Protocol
from generator.protocol.shapes import nearest
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.source.tree import Node
from generator.standing import kept_tree, standing


def approval_named(opened: OpenBook, typed: str, verb: str) -> Approval:
    """The approved revision that `NUMBER@REVISION` names; a protocol's name may stand for its number.

    Raises:
        Refusal: no such document, or that revision of it is not kept; the message says which are.
    """
    name, at, revision = typed.rpartition("@")
    rows = opened.record.of(document_named(opened, name if at else typed, verb, typed))
    if not rows:
        raise Refusal([_none_kept(name if at else typed, f"{verb} {typed}")])
    found = next((row for row in rows if revision.isdecimal() and row.revision == int(revision)), None) if at else None
    if found is None:
        raise Refusal([_not_kept(rows, revision if at else "", f"{verb} {typed}")])
    return found


def edition_of(opened: OpenBook, approval: Approval) -> tuple[Edition, Node]:
    """An approved revision with what it says.

    Raises:
        Refusal: it is not kept as it was approved.
    """
    gone = opened.record.replaced_on(approval)
    edition = Edition(approval.revision, approval.title, approval.digest, "approved", approval, gone)
    return edition, kept_tree(opened, approval)


def edition_now(opened: OpenBook, number: str, verb: str) -> tuple[Edition, Node]:
    """What the book says now under a document number.

    Raises:
        Refusal: the book has no such protocol any more, or it cannot be read.
    """
    gone = opened.record.withdrawn(number)
    protocol = _in_book(opened, number)
    if protocol is None and gone is not None:
        raise Refusal([_gone(opened, number, verb)])
    if protocol is None:
        (protocol,) = protocols_named(opened, [number], verb)
    if broken := [problem for problem in errors_in(opened, protocol) if problem.name != "not-decided"]:
        raise Refusal(in_order(broken))
    tree = opened.readings[protocol.file].tree
    assert tree is not None, "a protocol was read from it"
    one = standing(opened, protocol)
    approval = one.approval if one.is_approved else None
    replaced = opened.record.replaced_on(approval) if approval is not None else None
    return Edition(protocol.revision, protocol.title, protocol.content, one.state, approval, replaced), tree


def _in_book(opened: OpenBook, number: str) -> Protocol | None:
    protocols = opened.book.protocols.values()
    return next((one for one in protocols if (number_of(one) or "").casefold() == number.casefold()), None)


def document_named(opened: OpenBook, name: str, verb: str, typed: str) -> str:
    """The document number of a number or name, withdrawn or not.

    Raises:
        Refusal: neither the book nor its record has it.
    """
    rows = opened.record.approvals
    numbers = [*(row.id for row in reversed(rows)), *(gone.id for gone in opened.record.withdrawals)]
    for number in numbers:
        if number.casefold() == name.casefold():
            return number
    named = next((row for row in reversed(rows) if row.protocol == name), None)
    if named is not None:
        return named.id
    own = opened.book.protocols.get(name) or _in_book(opened, name)
    if own is not None and number_of(own) is not None:
        return str(number_of(own))
    known = list(dict.fromkeys(word for row in rows for word in (row.id, row.protocol)))
    close = nearest(name, known) or nearest(name.upper(), known)
    raise Refusal(
        [
            Problem(
                "document-unknown",
                Span(f"{verb} {typed}"),
                f"this book has no document `{name}`, and its record never had one",
                "a revision belongs to one document",
                (f"the nearest is `{close}`; " if close else "")
                + "write a document number and a revision, such as `LB-SUP-002@3`; "
                + (
                    f"the record holds: {', '.join(sorted({row.id for row in rows}))}"
                    if rows
                    else "nothing is approved yet"
                ),
            )
        ]
    )


def _none_kept(name: str, place: str) -> Problem:
    return Problem(
        "revision-not-kept",
        Span(place),
        f"no revision of {name} is kept: none was ever approved",
        "only what somebody approved can be told from what came after it",
        f"have a clinician read it, then run `gauzeleaf approve {name} --by NAME`",
    )


def _not_kept(rows: tuple[Approval, ...], revision: str, place: str) -> Problem:
    number = rows[0].id
    listed = ", ".join(f"`{number}@{row.revision}` (approved {row.approved_on})" for row in rows)
    return Problem(
        "revision-not-kept" if revision else "revision-missing",
        Span(place),
        f"no approved revision `{revision}` of {number} is kept"
        if revision
        else f"which revision of {number} is meant is not said",
        "a paper that shows another revision than the one asked for misleads whoever signs it",
        f"kept are: {listed}",
    )


def _gone(opened: OpenBook, number: str, verb: str) -> Problem:
    gone = opened.record.withdrawn(number)
    assert gone is not None, "it was asked before"
    kept = ", ".join(f"`{number}@{row.revision}`" for row in opened.record.of(number)) or "none"
    return Problem(
        "number-withdrawn",
        Span(f"{verb} {number}"),
        f"{number} was withdrawn on {gone.on} by {gone.by}: the book says nothing under this number now",
        "there is nothing that the old words could be compared with",
        f"name two revisions; kept are: {kept}",
    )
