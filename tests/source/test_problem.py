"""How a problem reads: goldens of whole messages, accepted by eye."""

from __future__ import annotations

import json

import pytest

from generator.source.problem import Problem, Refusal, as_data, as_text, in_order
from generator.source.span import Span
from generator.source.text import read_tree


def shown(text: str, file: str = "protocols/open-wound.yaml") -> str:
    reading = read_tree(text.encode(), file)
    return "\n\n".join(as_text(p, lambda span: reading.lines[span.line - 1]) for p in reading.problems)


GOLDENS = {
    "limits:\n  change_every: 3 d to 7 d\n  go_home: yes\n  change_every: 14 d\n": """\
protocols/open-wound.yaml:4:3: error: duplicate-key: the key `change_every` stands twice
   4 |   change_every: 14 d
     |   ^^^^^^^^^^^^
    also protocols/open-wound.yaml:2:3: the first one is here
   2 |   change_every: 3 d to 7 d
     |   ^^^^^^^^^^^^
    why: only one of the two could count, and nobody could tell which
    fix: keep one of the two lines and delete the other""",
    'title: Open limb wound\nfunction: "Keeps the wound moist\nspecies: [dog]\n': """\
protocols/open-wound.yaml:2:11: error: quote-open: a quote that was opened here is not closed
   2 | function: "Keeps the wound moist
     |           ^
    why: the rest of the file cannot be read until this is mended
    fix: add the closing quote""",
    "title: keep it \u202edry\n": """\
protocols/open-wound.yaml:1:16: error: hidden-character: a hidden character stands here: U+202E right-to-left override
   1 | title: keep it \ufffddry
     |                ^
    why: it cannot be seen, and can turn text or figures round on paper
    fix: delete it and type the line again""",
    "steps:\n\t- do: Wash.\n": """\
protocols/open-wound.yaml:2:1: error: tab: a tab stands here
   2 | \ufffd- do: Wash.
     | ^
    why: a tab counts differently in every editor, so what belongs to what cannot be told
    fix: use spaces, two for each step to the right""",
    "do: Use roll #2 first.\n": """\
protocols/open-wound.yaml:1:14: warning: hash-cuts-text: everything from `#2` on is a comment and will not be printed
   1 | do: Use roll #2 first.
     |              ^
    why: a space followed by # ends the text of a line
    fix: put the text in quotes; or, if it is a comment, write a space after #""",
}


@pytest.mark.parametrize("text", GOLDENS, ids=[g.split(": ")[2] for g in GOLDENS.values()])
def test_the_whole_message(text: str) -> None:
    assert shown(text) == GOLDENS[text]


SPAN = Span("x.yaml", 1, 5, 3)


def message(line: str, span: Span = SPAN) -> list[str]:
    return as_text(Problem("a-name", span, "what", "why", "fix"), lambda _: line).split("\n")


def test_a_place_prints_as_editors_jump_to_it() -> None:
    assert str(SPAN) == "x.yaml:1:5"
    assert str(Span("--girth")) == "--girth", "an option has no line"


def test_the_caret_is_left_out_where_letters_take_more_or_less_than_one_cell() -> None:
    assert message("abcdefg")[2] == "     |     ^^^"
    assert message("名名名名efg")[2].startswith("    why")
    assert message("e\u0301e\u0301efg")[2] == "     |     ^^^" or message("e\u0301e\u0301efg")[2].startswith("    why")


def test_the_caret_never_runs_past_its_line() -> None:
    assert message("abcdef", Span("x.yaml", 1, 5, 40))[2] == "     |     ^^"


def test_a_long_line_is_cut_for_the_screen() -> None:
    rows = message("x" * 5000, Span("x.yaml", 1, 4000, 1))
    assert all(len(row) < 200 for row in rows)


def test_a_problem_without_a_line_shows_none() -> None:
    rows = as_text(Problem("a-name", Span("--girth"), "what", "why", "fix"), lambda _: "never").split("\n")
    assert rows == ["--girth: error: a-name: what", "    why: why", "    fix: fix"]


def test_data_holds_what_the_text_does_and_is_json() -> None:
    problem = Problem("a-name", SPAN, "what", "why", "fix", "warning", also=((Span("y.yaml", 2, 3), "here too"),))
    assert json.loads(json.dumps(as_data(problem))) == {
        "file": "x.yaml", "line": 1, "column": 5, "length": 3, "severity": "warning", "name": "a-name", "what": "what", "why": "why", "fix": "fix",
        "also": [{"file": "y.yaml", "line": 2, "column": 3, "what": "here too"}],
    }  # fmt: skip


def test_problems_are_sorted_by_place_and_told_once() -> None:
    def at(file: str, line: int, column: int, name: str = "n") -> Problem:
        return Problem(name, Span(file, line, column), "what", "why", "fix")

    given = [at("b", 1, 1), at("a", 10, 1), at("a", 9, 2), at("a", 9, 1), at("a", 9, 1), at("a", 9, 1, "m")]
    assert in_order(given) == (at("a", 9, 1, "m"), at("a", 9, 1), at("a", 9, 2), at("a", 10, 1), at("b", 1, 1))


def test_a_refusal_carries_all_its_problems() -> None:
    problems = [Problem("one", SPAN, "", "", ""), Problem("two", SPAN, "", "", "")]
    assert Refusal(iter(problems)).problems == tuple(problems)
    assert str(Refusal(problems)) == "one; two"
