"""The comparison of bandages by layer says what the protocols say, and nothing else."""

from __future__ import annotations

from collections.abc import Iterator

from generator.compose.matrix import NONE
from generator.page.xhtml import Node
from generator.protocol.kinds import LAYERS
from generator.protocol.model import Layer, Protocol
from tests.compose.binders import chapters
from tests.compose.plans import book
from tests.compose.reading import said


def tables() -> list[Node]:
    return [node for node in chapters()["matrix"].walk() if node.tag == "table"]


def columns() -> Iterator[tuple[str, dict[str, str]]]:
    """Each bandage by the words above its column; its cells by layer."""
    for table in tables():
        heads = [said(cell) for cell in table.elements("thead")[0].elements("tr")[0].elements("th")][1:]
        body = [row.elements("th", "td") for row in table.elements("tbody")[0].elements("tr")]
        for place, head in enumerate(heads, 1):
            yield head, {said(row[0]): said(row[place]) for row in body}


def found() -> dict[str, dict[str, str]]:
    return dict(columns())


def alone() -> Iterator[tuple[str, Protocol]]:
    for protocol in book().protocols.values():
        if not protocol.blend:
            for one in protocol.stages.values() or (protocol,):
                yield f"{protocol.title}{f', {one.stage}' if one.stage else ''} {protocol.id}", one


def test_rows_are_the_six_layers_in_the_trades_order():
    # Common practice: skin outwards, stirrups first.
    wanted = [f"{letter} {layer}" for letter, layer in zip("ABCDEF", LAYERS, strict=True)]
    assert all(list(cells) == wanted for _, cells in columns())


def test_every_bandage_has_one_column():
    blends = {f"{p.title} {p.id}" for p in book().protocols.values() if p.blend}
    heads = [head for head, _ in columns()]
    assert len(heads) == len(set(heads))
    assert set(heads) == {head for head, _ in alone()} | blends


def test_each_cell_says_what_its_protocol_says():
    for head, protocol in alone():
        for letter, key in zip("ABCDEF", LAYERS, strict=True):
            cell = found()[head][f"{letter} {key}"]
            layers = [layer for layer in protocol.layers if layer.layer == key]
            assert (cell == NONE) == (not layers), (head, key)
            assert cell == " + ".join(map(_words, layers)) or not layers


def _words(layer: Layer) -> str:
    """A cell put together anew, from what is written in the file."""
    told = [f"{layer.count} piece" + "s" * (layer.count > 1)] if layer.count else []
    told += [f"{layer.passes} pass" + "es" * (layer.passes > 1)] if layer.passes else []
    told += [f"{float(layer.overlap):.0%}".replace("%", " %")] if layer.overlap else []
    told += [layer.firmness] if layer.firmness else []
    told += [f"only if {layer.needed_if}"] if layer.needed_if else []
    return (layer.material or "as the clinician orders") + (": " + ", ".join(told) if told else "")


def test_a_blend_shows_what_goes_on_when_its_parts_come_together():
    # An open fracture: the wound's stage decides the contact layer, the splint asks for thin padding (trade rules; the
    # contact layer published, Campbell 2015; thin padding common practice).
    cells = found()["Open fracture before fixation LB-BLD-001"]
    splint, wound = book().protocols["splinted-limb"], book().protocols["open-wound"].stages["inflammatory"]
    assert cells["B contact"] == _words(next(layer for layer in wound.layers if layer.layer == "contact"))
    assert cells["C padding"] == _words(next(layer for layer in splint.layers if layer.layer == "padding"))
    assert cells["E splint"].startswith("gutter splint")


def test_no_table_is_too_wide_to_be_read():
    assert all(len(table.elements("thead")[0].elements("tr")[0].elements("th")) <= 6 for table in tables())
