"""Every key of every file, broken in every way a hand slips: one problem, in its place, with a way out.

The keys come from the tables that the reader itself works by, so a new key is tried the day it is added; a key that no sample
uses fails the first test.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from generator.protocol import settings, vocabulary
from generator.protocol.shapes import Choice, Form, ListOf, MapOf, OneOrMore, Record, Words, YesNo
from generator.source.problem import Problem
from generator.source.text import read_tree
from generator.source.tree import Entries
from tests.protocol.samples import Site, defined, problems_in, samples, sites
from tests.protocol.writing import Path, Raw, Written, at, changed, renamed, without, write

SITES = sites()
# Keys that may be left out each by itself, but not so that the others no longer make sense: what is then asked for.
TOGETHER = {
    ("a material", "roll"): "roll-or-sizes",
    ("a material", "sizes"): "roll-or-sizes",
    ("a material", "widths"): "key-missing",
    ("a material", "full_stretch"): "full-stretch-missing",
    ("the patient file", "applied"): "key-missing",
    ("the patient file", "planned"): "key-missing",
    ("the patient file", "first"): "first-or-began",
    ("the patient file", "began"): "first-or-began",
    ("the patient file", "earlier"): "first-or-began",
    ("a row of training", "competent"): "competence-half-written",
    ("a row of training", "by"): "competence-half-written",
    ("`limb`", "distal_girth"): "half-measured",
    ("`limb`", "proximal_girth"): "half-measured",
    ("`limb`", "covered_length"): "half-measured",
}
GROUPED = (
    vocabulary._Bands,
    vocabulary._RemoveBy,
    vocabulary._TighterCheck,
    vocabulary._SourceShape,
    settings._Answers,
    settings._SourceOrMap,
    settings._ByWidth,
)
AMOUNT = re.compile(r"(?<![0-9.])([0-9.]+) (cm|mm|min|m|in|yd|kgf|kg|g|lb|h|d|wk|%|N)(?![a-z])")


def data_of(site: Site) -> Any:
    return samples()[site.sample][1]


def value_of(site: Site) -> Any:
    return at(data_of(site), site.path)


# What an approval writes may stay open until then: the paper says TRIAL meanwhile.
AWAITED = ("`effective`", "`review_by`", "`approved_by`")


def complete(problem: Problem) -> None:
    awaited = problem.name == "not-decided" and problem.what.split()[0] in AWAITED
    assert problem.severity == ("warning" if awaited else "error")
    assert ("gauzeleaf approve" in problem.fix) == awaited
    for text in (problem.what, problem.why, problem.fix):
        assert len(text) > 8, problem
        assert "None" not in text, problem
        assert "UNSOUND" not in text, problem
        assert " … " not in text and not text.endswith("…"), problem  # noqa: PT018  one claim: nothing is left to guess


def only(kind: str, written: Written) -> Problem:
    """The one problem of a text."""
    problems = problems_in(kind, written.text)
    assert len(problems) == 1, [(p.name, p.span.line, p.span.column, p.what) for p in problems] or "nothing was said"
    complete(problems[0])
    return problems[0]


def place(problem: Problem) -> tuple[int, int]:
    return problem.span.line, problem.span.column


def only_at_value(site: Site, value: Any, path: Path | None = None) -> Problem:
    """Put another value in, and ask for one problem at that very value."""
    path = site.path if path is None else path
    written = write(changed(data_of(site), path, value))
    problem = only(site.kind, written)
    assert place(problem) == written.values[path]
    return problem


def test_every_key_of_every_table_has_a_sample() -> None:
    assert {(site.record.what, site.key.name) for site in SITES} == defined()
    assert len(SITES) > 180


@pytest.mark.parametrize("name", samples())
def test_the_samples_themselves_are_sound(name: str) -> None:
    kind, data = samples()[name]
    assert [(p.name, p.span.line, p.what) for p in problems_in(kind, write(data).text)] == []


@pytest.mark.parametrize("site", SITES, ids=lambda s: s.name)
def test_a_key_left_out_is_missed_where_it_is_needed_and_nowhere_else(site: Site) -> None:
    written = write(without(data_of(site), site.path))
    wanted = "key-missing" if site.key.required else TOGETHER.get((site.record.what, site.key.name))
    if wanted is None:
        assert [(p.name, p.what) for p in problems_in(site.kind, written.text)] == []
        return
    problem = only(site.kind, written)
    assert problem.name == wanted
    group = site.path[:-1]
    inside = [pos for path, pos in (*written.keys.items(), *written.values.items()) if path[: len(group)] == group]
    assert place(problem) in inside
    if wanted == "key-missing":
        assert f"`{site.key.name}" in problem.fix or site.key.name in problem.what


@pytest.mark.parametrize("site", SITES, ids=lambda s: s.name)
@pytest.mark.parametrize("slip", ["one letter more", "two letters exchanged"])
def test_a_misspelt_key_is_named_with_its_right_spelling(site: Site, slip: str) -> None:
    name = site.key.name
    wrong = name + name[-1] if slip == "one letter more" or len(name) < 4 else name[:1] + name[2] + name[1] + name[3:]
    if wrong == name:
        wrong = name[:2] + "x" + name[2:]
    written = write(renamed(data_of(site), site.path, wrong))
    problem = only(site.kind, written)
    assert problem.name == "unknown-key"
    assert place(problem) == written.keys[(*site.path[:-1], wrong)]
    assert f"`{wrong}`" in problem.what
    assert f"the nearest key is `{name}`" in problem.fix


@pytest.mark.parametrize("site", SITES, ids=lambda s: s.name)
def test_an_unknown_key_beside_it_does_not_hide_the_others(site: Site) -> None:
    group = site.path[:-1]
    data = changed(data_of(site), group, {**at(data_of(site), group), "zzzz": "x"})
    written = write(data)
    problem = only(site.kind, written)
    assert (problem.name, place(problem)) == ("unknown-key", written.keys[(*group, "zzzz")])


@pytest.mark.parametrize("site", SITES, ids=lambda s: s.name)
def test_an_empty_value_is_named(site: Site) -> None:
    for nothing in (Raw(""), Raw("~"), Raw("null")):
        written = write(changed(data_of(site), site.path, nothing))
        problem = only(site.kind, written)
        assert problem.name == "value-missing"
        assert problem.span.line == written.values[site.path][0]


def wrong_form(site: Site) -> Any:
    """A value of another form than the key takes."""
    shape = site.key.shape
    if isinstance(shape, (Words, Choice, YesNo, Form, *GROUPED)):
        # Piece prices and a band's table may be groups; a list is never one of them.
        return ["a", "b"] if not (isinstance(shape, vocabulary._Bands) and not shape.plain) else "nonsense"
    return {"a": "b"} if isinstance(shape, OneOrMore) else "nonsense"


@pytest.mark.parametrize("site", SITES, ids=lambda s: s.name)
def test_a_value_of_another_form_is_named(site: Site) -> None:
    problem = only_at_value(site, wrong_form(site))
    assert problem.name == "wrong-form"


@pytest.mark.parametrize(
    "site", [s for s in SITES if isinstance(s.key.shape, (Words, Choice, YesNo, Form))], ids=lambda s: s.name
)
def test_a_group_of_keys_where_one_value_belongs_is_named(site: Site) -> None:
    assert only_at_value(site, {"a": "b"}).name == "wrong-form"


@pytest.mark.parametrize(
    "site", [s for s in SITES if isinstance(s.key.shape, (Record, MapOf, settings.Hours))], ids=lambda s: s.name
)
def test_a_list_where_a_group_of_keys_belongs_is_named(site: Site) -> None:
    assert only_at_value(site, ["a", "b"]).name == "wrong-form"


@pytest.mark.parametrize(
    "site", [s for s in SITES if isinstance(s.key.shape, (Choice, YesNo, Form))], ids=lambda s: s.name
)
def test_a_word_that_is_not_known_is_named(site: Site) -> None:
    only_at_value(site, "Some other thing!")


def leaves(value: Any, path: Path) -> list[tuple[Path, str]]:
    """Every single value below a key, with its path."""
    if isinstance(value, str):
        return [(path, value)]
    pairs = value.items() if isinstance(value, dict) else enumerate(value)
    return [leaf for step, child in pairs for leaf in leaves(child, (*path, step))]


def amounts() -> list[Any]:
    """The first value with a unit below each key that is read as amounts; free text is not."""
    found, seen = [], set()
    for site in SITES:
        if isinstance(site.key.shape, (Record, Words, MapOf, ListOf)) and not _holds_amounts(site.key.shape):
            continue
        for path, text in leaves(value_of(site), site.path):
            if AMOUNT.search(text) and "by" not in text.split() and site.name not in seen:
                seen.add(site.name)
                found.append(pytest.param(site, path, text, id=site.name))
    return found


def _holds_amounts(shape: Any) -> bool:
    return isinstance(shape, ListOf) and isinstance(shape.shape, Form)


AMOUNTS = amounts()


def test_amounts_of_every_dimension_are_among_the_samples() -> None:
    units = {found[2] for param in AMOUNTS for found in AMOUNT.finditer(str(param.values[2]))}
    assert units >= {"cm", "kg", "h", "d", "min", "%", "kgf", "m"}
    assert len(AMOUNTS) > 30


@pytest.mark.parametrize(("site", "path", "text"), AMOUNTS)
def test_a_number_without_its_unit_is_never_guessed(site: Site, path: Path, text: str) -> None:
    bare = AMOUNT.sub(r"\1", text, count=1)
    problem = only_at_value(site, bare, path)
    assert problem.name in {"number-without-unit", "not-a-day-count"}, problem
    assert re.search(r"`[0-9.]+ (cm|mm|kg|g|lb|min|h|d|%|kgf|N|m)", problem.fix) or problem.name == "not-a-day-count"


NOT_PLAIN = {
    "an exponent": "1e3", "a leading zero": "010", "a comma": "1,5", "full-width digits": "１２", "native digits": "١٢", "one half": "½",
    "below zero": "-3", "not a number": ".nan", "infinity": ".inf", "hexadecimal": "0x1F", "underscore": "1_000", "plus": "+3",
    "thirty digits": "123456789012345678901234567890", "a point at the end": "3.", "a point first": ".5", "two points": "1.2.3",
}  # fmt: skip


@pytest.mark.parametrize(("site", "path", "text"), AMOUNTS)
def test_a_number_in_another_spelling_is_never_guessed(site: Site, path: Path, text: str) -> None:
    for how, spelling in NOT_PLAIN.items():
        wrong = AMOUNT.sub(lambda m, s=spelling: f"{s} {m[2]}", text, count=1)  # type: ignore[misc]
        if how == "a comma" and "," in text:
            continue
        problem = only_at_value(site, wrong, path)
        assert spelling in problem.what or problem.name == "number-out-of-range" or wrong in problem.what, how


COUNTS = [s for s in SITES if isinstance(s.key.shape, Form) and re.fullmatch("[0-9]+", str(value_of(s)))]


def test_there_are_counts_among_the_samples() -> None:
    assert {s.key.name for s in COUNTS} >= {"revision", "passes", "count", "number"}


@pytest.mark.parametrize("site", COUNTS, ids=lambda s: s.name)
@pytest.mark.parametrize("wrong", [*NOT_PLAIN.values(), "1.10", "2.0", "08", "0o10", "two", "2 3"])
def test_a_count_in_another_spelling_is_never_guessed(site: Site, wrong: str) -> None:
    problem = only_at_value(site, wrong)
    assert problem.name in {"not-a-whole-number", "leading-zero", "number-out-of-range"}


YES_OR_NO = [s for s in SITES if isinstance(s.key.shape, YesNo)]


@pytest.mark.parametrize("site", YES_OR_NO, ids=lambda s: s.name)
def test_only_yes_and_no_decide(site: Site) -> None:
    for wrong, meant in {
        "true": "yes",
        "false": "no",
        "on": "yes",
        "off": "no",
        "Yes": "yes",
        "NO": "no",
        "y": "yes",
        "n": "no",
        "True": "yes",
    }.items():
        problem = only_at_value(site, wrong)
        assert (problem.name, problem.fix) == ("not-yes-or-no", f"write `{meant}`")
    for wrong in ("1", "0", "maybe", "yes no", "ｙｅｓ"):
        assert only_at_value(site, wrong).fix == "write `yes` or `no`"


DATES = [s for s in SITES if isinstance(s.key.shape, Form) and re.fullmatch(r"\d{4}-\d\d-\d\d", str(value_of(s)))]


@pytest.mark.parametrize("site", DATES, ids=lambda s: s.name)
@pytest.mark.parametrize(
    "wrong",
    [
        "2027-02-30",
        "2100-02-29",
        "2027-13-01",
        "14/3/2027",
        "3/4/27",
        "2027-3-14",
        "20270314",
        "2027-W10-7",
        "２０２７-03-14",
        "14 March 2027",
        "2027-03-14T10:30",
    ],
)
def test_a_date_is_read_in_one_form_only(site: Site, wrong: str) -> None:
    name = only_at_value(site, wrong).name
    assert name == ("no-such-date" if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", wrong) else "not-a-date")


MOMENTS = [
    s for s in SITES if isinstance(s.key.shape, Form) and re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d", str(value_of(s)))
]


def test_there_are_dates_and_moments_among_the_samples() -> None:
    assert {s.key.name for s in DATES} >= {"effective", "review_by", "date", "on", "born"}
    assert {s.key.name for s in MOMENTS} == {"applied", "planned", "began", "on", "off"}


@pytest.mark.parametrize("site", MOMENTS, ids=lambda s: s.name)
@pytest.mark.parametrize(
    "wrong",
    [
        "2027-03-13",
        "10:30",
        "2027-03-13T25:00",
        "2027-02-30T10:30",
        "2027-03-13T10:30:15",
        "2027-03-13T10.30",
        "13/3/2027 10:30",
        "2027-03-13T10:30 pm",
        "２０２７-03-13T10:30",
        "now",
    ],
)
def test_a_moment_is_read_in_one_form_only(site: Site, wrong: str) -> None:
    assert only_at_value(site, wrong).name in {"not-a-moment", "no-such-date"}


@pytest.mark.parametrize("site", [s for s in SITES if isinstance(s.key.shape, Words)], ids=lambda s: s.name)
def test_a_text_beyond_its_room_is_named_not_cut(site: Site) -> None:
    shape = site.key.shape
    assert isinstance(shape, Words)
    problem = only_at_value(site, "word " * (shape.most // 5) + "and more")
    assert problem.name == "text-too-long"
    assert str(shape.most) in problem.what


@pytest.mark.parametrize("site", [s for s in SITES if isinstance(s.key.shape, ListOf)], ids=lambda s: s.name)
def test_an_empty_list_is_named_where_something_must_stand(site: Site) -> None:
    shape = site.key.shape
    assert isinstance(shape, ListOf)
    written = write(changed(data_of(site), site.path, []))
    if shape.least == 0:
        assert problems_in(site.kind, written.text) == []
    else:
        assert only_at_value(site, []).name == "value-missing"


@pytest.mark.parametrize(
    "site",
    [s for s in SITES if isinstance(s.key.shape, (ListOf, OneOrMore)) and isinstance(value_of(s), list)],
    ids=lambda s: s.name,
)
def test_each_slip_in_a_list_is_named_in_its_own_line(site: Site) -> None:
    first = (*site.path, 0)
    written = write(changed(data_of(site), first, Raw("")))
    problem = only(site.kind, written)
    assert problem.name == "value-missing" or (problem.name == "wrong-form" and isinstance(site.key.shape, ListOf))
    assert problem.span.line == written.values[first][0]


def site_of(record: str, key: str) -> Site:
    return next(s for s in SITES if (s.record.what, s.key.name) == (record, key))


@pytest.mark.parametrize("site", SITES, ids=lambda s: s.name)
@pytest.mark.parametrize("written", ["to decide", "To decide", '"to decide"', "TO  DECIDE", "to decide?"])
def test_what_is_still_to_be_decided_is_named_by_its_key(site: Site, written: str) -> None:
    problem = only_at_value(site, Raw(written))
    assert (problem.name, problem.what) == ("not-decided", f"`{site.key.name}` is still to be decided")


@pytest.mark.parametrize("site", SITES, ids=lambda s: s.name)
def test_what_is_shown_as_an_example_can_be_written(site: Site) -> None:
    problem = only_at_value(site, "to decide")
    shown = re.search(rf"such as `({re.escape(site.key.name)}: .*?)`(?:;|$)", problem.fix)
    if shown is None:
        assert f"`{site.key.name}:`, and below it one `key: value` a line" in problem.fix
        return
    # One sample's other keys need not agree with the example; the value by itself must be readable.
    reading = read_tree(shown[1].encode(), "x")
    assert isinstance(reading.tree, Entries)
    assert not reading.problems
    ((_, node),) = reading.tree.entries
    problems: list[Problem] = []
    site.key.shape.read(node, problems)
    assert problems == []


@pytest.mark.parametrize(
    "site",
    [
        s
        for s in SITES
        if isinstance(s.key.shape, (ListOf, OneOrMore)) and isinstance(value_of(s), list) and value_of(s)
    ],
    ids=lambda s: s.name,
)
def test_an_entry_still_to_be_decided_is_named_by_the_key_of_its_list(site: Site) -> None:
    problem = only_at_value(site, "to decide", (*site.path, 0))
    assert (problem.name, problem.what) == ("not-decided", f"an entry of `{site.key.name}` is still to be decided")


def free_keys() -> list[Any]:
    """A value under each map of free keys: limits' sources, widths' prices, days' hours."""
    shapes = (MapOf, settings.Hours, *GROUPED)
    return [
        pytest.param(site, next(iter(value_of(site))), id=site.name)
        for site in SITES
        if isinstance(site.key.shape, shapes) and isinstance(value_of(site), dict)
    ]


@pytest.mark.parametrize(("site", "name"), free_keys())
def test_a_free_key_still_to_be_decided_is_named(site: Site, name: str) -> None:
    problem = only_at_value(site, "to decide", (*site.path, name))
    assert (problem.name, problem.what) == ("not-decided", f"`{name}` is still to be decided")


def test_each_part_of_the_control_block_says_what_its_gap_would_do() -> None:
    keys = ("id", "revision", "effective", "review_by", "prepared_by", "approved_by")
    said = {key: only_at_value(site_of("a protocol", key), "to decide").why for key in keys}
    assert len(set(said.values())) == len(keys)
    assert said["approved_by"] == "an unsigned sheet must not go on an animal"


def test_words_that_only_begin_so_are_words() -> None:
    site = site_of("a protocol", "function")
    for text in ("to decide whether it holds", "undecided", "to  hold"):
        assert problems_in(site.kind, write(changed(data_of(site), site.path, text)).text) == []
