"""The JSON Schema agrees with the vocabulary: an independent validator passes the shipped files and stops broken ones."""

from __future__ import annotations

from typing import Any

import jsonschema
import pytest
import yaml

from generator.protocol.schema import FILES, schema_of
from tests.conftest import ROOT

BOOK = ROOT / "protocols"
SETTINGS = ("clinic", "stock", "signs", "modifiers", "pictures")
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
