"""Every shipped protocol and patient, mutated by a program: whatever does harm is stopped, whatever is not has its reason."""

from __future__ import annotations

import re
from collections import Counter
from fnmatch import fnmatchcase
from typing import Any

import pytest

from generator.protocol.rules import RULES
from generator.source.text import read_tree
from generator.source.tree import Items, Node, Scalar
from tests.protocol.mutants import by_table
from tests.protocol.mutants.judge import SETTINGS, Judged, judged, killed_by_rule, located, shipped, sound
from tests.protocol.mutants.ledger import ledger, reasons, unused
from tests.protocol.mutants.patients import judged_patients
from tests.protocol.samples import READERS, keys_in
from tests.protocol.writing import write


def _all() -> tuple[Judged, ...]:
    return (*judged(), *judged_patients())


def test_the_sound_files_have_no_error() -> None:
    found = {file: [name for name, severity, _ in sound(file) if severity == "error"] for file in shipped()}
    assert {file: names for file, names in found.items() if names} == {}


def test_a_tree_made_from_data_is_the_tree_that_its_text_gives() -> None:
    def plainly(node: Node) -> Any:
        if isinstance(node, Scalar):
            return node.text, node.span.line, node.span.column
        if isinstance(node, Items):
            return [plainly(item) for item in node.items]
        return [(key.text, key.span.line, key.span.column, plainly(value)) for key, value in node.entries]

    for file, data in shipped().items():
        written = write(data)
        reading = read_tree(written.text.encode(), file)
        assert reading.tree is not None
        assert plainly(located(data, written, file)) == plainly(reading.tree)


def test_every_survivor_has_a_reason() -> None:
    found = reasons(one.mutant for one in _all() if one.survived)
    bare = [str(mutant) for mutant, lines in found.items() if not lines]
    assert bare == [], f"{len(bare)} mutants live and nobody says why; the first:\n" + "\n".join(bare[:40])


def test_every_reason_has_a_survivor() -> None:
    found = reasons(one.mutant for one in _all() if one.survived)
    assert [str(line) for line in unused(found, (one.mutant for one in _all()))] == []


def test_reasons_are_reasons() -> None:
    assert [line.because for line in ledger() if len(line.because.split()) < 5] == []


def test_every_rule_for_protocols_stops_at_least_one_mutant() -> None:
    table = killed_by_rule()
    idle = [rule.id for rule in RULES if table[rule.id][0] == 0]
    assert idle == [], "\n".join(
        f"{rule}: {every} stopped, {alone} by it alone" for rule, (every, alone) in table.items()
    )


def test_every_key_that_a_shipped_protocol_writes_is_mutated() -> None:
    for file, data in shipped().items():
        keys = {f"{record.what.strip('`')}.{key.name}" for record, key, _ in keys_in(by_table.table_of(data), data, ())}
        hit = {one.mutant.what for one in judged() if one.mutant.file == file}
        assert keys - hit == set(), file


def test_the_mutants_are_many_and_most_are_stopped() -> None:
    counts = Counter(one.survived for one in _all())
    assert counts[False] > 4000
    assert counts[True] * 3 < counts[False]


def test_what_no_page_may_ever_say_is_always_stopped() -> None:
    """Classes of slips of which none may live, in any protocol that is shipped or will be."""
    never = {
        "past its ceiling", "past its family's time", "checked more seldom", "window turned round",
        "harmful owner line put in", "prohibition turned round", "harmful act put in", "every check left out", "tape left longer",
        "overlap out of range", "material of another layer", "sign unknown", "approved by another", "written twice",
        "another revision was read", "a stranger was read", "past its part",
        "narrow on a wide limb", "caution written after its act",
    }  # fmt: skip
    assert never <= {one.mutant.how for one in judged()}
    alive = [str(one.mutant) for one in judged() if one.survived and one.mutant.how in never]
    assert alive == []


# How, what it hit, and the words of the line: of these none may be lost from any bandage, but for the one that lasts minutes.
GUARDED = (
    ("caution left out", "steps", r"toes? ?t?i?p?s?\b|\bring\b|\bstuck\b|bone or tissue|splint edge"),
    ("item left out", "*.steps", r"^check: .*(little finger|[Ff]inger slides|[Bb]oth middle toes|warm; once awake)"),
    ("item left out", "owner.never", r"loosen|comes off|slips out|rubber|jump"),
    ("item left out", "owner.every_day", r"Look at the toes|Feel the toes|Smell|chest rise"),
    ("item left out", "owner.keep_dry", r"Put a cover|Take the cover off"),
    ("item left out", "a protocol.signs", r"toes-|nails|wet|smell|slipped|lame|collapse|chewing"),
)
# Where a bandage goes round no limb, or lies over no open wound, some of these lines are a clinic's own and not the trade's.
_OWN = ("cover.", "wound.tieover")


@pytest.mark.parametrize(("how", "what", "words"), GUARDED)
def test_what_harm_has_taught_cannot_be_lost(how: str, what: str, words: str) -> None:
    hit = [
        one
        for one in judged()
        if one.mutant.how == how
        and fnmatchcase(one.mutant.what, what)
        and one.mutant.kind not in ("haemorrhage.pressure", *SETTINGS)
        and not one.mutant.kind.startswith(_OWN)
        and not ("sling-after-incision" in one.mutant.file and "stuck" in one.mutant.detail)
        and re.search(words, one.mutant.detail)
    ]
    assert [str(one.mutant) for one in hit if one.survived] == []
    assert len(hit) > 4


def test_every_kind_of_file_was_walked() -> None:
    assert {"protocol", "staged", "blend"} <= set(READERS)
    assert {one.mutant.file for one in judged()} >= set(shipped())
