"""An unsigned translation: marked on every page and beside every line, never alone where it counts."""

from __future__ import annotations

from datetime import date

from generator.compose import owner_sheet
from generator.page.document import Document
from generator.words import po, signoff
from generator.words.catalogue import load_words
from tests.compose.plans import ROOT, maple, templates
from tests.compose.reading import ENGLISH, body, main, said, spanish, with_class


def draft() -> Document:
    return owner_sheet(maple(), spanish(), ENGLISH, templates())


def test_band_stands_on_every_page_in_both_languages():
    band = with_class(body(draft().xhtml), "band")[0]
    texts = [said(node) for node in band.elements("p")]
    assert len(texts) == 2
    assert texts[1].startswith("Draft, not checked by a qualified person. The English text counts.")
    assert texts[0] != texts[1]


def test_title_says_draft():
    assert draft().title.startswith("DRAFT: ")
    assert not owner_sheet(maple(), ENGLISH, ENGLISH, templates()).title.startswith("DRAFT")


def test_every_marked_line_has_the_clinics_words_beside_it():
    nodes = list(main(draft().xhtml).walk())
    for parent in nodes:
        children = parent.elements()
        for index, child in enumerate(children):
            if "draft" not in child.classes or child.tag not in ("p", "li"):
                continue
            # Beneath it, beside it, or, of a short line, after it.
            inside = with_class(child, "gloss") or [
                n for n in child.walk() if n.tag == "span" and n.get("lang") == "en"
            ]
            after = children[index + 1] if index + 1 < len(children) else None
            before = children[index - 1] if index else None
            beside = [
                node
                for node in (after, before)
                if node is not None and ("gloss" in node.classes or node.get("lang") == "en")
            ]
            assert inside or beside or parent.tag in ("div", "li"), said(child)


def test_where_a_mistake_costs_a_leg_the_clinics_words_come_first():
    box = next(node for node in main(draft().xhtml).walk() if "alarm" in node.classes and node.tag == "section")
    assert said(box).index("Go now, day or night") < said(box).index("Vaya ahora")
    items = [node for node in box.walk() if node.tag == "li"]
    assert all(item.elements("p")[0].get("lang") == "en" for item in items)
    assert any(node.get("href") == "tel:+18025550178" for node in box.walk())
    assert any(node.tag == "figure" for node in box.walk())


def test_spanish_owner_reads_spanish_dates():
    # CLDR 47, es: "sábado, 20 de marzo de 2027".
    assert "sábado, 20 de marzo de 2027" in said(main(draft().xhtml))


def test_moments_are_the_same_in_both_languages():
    def moments(document: Document) -> set[str]:
        return {node.get("datetime") for node in main(document.xhtml).walk() if node.tag == "time"}

    assert moments(draft()) == moments(owner_sheet(maple(), ENGLISH, ENGLISH, templates()))


def test_a_language_without_words_falls_back_whole_and_says_so():
    document = owner_sheet(maple(), load_words("vi"), ENGLISH, templates())
    assert document.title.startswith("DRAFT: ")
    lines = [node for node in main(document.xhtml).walk() if node.tag == "li"]
    # Beside a picture each line is a paragraph of its own.
    spoken = [part for node in lines for part in (node.elements("p") or [node])]
    assert len(spoken) > 10
    assert all(node.get("lang") == "en" for node in spoken)


def test_a_sheet_signed_in_part_says_the_clinics_date_in_the_clinics_words():
    # A line of the book was changed after two people had signed: it is missing, all else is signed.
    file = ROOT / "locales" / "es" / "owner.po"
    text = file.read_text(encoding="utf-8")
    ledger = signoff.NOBODY
    for entry in po.read(text, file.name).entries:
        ledger = signoff.sign(ledger, "es", entry, signoff.Signature("One", "Two", "none: a test", date(2027, 1, 2)))
    words = load_words("es", text.replace('msgid "Walk on', 'msgid "Now walk on'), ledger, file.name)
    document = owner_sheet(maple(), words, ENGLISH, templates())
    beside = next(
        node
        for node in main(document.xhtml).walk()
        if node.tag == "p" and "deadline-gloss" in [n.id for n in node.walk()]
    )
    assert beside.get("lang") == "en"
    assert said(beside) == "We must change this bandage by Saturday, March 20, 2027."
