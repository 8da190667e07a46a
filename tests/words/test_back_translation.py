"""A STOP line is translated back, word for word as it stands now, and judged."""

from __future__ import annotations

from datetime import date

import pytest

from generator.source.span import Span
from generator.words.back_translation import BackTranslation, check_back_translations, read_back_translations
from generator.words.extract import Message, Place
from generator.words.po import Entry
from generator.words.signoff import NOBODY, Ledger, Signature, sign

ROWS = """\
- english: Go now
  translation: Vaya ya
  back: Go at once
  verdict: same
  by: unqualified reader, blind
- {english: Ring us, translation: Llámenos, back: Call us, verdict: mended, by: clinician}
"""
STOPS = tuple(Message(source, (Place(Span("a.yaml", 3)),)) for source in ("Go now", "Ring us"))
ENTRIES = {
    (None, "Go now"): Entry("Go now", ("Vaya ya",), Span("es.po", 7)),
    (None, "Ring us"): Entry("Ring us", ("Llámenos",), Span("es.po", 10)),
}
SIGNATURE = Signature("A. One", "B. Two", "sworn translator", date(2027, 3, 1))


def names(
    text: str, entries: dict[tuple[str | None, str], Entry] = ENTRIES, ledger: Ledger = NOBODY
) -> list[tuple[str, str, int]]:
    rows, problems = read_back_translations(text, "back.yaml")
    found = (*problems, *check_back_translations(rows, STOPS, entries, ledger, "es", STOPS))
    return [(problem.name, problem.span.file, problem.span.line) for problem in found]


def test_rows_are_read_with_their_places() -> None:
    rows, problems = read_back_translations(ROWS, "back.yaml")
    assert problems == ()
    assert rows == (
        BackTranslation(
            "Go now", "Vaya ya", "Go at once", "same", "unqualified reader, blind", Span("back.yaml", 1, 12, 6)
        ),
        BackTranslation("Ring us", "Llámenos", "Call us", "mended", "clinician", Span("back.yaml", 6, 13, 7)),
    )
    assert [row.is_by_clinician for row in rows] == [False, True]
    assert names(ROWS) == []


@pytest.mark.parametrize("text", ["", "# nobody yet\n", "[]"])
def test_no_rows_are_no_fault_of_the_file(text: str) -> None:
    assert read_back_translations(text, "back.yaml") == ((), ())
    assert names(text) == [("back-translation-missing", "es.po", 7), ("back-translation-missing", "es.po", 10)]


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ("verdict: same", "verdict: fine", 4),
        ("  back: Go at once\n", "", 1),
        ("back: Go at once", "back:", 3),
        ("back: Go at once", "back: [Go]", 3),
        ("back: Go", "backwards: Go", 3),
        ("- {english: Ring us", "- Ring us\n- {english: Ring us", 6),
    ],
)
def test_a_row_that_is_not_sound_is_told_and_speaks_for_nothing(old: str, new: str, line: int) -> None:
    rows, problems = read_back_translations(ROWS.replace(old, new, 1), "back.yaml")
    assert {(p.name, p.span.line, p.severity) for p in problems} >= {("back-translation-unsound", line, "error")}
    assert "Ring us" in [row.english for row in rows]
    assert ("Go now" in [row.english for row in rows]) == (line == 6)


def test_a_file_that_is_no_list_is_told() -> None:
    assert ("back-translation-unsound", "back.yaml", 1) in names("rows: 3\n")


def test_new_words_have_not_been_translated_back() -> None:
    changed = {**ENTRIES, (None, "Go now"): Entry("Go now", ("No vaya ya",), Span("es.po", 7))}
    assert names(ROWS, changed) == [("back-translation-stale", "back.yaml", 1)]


def test_blanks_that_nobody_sees_do_not_make_new_words() -> None:
    # A no-break space (U+00A0) and a zero width space (U+200B), which YAML's readers refuse.
    same = {**ENTRIES, (None, "Go now"): Entry("Go now", ("Vaya\u00a0ya\u200b",), Span("es.po", 7))}
    assert names(ROWS, same) == []


def test_a_line_without_words_is_not_asked_for() -> None:
    assert names(ROWS, {(None, "Ring us"): ENTRIES[None, "Ring us"]}) == []


def test_a_row_for_a_line_that_is_gone_is_told() -> None:
    extra = ROWS + "- {english: Run, translation: Corra, back: Run, verdict: same, by: clinician}\n"
    assert names(extra) == [("back-translation-unused", "back.yaml", 7)]


def test_the_last_word_on_a_line_counts() -> None:
    against = ROWS.replace("verdict: same", "verdict: differs")
    assert names(against) == [("back-translation-differs", "back.yaml", 1)]
    again = against + "- {english: Go now, translation: Vaya ya, back: Go now, verdict: same, by: clinician}\n"
    assert names(again) == []


def test_signed_words_need_a_clinician_s_judgement() -> None:
    ledger = NOBODY
    for entry in ENTRIES.values():
        ledger = sign(ledger, "es", entry, SIGNATURE)
    assert names(ROWS, ledger=ledger) == [("back-translation-not-judged", "back.yaml", 1)]
    judged = ROWS.replace("unqualified reader, blind", "the attending veterinarian")
    assert names(judged, ledger=ledger) == []
