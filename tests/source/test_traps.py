"""What YAML does behind a writer's back, and what is said about it: the name, the line and the column, once for each cause.

In each input the sign ▸ stands before the very letter the problem must point at; it is taken out before reading. How common
readers treat the same input (PyYAML 6.0.4, by the rules of YAML 1.1) is said where it explains why the trap matters.
"""

from __future__ import annotations

import pytest

from generator.source.problem import Problem
from generator.source.text import MOST_BYTES, Reading, read_tree
from generator.source.tree import Entries, Items, Scalar

MARK = "▸"


def place_of(text: str) -> tuple[str, int, int]:
    """The text without its mark, and the line and column it stood at, from 1."""
    before, mark, after = text.partition(MARK)
    assert mark, "the case says no place"
    return before + after, before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1


def read(text: str) -> Reading:
    return read_tree(text.encode(), "book.yaml")


def said(reading: Reading) -> list[tuple[str, int, int]]:
    return [(p.name, p.span.line, p.span.column) for p in reading.problems]


def is_complete(problem: Problem) -> bool:
    """A fact, a reason, a way out, all three in words; none of the parser's own."""
    texts = (problem.what, problem.why, problem.fix)
    jargon = ("token", "scanner", "stream", "mapping", "scalar", "sequence", "invalid", "None", "yaml.")
    return all(len(text) > 10 for text in texts) and not any(word in text for text in texts for word in jargon)


