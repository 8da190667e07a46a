"""Every kind of document that is printed, made by the composing functions from the demo book and its patients.

Takes  nothing.
Gives  `KINDS`, a maker by name; `document` and `pressed`, each made once; `PRINTED`, the names with their paper.
Knows  which plan shows which kind; nothing of what is judged in it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

from generator import opening
from generator.compose import (
    approval_page,
    binder,
    change_card,
    chapters,
    floor_card,
    owner_sheet,
    sequence_card,
    workings,
)
from generator.control.compare import compare
from generator.control.papers import change_sheet, reissue_pages, withdrawal_sheet
from generator.control.reissue import reissue
from generator.control.withdraw import withdraw
from generator.page.document import Document
from generator.press import Pdf, press
from generator.protocol.approval import Issue
from generator.protocol.model import Book
from generator.reckon.plan import Plan
from generator.standing import changes_of, standing
from generator.words.catalogue import load_words
from tests.compose.plans import ROOT, at, book, templates
from tests.compose.reading import DEMO, ENGLISH, reckoned, spanish
from tests.compose.test_sequence_card import wound
from tests.press import papers
from tests.press.test_layout import ARABIC


@cache
def plan(who: str) -> Plan:
    return reckoned(who, *DEMO[who])


def small_book() -> Book:
    """Three protocols: one with stages, one without, and a stored blend."""
    blend = next(protocol for protocol in book().protocols.values() if protocol.blend)
    names = {"padded-limb-support", "open-wound", blend.protocol}
    return replace(book(), protocols={slug: found for slug, found in book().protocols.items() if slug in names})


def _change_card() -> Document:
    card = change_card(plan("juniper"), templates())
    assert card is not None
    return card


def _sheet(who: str, clinic_copy: bool = False) -> Document:
    return owner_sheet(plan(who), ENGLISH, ENGLISH, templates(), clinic_copy=clinic_copy)


@cache
def demo() -> opening.OpenBook:
    return opening.open_book(str(ROOT / "protocols"))


SUPPORT, DAY = "LB-SUP-002", at("2027-03-15T09:00")


def _approval_page() -> Document:
    one = standing(demo(), demo().book.protocols["padded-limb-support"])
    assert one.approval is not None
    return approval_page(
        demo().book, [Issue(one.approval, one.protocol, changes_of(demo(), one), one.against)], templates(), DAY
    )


def _pages() -> Document:
    found = reissue(demo(), [SUPPORT])
    return reissue_pages(found, DAY)


def _withdrawal_sheet() -> Document:
    done = withdraw(demo(), "LB-CVR-005", DAY, why="no longer done here", by="Dr M. Tamsin")
    return withdrawal_sheet(demo(), done.withdrawn, DAY)


KINDS: dict[str, Callable[[], Document]] = {
    "owner-sheet": lambda: _sheet("maple"),
    "owner-sheet-wound": lambda: _sheet("juniper"),
    "owner-sheet-sling": lambda: _sheet("rowan"),
    "owner-sheet-es-draft": lambda: owner_sheet(plan("maple"), spanish(), ENGLISH, templates()),
    # No Arabic words are shipped: right-to-left paper with whole English lines, as such a clinic would get it today.
    "owner-sheet-ar-untranslated": lambda: owner_sheet(plan("maple"), load_words("ar"), ENGLISH, templates()),
    "arabic-words": lambda: papers.document(
        ARABIC.replace("<td>اليوم</td>", '<th scope="row">اليوم</th>'), language="ar"
    ),
    "clinic-copy": lambda: _sheet("maple", clinic_copy=True),
    "floor-card": lambda: floor_card(plan("maple"), templates()),
    "floor-card-long": lambda: floor_card(plan("brindle"), templates()),
    "minute-card": lambda: floor_card(plan("kestrel"), templates()),
    "sequence-card": lambda: sequence_card(wound(), templates()),
    "change-card": _change_card,
    "workings": lambda: workings(plan("maple"), templates()),
    "binder-chapter": lambda: chapters(book(), ["padded-limb-support"], templates(), DAY),
    "binder-pages": _pages,
    "approval-page": _approval_page,
    "change-sheet": lambda: change_sheet(demo(), compare(demo(), f"{SUPPORT}@3", f"{SUPPORT}@4"), DAY),
    "withdrawal-sheet": _withdrawal_sheet,
    "binder": lambda: binder(small_book(), templates(), at("2026-11-25T09:00")),
}
PRINTED = [f"{kind}.{paper}" for kind in KINDS for paper in ("a4", "letter")]


@cache
def document(printed: str) -> Document:
    """The document of a name in `PRINTED`."""
    kind, _, paper = printed.rpartition(".")
    return replace(KINDS[kind](), paper=paper)


@cache
def pressed(printed: str) -> Pdf:
    return press(document(printed))
