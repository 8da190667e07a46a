"""What two programs that are not ours copy out of a printed document is, word for word, what was written in it."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from functools import cache

import pytest

from generator.compose import owner_sheet
from generator.page.document import Document
from generator.page.xhtml import read
from generator.press import Pdf, press
from generator.words.catalogue import load_words
from tests.compose.plans import ROOT, templates
from tests.compose.reading import ENGLISH
from tests.press.kinds import PRINTED, document, plan, pressed
from tests.press.paper_words import READERS, flow_only, furniture, furniture_only, words, written
from tests.press.stand_in import signed_words
from tests.press.text.lines import CJK, LINES, PHONE, RTL

RIGHT_TO_LEFT = ("owner-sheet-ar-untranslated", "arabic-words")
FORWARD = [printed for printed in PRINTED if not printed.startswith(RIGHT_TO_LEFT)]


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("printed", FORWARD)
def test_every_word_and_figure_is_read_in_its_order(printed: str, reader: str) -> None:
    wanted = written(document(printed), pressed(printed).page_of)
    assert len(wanted) > 120
    found = words(READERS[reader](flow_only(pressed(printed).data)))
    if printed.startswith("binder"):  # a column that runs over a page is painted before and after the column beside it,
        # and pdfium ends a line before some signs of a table that stand close to their word.
        found, wanted = (sorted(re.sub(r" (?=[),;.])", "", " ".join(each)).split()) for each in (found, wanted))
    assert found == wanted


@pytest.mark.parametrize("printed", FORWARD)
def test_nothing_else_is_painted_but_heads_and_feet(printed: str) -> None:
    found = set(words(READERS["pdfium"](furniture_only(pressed(printed).data))))
    assert found
    assert {word for word in found - furniture(document(printed)) if not word.strip(",").isdigit()} == set()


@pytest.mark.parametrize("kind", ["owner-sheet", "owner-sheet-es-draft", "owner-sheet-ar-untranslated"])
@pytest.mark.parametrize("reader", READERS)
def test_telephones_and_dates_are_whole_on_an_owners_sheet(kind: str, reader: str) -> None:
    read_out = " ".join(words(READERS[reader](pressed(f"{kind}.a4").data)))
    main = next(node for node in read(document(f"{kind}.a4").xhtml).walk() if node.tag == "main")
    numbers = {" ".join(words(a.plain())) for a in main.walk() if a.tag == "a" and a.get("href").startswith("tel:")}
    assert len(numbers) >= 2
    assert [number for number in numbers if number not in read_out] == []
    if kind == "owner-sheet-ar-untranslated":
        return  # where a date stands among words of two directions, each program puts its parts in an order of its own
    moments = [" ".join(words(node.plain())) for node in main.walk() if node.tag == "time"]
    assert len(moments) >= 8
    assert [moment for moment in moments if moment not in read_out] == []


def test_arabic_is_read_by_pdfium_in_its_order() -> None:
    printed = "arabic-words.a4"
    assert words(READERS["pdfium"](flow_only(pressed(printed).data))) == written(document(printed), {})


def _cores(found: list[str]) -> Counter[str]:
    """Words and numbers without the signs beside them, whatever their order: in lines of two directions it is the program's.

    A number and the word after it (10:30 \u0635) are two, whether the program keeps the no-break space between them or not.
    """
    return Counter(re.findall(r"\d+|[^\W\d]+", " ".join(found)))


@pytest.mark.parametrize("printed", [f"{kind}.a4" for kind in RIGHT_TO_LEFT])
def test_no_word_is_lost_or_doubled_on_right_to_left_paper(printed: str) -> None:
    found = words(READERS["pdfium"](flow_only(pressed(printed).data)))
    assert _cores(found) == _cores(written(document(printed), pressed(printed).page_of))


# ---- all languages, on the real sheet ---------------------------------------------------------------------------

# Lines of the padded bandage's sheet, the way its protocol and the book's signs have them.
PLACES = ("what_it_does", "every_day", "never", "sign")


def _translated(language: str) -> Document:
    """The owner's sheet of maple in a language that has the one line of `lines.py` for four of its messages."""
    owner = plan("maple").bandage.parts[0].owner
    assert owner is not None
    messages = (owner.what_it_does, owner.every_day[0], owner.never[0], plan("maple").signs[0].owner)
    entries = "".join(f'msgid "{text}"\nmsgstr "{LINES[language]}"\n\n' for text in messages)
    head = f'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=UTF-8\\n"\n"Language: {language}\\n"\n\n'
    made = owner_sheet(plan("maple"), load_words(language, head + entries), ENGLISH, templates())
    return replace(made, max_pages=None)


