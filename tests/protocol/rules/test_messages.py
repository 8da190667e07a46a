"""The full message of each problem, as the head technician reads it, accepted by hand in `messages.txt`."""

from __future__ import annotations

import re
from pathlib import Path

from generator.source.problem import as_text
from generator.source.span import Span
from generator.source.text import read_tree
from tests.protocol.rules import (
    test_anatomy_and_slings,
    test_clinic,
    test_harm,
    test_layers_and_materials,
    test_limits,
    test_papers,
    test_steps,
)
from tests.protocol.rules.slips import edited, sound, told

MODULES = (
    test_anatomy_and_slings,
    test_layers_and_materials,
    test_limits,
    test_steps,
    test_papers,
    test_clinic,
    test_harm,
)


def written() -> str:
    """The message of the first slip of each name, in the order of the tables."""
    seen: dict[str, str] = {}
    for slip in (slip for module in MODULES for slip in module.SLIPS):
        if slip.name not in seen:
            texts = sound() | {slip.file: edited(slip.file, (slip.old, slip.new))}
            lines = {name: text.splitlines() for name, text in texts.items()}

            def line_of(span: Span, lines: dict[str, list[str]] = lines) -> str | None:
                return lines[span.file][span.line - 1]

            seen[slip.name] = as_text(told({slip.file: texts[slip.file]})[0], line_of)
    return "\n\n".join(seen.values()) + "\n"


def test_messages_read_as_accepted() -> None:
    accepted = (Path(__file__).parent / "messages.txt").read_text(encoding="utf-8")
    assert written().split("\n\n") == accepted.split("\n\n")


def test_what_a_fix_asks_to_be_typed_can_be_read() -> None:
    rows = re.findall(r"`(- \{.*?\})`(?=[ ;\n,]|$)", written(), re.MULTILINE)
    assert len(rows) > 8
    for row in rows:
        reading = read_tree(row.encode(), "fix")
        assert reading.problems == (), row
        assert reading.tree is not None
