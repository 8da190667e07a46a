"""Every catalogue that is shipped: whole, steady, and honest about who has read it."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path

import pytest

from generator.source.problem import as_text
from generator.source.text import read_tree
from generator.words import extract, po
from generator.words.catalogue import load_words
from generator.words.check import check_catalogue
from generator.words.glossary import Glossary, read_glossary
from generator.words.signoff import read_ledger

ROOT = Path(__file__).parents[2]
# A folder is named like a locale (pt_BR), a language by its tag (pt-BR).
LANGUAGES = sorted(path.parent.name.replace("_", "-") for path in (ROOT / "locales").glob("*/owner.po"))


@cache
def messages() -> tuple[extract.Message, ...]:
    trees = {}
    for path in sorted((ROOT / "protocols").glob("*.yaml")):
        tree = read_tree(path.read_bytes(), f"protocols/{path.name}").tree
        assert tree is not None, path
        trees[f"protocols/{path.name}"] = tree
    phrases = ROOT / "generator" / "compose" / "phrases.py"
    templates = sorted((ROOT / "templates").glob("*.j2"))
    return extract.merged(
        [
            *extract.from_phrases(phrases.read_text(encoding="utf-8"), "generator/compose/phrases.py"),
            *(
                m
                for t in templates
                for m in extract.from_template(t.read_text(encoding="utf-8"), f"templates/{t.name}")
            ),
            *extract.from_book(trees),
        ]
    )


def folder(language: str) -> Path:
    return ROOT / "locales" / language.replace("-", "_")


def read(language: str) -> po.Catalogue:
    name = f"locales/{folder(language).name}/owner.po"
    return po.read((ROOT / name).read_text(encoding="utf-8"), name)


def glossary(language: str) -> Glossary:
    file = folder(language) / "glossary.yaml"
    found, problems = read_glossary(file.read_text(encoding="utf-8"), file.name, language)
    assert problems == ()
    return found


def test_spanish_is_shipped() -> None:
    assert "es" in LANGUAGES


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_catalogue_passes_every_machine_check(language: str) -> None:
    found = check_catalogue(read(language), language, messages(), glossary=glossary(language))
    told = "\n".join(as_text(problem, lambda _: None) for problem in found)
    assert [problem for problem in found if problem.severity == "error"] == [], told
    if language == "es":
        assert found == (), told


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_catalogue_holds_exactly_what_is_said(language: str) -> None:
    held, said = {entry.key for entry in read(language).entries}, {message.key for message in messages()}
    assert held == said, "run `gauzeleaf words merge`"


@pytest.mark.parametrize("language", LANGUAGES)
def test_nobody_is_said_to_have_read_a_catalogue_that_nobody_has(language: str) -> None:
    text = (folder(language) / "signed.json").read_text(encoding="utf-8")
    assert json.loads(text) == {}
    ledger, problems = read_ledger(text, "signed.json")
    assert problems == ()
    words = load_words(language, (folder(language) / "owner.po").read_text(encoding="utf-8"), ledger)
    for message in messages():
        said = words.say(message.source, message.context)
        assert said.is_draft or said.is_missing, message.source


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_catalogue_names_no_translator_and_no_date(language: str) -> None:
    text = (folder(language) / "owner.po").read_text(encoding="utf-8")
    assert not re.search("Last-Translator|Language-Team|Revision-Date|Creation-Date", text)


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_catalogue_is_written_the_way_our_writer_writes(language: str) -> None:
    text = (folder(language) / "owner.po").read_text(encoding="utf-8")
    assert po.write(po.read(text, "x")) == text


def test_spanish_locks_its_terms_and_speaks_in_one_form_of_address() -> None:
    catalogue = read("es")
    assert {"bandage", "toes", "wet", "at once", "leg"} <= set(glossary("es").terms)
    familiar = re.compile(r"\b(tú|tu|tus|te|ti|contigo|vos|vosotros)\b", re.IGNORECASE)
    for entry in catalogue.entries:
        assert not familiar.search(entry.translations[0]), entry.source


def test_the_same_sentence_is_printed_on_lines_that_can_be_checked() -> None:
    # A question needs both of its marks, and a Spanish sentence ends as its English does, unless it ends in a time:
    # "a. m." and "p. m." bring their own stop.
    for entry in read("es").entries:
        text = entry.translations[0]
        assert text.count("¿") == text.count("?"), text
        if entry.source.endswith(".") and not re.search(r"\{(?:times?|moment)\}\.?$", entry.source):
            assert text.endswith("."), text
        assert not re.search(r"\{(?:times?|moment)\}\.$", text), text
