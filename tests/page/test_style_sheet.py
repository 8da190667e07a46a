"""The style sheet looks after every name of the vocabulary, takes every colour and size from the tokens, and mirrors.

Sources: CSS Syntax 3 by way of tinycss2 (a parser not ours), WCAG 2.2 (1.4.3 contrast, 2.5.5 target size), CSS Values 4
(a pixel is 1/96 inch, so that 16 of them are 12 points).
"""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
import tinycss2
import tinycss2.color3

from generator.page.style_rules import PAPER, SCREEN
from generator.page.style_sheet import on_every_page, style_sheet
from generator.page.tokens import COLOURS, PAPERS, TEXT_PAIRS, TOUCH, contrast
from generator.page.vocabulary import CLASSES, ELEMENTS

ABSOLUTE = {"px", "pt", "pc", "in", "cm", "mm", "q", "rem"}
SIDES = re.compile(r"(^|-)(left|right|top|bottom)(-|$)")


def rules(css):
    """(at-rule name or "", prelude tokens, declarations) of every rule, those inside @media too."""
    for rule in tinycss2.parse_stylesheet(css, skip_comments=True, skip_whitespace=True):
        assert rule.type in ("qualified-rule", "at-rule"), rule
        if rule.type == "at-rule" and rule.lower_at_keyword == "media":
            yield from rules(tinycss2.serialize(rule.content))
            continue
        inner = tinycss2.parse_blocks_contents(rule.content, skip_comments=True, skip_whitespace=True)
        found = []
        for item in inner:
            assert item.type in ("declaration", "at-rule"), (tinycss2.serialize(rule.prelude), item)
            if item.type == "declaration":
                found.append(item)
            else:
                found += tinycss2.parse_declaration_list(item.content, skip_comments=True, skip_whitespace=True)
        name = rule.lower_at_keyword if rule.type == "at-rule" else ""
        yield name, rule.prelude, found


def tokens(nodes):
    """All tokens, those inside brackets and functions too."""
    for node in nodes:
        yield node
        for inside in ("content", "arguments"):
            if hasattr(node, inside) and node.type != "at-rule":
                yield from tokens(getattr(node, inside))


@pytest.fixture(scope="module")
def sheet():
    return list(rules(style_sheet("letter")))


def selectors(sheet):
    return [list(tokens(prelude)) for name, prelude, _ in sheet if not name]


def test_every_class_of_the_vocabulary_has_a_rule(sheet):
    styled = {
        b.value
        for found in selectors(sheet)
        for a, b in pairwise(found)
        if a.type == "literal" and a.value == "." and b.type == "ident"
    }
    assert set(CLASSES) - styled == set()


def test_every_element_of_the_vocabulary_has_a_rule(sheet):
    styled = {
        b.value
        for found in selectors(sheet)
        for a, b in zip([None, *found], found, strict=False)
        if b.type == "ident" and not (a is not None and a.type == "literal" and a.value in ".:#")
    }
    assert set(ELEMENTS) - styled == set()


def test_every_colour_is_a_token(sheet):
    used = set()
    for _, _, declarations in sheet:
        for declaration in declarations:
            for token in tokens(declaration.value):
                if token.type == "hash":
                    used.add(f"#{token.value}")
                    assert declaration.name in {f"--{name}" for name in COLOURS} | {"color"}
                elif token.type in ("ident", "function"):
                    colour = tinycss2.color3.parse_color(token)
                    assert colour is None or token.lower_value in ("transparent", "currentcolor"), token
    assert used == set(COLOURS.values())


def test_the_rules_themselves_hold_no_length_and_no_colour():
    for text in (SCREEN, PAPER):
        for token in tokens(tinycss2.parse_component_value_list(text.replace("$", ""), skip_comments=True)):
            assert token.type != "hash"
            assert token.type != "dimension" or token.lower_unit not in ABSOLUTE, tinycss2.serialize([token])


def test_no_rule_names_a_left_or_a_right_side(sheet):
    for name, _, declarations in sheet:
        if name == "page":  # a page has a left and a right whatever the script
            continue
        for declaration in declarations:
            assert not SIDES.search(declaration.lower_name), declaration.name
            if declaration.lower_name in ("text-align", "float", "clear"):
                assert not {t.value for t in declaration.value if t.type == "ident"} & {"left", "right"}


def test_nothing_is_loaded_from_elsewhere(sheet):
    assert {name for name, _, _ in sheet} == {"", "page"}
    for _, _, declarations in sheet:
        for token in tokens([t for d in declarations for t in d.value]):
            assert token.type != "url"
            assert token.type != "function" or token.lower_name in {
                "var",
                "calc",
                "max",
                "minmax",
                "counter",
                "polygon",
                "rotate",
            }


