"""The page for a browser says what the paper says, runs nothing, and is read alike as XML and as HTML.

Sources: the HTML standard by way of html5lib in its strict mode, XML 1.0 by way of the standard library, WCAG 2.2 (1.1.1
names for pictures, 3.1.1 and 3.1.2 language of page and parts), Unicode Standard Annex 9 for who runs from the right.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import html5lib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.page.browser import browser_page
from generator.page.vocabulary import CLASSES
from tests.compose.plans import at, book, patient, templates
from tests.press.papers import FOOT, HEAD, binder, document, sheet

X, SVG = "{http://www.w3.org/1999/xhtml}", "{http://www.w3.org/2000/svg}"
LANG = "{http://www.w3.org/XML/1998/namespace}lang"
BAND = '<aside class="band alarm"><p>Traducción sin revisar.</p><p lang="en">Draft &amp; not checked.</p></aside>'


@pytest.fixture(scope="module")
def page(request):
    """A document as a page, its markup checked on the way: well-formed XML, and HTML without one parse error."""

    def make(given):
        text = browser_page(given, lambda text, size, bold: 0.6 * size * len(text))
        html5lib.HTMLParser(strict=True, tree=html5lib.getTreeBuilder("etree")).parse(text)
        return text

    return make


def tree(text):
    return ET.fromstring(text)


def words(element):
    """What an element says, white space collapsed; drawings and style left out."""

    def parts(node):
        if node.tag in (f"{SVG}svg", f"{X}style"):
            yield node.tail or ""
            return
        yield from within(node)
        yield node.tail or ""

    def within(node):
        yield node.text or ""
        for child in node:
            yield from parts(child)

    return " ".join("".join(within(element)).split())


def parts(body):
    """What each part of a body, and of each chapter, says: a running foot moves to the end of what it runs under."""
    for child in body:
        if "chapter" in (child.get("class") or ""):
            yield from parts(child)
        elif words(child):
            yield words(child)


def owner(language):
    from generator.compose import owner_sheet
    from generator.reckon import reckon
    from generator.reckon.clock import located
    from generator.words.catalogue import load_words
    from tests.compose.plans import ROOT, ZONE

    catalogue = ROOT / "locales" / language / "owner.po"
    spoken = load_words(language, catalogue.read_text(encoding="utf-8") if catalogue.is_file() else None, {})
    maple, now = patient("maple"), located(at("2027-03-13T10:40"), ZONE)
    plan = reckon((book().protocols["padded-limb-support"],), maple, book(), now, ZONE)
    return owner_sheet(plan, spoken, load_words("en", None, {}), templates())


SHEETS = {"made": sheet, "binder": binder, "en": lambda: owner("en"), "es": lambda: owner("es")}


@pytest.mark.parametrize("name", SHEETS)
def test_the_page_says_what_the_document_says_and_no_less(page, name):
    document = SHEETS[name]()
    before, after = ET.fromstring(document.xhtml).find(f"{X}body"), tree(page(document)).find(f"{X}body")
    said = list(parts(before))
    assert len("".join(said)) > 200
    assert sorted(said) == sorted(parts(after))


@pytest.mark.parametrize("name", SHEETS)
def test_a_reader_of_html_and_one_of_xml_hear_the_same(page, name):
    text = page(SHEETS[name]())
    html = html5lib.parse(text, treebuilder="etree")
    assert words(html.find(f"{X}body")) == words(tree(text).find(f"{X}body"))
    assert len(list(html.iter())) == len(list(tree(text).iter()))


@pytest.mark.parametrize("name", SHEETS)
def test_nothing_runs_and_nothing_is_loaded(page, name):
    root = tree(page(SHEETS[name]()))
    policy = [m.get("content") for m in root.iter(f"{X}meta") if m.get("http-equiv") == "Content-Security-Policy"]
    assert policy == ["default-src 'none'; style-src 'unsafe-inline'; img-src data:"]
    tags = {node.tag.split("}")[1] for node in root.iter()}
    assert not tags & {
        "script",
        "link",
        "iframe",
        "object",
        "embed",
        "img",
        "image",
        "use",
        "base",
        "form",
        "foreignObject",
    }
    for node in root.iter():
        for key, value in node.attrib.items():
            assert not key.lower().startswith("on"), key
            assert key.split("}")[-1] not in ("src", "srcset", "action", "background", "poster", "srcdoc")
            assert "url(" not in value
        # What is linked was a link of the document: a telephone or a place on the page.
        assert re.match(r"#|tel:|https:|mailto:", node.get("href", "#"))


@pytest.mark.parametrize("name", SHEETS)
def test_every_drawing_has_a_name_or_is_hidden_beside_its_words(page, name):
    document = SHEETS[name]()
    root = tree(page(document))
    figures = list(root.iter(f"{X}figure"))
    alternatives = [f.get("data-alt") for f in ET.fromstring(document.xhtml).iter(f"{X}figure")]
    assert len(figures) == len(alternatives)
    for figure, alternative in zip(figures, alternatives, strict=True):
        drawn = list(figure.iter(f"{SVG}svg"))
        assert drawn
        for svg in drawn:
            assert svg.get("role") == "img"
            assert svg.get("aria-label") == svg.find(f"{SVG}title").text == " ".join(alternative.split())
    for svg in root.iter(f"{SVG}svg"):
        assert svg.get("aria-label") or svg.get("aria-hidden") == "true"


def test_only_classes_with_a_rule_reach_the_page(page):
    from generator.page.style_rules import SCREEN

    for make in SHEETS.values():
        for node in tree(page(make())).iter():
            for name in (node.get("class") or "").split():
                assert name in CLASSES or f".{name}" in SCREEN


@pytest.mark.parametrize(
    ("language", "way"), [("ar", "rtl"), ("he-IL", "rtl"), ("pa-Arab", "rtl"), ("es", "ltr"), ("az-Latn", "ltr")]
)
def test_the_page_runs_as_its_language_does(page, language, way):
    root = tree(page(document("<p>x</p>", language=language)))
    assert (root.get("dir"), root.get("lang"), root.get(LANG)) == (way, language, language)


def test_a_line_in_another_language_stands_where_its_neighbours_stand(page):
    content = (
        '<ul><li lang="en">Look <strong>now</strong></li></ul><p class="gloss" lang="en">Look.</p>'
        '<section lang="en"><p>All of it.</p></section><p>انظر <span lang="en">now</span></p>'
    )
    root = tree(page(document(content, language="ar")))
    item, gloss = root.find(f".//{X}li"), root.find(f".//{X}p[@class='gloss']")
    for line in (item, gloss):
        # The block keeps the page's way; its words run their own, told apart from what is around.
        assert line.get("dir") is None
        assert [(b.get("dir"), words(b)) for b in line] == [("ltr", words(line))]
    assert root.find(f".//{X}section").get("dir") == "ltr"
    assert root.find(f".//{X}section//{X}bdi") is None
    assert root.find(f".//{X}span").get("dir") == "ltr"


def test_a_band_stands_before_everything_and_is_never_hidden(page):
    text = page(document("<p>x</p>", furniture=HEAD + FOOT + BAND, title="DRAFT: Maple"))
    body = tree(text).find(f"{X}body")
    assert body[0].get("class") == "alarm band"
    assert words(body[0]) == "Traducción sin revisar.Draft & not checked."
    assert all(node.get("hidden") is None and node.get("aria-hidden") is None for node in body[0].iter())
    assert tree(text).find(f"{X}head/{X}title").text == "DRAFT: Maple"
    # A browser that prints several pages puts the same words over each.
    printed = next(line for line in text.splitlines() if "@top-center" in line)
    assert "Traducci\N{LATIN SMALL LETTER O WITH ACUTE}n sin revisar\\2e  Draft" in printed


def test_a_tab_stands_in_its_chapter_and_is_not_hidden(page):
    tab = '<aside class="tab" data-place="2/7"><p>2 Wounds</p></aside>'
    chapter = f'<section class="chapter">{tab}<h1>Open wound</h1></section>'
    section = tree(page(document(chapter, kind="binder"))).find(f".//{X}section")
    assert [words(child) for child in section] == ["2 Wounds", "Open wound"]
    assert all(node.get("hidden") is None for node in section.iter())


def test_a_band_that_counts_pages_is_not_hidden_either(page):
    band = '<aside class="band"><p>Draft <span class="page-number"/></p></aside>'
    body = tree(page(document("<p>x</p>", furniture=band))).find(f"{X}body")
    assert all(node.get("hidden") is None for node in body[0].iter())


def test_head_and_foot_stand_once_and_page_numbers_are_left_out(page):
    foot = (
        '<footer class="running"><p>LB-SUP-002 · <span id="who">Dr M. Tamsin</span> · page <span class="page-number"/> of '
        '<span class="page-count"/> · Your vet decides.</p></footer>'
    )
    body = tree(page(document("<p>x</p>", furniture=HEAD + foot))).find(f"{X}body")
    assert [child.tag.split("}")[1] for child in body] == ["header", "main", "footer"]
    hidden = [words(node) for node in body.iter() if node.get("hidden") is not None]
    assert hidden == ["· page of"]


def test_a_figure_beside_a_page_number_is_never_hidden(page):
    foot = (
        '<footer class="running"><p>Sheet <data value="7" id="s">7</data> page <span class="page-number"/></p></footer>'
    )
    body = tree(page(document("<p>x</p>", furniture=foot))).find(f"{X}body")
    assert not [node for node in body.iter() if node.get("hidden") is not None]


def test_a_sentence_that_counts_pages_stays_in_sight(page):
    foot = '<footer class="running"><p>Throw older sheets away: this is page <span class="page-number"/>.</p></footer>'
    body = tree(page(document("<p>x</p>", furniture=foot))).find(f"{X}body")
    assert not [node for node in body.iter() if node.get("hidden") is not None]


def test_a_list_has_its_marks_and_stays_a_list(page):
    content = (
        '<ol class="mark-disc" start="4"><li>a</li><li value="9" class="mark-tick">b</li></ol><ul><li>c</li></ul>'
        '<ul class="mark-drawing"><li data-drawing="toes" data-alt="Two toes">d</li></ul>'
    )
    root = tree(page(document(content)))
    assert [li.get("class") for li in root.iter(f"{X}li")] == ["mark-disc", "mark-tick", "mark-bullet", "mark-drawing"]
    assert all(node.get("role") == "list" for node in root.iter() if node.tag in (f"{X}ul", f"{X}ol"))
    assert root.find(f".//{X}ol").get("start") == "4"
    assert root.find(f".//{X}li[@value='9']") is not None
    assert root.find(f".//{X}li/{X}span/{SVG}svg").get("aria-label") == "Two toes"


def test_boxes_to_tick_and_lines_to_write_on_are_there(page):
    content = '<p data-ticks="3">Toes</p><p class="blank" data-lines="2">Signed</p><p class="blank under">Owner</p>'
    root = tree(page(document(content)))
    ticks = root.find(f".//{X}span[@class='ticks']")
    assert (len(ticks), ticks.get("aria-hidden")) == (3, "true")
    lines = [[span.get("class") for span in p] for p in root.iter(f"{X}p") if "blank" in (p.get("class") or "")]
    assert lines == [["label", "line", "line"], ["line", "label"]]


def test_a_table_scrolls_in_a_frame_that_has_a_name(page):
    content = (
        "<table><caption>Visits</caption><tbody><tr><td>a</td></tr></tbody></table>"
        '<table data-widths="1 3"><thead><tr><th scope="col">Due</th><th scope="col">Done</th></tr></thead>'
        "<tbody><tr><td>a</td><td/></tr></tbody></table>"
    )
    root = tree(page(document(content)))
    frames = [f for f in root.iter(f"{X}div") if f.get("class") == "scroll"]
    assert [(f.get("role"), f.get("aria-label"), f.get("tabindex")) for f in frames] == [
        ("region", "Visits", "0"), ("region", "Due, Done", "0"),
    ]  # fmt: skip
    assert [c.get("style") for c in root.iter(f"{X}col")] == ["width: 25.0%", "width: 75.0%"]


@settings(max_examples=60, deadline=None)
@given(st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=40))
def test_whatever_somebody_wrote_stays_words(written):
    from xml.sax.saxutils import escape, quoteattr

    content = f'<p id="w">{escape(written)}</p><figure data-drawing="toes" data-alt={quoteattr("x" + written)}/>'
    # U+FFFE and U+FFFF are no characters of XML 1.0 and cannot be in a document.
    content = re.sub("[\ufffe\uffff]", "", content)
    title = "x" + written
    text = browser_page(document(content, title=title), lambda text, size, bold: size * len(text))
    root = tree(text)
    assert (root.find(f".//{X}p[@id='w']").text or "") == re.sub("[\ufffe\uffff]", "", written)
    assert {n.tag.split("}")[1] for n in root.iter(f"{X}p")} == {"p"}
    assert "<script" not in text.lower() or "&lt;script" in text.lower()


@pytest.mark.parametrize(
    "name", ["</style><script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "a]]>b", "{{ 7 }}"]
)
def test_a_hostile_name_is_a_name(page, name):
    from xml.sax.saxutils import escape, quoteattr

    band = f'<aside class="band"><p>{escape(name)}</p></aside>'
    content = f'<h1>{escape(name)}</h1><figure data-drawing="toes" data-alt={quoteattr(name)}/>'
    text = page(document(content, furniture=band, title=name))
    html = html5lib.parse(text, treebuilder="etree")
    assert words(html.find(f".//{X}h1")) == name
    assert html.find(f"{X}head/{X}title").text == name
    assert not [n for n in html.iter() if n.tag in (f"{X}script", f"{X}img")]


def test_a_drawing_that_a_phone_is_too_narrow_for_is_still_drawn(page):
    from generator.page.lettering import TooNarrow
    from generator.page.paths import Picture

    def wide(width, measure):
        if width < 400:
            raise TooNarrow("word", width)
        return Picture(width, 50, (), "x")

    root = tree(page(replace(document('<figure data-drawing="toes" data-alt="x"/>'), drawings={"toes": wide})))
    assert float(root.find(f".//{SVG}svg").get("width")[:-2]) >= 400
