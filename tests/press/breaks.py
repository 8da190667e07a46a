"""Ways in which a good file goes wrong for somebody who has it read aloud, and who notices each.

Takes  the bytes of a good file.
Gives  `BREAKS`: by name, what breaks the file and what is said of it; `broken`, the bytes of a broken file.
Knows  the words of our own reading and the rules of two programs that are not ours.
"""

from __future__ import annotations

import io
from dataclasses import dataclass

import pikepdf
from pikepdf import String

from tests.press import break_moves as moves


@dataclass(frozen=True, slots=True)
class Break:
    """apply: what is done to the file.

    own: words of our own reading (`accessible.py`) that tell of it, wherever the tests run. pdfua, vera: the rule by
    which that program tells of it; empty: it does not see it.
    """

    apply: moves.Move
    own: str
    pdfua: str = ""
    vera: str = ""


def broken(data: bytes, name: str) -> bytes:
    """The file of `data`, broken as `name` says and saved."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        BREAKS[name].apply(pdf)
        out = io.BytesIO()
        pdf.save(out)
    return out.getvalue()


BREAKS: dict[str, Break] = {
    # The file as a whole.
    "not marked as tagged": Break(moves.root("/MarkInfo"), "not marked as tagged", pdfua="UA-01-002", vera="6.2-1"),
    "suspect tags": Break(moves.suspects, "says itself that its tags are suspect", vera="7.1-4"),
    "no structure tree": Break(moves.root("/StructTreeRoot"), "no structure tree", pdfua="UA-01-005", vera="7.1-11"),
    "no language": Break(moves.root("/Lang"), "no language", pdfua="UA-06-001", vera="7.2-34"),
    "a language that is none": Break(moves.root("/Lang", String("english!")), "'english!' is no language", pdfua="UA-06-001", vera="7.2-29"),
    "a locale instead of a language": Break(moves.root("/Lang", String("en_US")), "'en_US' is no language", pdfua="UA-06-001", vera="7.2-29"),
    "not identified": Break(moves.root("/Metadata"), "does not say that it is PDF/UA-1", pdfua="UA-28-004", vera="7.1-8"),
    "identified as another part": Break(moves.other_part, "does not say that it is PDF/UA-1", vera="5-2"),
    "title not displayed": Break(moves.root("/ViewerPreferences"), "the title is not displayed", pdfua="UA-07-002", vera="7.1-10"),
    "title empty": Break(moves.title("", ""), "no title", pdfua="UA-07-001"),
    "title said twice and not alike": Break(moves.title("Another animal: going home", "Maple: going home"), "two titles that are not alike"),
    # What is told aloud.
    "figure without alternative": Break(moves.drop("/Figure", "/Alt"), "Figure without Alt", pdfua="UA-13-004", vera="7.3-1"),
    "alternative is blank": Break(moves.put("/Figure", "/Alt", String(" ")), "Figure without Alt", pdfua="UA-13-004"),
    "alternative is a file name": Break(moves.put("/Figure", "/Alt", String("image1.png")), "Figure whose Alt says nothing: 'image1.png'"),
    "alternative is only what it is": Break(moves.put("/Figure", "/Alt", String("Picture")), "Figure whose Alt says nothing: 'Picture'"),
    "figure without place": Break(moves.drop("/Figure", "/A"), "Figure without BBox"),
    "heading level skipped": Break(moves.rename("/H2=/H3", only_first=True), "heading level skips from 1 to 3", vera="7.4.2-1"),
    "first heading not of the first level": Break(moves.rename("/H1=/H2"), "heading level skips from 0 to 2", vera="7.4.2-1"),
    "heading says nothing": Break(moves.empty_heading, "/H2 says nothing", pdfua="UA-14-001"),
    "head cell without scope": Break(moves.drop("/TH", "/A"), "TH without Scope", vera="7.5-1"),
    "no head cell at all": Break(moves.rename("/TH=/TD"), "Table without TH", pdfua="UA-15-003"),
    "head cell read twice": Break(moves.head_read_twice, "is read twice"),
    "row outside its table": Break(moves.rename("/TBody=/Div"), "/TR inside /Div", pdfua="UA-15-003", vera="7.2-14"),
    "row straight in a section": Break(moves.rename("/Table=/Sect", "/TBody=/Sect", "/THead=/Sect"), "/TR inside /Sect", vera="7.2-4"),
    "row shorter than the others": Break(moves.short_row, "Table with rows of [2, 3] cells", vera="7.2-42"),
    "cell that is no cell": Break(moves.rename("/TD=/P"), "/TR holds /P", vera="7.2-10"),
    "list item without body": Break(moves.rename("/LBody=/Div"), "LI without one LBody"),
    "list that is no list": Break(moves.rename("/L=/Sect"), "/LI inside /Sect", vera="7.2-17"),
    "role that does not exist": Break(moves.rename("/LBody=/Blob"), "/Blob is no standard type", vera="7.1-5"),
    "wrong language of a part": Break(moves.put("/Span", "/Lang", String("inglés")), "'inglés' is no language", vera="7.2-29"),
    # Links.
    "link that says nothing": Break(moves.silent_link, "page 1: a link that says nothing", pdfua="UA-18-005", vera="7.18.5-2"),
    "link outside the tree": Break(moves.loose_link, "page 1: a link outside every Link element"),
    "link in another element": Break(moves.rename("/Link=/Span"), "page 1: a link outside every Link element", vera="7.18.5-1"),
    "link without place": Break(moves.link_without_place, "page 1: the parent tree disagrees about a link", vera="7.18.5-1"),
    "link in a stranger's place": Break(moves.link_in_a_strangers_place, "page 1: the parent tree disagrees about a link", vera="7.18.5-1"),
    "no tab order": Break(moves.no_tab_order, "page 1: no tab order", vera="7.18.3-1"),
    # Tree and page.
    "no parent tree": Break(moves.no_parent_tree, "no parent tree", vera="7.1-3"),
    "page without place": Break(moves.no_place, "page 1 has no place in the parent tree", vera="7.1-3"),
    "parents mixed up": Break(moves.mixed_up_parents, "page 1: the parent tree disagrees about content 0"),
    "paint outside every tag": Break(moves.loose_paint, "page 1: f outside every tag", vera="7.1-3"),
    "paragraph hidden": Break(moves.rewrite(rb"/P <<\s*/MCID \d+\s*>> BDC", b"/Artifact BMC"), "is in the tree and not on the page"),
    "paragraph said to be decoration": Break(moves.paragraph_said_to_be_decoration, "page 1: words that nobody hears"),
    "tag inside decoration": Break(moves.rewrite(rb"(/P <<\s*/MCID \d+\s*>> BDC.*?EMC)", rb"/Artifact BMC \1 EMC"), "page 1: tag inside artifact", vera="7.1-2"),
    "decoration inside a tag": Break(moves.rewrite(rb"(/P <<\s*/MCID \d+\s*>> BDC)(.*?)EMC", rb"\1 /Artifact BMC \2 EMC EMC"), "page 1: artifact inside tag", vera="7.1-1"),
    "content number used twice": Break(moves.rewrite(rb"/MCID 1\b", b"/MCID 0"), "page 1: content 0 twice"),
    "content of nobody": Break(moves.content_of_nobody, "is not in the tree"),
    "content claimed twice": Break(moves.content_claimed_twice, "is read twice"),
    "sections out of order": Break(moves.sections_swapped, "reading goes back", vera="7.4.2-1"),
    "paragraphs out of order": Break(moves.paragraphs_swapped, "reading goes back"),
    # Fonts.
    "font not embedded": Break(moves.plain_font, "font /F1 (/Helvetica) is not embedded"),
    "font program gone": Break(moves.font_program_gone, "NotoSans-Regular) is not embedded", vera="7.21.4.1-1"),
    "font without meaning": Break(moves.font_without_meaning, "does not say what its glyphs mean", vera="7.21.7-1"),
    "letter without meaning": Break(moves.glyphs_of_no_meaning, "glyphs that mean U+0000", vera="7.21.7-2"),
}  # fmt: skip