TRAPS = {
    # --- G9: tabs, colons and first letters that the grammar does not allow
    "tab after a key": ("tab", "key:▸\tvalue"),
    "tab as an indent": ("tab", "key:\n▸\tinner: 1"),
    "tab inside a text": ("tab", "key: keep\u00a0it▸\tdry"),
    "colon inside a text": ("colon-in-text", "a: keep dry▸: always"),
    "first letter @": ("letter-first", "a: ▸@x"),
    "first letter `": ("letter-first", "a: ▸`x`"),
    "first letter %": ("letter-first", "a: ▸%x"),
    "a line without a colon": ("colon-missing", "a: 1\n▸b\nc: 2"),
    "an indent too far": ("line-runs-on", "a: 1\n  b▸: 2"),
    "a first line without a colon": ("line-runs-on", "protocol padded-limb\ntitle▸: Padded"),
    "text behind a closing quote": ("text-after-quote", "a: 'Maple' ▸the dog"),
    "a closing bracket first": ("letter-first", "a: ▸]"),
    "an exclamation mark first": ("letter-first", "a: !▸{b"),
    "a colon between braces": ("colon-in-text", "a: {b▸:[c]}"),
    "a comma first": ("letter-first", "a: ▸, b"),
    "a question mark first": ("letter-first", "a: ▸? b"),
    "an ampersand first": ("letter-first", "a: &▸ b"),
    "figures behind the sign for long text": ("block-text", "a: |▸x\n  b"),
    "a file that ends in the middle": ("two-documents", "a: 1\n...\n▸b: 2"),
    "an indent too short": ("indent", "a:\n  b: 1\n ▸c: 2"),
    "a dash where a key belongs": ("indent", "a: 1\n▸- b"),
    "a key among dashes": ("indent", "a:\n  - b\n  ▸c: 1"),
    "two dashes on one line": ("indent", "a: ▸- b"),
    # --- what was opened and not closed: the place is where it began, not the end of the file
    "quote not closed": ("quote-open", "a: 1\nb: ▸\"text\nc: 2\nd: 3\n"),
    "single quote not closed": ("quote-open", "a: 1\nb: ▸'text\nc: 2\n"),
    "bracket not closed": ("bracket-open", "a: ▸[1, 2\nb: 3\n"),
    "brace not closed": ("bracket-open", "a: ▸{b: 1\nc: 2\n"),
    "unknown escape": ("escape", r'a: "C:▸\qyz"'),
    "half an escape": ("escape", r'a: "C:\x▸yz"'),
    "half a character, escaped": ("escape", r'a: "\u▸d83d"'),
    # --- G10: with a no-break space after the colon the whole file becomes one text
    "no-break space after the colon": ("no-break-space", "key:▸\u00a0value\nother: 1"),
    "no-break space as an indent": ("no-break-space", "key:\n ▸\u00a0inner: 1"),
    "no-break space after a dash": ("no-break-space", "key:\n  -▸\u00a0one"),
    # --- G11, G12, G21: letters that cannot be seen
    "next line U+0085": ("hidden-character", "a: one▸\u0085two"),
    "line separator": ("hidden-character", "a: one▸\u2028two"),
    "paragraph separator": ("hidden-character", "a: one▸\u2029two"),
    "NUL": ("hidden-character", "a: one▸\x00two"),
    "escape sign": ("hidden-character", "a: ▸\x1b[31mred"),
    "form feed": ("hidden-character", "a: one▸\x0ctwo"),
    "DEL": ("hidden-character", "a: one▸\x7ftwo"),
    "right-to-left override": ("hidden-character", "pet: ▸\u202eelpaM"),
    "left-to-right embedding": ("hidden-character", "pet: ▸\u202aMaple"),
    "isolate": ("hidden-character", "pet: ▸\u2067Maple"),
    "right-to-left mark": ("hidden-character", "phone: ▸\u200f+1 802-555-0142"),
    "zero width space": ("hidden-character", "pet: Ma▸\u200bple"),
    "word joiner": ("hidden-character", "pet: Ma▸\u2060ple"),
    "soft hyphen": ("hidden-character", "pet: Ma▸\u00adple"),
    "byte order mark inside": ("hidden-character", "a: 1\nb: ▸\ufefftwo"),
    "hidden in a comment": ("hidden-character", "a: 1 # it is ▸\u202eelpaM"),
    "override, escaped": ("hidden-character", r'a: ▸"x\u202Ey"'),
    "control, escaped": ("hidden-character", r'a: ▸"x\x07y"'),
    # --- G6: PyYAML keeps the last of two equal keys, silently
    "a key twice": ("duplicate-key", "a: 1\nb: 2\n▸a: 3"),
    "a key twice in braces": ("duplicate-key", "x: {a: 1, ▸a: 2}"),
    "a key twice, once in quotes": ("duplicate-key", "a: 1\n▸'a': 2"),
    # --- G14, G16, G19: repetition, tags, merging
    "anchor": ("anchor", "a: ▸&x 1"),
    "anchor on a list": ("anchor", "a: ▸&x [1, 2]"),
    "alias of nothing": ("alias", "a: ▸*x"),
    "tag that runs a program": ("tag", "a: ▸!!python/object/apply:os.system ['true']"),
    "tag on a value": ("tag", "a: ▸!!str 1"),
    "merge key": ("merge-key", "a: 1\n▸<<: {b: 2}"),
    # --- G17: emptiness and plenty
    "nothing": ("empty-file", "▸"),
    "only a comment": ("empty-file", "▸# later\n"),
    "only a start mark": ("two-documents", "---\na: 1\n▸---\nb: 2\n"),
    "a list as a key": ("key-is-no-word", "▸[a, b]: 1"),
    "a group as a key": ("key-is-no-word", "▸{a: b}: 1"),
}  # fmt: skip


@pytest.mark.parametrize(("name", "text"), TRAPS.values(), ids=TRAPS)
def test_a_trap_is_named_and_placed_once(name: str, text: str) -> None:
    clean, line, column = place_of(text)
    reading = read(clean)
    assert said(reading) == [(name, line, column)]
    problem = reading.problems[0]
    assert problem.severity == "error"
    assert is_complete(problem)


WARNINGS = {
    # G8: a space and # end the text of a line
    "a hash inside a text": ("hash-cuts-text", "a: roll ▸#2 of three"),
    "a comma inside braces": ("comma-in-braces", "{do: Lay one strip, ▸ends past the toes}"),
}


@pytest.mark.parametrize(("name", "text"), WARNINGS.values(), ids=WARNINGS)
def test_what_is_read_otherwise_than_it_looks_is_a_warning(name: str, text: str) -> None:
    clean, line, column = place_of(text)
    reading = read(clean)
    assert said(reading) == [(name, line, column)]
    assert reading.problems[0].severity == "warning"
    assert reading.tree is not None


