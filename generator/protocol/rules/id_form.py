"""R58: a document number has the form that the clinic gave to all of them.

What it looks for: `id` beside `id_form` in clinic.yaml, where a clinic wrote one.
Why it matters: whoever files or calls in a page finds it by its number.
Stops: `id: LB-SUP-2` where the form is `LB-???-###`.
Write instead: a number of that form that no other protocol bears.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    form = book.clinic.id_form
    if form is None or has_form(protocol.id, form):
        return
    taken = {
        str(other.id).casefold()
        for other in book.protocols.values()
        if other.file != protocol.file and not is_unsound(other.id)
    }
    close = nearest_of(protocol.id, form)
    offer = f"write `{close}`; " if "?" not in close and close.casefold() not in taken else ""
    yield Problem(
        "id-of-another-form",
        protocol.span("id"),
        f"the document number `{protocol.id}` has not the form `{form}`",
        "whoever files a page or calls it in looks for it by its number",
        f"{offer}the form is `id_form` in clinic.yaml: `?` stands for one letter, `#` for one figure, all else as written",
    )


def has_form(number: str, form: str) -> bool:
    """Whether a document number has a form."""
    return len(number) == len(form) and all(_fits(sign, place) for sign, place in zip(number, form, strict=True))


def _fits(sign: str, place: str) -> bool:
    if place == "#":
        return sign.isascii() and sign.isdigit()
    if place == "?":
        return sign.isascii() and sign.isalpha()
    return sign == place


def nearest_of(number: str, form: str) -> str:
    """The number of that form for which the fewest signs of another must be written, taken out or put in.

    A figure that is missing is a zero before the others; a letter that is missing stays `?`, for nobody can guess it.
    """
    # best[i][j]: price and text of what fits form[j:] and was made of number[i:]; from the end, so that zeros come first.
    rows, columns = len(number), len(form)
    best: list[list[tuple[int, str]]] = [[(0, "")] * (columns + 1) for _ in range(rows + 1)]
    for i in range(rows, -1, -1):
        for j in range(columns, -1, -1):
            if i == rows and j == columns:
                continue
            ways: list[tuple[int, str]] = []
            if j < columns:
                price, rest = best[i][j + 1]
                ways.append((price + 2, _blank(form[j]) + rest))
            if i < rows:
                price, rest = best[i + 1][j]
                ways.append((price + 2, rest))
            if i < rows and j < columns:
                price, rest = best[i + 1][j + 1]
                if _fits(number[i], form[j]):
                    # Numbers that differ in the size of a letter are one number.
                    ways.append((price, (number[i].upper() if form.isupper() else number[i]) + rest))
                elif number[i].casefold() == form[j].casefold():
                    ways.append((price + 1, form[j] + rest))
                else:
                    ways.append((price + 3, _blank(form[j]) + rest))
            best[i][j] = min(ways, key=lambda way: way[0])
    return best[0][0][1]


def _blank(place: str) -> str:
    return "0" if place == "#" else place


RULE = Rule(
    id="R58",
    name="id-of-another-form",
    looks_for="A document number has the form that clinic.yaml gives to all of them, where it gives one.",
    why="Whoever files a page or calls it in looks for it by its number.",
    source="ISO 9001:2015 7.5.2; ISO/IEC 17025:2017 8.3; house rule",
    broken="kind: support.soft\nid: LB-SUP-2\n",
    mended="kind: support.soft\nid: LB-SUP-002\n",
    beside=(("clinic.yaml", "id_form: LB-???-###\n"),),
    check=check,
    blends=True,
)
