"""The JSON Schema of the book's files, made from the vocabulary that reads them.

Takes  the name of a file of the book.
Gives  `schema_of`: a JSON Schema (draft 2020-12) for editors; `schema_files`: all of them as they lie in a book's folder; `modeline`:
       the first line of a file, by which an editor finds its schema.
Knows  nothing that the vocabulary does not say: a key added there is in the schema at once.
"""

from __future__ import annotations

import json
from typing import Any

from generator.protocol import animal, pictures, settings, vocabulary

# `to decide` may stand in any file in place of any value, and no schema here allows it: so an editor that checks by the schema
# marks exactly what is still open, as `gauzeleaf check` does.
FILES = {
    "protocol": lambda: {
        "oneOf": [vocabulary.PROTOCOL.schema(), vocabulary.STAGED.schema(), vocabulary.BLEND.schema()]
    },
    "clinic": settings.CLINIC.schema,
    "stock": settings.STOCK.schema,
    "signs": settings.SIGNS.schema,
    "modifiers": settings.MODIFIERS.schema,
    "pictures": pictures.PICTURES.schema,
    "training": settings.TRAINING.schema,
    "patient": animal.RECORD.schema,
}


def schema_of(file: str) -> dict[str, Any]:
    """Give the schema of one file of the book: `protocol`, `clinic`, `stock`, `signs`, `modifiers`, `pictures`, `training` or `patient`."""
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": f"gauzeleaf {file}", **FILES[file]()}


# Beside the files of a book; patients lie in a folder of their own within it.
FOLDER = "schema"
MODELINE = "# yaml-language-server: $schema="


def schema_text(file: str) -> str:
    """The schema of one file, as it is written to disk and to the screen."""
    return json.dumps(schema_of(file), ensure_ascii=False, indent=2) + "\n"


def schema_files() -> dict[str, bytes]:
    """Every schema, by the name of its file in the folder `schema` of a book."""
    return {f"{file}.schema.json": schema_text(file).encode() for file in FILES}


def modeline(file: str) -> str:
    """The comment that leads an editor from a file of the book to its schema, wherever the book lies."""
    return f"{MODELINE}{'../' if file == 'patient' else ''}{FOLDER}/{file}.schema.json"