def test_a_text_cut_by_a_comma_in_braces_is_put_together_again() -> None:
    tree = read("{do: Lay one strip, ends past the toes, twice, because: it holds}").tree
    assert isinstance(tree, Entries)
    assert [(key.text, value.text) for key, value in tree.entries if isinstance(value, Scalar)] == [
        ("do", "Lay one strip, ends past the toes, twice"), ("because", "it holds"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        "a: 'roll #2'",
        'a: "roll #2"',
        "a: roll # the second",
        "a: roll  # the second",
        "a: 1 #! mode",
        "# a: roll #2\nb: 1",
    ],
)
def test_a_comment_that_looks_like_one_is_no_trap(text: str) -> None:
    assert read(text).problems == ()


# G1, G2, G3, G5, G7, G13: PyYAML reads these as False, True, 750, 8, 1.1, 12025550143, a date, not a number, infinity. Here all are text.
LOOKALIKES = [
    "NO", "no", "Yes", "on", "off", "y", "true", "False", "12:30", "08:30", "22:30:00", "1:30.5", "010", "08", "0o10", "0x1F", "1_000", "1e3", "1.10",
    "+12025550142", "02079460000", "02071234567", "2027-03-14", "2027-02-30", "2027-03-14T10:30:00Z", ".nan", ".inf", "-3", "1,5", "½", "١٢", "１２",
    "123456789012345678901234567890", "=", "<", "None", "Null", "NULL", "~x",
]  # fmt: skip


@pytest.mark.parametrize("text", LOOKALIKES)
def test_a_value_is_the_text_that_was_typed(text: str) -> None:
    for line in (
        f"a: {text}",
        f"a: '{text}'",
        f"{text}: a",
        f"- {text}",
        f"{{a: {text}}}" if text != "1,5" else f"[{text!r}]",
    ):
        reading = read(line)
        assert reading.problems == (), line
        found = []
        nodes = [reading.tree]
        while nodes:
            node = nodes.pop()
            if isinstance(node, Scalar):
                found.append(node.text)
            elif isinstance(node, Items):
                nodes += node.items
            elif isinstance(node, Entries):
                nodes += [part for pair in node.entries for part in pair]
        assert text in found


@pytest.mark.parametrize(
    ("text", "is_empty"),
    [
        ("a:", True),
        ("a: ~", True),
        ("a: null", True),
        ("a: ''", False),
        ("a: '~'", False),
        ("a: 'null'", False),
        ("a: Null", False),
    ],
)
def test_nothing_is_told_apart_from_its_name_in_quotes(text: str, is_empty: bool) -> None:
    tree = read(text).tree
    assert isinstance(tree, Entries)
    node = tree.get("a")
    assert isinstance(node, Scalar)
    assert node.is_empty is is_empty


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"], ids=["LF", "CRLF", "CR"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["no mark", "byte order mark"])
def test_every_line_ending_and_a_leading_mark_are_accepted(ending: str, mark: bytes) -> None:
    reading = read_tree(mark + ending.join(["a: 1", "b: é", "c: !x 3"]).encode(), "book.yaml")
    assert said(reading) == [("tag", 3, 4)], "and the places stay right"
    assert reading.lines == ("a: 1", "b: é", "c: !x 3")


@pytest.mark.parametrize(
    "text", ["Zoë", "Zoe\u0308", "مریم\u200cها", "क\u094d\u200dष", "👩\u200d⚕", "Łukasz", "Петр", "小雪"]
)
def test_letters_of_every_script_and_their_joiners_are_kept_as_typed(text: str) -> None:
    reading = read(f"name: {text}")
    assert reading.problems == ()
    assert isinstance(reading.tree, Entries)
    node = reading.tree.get("name")
    assert isinstance(node, Scalar)
    assert node.text == text


