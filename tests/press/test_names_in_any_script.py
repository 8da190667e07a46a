"""Pets and owners named in other scripts than the sheet's: printed whole, kept apart from the words around them, no letter lost.

A covering set: every shipped language, every script as a pet's and as an owner's name, right-to-left names on sheets of both ways.
"""

from __future__ import annotations

import unicodedata
from dataclasses import replace

import pytest

from generator.compose import owner_sheet
from generator.flow import unprintable
from generator.page.document import Document
from generator.page.xhtml import read
from generator.press import press
from generator.press.text import MissingGlyph, fonts, runs
from generator.source.span import Span
from tests.compose.plans import ROOT, templates
from tests.compose.reading import DEMO, ENGLISH, reckoned
from tests.press.paper_words import READERS
from tests.press.stand_in import signed_words

LANGUAGES = ["en", *sorted(path.parent.name.replace("_", "-") for path in (ROOT / "locales").glob("*/owner.po"))]
# Invented: the pet and the owner. Each with letters that its script alone has, marks and joining letters among them.
NAMES = {
    "Cyrillic": ("Жучка", "Озёрная Ладья"), "Arabic": ("لوز", "نورة الوادي"), "Devanagari": ("मोती", "तारा नदीवाला"),
    "Hebrew": ("שוקו", "נעמה גלים"), "Greek": ("Ζουζούνα", "Ηλιάνα Θαλασσινού"), "Vietnamese": ("Mực Nhỏ", "Lê Thị Suối"),
    "Chinese": ("豆豆", "林小边"), "Japanese": ("ポチ", "川辺みどり"), "Korean": ("바둑이", "한여울"),
}  # fmt: skip
SCRIPTS = tuple(NAMES)
EAST_ASIAN = {"Chinese", "Japanese", "Korean"}


def case(number: int) -> tuple[str, str]:
    """The scripts of the pet and of the owner on the sheet of one language."""
    return SCRIPTS[number % len(SCRIPTS)], SCRIPTS[(4 * number + 1) % len(SCRIPTS)]


def sheet(language: str, pet: str, owner: str, signed: bool = True) -> Document:
    words = ENGLISH if language == "en" else signed_words(language, signed)
    assert words is not None
    plan = reckoned("maple", *DEMO["maple"])
    named = replace(plan.patient, name=pet, owner_name=owner)
    return owner_sheet(replace(plan, patient=named), words, ENGLISH, templates())


def test_the_set_covers_every_language_and_every_script_in_both_places() -> None:
    cases = [case(number) for number in range(len(LANGUAGES))]
    assert {pet for pet, _ in cases} == {owner for _, owner in cases} == set(SCRIPTS)
    # Two scripts on each sheet, neither of which may turn the other round.
    assert all(pet != owner for pet, owner in cases)


@pytest.mark.parametrize(("number", "language"), list(enumerate(LANGUAGES)))
def test_a_name_is_printed_whole_and_kept_apart(number: int, language: str) -> None:
    scripts = case(number)
    if {*scripts} & EAST_ASIAN or language.split("-")[0] in ("zh", "ko", "ja"):
        pytest.importorskip("justmytype_intl_cjk")
        pytest.importorskip("uniseg")
    pet, owner = NAMES[scripts[0]][0], NAMES[scripts[1]][1]
    document = sheet(language, pet, owner, signed=number % 2 == 0)
    text = read(document.xhtml).elements("body")[0].plain()
    for name in (pet, owner):
        # Unicode Standard Annex 9, 2.4: first strong isolate U+2068, pop directional isolate U+2069; round every one of them.
        assert text.count(name) == text.count(f"\u2068{name}\u2069") > 0
    data = press(document).data
    read_by = {reader: unicodedata.normalize("NFC", take(data)) for reader, take in READERS.items()}
    for name in (pet, owner):
        # Which of two programs puts a name of two words back together hangs on its direction and the page's: one of them does.
        assert any(name in text for text in read_by.values()), name
        for text in read_by.values():
            assert all(word in text for word in name.split()), name


def test_without_the_extra_the_refusal_names_each_letter_and_the_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    # As on a machine without it, whether or not it is here.
    made = (fonts.family, fonts.faces, runs.prepare)
    monkeypatch.setattr(fonts, "_cjk_folder", lambda: None)
    for cached in made:
        cached.cache_clear()
    try:
        for script in sorted(EAST_ASIAN):
            pet, _ = NAMES[script]
            with pytest.raises(MissingGlyph) as stopped:
                press(sheet("en", pet, "T. Arkady"))
            assert stopped.value.extra == "gauzeleaf[cjk]"
            letters = [letter for letter, _ in stopped.value.missing]
            assert set(letters) == set(pet)
            problem = unprintable(letters, "en", Span("protocols/patients/one.yaml", 2, 9))
            assert "pip install 'gauzeleaf[cjk]'" in problem.fix
            assert all(f"U+{ord(letter):04X}" in problem.what for letter in pet)
    finally:
        for cached in made:
            cached.cache_clear()
