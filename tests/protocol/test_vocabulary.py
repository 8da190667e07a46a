"""What stands under free names, and the forms of single values: each slip named, in its place, once.

A case is a change to one of the sample files: the path of a key or value, and what is typed there instead.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.protocol.shapes import nearest
from generator.protocol.vocabulary import BLEND, PROTOCOL, STAGED, record_for
from generator.source.text import read_tree
from tests.protocol.samples import problems_in, samples
from tests.protocol.writing import Path, at, changed, renamed, write

CLINIC, STOCK, SIGNS, MODIFIERS = (
    "protocols/clinic.yaml",
    "protocols/stock.yaml",
    "protocols/signs.yaml",
    "protocols/modifiers.yaml",
)
WRAP: Path = ("materials", "cohesive wrap")
CAST, BLENDED, WOUND = (
    "extra/protocols/cast.yaml",
    "protocols/open-fracture-before-fixation.yaml",
    "protocols/open-wound.yaml",
)


def told(name: str, data: Any) -> list[tuple[str, int, int]]:
    return [(p.name, p.span.line, p.span.column) for p in problems_in(samples()[name][0], write(data).text)]


KEYS = [
    (CLINIC, ("hours", "mon to fri"), "mon to fry", "unknown-day"), (CLINIC, ("hours", "sat"), "Saturday", "unknown-day"), (CLINIC, ("hours", "sat"), "mon to fri to sun", "unknown-day"),
    (CLINIC, ("size_bands", "forelimb below elbow"), "foreleg", "unknown-word"), (CLINIC, ("house_limits", "sling"), "slings", "unknown-word"),
    (STOCK, (*WRAP, "tension", "5 cm"), "5", "number-without-unit"), (STOCK, (*WRAP, "tension", "5 cm"), "5 kg", "unknown-unit"), (STOCK, (*WRAP, "tension", "5 cm"), "wide", "unknown-key"),
    (STOCK, (*WRAP, "price", "5 cm"), "5", "number-without-unit"), (STOCK, (*WRAP, "price", "5 cm"), "05 cm", "leading-zero"),
    (SIGNS, ("wet",), "Wet", "not-a-slug"), (SIGNS, ("wet",), "wet_through", "not-a-slug"), (SIGNS, ("wet",), "wеt", "not-a-slug"), (SIGNS, ("wet",), "../wet", "not-a-slug"),
    (MODIFIERS, ("cat", "tightens", "support"), "suport", "unknown-word"), (MODIFIERS, ("cat", "tightens", "support"), "support.soff", "unknown-word"),
    (WOUND, ("stages", "maturation"), "mature", "unknown-word"),
    (CAST, ("layers", 3, "rolls", "2 kg to 10 kg"), "2 to 10 kg", "number-without-unit"), (CAST, ("layers", 3, "rolls", "2 kg to 10 kg"), "under 10 cm", "unknown-unit"),
    (CAST, ("layers", 2, "width", "2 kg to 10 kg"), "small", "not-a-band"), (CAST, ("layers", 3, "rolls", "10 kg and over"), "9 kg and over", "bands-overlap"),
    ("extra/patients/full.yaml", ("visits", "check"), "first", "unknown-word"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "path", "typed", "problem"), KEYS, ids=[f"{p[-1]} as {t}" for _, p, t, _ in KEYS])
def test_a_name_that_is_free_is_still_read(name: str, path: Path, typed: str, problem: str) -> None:
    data = renamed(samples()[name][1], path, typed)
    written = write(data)
    group = written.values[path[:-1]] if problem == "bands-overlap" else written.keys[(*path[:-1], typed)]
    assert told(name, data) == [(problem, *group)]


VALUES = [
    # G2: one form for every time of day
    *[(CLINIC, ("hours", "sat"), wrong, name) for wrong, name in {
        "8:30 to 13:00": "not-a-clock-time", "08:30 to 24:30": "not-a-clock-time", "08:30 to 13:60": "not-a-clock-time", "8.30 to 13.00": "not-a-clock-time", "08:30-13:00": "not-hours",
        "08:30 to 13:00 to 14:00": "not-hours", "08:30": "not-hours", "510": "not-hours", "closed": "not-hours", "13:00 to 08:30": "hours-reversed", "08:30 to 08:30": "not-hours",
        "０８:30 to 13:00": "not-a-clock-time", "08:30 to 1 pm": "not-a-clock-time", "08:30 to 13:00 14:00 to 15:00": "not-hours",
    }.items()],
    *[(CLINIC, ("visit",), wrong, name) for wrong, name in {"30": "number-without-unit", "2 min": "number-out-of-range", "5 h": "number-out-of-range", "half an hour": "not-an-amount"}.items()],
    *[(CLINIC, ("closed", 0), wrong, name) for wrong, name in {
        "2027-12-24 to 2027-12-20": "not-a-date", "2027-12-24 to 2029-12-24": "not-a-date", "24 December": "not-a-date", "2027-02-29": "no-such-date", "2027-12-24, 2027-12-25": "not-a-date",
    }.items()],
    *[(CLINIC, ("waste",), wrong, "number-out-of-range") for wrong in ("26 %", "100 %", "1000 %")],
    # G5: a telephone number is text, and in international form
    *[(CLINIC, ("clinic", "phone"), wrong, "not-a-phone") for wrong in ("802-555-0142", "02079460000", "+1 802", "+1 802-555-0142 ext. 2", "1-802-555-0142", "+0 802-555-0142", "+1 802-555-014２", "+1 802\u200d5550142", "00441632960960", "ring us", "+12345678901234567890")],
    *[(CLINIC, ("clinic", "time_zone"), wrong, "not-a-time-zone") for wrong in ("New York", "UTC-5", "America/", "-05:00", "America/New York")],
    *[(CLINIC, ("clinic", "languages", 1), wrong, "not-a-language") for wrong in ("NO", "Spanish", "es_MX", "ES", "es-mx", "e", "zh-hans", "en-US-x-twain", "еs", "no way")],
    *[(CLINIC, ("clinic", "paper"), wrong, "unknown-word") for wrong in ("A4", "Letter", "legal")],
    (CLINIC, ("clinic", "languages", 1), "en", "listed-twice"),
    (CLINIC, ("drafts",), "yes", "unknown-word"),
    *[(STOCK, ("materials", "cast padding", "roll"), wrong, name) for wrong, name in {
        "3.66 m": "roll-state-missing", "3.66 relaxed": "number-without-unit", "3.66 m loose": "roll-state-missing", "relaxed": "roll-state-missing", "3,66 m relaxed": "decimal-comma", "4 yds relaxed": "unknown-unit",
    }.items()],
    *[(STOCK, ("materials", "sterile absorbent pad", "price"), wrong, "not-a-price") for wrong in ("0.60", "0,60 USD", "$0.60", "0.60 dollars", "0.605 USD", "-0.60 USD", "１.10 USD", "1e3 USD", "0.60 usd", "USD 0.60")],
    (STOCK, (*WRAP, "widths", 1), "2.5 cm", "listed-twice"),
    (STOCK, (*WRAP, "tension", "5 cm"), "0.12", "number-without-unit"), (STOCK, (*WRAP, "tension", "5 cm"), "0.12 kg", "unknown-unit"), (STOCK, (*WRAP, "tension", "5 cm"), "21 kgf", "number-out-of-range"),
    (STOCK, ("materials", "cast padding", "thickness"), "2 cm", None), (STOCK, ("materials", "cast padding", "thickness"), "2 in", "number-out-of-range"),
    *[(MODIFIERS, ("growing", "derived"), wrong, "unknown-condition") for wrong in ("under six months", "age below 6 months", "age under 6 months and species cat", "age under 6", "species rabbit", "age under 6 months, species cat", "True")],
    *[(MODIFIERS, ("oedema", "forbids", 0), wrong, "unknown-word") for wrong in ("cast", "support", "Support.cast")],
    *[(MODIFIERS, ("oedema", "source"), wrong, "unknown-source") for wrong in ("a book", "published 3", "Common practice")],
    # G18, G22: names are small Latin letters
    *[(CAST, ("protocol",), wrong, "not-a-slug") for wrong in ("Cast", "cast limb", "cаst", "../../x", "cast.yaml", "-cast", "cast--limb", "ｃast", "a" * 61, "{pet}", "<b>", "con/x")],
    *[(CAST, ("id",), wrong, "not-an-id") for wrong in ("LB SUP", "LB-SUP-002-", "LВ-SUP", "№3", "<b>", "{pet}", "x" * 40)],
    # G4: a revision is counted, so 1.10 is not 1.1
    *[(CAST, ("revision",), wrong, "not-a-whole-number") for wrong in ("1.10", "1.0", "v2", "2b")], (CAST, ("revision",), "0", "number-out-of-range"), (CAST, ("revision",), "01", "leading-zero"),
    *[(CAST, ("layers", 2, "overlap"), wrong, "number-out-of-range") for wrong in ("0 %", "32 %", "68 %", "100 %", "150 %")], (CAST, ("layers", 2, "overlap"), "0.5", "number-without-unit"), (CAST, ("layers", 2, "overlap"), "half", "not-an-amount"),
    *[(CAST, ("layers", 2, "passes"), wrong, "number-out-of-range") for wrong in ("0", "13", "9999999")],
    *[(CAST, ("layers", 2, "inset"), wrong, "number-out-of-range") for wrong in ("21 cm", "21 in")],
    *[(CAST, ("owner", "exercise", "walks"), wrong, "not-a-day-count") for wrong in ("4", "4 times", "0 a day", "13 a day", "four a day", "４ a day")],
    *[(CAST, ("owner", "exercise", "lead"), wrong, "number-out-of-range") for wrong in ("2 cm", "20 m")],
    # Texts for owners: figures and fields come from the plan
    *[(CAST, ("owner", "every_day", 0), wrong, name) for wrong, name in {
        "Look 2 times a day.": "digits-in-owner-text", "Look ２ times a day.": "digits-in-owner-text", "Look at {animal}.": "unknown-field", "Look at {pet.": "unknown-field", "Look at pet}.": "unknown-field",
        "Look at {}.": "unknown-field", "Look at {0.__class__}.": "unknown-field", "Look at {{ 7*7 }}.": "unknown-field", "Look at {pet!r}.": "unknown-field", "Look at { pet }.": "unknown-field",
    }.items()],
    *[(CAST, ("signs", 0), wrong, "not-a-slug") for wrong in ("Wet", "wet feet", "toes_cold")],
    *[(CAST, ("sources", "first_check"), wrong, "unknown-source") for wrong in ("hearsay", "published", "3")],
    *[(BLENDED, ("blend", 0), wrong, name) for wrong, name in {"splinted limb": "not-a-slug", "open-wound@late": "unknown-word", "@inflammatory": "not-a-slug"}.items()],
    (BLENDED, ("blend", 1), "splinted-limb", "listed-twice"),
    *[(CAST, ("do_not_use_when", 0, "instead"), wrong, "not-a-slug") for wrong in ("Padded limb", "x y")],
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "path", "typed", "problem"),
    VALUES,
    ids=[f"{'.'.join(map(str, p[-2:]))} {t[:25]!r}" for _, p, t, _ in VALUES],
)
def test_a_value_in_a_wrong_form_is_named(name: str, path: Path, typed: str, problem: str | None) -> None:
    data = changed(samples()[name][1], path, typed)
    written = write(data)
    assert told(name, data) == ([(problem, *written.values[path])] if problem else [])


@pytest.mark.parametrize(
    ("name", "path", "typed"),
    [
        (CLINIC, ("clinic", "phone"), "+44 (0)1632 960960"), (CLINIC, ("clinic", "phone"), "+12025550143"), (CLINIC, ("clinic", "languages", 1), "zh-Hant-TW"), (CLINIC, ("clinic", "languages", 1), "es-419"), (CLINIC, ("clinic", "languages", 1), "no"),
        (CLINIC, ("clinic", "name"), "Larkspur & Bridge <24>"), (CLINIC, ("hours", "sat"), "08:30 to 12:30, 13:00 to 24:00"), (CLINIC, ("waste",), "0 %"),
        (CAST, ("title",), "Cast {pet} <b>50 %</b> {{ 7*7 }}"), (CAST, ("use_when", 0), "a case (50 %) & {more} ${x}"), (CAST, ("protocol",), "cast-2"), (CAST, ("revision",), "10"), (CAST, ("layers", 2, "overlap"), "33.4 %"),
        (STOCK, ("materials", "sterile absorbent pad", "price"), "1 USD"), (MODIFIERS, ("growing", "derived"), "under 12 weeks or species cat"),
        (CAST, ("limits", "first_check"), "24 h"), (CAST, ("limits", "remove_by"), "14 d"), (CAST, ("owner", "every_day", 0), "Look at {pet} & his <b>toes</b> closely: 'yes', no?"),
    ],
)  # fmt: skip
def test_what_is_rightly_typed_is_accepted(name: str, path: Path, typed: str) -> None:
    assert told(name, changed(samples()[name][1], path, typed)) == []


def test_several_slips_of_one_file_are_all_told_in_one_run() -> None:
    data = samples()[CAST][1]
    data = changed(data, ("revision",), "one")
    data = changed(data, ("limits", "change_every"), "7")
    data = renamed(data, ("owner", "never"), "nevver")
    data = changed(data, ("layers", 2, "passes"), ["2"])
    data = changed(data, ("species",), [])
    assert sorted(name for name, _, _ in told(CAST, data)) == [
        "not-a-whole-number",
        "number-without-unit",
        "unknown-key",
        "value-missing",
        "wrong-form",
    ]


@pytest.mark.parametrize(
    ("text", "record"),
    [
        ("blend: [a, b]", BLEND), ("kind: support.soft\nlayers: []", PROTOCOL), ("kind: wound.open", STAGED), ("stages: {}", STAGED), ("kind: wound.open\nblend: [a, b]", BLEND),
        ("title: x", BLEND), ("title: x\nspecies: [dog]", PROTOCOL), ("layers: []", PROTOCOL), ("kind: wound.foot", PROTOCOL), ("[a, b]", PROTOCOL), ("text", PROTOCOL),
    ],
)  # fmt: skip
def test_the_keys_tell_which_kind_of_file_it_is(text: str, record: Any) -> None:
    tree = read_tree(text.encode(), "x.yaml").tree
    assert tree is not None
    assert record_for(tree) is record


@pytest.mark.parametrize("kind", ["protocol", "clinic", "stock", "signs", "modifiers", "pictures", "patient"])
@pytest.mark.parametrize("text", ["- a\n- b", "just words", "42", "true", "[]", "''"])
def test_a_file_that_is_no_group_of_keys_is_named_once(kind: str, text: str) -> None:
    problems = problems_in(kind, text)
    assert [(p.name, p.span.line, p.span.column) for p in problems] in (
        [("wrong-form", 1, 1)],
        [("value-missing", 1, 1)],
    )
    assert "write" in problems[0].fix


@pytest.mark.parametrize("kind", ["protocol", "clinic", "stock", "patient"])
def test_a_file_with_nothing_in_its_braces_asks_for_each_key_once(kind: str) -> None:
    problems = problems_in(kind, "{}")
    assert len({p.what for p in problems}) == len(problems)
    assert {p.name for p in problems} <= {"key-missing", "first-or-began"}


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("paddding", "padding"),
        ("conforming", "conforming gauze"),
        ("gauze", "conforming gauze"),
        ("wrap", "cohesive wrap"),
        ("chnage_every", "change_every"),
        ("zzzz", None),
        ("", None),
    ],
)
def test_the_nearest_word_is_found_by_spelling_then_by_a_shared_part(typed: str, meant: str | None) -> None:
    assert nearest(typed, ["padding", "conforming gauze", "cohesive wrap", "change_every", "outer"]) == meant


# Values of every form that a hand, a spreadsheet or another program might leave behind.
_DEBRIS = st.one_of(
    st.text(max_size=20),
    st.sampled_from(
        [
            "true",
            "~",
            "null",
            "[]",
            "{}",
            "1e3",
            "010",
            "1,5",
            "２",
            "{pet}",
            "<b>",
            "50 %",
            "../../x",
            "- ",
            "2027-02-30",
            "12 h to",
            "@",
            "é" * 500,
            "[[[]]]",
            "{a: {b: c}}",
        ]
    ),
)


@given(st.data())
def test_debris_in_any_place_is_read_or_refused_and_never_crashes(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(samples())))
    kind, sound = samples()[name]
    path: Path = ()
    node = sound
    while isinstance(node, (dict, list)) and node and (not path or data.draw(st.booleans())):
        step = data.draw(st.sampled_from(list(node) if isinstance(node, dict) else range(len(node))))
        path, node = (*path, step), at(sound, (*path, step))
    debris: Any = data.draw(_DEBRIS)
    if any(
        ord(c) < 32
        or 0x7F <= ord(c) < 0xA0
        or 0xD800 <= ord(c) < 0xE000
        or c in "\u2028\u2029\ufeff"
        or ord(c) > 0xFFFD
        for c in debris
    ):
        return  # such letters never get past the reader: tests/source
    try:
        text = write(changed(sound, path, debris)).text
    except ValueError:
        return  # cannot be written as one YAML value
    for problem in problems_in(kind, text):
        assert problem.span.line >= 1
        assert problem.fix
