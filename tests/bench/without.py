"""Take one feature out of the press while a block of code runs, to see what it costs. Never a switch of the product.

Takes  nothing.
Gives  `no_tags` and `no_shaping`.
Knows  by name the parts of the press that do the work; a part that was renamed stops the benchmark, it does not fool it.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, nullcontext
from typing import Any
from unittest.mock import patch


@contextmanager
def no_tags() -> Iterator[None]:
    """No marked content, no audit of it, no structure tree, no XMP. The elements themselves are still made while blocks are laid."""
    from generator.press import tree
    from generator.press.canvas import TagCanvas

    nothing = nullcontext()
    with ExitStack() as stack:
        stack.enter_context(patch.object(TagCanvas, "scope", lambda self, mark: nothing))
        stack.enter_context(patch.object(TagCanvas, "_audit", lambda self: None))
        stack.enter_context(patch.object(tree, "write", lambda canvas: None))
        stack.enter_context(patch.object(TagCanvas, "let_go", lambda self, part, parent: None))
        yield


@contextmanager
def no_shaping() -> Iterator[None]:
    """Each character's own glyph at its own advance: no kerning, no marks placed, no joined letters. For Latin text."""
    from generator.press.text.face import Face, Glyph

    advances: dict[tuple[Face, str], tuple[int, float]] = {}

    def nominal(self: Face, before: str, text: str, after: str, rtl: bool, script: str, language: str) -> Any:
        glyphs = []
        for place, letter in enumerate(text):
            found = advances.get((self, letter))
            if found is None:
                number = self.font.get_nominal_glyph(ord(letter)) or 0
                found = advances[self, letter] = number, self.width(number)
            glyphs.append(Glyph(found[0], place, found[1], 0.0, 0.0))
        return tuple(glyphs)

    with patch.object(Face, "_shape", nominal):
        yield