def named(declaration):
    """The colour a declaration names: `var(--leaf)` and, one step further, `var(--accent)` at rest."""
    first = next((t for t in declaration.value if t.type == "function" and t.lower_name == "var"), None)
    name = first.arguments[0].value.removeprefix("--") if first is not None else ""
    return {"text": "ink", "accent": "leaf", "quiet": "slate", "warn": "alarm", "on-accent": "white"}.get(name, name)


def test_words_stand_out_from_every_ground(sheet):
    pairs = set()
    for name, prelude, declarations in sheet:
        given = {d.name: named(d) for d in declarations}
        ground = given.get("background")
        # Marks and boxes to tick have a ground and no words.
        if name or ground not in COLOURS or not ("color" in given or "--text" in given):
            continue
        for key in ("color", "--text", "--accent", "--quiet"):
            if given.get(key) in COLOURS:
                pairs.add((given[key], ground))
                assert contrast(given[key], ground) >= 4.5, tinycss2.serialize(prelude)
    assert {
        ("white", "leaf"),
        ("ink", "alarm-pale"),
        ("alarm", "alarm-pale"),
        ("white", "alarm"),
        ("ink", "white"),
    } <= pairs
    assert pairs <= set(TEXT_PAIRS)


def rems(sheet, name):
    """Every value in rem that a variable or property is given outside print, by selector."""
    found = {}
    for at, prelude, declarations in sheet:
        for declaration in declarations:
            if not at and declaration.name == name:
                for token in tokens(declaration.value):
                    if token.type == "dimension" and token.unit == "rem":
                        found[tinycss2.serialize(prelude).strip()] = token.value
    return found


def test_nothing_on_a_screen_is_set_below_sixteen_pixels(sheet):
    sizes = rems(sheet, "--base")
    assert set(sizes) == {".sheet", ".card", ".binder"}
    assert all(size * 16 >= 16 for size in sizes.values())
    assert rems(sheet, "--floor") == {":root": 1.0}
    for at, prelude, declarations in sheet:
        selector = tinycss2.serialize(prelude)
        for declaration in declarations:
            if declaration.name != "font-size" or at or "::before" in selector or selector.strip() == "html":
                continue
            value = tinycss2.serialize(declaration.value).strip()
            assert value.startswith(("max(var(--floor)", "var(--base)", "var(--floor)", "max(var(--fine-floor)")), (
                selector
            )


def test_a_telephone_number_is_as_high_as_a_finger_needs(sheet):
    # WCAG 2.2, 2.5.5: 44 CSS pixels; a pixel is three quarters of a point.
    assert pytest.approx(44) == TOUCH / 0.75
    tall = [d for _, p, ds in sheet if "tel:" in tinycss2.serialize(p) for d in ds if d.name == "min-height"]
    assert tinycss2.serialize(tall[0].value).strip() == "var(--touch)"
    assert rems(sheet, "--touch")[":root"] * 16 == pytest.approx(44)


def test_no_rule_can_hide_a_band(sheet):
    places = set()
    for _, prelude, declarations in sheet:
        if ".band" in tinycss2.serialize(prelude):
            for declaration in declarations:
                assert declaration.name not in (
                    "visibility",
                    "opacity",
                    "clip-path",
                    "overflow",
                    "height",
                    "max-height",
                )
                assert declaration.name != "display"
                if declaration.name == "position":
                    places.add(tinycss2.serialize(declaration.value).strip())
    assert places == {"sticky", "static"}


@pytest.mark.parametrize("paper", PAPERS)
def test_what_a_browser_prints_has_the_size_of_the_paper(paper):
    size = next(d for at, _, ds in rules(style_sheet(paper)) if at == "page" for d in ds if d.name == "size")
    numbers = [t.value for t in size.value if t.type == "dimension"]
    inches = {"letter": (8.5, 11), "a4": (210 / 25.4, 297 / 25.4)}[paper]  # ISO 216 and ANSI Y14.1
    assert [n / 72 for n in numbers] == pytest.approx(inches, abs=0.001)


@pytest.mark.parametrize("words", ['Draft"; } body { display: none } "', "</style><p>a & b</p>", "\\", "مسودة", "a\nb"])
def test_the_words_of_a_band_stay_words_in_the_style_sheet(words):
    css = on_every_page(words)
    assert not set("<&") & set(css)
    content = next(d for at, _, ds in rules(css) if at == "page" for d in ds if d.name == "content")
    assert [t.value for t in content.value if t.type == "string"] == [words]
    assert len(list(rules(css))) == 2
