"""Every problem that `check` can name is explained, by an example that was judged just now."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from generator.explaining import EXAMPLE, explained, judged_slip, nearest_name
from generator.protocol.examples import laid_over, sample_for
from generator.protocol.rules import CLINIC_RULES, RULES
from generator.protocol.slips import SLIPS
from generator.source.text import read_tree
from generator.source.tree import Entries, Node
from tests.cli.running import run
from tests.protocol.writing import plain

ROOT = Path(__file__).parents[1]
SHOWN = [slip for slip in SLIPS.values() if slip.broken]
# Found while a plan is made, never by `check`: two protocols are joined for one animal.
_OF_PLANS = {"haemorrhage-blended", "two-slings", "sling-cannot-be-opened", "blend-conflict"}
# Of plan files and of a place to write to, which `check` neither reads nor has.
_OF_OTHER_COMMANDS = {"folder-without-plans", "place-taken", "cannot-write"}


@pytest.mark.parametrize("slip", SHOWN, ids=lambda slip: slip.name)
def test_a_slip_brings_its_problem_and_mended_it_brings_none(slip):
    broken, mended = judged_slip(slip, slip.broken).problems, judged_slip(slip, slip.mended).problems
    own = [problem for problem in broken if problem.name == slip.name]
    assert own
    assert {problem.span.file for problem in own} == {EXAMPLE}
    assert {problem.name for problem in mended} & {problem.name for problem in broken} == set()
    assert [problem for problem in mended if problem.severity == "error"] == []


def test_a_slip_without_an_example_says_why_and_how():
    for slip in SLIPS.values():
        assert bool(slip.broken) == bool(slip.mended)
        assert bool(slip.broken) != bool(slip.why and slip.fix), slip.name


def names_in_the_program() -> set[str]:
    """Names of problems as the readers and proofs have them in their text: a look at the source, not at what was run."""
    files = [*(ROOT / "generator" / "source").glob("*.py"), *(ROOT / "generator" / "protocol").glob("*.py"),
             *(ROOT / "generator" / name for name in ("proof.py", "shelf.py", "standing.py"))]  # fmt: skip
    texts = [file.read_text(encoding="utf-8") for file in files if file.name not in ("slips.py", "adopting.py")]
    called = re.compile(r"(?:Problem|Unreadable|_say)\(\s*(?:event,\s*)?\"([a-z]+(?:-[a-z0-9]+)*)\"")
    return {name for text in texts for name in called.findall(text)}


def test_every_name_of_the_readers_is_explained():
    names = names_in_the_program()
    assert len(names) > 60, "the look at the source finds too little to be believed"
    assert sorted(name for name in names - _OF_PLANS - _OF_OTHER_COMMANDS if explained(name) is None) == []


def test_every_name_and_id_of_a_rule_is_explained():
    for rule in (*RULES, *CLINIC_RULES):
        for word in (rule.id, rule.id.lower(), rule.name, *rule.also):
            found = explained(word)
            assert found is not None
            assert found.of == rule.id


def test_the_form_of_a_key_is_shown_with_an_example_that_reads():
    found = explained("not-a-date")
    assert found is not None
    # The keys of the book that hold a day by themselves, as the README and the files have them.
    assert {line.split(":")[0] for line in found.keys} == {
        "effective",
        "review_by",
        "date",
        "closed",
        "born",
        "since",
        "until",
        "read",
        "competent",
    }


def test_nearest_names():
    assert nearest_name("not-a-dat") == "not-a-date"
    assert nearest_name("tape-closes-rings") == "tape-closes-ring"
    assert nearest_name("qqqq") is None


# ---- what stands where in an example ---------------------------------------------------------------------------------


def tree(text: str) -> Node:
    found = read_tree(text.encode(), "x.yaml").tree
    assert found is not None
    return found


def over(sample: str, example: str) -> object:
    return plain(laid_over(tree(sample), tree(example)))


def test_a_key_takes_the_place_of_its_like_and_a_new_one_stands_last():
    assert over("a: 1\nb: 2\n", "c: 3\na: 4\n") == {"a": "4", "b": "2", "c": "3"}


def test_limits_are_named_in_part_unless_they_are_whole():
    sample = "limits: {change_every: 3 d, remove_by: 9 d, supervised: no}\n"
    assert over(sample, "limits: {change_every: 2 d}\n") == {
        "limits": {"change_every": "2 d", "remove_by": "9 d", "supervised": "no"}
    }
    assert over(sample, "limits: {change_every: 2 d, supervised: yes}\n") == {
        "limits": {"change_every": "2 d", "supervised": "yes"}
    }


def test_the_rest_of_a_list_stands_where_its_mark_is():
    sample = "steps:\n  - {do: first}\n  - {layer: padding, do: pad}\n  - {layer: padding, do: more}\n"
    example = "steps:\n  - {do: new}\n  - {layer: padding, do: thin}\n  - ...\n  - {do: last}\n"
    assert over(sample, example) == {
        "steps": [{"do": "new"}, {"do": "first"}, {"layer": "padding", "do": "thin"}, {"layer": "padding", "do": "more"},
                  {"do": "last"}]
    }  # fmt: skip
    assert over("signs: [wet, slipped, chewing]\n", "signs: [slipped, ...]\n") == {
        "signs": ["slipped", "wet", "chewing"]
    }
    assert over("signs: [wet]\n", "signs: [slipped]\n") == {"signs": ["slipped"]}


def test_an_example_belongs_to_the_first_protocol_of_its_kind():
    trees = {
        "b.yaml": tree("kind: cover.tail\n"),
        "a.yaml": tree("kind: cover.head\n"),
        "c.yaml": tree("blend: [a, b]\n"),
    }
    assert sample_for(tree("kind: cover.tail\n"), trees) == "b.yaml"
    assert sample_for(tree("blend: [x]\n"), trees) == "c.yaml"
    with pytest.raises(LookupError):
        sample_for(tree("kind: support.cast\n"), trees)
    assert isinstance(trees["c.yaml"], Entries)


# ---- on the screen ----------------------------------------------------------------------------------------------------


def test_the_screen_shows_what_is_wrong_and_the_mended_line(capsys):
    ran = run(["explain", "R19"], capsys)
    assert ran.status == 0
    assert f"{EXAMPLE}:3:27: error: tape-closes-ring: " in ran.out
    assert "\n   > |   - {caution: Do not close tape in a ring round the limb." in ran.out
    assert ran.out == run(["rules", "r19"], capsys).out


def test_a_hidden_character_is_seen_in_its_example(capsys):
    assert "title: Padded<U+200B> limb bandage" in run(["explain", "hidden-character"], capsys).out


def test_the_data_hold_the_message(capsys):
    data = json.loads(run(["explain", "no-such-date", "--format", "json"], capsys).out)
    assert (data["name"], data["rule"]) == ("no-such-date", None)
    # 30 days has November.
    assert [(row["line"], row["column"], row["name"]) for row in data["says"]] == [(1, 12, "no-such-date")]
    assert data["mended"] == "effective: 2026-11-30\n"


def test_a_near_miss_is_named_and_nothing_else_is_said(capsys):
    ran = run(["explain", "tape-closes-rings"], capsys)
    assert (ran.status, ran.out) == (2, "")
    assert "The nearest is 'tape-closes-ring'." in ran.err


def test_the_list_of_rules_holds_those_for_settings_too(capsys):
    rows = json.loads(run(["rules", "--format", "json"], capsys).out)["rules"]
    assert [row["id"] for row in rows] == [rule.id for rule in (*RULES, *CLINIC_RULES)]
    assert all(row["mended"] != row["broken"] for row in rows)
