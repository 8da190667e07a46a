"""The JSON Schema agrees with the vocabulary: an independent validator passes the shipped files and stops broken ones."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from generator.protocol.schema import FILES, schema_files, schema_of
from generator.protocol.shapes import ListOf, MapOf, OneOrMore, Record
from tests.conftest import ROOT
from tests.protocol.samples import READERS

BOOK = ROOT / "protocols"
SETTINGS = ("clinic", "stock", "signs", "modifiers", "pictures", "training")
CASES = [(name, BOOK / f"{name}.yaml") for name in SETTINGS]
CASES += [("protocol", path) for path in sorted(BOOK.glob("*.yaml")) if path.stem not in SETTINGS]
CASES += [("patient", path) for path in sorted((BOOK / "patients").glob("*.yaml"))]


def load(path: Any) -> Any:
    # Every scalar as the text that was typed: what a value is, the key decides.
    return yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)


@pytest.mark.parametrize("file", sorted(FILES))
def test_each_schema_is_a_schema(file: str) -> None:
    jsonschema.Draft202012Validator.check_schema(schema_of(file))


@pytest.mark.parametrize(("file", "path"), CASES, ids=lambda value: getattr(value, "stem", value))
def test_shipped_files_are_valid(file: str, path: Any) -> None:
    jsonschema.Draft202012Validator(schema_of(file)).validate(load(path))


@pytest.mark.parametrize(("file", "path"), CASES, ids=lambda value: getattr(value, "stem", value))
def test_a_key_that_nobody_knows_is_stopped(file: str, path: Any) -> None:
    data = load(path)
    target = data if file not in ("signs", "modifiers") else next(iter(data.values()))
    target["of no meaning"] = "x"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(schema_of(file)).validate(data)


@pytest.mark.parametrize(("file", "path"), CASES, ids=lambda value: getattr(value, "stem", value))
def test_whatever_is_still_to_be_decided_is_marked_in_an_editor(file: str, path: Any) -> None:
    sound = load(path)
    validator = jsonschema.Draft202012Validator(schema_of(file))
    accepted = [key for key in sound if validator.is_valid({**sound, key: "to decide"})]
    assert accepted == []


# ---- as an editor finds and reads them --------------------------------------------------------------------------------

_LEADS = re.compile(r"# yaml-language-server: \$schema=(\S+)\n")


def typed(data: Any) -> Any:
    """Texts as the core schema of YAML 1.2.2, section 10.3.2, resolves plain ones: what most editors check. From memory, in part."""
    if isinstance(data, dict):
        return {key: typed(value) for key, value in data.items()}
    if isinstance(data, list):
        return [typed(value) for value in data]
    if re.fullmatch(r"true|True|TRUE|false|False|FALSE", data):
        return data.lower() == "true"
    if re.fullmatch(r"[-+]?[0-9]+", data):
        return int(data)
    return float(data) if re.fullmatch(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", data) else data


def led_to(path: Path) -> Path:
    """The schema that the first line of a file leads to."""
    found = _LEADS.match(path.read_text(encoding="utf-8"))
    assert found, f"the first line of {path.name} leads to no schema"
    return (path.parent / found[1]).resolve()


def test_the_shipped_schemas_are_what_the_vocabulary_says() -> None:
    # When this fails: python -m generator schema --into protocols/schema
    assert {path.name: path.read_bytes() for path in (BOOK / "schema").iterdir()} == schema_files()


@pytest.mark.parametrize(("file", "path"), CASES, ids=lambda value: getattr(value, "stem", value))
def test_the_first_line_of_a_shipped_file_leads_to_its_schema(file: str, path: Path) -> None:
    assert led_to(path) == BOOK / "schema" / f"{file}.schema.json"
    validator = jsonschema.Draft202012Validator(json.loads(led_to(path).read_text(encoding="utf-8")))
    data = load(path)
    validator.validate(data)
    validator.validate(typed(data))
    # A slip that an editor is to mark: the last key of the file, misspelt.
    name = list(data)[-1]
    if file not in ("signs", "modifiers"):
        assert not validator.is_valid({(f"{key}x" if key == name else key): value for key, value in data.items()})
    else:
        assert not validator.is_valid({**data, name: {**data[name], "urgencyx": "now"}})


def records(shape: Any) -> Iterator[Record]:
    if isinstance(shape, Record):
        yield shape
        for key in shape.keys:
            yield from records(key.shape)
    elif isinstance(shape, (ListOf, OneOrMore, MapOf)):
        yield from records(shape.shape)


@pytest.mark.parametrize("kind", sorted(READERS))
def test_what_the_vocabulary_says_of_a_key_is_shown_by_an_editor(kind: str) -> None:
    text = json.dumps(schema_of(kind if kind in FILES else "protocol"), ensure_ascii=False)
    said = {key.say for record in records(READERS[kind].table) for key in record.keys if key.say}
    assert said or kind in ("pictures", "modifiers", "signs")
    assert [words for words in said if f'"description": {json.dumps(words, ensure_ascii=False)}' not in text] == []