@cache
def _sheet(language: str) -> tuple[Document, Pdf]:
    made = _translated(language)
    return made, press(made)


SPACED = [language for language in LINES if language not in (*CJK, *RTL, "th")]


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("language", [language for language in SPACED if language != "en"])
def test_a_sheet_in_every_language_with_spaces_is_read_word_for_word(language: str, reader: str) -> None:
    made, pdf = _sheet(language)
    wanted = written(made, pdf.page_of)
    assert " ".join(wanted).count(PHONE) == len(PLACES)
    assert words(READERS[reader](flow_only(pdf.data))) == wanted


@pytest.mark.parametrize("language", ["th", *CJK])
def test_a_sheet_in_a_language_without_spaces_is_read_letter_for_letter(language: str) -> None:
    if language in CJK:
        pytest.importorskip("justmytype_intl_cjk")
        pytest.importorskip("uniseg")
    made, pdf = _sheet(language)
    wanted = "".join(written(made, pdf.page_of))
    assert wanted.count("".join(words(LINES[language]))) == len(PLACES)
    assert "".join(words(READERS["pdfium"](flow_only(pdf.data)))) == wanted


@pytest.mark.parametrize("language", RTL)
def test_a_sheet_in_a_right_to_left_language_loses_and_doubles_no_word(language: str) -> None:
    made, pdf = _sheet(language)
    wanted = _cores(written(made, pdf.page_of))
    assert wanted["0142"] >= len(PLACES)
    assert _cores(words(READERS["pdfium"](flow_only(pdf.data)))) == wanted


SHIPPED = sorted(path.parent.name.replace("_", "-") for path in (ROOT / "locales").glob("*/owner.po"))


@pytest.mark.parametrize("signed", [True, False], ids=["signed", "draft"])
@pytest.mark.parametrize("language", SHIPPED)
def test_the_shipped_words_are_read_from_paper_as_they_were_written(language: str, signed: bool) -> None:
    if language in CJK:
        pytest.importorskip("justmytype_intl_cjk")
        pytest.importorskip("uniseg")
    own = signed_words(language, signed)
    assert own is not None
    made = replace(owner_sheet(plan("rowan"), own, ENGLISH, templates()), max_pages=None)
    pdf = press(made)
    wanted, found = written(made, pdf.page_of), words(READERS["pdfium"](flow_only(pdf.data)))
    assert len(wanted) > 100
    if language in RTL:
        assert _cores(found) == _cores(wanted)
    elif language in CJK:
        assert "".join(found) == "".join(wanted)
    else:
        assert found == wanted


# ---- the comparison fails where it should ------------------------------------------------------------------------


@pytest.mark.parametrize("reader", READERS)
def test_one_figure_more_or_less_on_paper_is_seen(reader: str) -> None:
    printed = "owner-sheet.a4"
    wrong = replace(
        document(printed), xhtml=document(printed).xhtml.replace("555\u2060-\u20600142", "555\u2060-\u2060142")
    )
    assert wrong.xhtml != document(printed).xhtml
    assert words(READERS[reader](flow_only(press(wrong).data))) != written(document(printed), pressed(printed).page_of)
