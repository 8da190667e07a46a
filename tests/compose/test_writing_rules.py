"""The writing rules of the steps, held over every procedure that ships.

One act a step, its verb first, at most 20 words; a warning before what it guards and on its page; no act hidden in a warning:
DOE-STD-1029-92, Writer's Guide for Technical Procedures (named in print, the rules from memory). Hazard, consequence and how to
avoid it: ANSI Z535.6 practice (from memory). The list of verbs is common practice.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

import pypdfium2
import pytest

from generator.press import press
from generator.protocol.model import Protocol, Step
from tests.compose.chapters import chapters, document, inside, rows
from tests.compose.plans import book
from tests.compose.reading import said, with_class

MOST_WORDS = 20
VERBS = frozenset(
    [
        "ask",
        "bend",
        "bring",
        "call",
        "carry",
        "count",
        "cover",
        "draw",
        "dry",
        "float",
        "fold",
        "give",
        "have",
        "hold",
        "join",
        "lace",
        "lay",
        "lead",
        "leave",
        "let",
        "loop",
        "measure",
        "name",
        "pad",
        "press",
        "put",
        "raise",
        "release",
        "rinse",
        "roll",
        "set",
        "start",
        "stick",
        "take",
        "tie",
        "wash",
        "watch",
        "wet",
        "write",
    ]
)
# Names of things and of states as well: behind a comma or an "and" they are those.
OTHER_WORDS_TOO = frozenset({"press", "measure", "name", "pad", "cover", "start", "dry"})
# What may stand before the act: a condition (conditions first), an interval, or with what.
_OPENS = re.compile(r"^(?:If|Once|Before|At|In|After)\b[^,]*, (.+)$")
# The second half names who alone may do something: a restriction, no second act.
ONE_ACT_ALL_THE_SAME = frozenset({"Take every wrapped layer off; only the clinician lifts the pad."})
_CONDITION = re.compile(r"(?<!^)\b(?:if|unless)\b")


def written() -> Iterator[tuple[Protocol, Step]]:
    for protocol in book().protocols.values():
        for one in protocol.stages.values() or [protocol]:
            for step in one.steps:
                yield one, step


STEPS = list(written())
ACTS = sorted({step.do for _, step in STEPS if step.do})
CAUTIONS = sorted({(step.caution, step.because or "") for _, step in STEPS if step.caution})


def act_of(do: str) -> str:
    """A step without what opens it, in small letters."""
    found = _OPENS.match(do)
    return (found[1] if found else do).lower()


@pytest.mark.parametrize("do", ACTS)
def test_a_step_is_one_act_with_its_verb_first(do: str) -> None:
    assert len(do.split()) <= MOST_WORDS
    act = act_of(do)
    assert act.split()[0] in VERBS
    if do in ONE_ACT_ALL_THE_SAME:
        return
    assert ";" not in do
    # A joiner that brings in another verb of the list is a second act.
    for joined in re.findall(r"(?:\band|\bthen|,|\.) (?:then )?(\w+)", act):
        assert joined not in VERBS - OTHER_WORDS_TOO, joined
    assert " then " not in act


@pytest.mark.parametrize(
    "bad",
    [
        "Bend the joints; hold the limb flat.",
        "Ask the clinician to name the stage, then dry the skin.",
        "The clinician sets five loops.",
        "Roll the padding and lay the gauze.",
    ],
)
def test_these_rules_can_fail(bad: str) -> None:
    with pytest.raises(AssertionError):
        test_a_step_is_one_act_with_its_verb_first(bad)


def test_exceptions_are_still_in_use() -> None:
    assert set(ACTS) >= ONE_ACT_ALL_THE_SAME


def test_conditions_come_first() -> None:
    for do in ACTS:
        assert not _CONDITION.search(do), do


@pytest.mark.parametrize(("caution", "because"), CAUTIONS)
def test_a_caution_names_what_to_avoid_and_why_and_hides_no_act(caution: str, because: str) -> None:
    # "Do not …" is the avoiding act that the rule allows; one sentence, so that nothing to be done stands behind it.
    assert caution.startswith("Do not ")
    assert caution.count(".") == 1
    assert because
    assert act_of(because).split()[0] not in VERBS


def test_no_step_sends_the_reader_away() -> None:
    for _, step in STEPS:
        for words in (step.do, step.check, step.if_not):
            assert not re.search(r"\b(?:see|refer|section|page|appendix)\b|\b[A-Z]{2}-[A-Z]{3}-\d", words or ""), words


def test_a_choice_is_never_spread_over_steps() -> None:
    # The one choice of a bandage, its dressing, stands as an ordered list in one cell of its layer.
    for do in ACTS:
        assert not re.search(r"\b(?:choose|either|one of)\b", do.lower()), do
    for protocol in book().protocols.values():
        for stage in protocol.stages.values():
            for layer in stage.layers:
                if layer.prefer:
                    cells = [
                        cell for table in inside(protocol.protocol, 5, "table") for row in rows(table) for cell in row
                    ]
                    assert any(f"in this order, if it fits: {', '.join(layer.prefer)}" in cell for cell in cells)


def test_a_timed_step_has_room_for_start_due_and_done_and_says_what_if_not() -> None:
    for slug, protocol in book().protocols.items():
        timed = [
            step for stage in protocol.stages.values() or [protocol] for step in stage.steps if step.by is not None
        ]
        found = [node for node in inside(slug, 7, "li") if any("blank" in inner.classes for inner in node.walk())]
        if protocol.blend:
            continue
        assert len(found) == len(timed)
        for node, step in zip(found, timed, strict=True):
            assert f"By {step.by} after the start. Cannot be met:" in said(node)
            assert [said(line) for line in with_class(node, "blank")] == ["Start", "By", "Done"]
    assert any(step.by is not None for _, step in STEPS)


def test_each_limit_has_both_ends_a_unit_and_an_act() -> None:
    units = re.compile(r"\d+ (?:min|h|d|wk)\b")
    seen = 0
    for slug in book().protocols:
        for table in inside(slug, 8, "table"):
            head, *others = rows(table)
            assert head == ["Limit", "From", "By", "Outside it", "Source"]
            for row in others:
                assert row[-2], (slug, row)
                assert row[-1], (slug, row)
                if len(row) == len(head):
                    assert row[1] == "any time" or units.fullmatch(row[1]), (slug, row)
                    assert units.search(row[2]), (slug, row)
                    seen += 1
                else:
                    # Yes, no, or an end that no clock tells.
                    assert row[0] in ("Always watched", "May go home", "Off for good when"), (slug, row)
    assert seen > len(book().protocols)


@cache
def pages() -> tuple[tuple[str, pypdfium2.PdfTextPage], ...]:
    """The text of every page of the printed binder, in the order it is painted."""
    pdf = pypdfium2.PdfDocument(press(document()).data)
    found = [page.get_textpage() for page in pdf]
    return tuple((text.get_text_range().replace("\N{NO-BREAK SPACE}", " "), text) for text in found)


def _spaced(words: str) -> str:
    """A pattern of the words, wherever their lines break."""
    return r"\s+".join(map(re.escape, words.split()))


@pytest.mark.parametrize("slug", sorted(book().protocols))
def test_a_caution_stands_on_the_page_of_its_step_and_above_it(slug: str) -> None:
    protocol = book().protocols[slug]
    of_chapter = [
        (text, box)
        for text, box in pages()
        if re.search(rf"^{protocol.id} · {re.escape(protocol.title)} · ", text, re.MULTILINE)
    ]
    assert len(of_chapter) >= 3
    guarded = [node for node in inside(slug, 7, "li") if with_class(node, "caution")]
    assert guarded
    for node in guarded:
        lines = [said(inner) for inner in node.elements("p")]
        pattern = re.compile(r"\s+".join(map(_spaced, lines)))
        hits = [(found, text, box) for text, box in of_chapter if (found := pattern.search(text))]
        # Caution, reason and act are found one after another on one page, or not at all.
        assert hits, lines
        for found, text, box in hits:
            caution, act = (_top(box, text, place) for place in (found.start(), found.end() - 2))
            assert caution > act, lines
            # Never more than three lines of warning before the act.
            first = re.compile(_spaced(" ".join(lines[: -1 if len(lines) > 1 else 1]))).search(text)
            assert first is not None
            assert len(first[0].strip().splitlines()) <= 3, lines


def _top(box: pypdfium2.PdfTextPage, text: str, place: int) -> float:
    return float(box.get_charbox(place)[3])


def test_headings_never_stand_last_on_a_page() -> None:
    titles = {said(node) for slug in chapters() for node in chapters()[slug].elements("h2")}
    for text, _ in pages():
        lines = [line.strip() for line in text.splitlines() if line.strip()]
        # The foot is painted first or last: whatever stands after a heading must be more than the foot.
        for title in titles & set(lines):
            after = lines[lines.index(title) + 1 :]
            assert any(
                not re.match(r"LB-|binder \d|Mon |Tue |Wed |Thu |Fri |Sat |Sun |page \d", line) for line in after
            ), title
