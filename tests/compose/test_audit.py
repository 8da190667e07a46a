"""No digit reaches paper except as a figure or in authored text."""

from __future__ import annotations

from fractions import Fraction

import pytest
from markupsafe import Markup

from generator.compose import floor_card, owner_sheet
from generator.compose.audit import LeakedFigureError, audit, audit_parts
from generator.compose.writer import Writer, filled, plain
from generator.source.span import Span
from tests.compose.plans import maple, templates
from tests.compose.reading import ENGLISH

PAGE = '<html xmlns="http://www.w3.org/1999/xhtml" lang="en"><body class="sheet"><main><p>{}</p></main></body></html>'


@pytest.fixture(params=[audit, audit_parts])
def audited(request):
    """A document is audited whole, a long one part by part."""
    return request.param


@pytest.mark.parametrize("text", ["in 3 days", "٣ days", "x²"])
def test_a_stray_digit_in_any_script_raises(text, audited):
    with pytest.raises(LeakedFigureError):
        audited(PAGE.format(text), ())


def test_figures_and_authored_text_pass(audited):
    audited(
        PAGE.format('<data value="3">3</data> <time datetime="2027-03-20">20 March</time> <span id="a">2 cm</span>'),
        {"a"},
    )


def test_authored_text_needs_its_place_on_record(audited):
    with pytest.raises(LeakedFigureError):
        audited(PAGE.format('<span id="a">2 cm</span>'), ())


def test_a_template_that_types_a_number_is_stopped():
    broken = templates() | {
        "owner-sheet.xhtml.j2": templates()["owner-sheet.xhtml.j2"].replace(
            "</main>", "<p>Change after 7 days</p></main>"
        )
    }
    with pytest.raises(LeakedFigureError, match="7 days"):
        owner_sheet(maple(), ENGLISH, ENGLISH, broken)


@pytest.mark.parametrize(
    "name", ["floor-card.xhtml.j2", "owner-sheet.xhtml.j2", "binder.xhtml.j2", "workings.xhtml.j2"]
)
def test_shipped_templates_hold_no_digit_in_their_words(name):
    import re

    words = re.sub(r"\{%.*?%\}|\{\{.*?\}\}|\{#.*?#\}|<[^>]*>", " ", templates()[name], flags=re.DOTALL)
    assert not re.search(r"\d", words)


def test_a_value_printed_twice_keeps_ids_apart_and_its_source():
    writer = Writer()
    text = writer.authored("2 cm", Span("a.yaml", 3, 1), "inset")
    xhtml = writer.once(PAGE.format(text + Markup(" ") + text))
    audit(xhtml, writer.sources)
    assert {str(span) for span in writer.sources.values()} == {"a.yaml:3:1"}
    assert len(writer.sources) == 2


def test_fields_are_filled_without_ever_being_read_as_text():
    assert filled("{pet} & <b>", {"pet": "{other}"}) == Markup("{other} &amp; &lt;b&gt;")
    with pytest.raises(KeyError):
        filled("{pet}", {})


@pytest.mark.parametrize(
    ("value", "shown"), [(Fraction(2), "2"), (Fraction("7.5"), "7.5"), (Fraction(1, 3), "0.333333")]
)
def test_bare_values_are_plain_decimals(value, shown):
    assert plain(value) == shown


def test_every_digit_of_a_card_can_be_traced():
    document = floor_card(maple(), templates())
    audit(document.xhtml, document.sources)
