"""What lies outside the closed vocabulary is refused, by name and with its line."""

from __future__ import annotations

import re

import pytest

from generator.page.vocabulary import ATTRIBUTES, CLASSES, ELEMENTS, GLOBAL_ATTRIBUTES
from generator.page.xhtml import OutsideVocabulary, Text, collapse, read

HTML = '<html xmlns="http://www.w3.org/1999/xhtml" lang="en">'


def page(content: str) -> str:
    """The content starts on line 3."""
    return f'{HTML}\n<body class="sheet"><main>\n{content}\n</main></body></html>'


def refused(xhtml: str) -> list[tuple[int, str]]:
    with pytest.raises(OutsideVocabulary) as caught:
        read(xhtml)
    return [(fault.line, fault.name) for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("content", "name"),
    [
        ("<b>bold</b>", "unknown-element"),
        ("<script>1</script>", "unknown-element"),
        ('<img src="x"/>', "unknown-element"),
        ('<p style="color: red">x</p>', "unknown-attribute"),
        ('<p onclick="x">x</p>', "unknown-attribute"),
        ('<p class="shouting">x</p>', "unknown-class"),
        ('<p class="box">x</p>', "misplaced-class"),
        ('<div class="box tint alarm">x</div>', "classes-that-disagree"),
        ('<p><a href="javascript:alert(1)">x</a></p>', "link-scheme"),
        ('<p><a href="http://example.org/">x</a></p>', "link-scheme"),
        ('<p><a href="file:///etc/passwd">x</a></p>', "link-scheme"),
        ('<p><a href="#nowhere">x</a></p>', "broken-reference"),
        ("<table><tbody><tr><th>x</th></tr></tbody></table>", "header-cell-without-scope"),
        ('<table><tbody><tr><th scope="all">x</th></tr></tbody></table>', "unreadable-attribute"),
        ('<figure data-drawing="toes" data-alt=" "/>', "figure-without-alternative"),
        ('<figure data-drawing="toes"/>', "figure-without-alternative"),
        ('<ul class="mark-drawing"><li data-drawing="toes">x</li></ul>', "figure-without-alternative"),
        ("<h2>x</h2>", "skipped-heading-level"),
        ("<h1>x</h1><h3>y</h3>", "skipped-heading-level"),
        ("<h1> </h1>", "empty-heading"),
        ("<p><p>x</p></p>", "misplaced-element"),
        ("<ul><p>x</p></ul>", "misplaced-element"),
        ("<ul>words</ul>", "misplaced-text"),
        ("words", "misplaced-text"),
        ('<p id="a">x</p><p id="a">y</p>', "repeated-id"),
        ('<p id="1">x</p>', "unreadable-attribute"),
        ('<p lang="not a language">x</p>', "unreadable-attribute"),
        ("<p><time>noon</time></p>", "missing-attribute"),
        ('<header class="running"><p>x</p></header>', "misplaced-furniture"),
        ('<aside class="tab" data-place="1/2"><p>x</p></aside>', "misplaced-furniture"),
        ('<aside class="tab"><p>x</p></aside>', "missing-attribute"),
        ('<aside class="tab" data-place="3/2"><p>x</p></aside>', "unreadable-attribute"),
        ('<aside class="tab" data-place="two"><p>x</p></aside>', "unreadable-attribute"),
        ('<aside class="tab" data-place="1/2"><p>x</p><p>y</p></aside>', "misplaced-element"),
        ('<aside class="tab" data-place="1/2"><h1>x</h1></aside>', "misplaced-element"),
        ('<p><span class="page-number">7</span></p>', "filled-by-the-press"),
        ('<p><a class="page-of" href="tel:+18025550142"/></p>', "link-scheme"),
        ('<div class="columns" data-widths="1 2"><p>x</p></div>', "widths-do-not-match"),
        ('<table data-widths="1 2"><tbody><tr><td>x</td></tr></tbody></table>', "widths-do-not-match"),
        ("<?php echo 1 ?>", "processing-instruction"),
        ("<p>&nbsp;</p>", "broken-markup"),
        ("<p>x</div>", "broken-markup"),
    ],
)
def test_each_is_refused_by_name_on_its_line(content: str, name: str) -> None:
    assert (3, name) in refused(page(content))


def test_all_faults_are_told_at_once() -> None:
    assert refused(page("<b>x</b>\n<p class='nope'>y</p>\n\n<h2>z</h2>")) == [
        (3, "unknown-element"),
        (4, "unknown-class"),
        (6, "skipped-heading-level"),
    ]


def test_a_document_type_is_never_read() -> None:
    bomb = '<!DOCTYPE html [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]>' + page("<p>&b;</p>")
    assert refused(bomb) == [(1, "document-type")]


def test_a_named_encoding_is_not_believed() -> None:
    tree = read('<?xml version="1.0" encoding="latin-1"?>' + page("<p>Contrôle à 10 h</p>"))
    assert tree.plain() == "Contrôle à 10 h"


def test_a_body_says_what_kind_of_page_it_is() -> None:
    assert refused(f"{HTML}<body><p>x</p></body></html>") == [(1, "missing-class")]


def test_a_document_names_its_language() -> None:
    assert refused('<html><body class="sheet"><p>x</p></body></html>') == [(1, "missing-attribute")]


def test_markup_in_a_name_stays_text() -> None:
    tree = read(page("<p>&lt;img src='x'&gt; &amp; Rex</p>"))
    assert tree.plain() == "<img src='x'> & Rex"


def test_no_break_spaces_are_text_and_layout_is_not() -> None:
    assert collapse("12\u00a0h \n\t and\u202f5") == "12\u00a0h and\u202f5"


def test_lines_and_columns_count_from_one() -> None:
    tree = read(page('<p>one</p>\n  <p id="two">two</p>'))
    two = next(node for node in tree.walk() if node.id == "two")
    assert (two.line, two.column) == (4, 3)
    assert isinstance(two.children[0], Text)
    assert two.children[0].line == 4


def test_every_name_in_the_vocabulary_is_explained_and_known() -> None:
    for name, element in ELEMENTS.items():
        assert element.meaning, name
        assert set(element.attributes) | set(element.required) <= set(ATTRIBUTES), name
        assert set(element.inside) <= set(ELEMENTS), name
    for name, known in CLASSES.items():
        assert known.meaning, name
        assert set(known.on) <= set(ELEMENTS), name
        assert re.fullmatch(r"[a-z][a-z-]*", name)
    assert set(GLOBAL_ATTRIBUTES) <= set(ATTRIBUTES)
