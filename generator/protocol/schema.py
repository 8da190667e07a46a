"""The JSON Schema of the book's files, made from the vocabulary that reads them.

Takes  the name of a file of the book.
Gives  a JSON Schema (draft 2020-12) for editors.
Knows  nothing that the vocabulary does not say: a key added there is in the schema at once.
"""

from __future__ import annotations

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
    "patient": animal.RECORD.schema,
}


def schema_of(file: str) -> dict[str, Any]:
    """Give the schema of one file of the book: `protocol`, `clinic`, `stock`, `signs`, `modifiers`, `pictures` or `patient`."""
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": f"gauzeleaf {file}", **FILES[file]()}
