from __future__ import annotations

import io
from contextlib import contextmanager

import pytest
from reportlab.pdfgen.canvas import Canvas

from generator.page.paths import Label
from generator.press.text import (
    MissingGlyph,
    Run,
    TextBlock,
    TextStyle,
    TooManyLines,
    draw_label,
    is_rtl,
    measure,
)
from generator.press.text.draw import rgb

from .lines import LINES
from .sheet import COLOURS, STYLE, block

LONG = "Keep the bandage dry, look at the toes and call us if anything smells or slips. " * 4


class Marking(Canvas):
    """A canvas that notes its scopes and links."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.seen: list[tuple[str, object]] = []

    @contextmanager
    def scope(self, mark):
        before = len(self._code)
        yield
        assert len(self._code) > before
        self.seen.append(("scope", mark))

    def link(self, rect, target, mark):
        self.seen.append(("link", (tuple(round(side, 1) for side in rect), target, mark)))


def drawn(each: TextBlock, width: float = 300) -> tuple[Marking, list[tuple[str, object]]]:
    canvas = Marking("/dev/null", invariant=1)
    each.wrap(width, 9999)
    each.draw_on(canvas, 0, 0)
    return canvas, canvas.seen


def test_a_plain_string_is_refused():
    with pytest.raises(TypeError, match="Run"):
        TextBlock("Keep dry", STYLE, "en")  # type: ignore[arg-type]
    with pytest.raises(TypeError, match="Run"):
        TextBlock(["Keep dry"], STYLE, "en")  # type: ignore[list-item]


def test_markup_is_printed_as_it_stands():
    assert block("<b>5 & 6</b>").plain == "<b>5 & 6</b>"
    assert block("<b>").natural_width() == pytest.approx(measure("<b>", 12))


def test_a_missing_glyph_is_raised_on_construction():
    with pytest.raises(MissingGlyph):
        TextBlock([Run("dry "), Run("\u2610")], STYLE, "en")


def test_height_is_lines_times_leading():
    each = block(LONG)
    _, height = each.wrap(200, 9999)
    assert height == each.line_count(200) * 17
    assert each.line_count(10_000) == 1
    assert each.natural_width() < 10_000


def test_width_scales_with_size_and_bold_is_wider():
    assert measure("bandage", 24) == pytest.approx(2 * measure("bandage", 12))
    assert measure("bandage", 12, True) > measure("bandage", 12, False)
    # Noto Sans 2.015: every figure is 572 units of 1000 wide.
    assert measure("0142", 10) == pytest.approx(4 * 5.72)


def test_a_block_is_split_with_two_lines_or_more_on_either_side():
    each = block(LONG)
    count = each.line_count(200)
    assert count >= 6
    for fit in range(count + 2):
        parts = each.split(200, fit * 17)
        counts = [part.line_count(200) for part in parts]
        if fit < 2:
            assert parts == []
        elif fit >= count:
            assert parts == [each]
        else:
            assert sum(counts) == count
            assert min(counts) >= 2
            assert counts[0] <= fit
            assert "".join(part.plain for part in parts) == each.plain


def test_a_long_block_flows_over_many_small_pages_without_losing_a_word():
    pypdf = pytest.importorskip("pypdf")
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=(300, 200), invariant=1)
    room = 44.0  # points in height: two lines of 17, and no third
    for rest in (block(LONG), block(LONG)):
        while rest is not None:
            head, *tail = rest.split(144, room) or [rest]  # three lines stay together
            _, height = head.wrap(144, room)
            head.draw_on(canvas, 20, 200 - height)
            canvas.showPage()
            rest = tail[0] if tail else None
    canvas.save()
    read = [page.extract_text() for page in pypdf.PdfReader(file).pages]
    assert all(2 <= len(text.strip().split("\n")) <= 3 for text in read)
    assert " ".join(" ".join(read).split()) == " ".join((LONG + LONG).split())


@pytest.mark.parametrize("words", [6, 9])
def test_a_block_of_three_lines_or_fewer_is_never_split(words):
    each = block(" ".join(["toes"] * words))
    assert 2 <= each.line_count(100) <= 3
    assert each.split(100, 17 * (each.line_count(100) - 1)) == []


def test_more_lines_than_allowed_are_refused_and_never_cut():
    each = TextBlock([Run(LONG)], STYLE, "en", max_lines=2, colours=COLOURS)
    with pytest.raises(TooManyLines) as caught:
        each.wrap(200, 9999)
    assert (caught.value.needed, caught.value.allowed) == (each.line_count(200), 2)
    assert each.wrap(10_000, 9999) == (10_000, 17)


def _tm(canvas: Canvas) -> float:
    code = next(part for part in canvas._code if " Tm" in part)
    return float(code.split(" Tm")[0].split()[-2])


@pytest.mark.parametrize(
    ("language", "align", "expected"),
    [("en", "start", 0), ("en", "end", 1), ("en", "center", 0.5), ("ar", "start", 1), ("ar", "end", 0)],
)
def test_start_and_end_follow_the_direction_of_the_language(language, align, expected):
    text = {"en": "dry", "ar": "جاف"}[language]
    each = block(text, language, TextStyle(12, 17, align=align))
    canvas, _ = drawn(each, 300)
    spare = 300 - each.natural_width()
    assert _tm(canvas) == pytest.approx(spare * expected, abs=1)


def test_every_owner_gets_its_own_scope_in_reading_order():
    runs = [Run("Call "), Run("us now", mark="LINK", link="tel:+18025550142", bold=True), Run(" please")]
    _, seen = drawn(TextBlock(runs, STYLE, "en", mark="P", colours=COLOURS))
    assert [mark for kind, mark in seen if kind == "scope"] == ["P", "LINK", "P"]
    [(rect, target, mark)] = [what for kind, what in seen if kind == "link"]
    assert (target, mark) == ("tel:+18025550142", "LINK")
    left = measure("Call ", 12)
    assert rect[0] == pytest.approx(left, abs=0.2)
    assert rect[2] == pytest.approx(left + measure("us now", 12, True), abs=0.2)
    assert rect[1] < 4 < rect[3]


def test_owners_of_right_to_left_text_come_in_reading_order_too():
    runs = [Run("اتصلوا "), Run("بنا", mark="LINK", link="#a"), Run(" الآن")]
    _, seen = drawn(TextBlock(runs, STYLE, "ar", mark="P", colours=COLOURS))
    assert [mark for kind, mark in seen if kind == "scope"] == ["P", "LINK", "P"]


def test_a_link_over_two_lines_has_two_places():
    runs = [Run("one two three four", mark="LINK", link="#a")]
    _, seen = drawn(TextBlock(runs, STYLE, "en", mark="P", colours=COLOURS), 60)
    assert len([what for kind, what in seen if kind == "link"]) == 2


def test_runs_of_one_owner_share_a_scope_whatever_their_colour():
    runs = [Run("Stop. ", bold=True, colour="alarm"), Run("Call us.")]
    canvas, seen = drawn(TextBlock(runs, STYLE, "en", mark="P", colours=COLOURS))
    assert seen == [("scope", "P")]
    code = "".join(canvas._code)
    assert "0.6275 0.0627 0.0627 rg" in code  # alarm, #a01010
    assert "0.0627 0.0627 0.0627 rg" in code  # ink, #101010


def test_an_unknown_colour_is_refused():
    with pytest.raises(KeyError):
        rgb("mauve", COLOURS)


def test_a_label_hangs_on_its_anchor_and_opens_no_scope():
    width = measure("5 cm", 10)
    for anchor, shift in (("start", 0.0), ("middle", 0.5), ("end", 1.0)):
        canvas = Marking("/dev/null", invariant=1)
        draw_label(canvas, Label("5 cm", 100, 50, 10, anchor=anchor), "en", COLOURS)
        assert _tm(canvas) == pytest.approx(100 - shift * width, abs=0.01)
        assert canvas.seen == []
    draw_label(canvas, Label("", 0, 0, 10), "en", COLOURS)


def test_directions_of_languages():
    assert [tag for tag in LINES if is_rtl(tag)] == ["ar", "fa", "ur", "he"]
    assert is_rtl("pa-Arab")
    assert is_rtl("ar_EG")
    assert not is_rtl("pa")
    assert not is_rtl("az-Latn")
