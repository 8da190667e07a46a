"""Read back what is printed of every figure, and see that it says what the figure is.

Takes  a composed sheet, or one filled line and the message it came from.
Gives  nothing, or `AlteredFigureError` naming each figure that says something else; `Refusal` for a line whose translation turns
       figures round.
Knows  which figure is which; how they are read: `words/heard.py`. What it cannot see: words that turn a sentence round while its
       figures keep their places.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping

from markupsafe import Markup

from generator.compose.writer import filled
from generator.page.xhtml import Node
from generator.source.problem import Problem, Refusal
from generator.source.span import Span
from generator.words.catalogue import Said
from generator.words.heard import says_number, says_telephone, says_time, says_weekday, western
from generator.words.isolation import bare
from generator.words.local import Local

_FACT = re.compile(r'<(time|data|a)\b[^>]*? (?:datetime|value|href)="([^"]*)"')
_FIELD = re.compile(r"\{([a-z_]+)\}")


class AlteredFigureError(ValueError):
    """Figures whose printed words say something else than the figure. A fault of ours: of a formatter, a template or compose.

    found: for each, the id of its element, the words printed and what they stand for.
    """

    def __init__(self, found: tuple[tuple[str, str, str], ...]) -> None:
        self.found = found
        super().__init__("; ".join(f"{name}: {words!r} stands for {value}" for name, words, value in found))


# ---- a line ---------------------------------------------------------------------------------------------------


def facts(text: str) -> dict[str, list[str]]:
    """What a line states: its moments as ISO, its numbers and its telephone numbers, each kind in the order of the line."""
    found: dict[str, list[str]] = {}
    if "<" in text:
        for tag, value in _FACT.findall(text):
            found.setdefault(tag, []).append(value)
    return found


def in_order(said: Said, text: Markup, fields: Mapping[str, Markup]) -> Markup:
    """The filled line, once its figures stand in the order of the English one, each kind by itself.

    `Mon to Fri` and `8:00 AM to 6:30 PM` turned round are another fact. Every language says from before until, so a line
    that does not is taken for a slip. A number and a time may change places: each still reads as what it is.

    Raises:
        Refusal: `figures-turned-round`, at the line of the catalogue.
    """
    if len(fields) < 2 or said.text == said.source or _FIELD.findall(said.text) == _FIELD.findall(said.source):
        return text
    if facts(text) != facts(filled(said.source, fields)):
        raise Refusal((Problem(
            "figures-turned-round", said.span or Span("owner.po"),
            f"`{said.text}` puts the figures of `{said.source}` in another order",
            "the first time a clinic answers would be read as the last, the first day as the last",
            "word the line so that its fields stand in the order of the English one",
        ),))  # fmt: skip
    return text


def same_facts(text: str, other: str) -> None:
    """See that a line and the same line in the clinic's language state the same.

    Raises:
        AlteredFigureError: they do not: a value came out differently in two languages.
    """
    ours, theirs = facts(text), facts(other)
    if ours != theirs:
        raise AlteredFigureError((("line", bare(Markup(text).striptags()), bare(Markup(other).striptags())),))


# ---- a sheet --------------------------------------------------------------------------------------------------


def echo(document: Node, local_in: Callable[[str], Local], units: str) -> None:
    """Read every figure of a sheet back from its printed words.

    Args:
        document: the `html` node. local_in: the conventions of a language of the sheet. units: the clinic's: `metric`, `us` or `both`.
    Raises:
        AlteredFigureError: with every figure that says something else than its machine value.
    """
    found = tuple(
        (node.id or node.tag, bare(node.plain()), value)
        for node, value, language in _figures(document)
        if not _agrees(node, value, local_in(language), units)
    )
    if found:
        raise AlteredFigureError(found)


def _figures(document: Node) -> Iterator[tuple[Node, str, str]]:
    """Each figure with its machine value and the language of the words about it."""
    waiting = [(document, "")]
    while waiting:
        node, language = waiting.pop()
        language = node.attributes.get("lang", language)
        for tag, name in (("time", "datetime"), ("data", "value"), ("a", "href")):
            if node.tag == tag:
                value = node.get(name)
                if tag != "a" or value.startswith("tel:"):
                    yield node, value, language
                break
        else:
            waiting += [(child, language) for child in reversed(node.children) if isinstance(child, Node)]


def _agrees(node: Node, value: str, local: Local, units: str) -> bool:
    shown = western(bare(node.plain()))
    if node.tag == "time":
        return says_time(shown, value, local)
    if node.tag == "a":
        return says_telephone(shown, value)
    name = (node.id or "").split(".")[0]
    if name == "weekday":
        return says_weekday(shown, value, local)
    return says_number(shown, value, local, units if name == "lead" else None)