@pytest.mark.parametrize(
    ("data", "line", "column"),
    [
        pytest.param("name: Zoë".encode("latin-1"), 1, 9, id="latin-1"),
        pytest.param("a: 1\nb: naïve\n".encode("cp1252"), 2, 6, id="windows"),
        pytest.param(b"a: \xed\xa0\xbd", 1, 4, id="half a character"),
        pytest.param("é: é".encode() + b"\xff", 1, 5, id="columns count letters, not bytes"),
        pytest.param("name: Zoë".encode("utf-16"), 1, 1, id="UTF-16"),
        pytest.param("name: Zoë".encode("utf-16-be"), 1, 18, id="UTF-16 without its mark"),
        pytest.param(b"%PDF-1.7\n\xe2\xe3\xcf\xd3", 2, 1, id="another kind of file"),
    ],
)
def test_another_encoding_is_named_at_the_first_wrong_byte(data: bytes, line: int, column: int) -> None:
    reading = read_tree(data, "book.yaml")
    assert reading.tree is None
    assert [(p.span.line, p.span.column) for p in reading.problems][:1] == [(line, column)]
    assert {p.name for p in reading.problems} == {"not-utf-8"}
    assert len(reading.problems) == 1


def test_a_name_that_calls_itself_ten_times_over_is_refused_before_it_grows() -> None:
    # "Billion laughs": nine levels of nine references load in a millisecond elsewhere and explode when printed.
    lines = ["a: &a [x, x, x, x, x, x, x, x, x]"]
    for this, last in zip("bcdefghi", "abcdefgh", strict=True):
        lines.append(f"{this}: &{this} [{', '.join([f'*{last}'] * 9)}]")
    reading = read("\n".join(lines))
    assert {p.name for p in reading.problems} == {"anchor", "alias"}
    assert len(reading.problems) == 9 + 72, "each is one line to mend"


def test_a_list_that_holds_itself_is_refused() -> None:
    assert [p.name for p in read("a: &a [*a]").problems] == ["anchor", "alias"]


@pytest.mark.parametrize(("opened", "closed"), [("[", "]"), ("{a: ", "}"), ("- ", "")])
def test_two_thousand_brackets_are_refused_without_falling_over(opened: str, closed: str) -> None:
    reading = read(opened * 2000 + "x" + closed * 2000)
    assert [p.name for p in reading.problems] == ["nested-too-deep"]
    assert reading.tree is None
    assert is_complete(reading.problems[0])


def test_too_many_values_are_refused() -> None:
    reading = read("\n".join("- x" for _ in range(20_000)))
    assert [p.name for p in reading.problems] == ["too-many-values"]


def test_a_file_beyond_a_megabyte_is_not_read() -> None:
    reading = read_tree(b"a" * (MOST_BYTES + 1), "book.yaml")
    assert [p.name for p in reading.problems] == ["file-too-large"]


def test_a_line_of_five_thousand_letters_is_read() -> None:
    reading = read(f"a: {'x' * 5000}\nb: !y 1")
    assert said(reading) == [("tag", 2, 4)]


def test_a_duplicate_names_the_place_of_the_first() -> None:
    problem = read("a: 1\nb: 2\na: 3").problems[0]
    assert [(span.line, span.column) for span, _ in problem.also] == [(1, 1)]


def test_all_problems_of_a_file_are_found_in_one_run() -> None:
    text = "a: &x 1\nb: *x\nc: !y 2\na: 3\n<<: {}\n"
    assert said(read(text)) == [
        ("anchor", 1, 4),
        ("alias", 2, 4),
        ("tag", 3, 4),
        ("duplicate-key", 4, 1),
        ("merge-key", 5, 1),
    ]


def test_hidden_letters_are_all_found_in_one_run() -> None:
    assert said(read("a: \u200bx\nb:\t2\nc: y\u202e")) == [
        ("hidden-character", 1, 4),
        ("tab", 2, 3),
        ("hidden-character", 3, 5),
    ]


def test_keys_that_look_equal_to_another_reader_are_two_keys() -> None:
    # PyYAML makes 1 of both `1` and `01`, and True of `true`: the last would win.
    tree = read("1: a\n01: b\ntrue: c").tree
    assert isinstance(tree, Entries)
    assert [key.text for key, _ in tree.entries] == ["1", "01", "true"]
