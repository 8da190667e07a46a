"""Every key of pictures.yaml: which picture stands beside which of the owner's lines.

Takes  its located tree.
Gives  `PICTURES`, which reads it into a map from the line to its picture.
Knows  the closed list of pictures. One file for the whole book, so that the same words always have the same picture.
"""

from __future__ import annotations

from typing import Any

from generator.protocol import kinds
from generator.protocol import model as m
from generator.protocol.quantity import Unreadable
from generator.protocol.shapes import UNSOUND, MapOf, OneOrMore, nearest, read_under
from generator.protocol.vocabulary import OWNER_LINE
from generator.source.problem import Problem
from generator.source.tree import Entries, Items, Node


def _picture(text: str) -> str:
    if text in kinds.PICTURES:
        return text
    near = nearest(text, list(kinds.PICTURES))
    raise Unreadable(
        "unknown-picture",
        f"`{text}` is no picture that can be drawn",
        "the line would stand without the picture that makes it understood",
        f"write {f'`{near}`; all of them' if near else 'one of these'}: {', '.join(kinds.PICTURES)}",
    )


class _Pictures:
    """A picture and the line or lines beside it, as many times as there are pictures."""

    example = "cone: Keep the cone on, also at night."
    _lines = OneOrMore(OWNER_LINE)

    def read(self, node: Node, problems: list[Problem]) -> Any:
        """What can be read of it: one wrong picture does not hide what is wrong with the next."""
        if not isinstance(node, Entries):
            return MapOf(_picture, self._lines, "a line for each picture").read(node, problems)
        found: dict[str, m.Pictured] = {}
        for word, value in node.entries:
            try:
                picture = _picture(word.text)
            except Unreadable as e:
                problems.append(Problem(e.name, word.span, e.what, e.why, e.fix))
                continue
            lines = read_under(word.text, self._lines, value, problems)
            if lines is UNSOUND:
                continue
            places = value.items if isinstance(value, Items) else (value,)
            for line, place in zip(lines, places, strict=True):
                before = found.setdefault(str(line), m.Pictured(picture, place.span))
                if before.span != place.span:
                    problems.append(
                        Problem(
                            "two-pictures",
                            place.span,
                            f"“{line}” already has the picture `{before.picture}`",
                            "the same words with two pictures mean two things to an owner",
                            "delete the line under one of the two",
                            also=((before.span, "it is given here"),),
                        )
                    )
        return found

    def schema(self) -> dict[str, Any]:
        line = self._lines.schema()
        return {"type": "object", "properties": dict.fromkeys(kinds.PICTURES, line), "additionalProperties": False}


PICTURES = _Pictures()
