"""Names of languages, as readers call them."""

from __future__ import annotations

import pytest

from generator.words.languages import language_name, own_name, scripts
from generator.words.local import Local


@pytest.mark.parametrize(
    ("tag", "reader", "name"),
    # Unicode CLDR 47, language names; Haitian Creole from memory.
    [
        ("en", "es", "inglés"), ("es", "en", "Spanish"), ("en", "vi", "Tiếng Anh"), ("en", "ar", "الإنجليزية"), ("pt-BR", "en", "Brazilian Portuguese"),
        ("en", "ht", "angle"), ("es", "ht", "panyòl"), ("zh-Hant", "en", "Traditional Chinese"), ("en", "en", "English"),
    ],
)  # fmt: skip
def test_a_language_is_called_what_its_reader_calls_it(tag: str, reader: str, name: str) -> None:
    assert language_name(tag, Local(reader, "US")) == name


def test_haitian_creole_calls_no_language_by_its_french_name() -> None:
    for tag in ("en", "es", "ht", "vi", "ar", "fr", "de", "so", "pt-BR"):
        assert language_name(tag, Local("ht", "US")) != language_name(tag, Local("fr", "US"))


@pytest.mark.parametrize(
    ("tag", "name"),
    [("es", "Español"), ("vi", "Tiếng Việt"), ("ar", "العربية"), ("ht", "Kreyòl ayisyen"), ("en", "English")],
)
def test_a_language_names_itself(tag: str, name: str) -> None:
    assert own_name(tag) == name


def test_a_language_is_written_in_its_script() -> None:
    assert scripts("pt-BR") == ("LATIN",)
    assert scripts("uk") == ("CYRILLIC",)
    assert scripts("zh-Hant") == ("CJK",)
