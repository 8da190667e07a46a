"""What can be done to a good file so that it goes wrong for somebody who has it read aloud.

Takes  an open pikepdf document: the sheet of `papers.py`, which has a figure, a table, lists, links and two languages.
Gives  `elements`, and moves: each changes the document in one way, or makes the function that does.
Knows  ISO 32000-1, 14.6 to 14.9; nothing of how the file was made, or of who should notice.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name

Move = Callable[[pikepdf.Pdf], None]


def elements(pdf: pikepdf.Pdf, role: str) -> list[Any]:
    """Structure elements of a role, in the order of the tree."""
    found: list[Any] = []

    def walk(item: object) -> None:
        if isinstance(item, Array):
            for kid in item:
                walk(kid)
        elif isinstance(item, Dictionary):
            if str(item.get("/S", "")) == role:
                found.append(item)
            if "/K" in item:
                walk(item.K)

    walk(pdf.Root.StructTreeRoot.K)
    return found


# ---- moves of one kind, to be told what they move -------------------------------------------------------------


def drop(role: str, key: str) -> Move:
    def apply(pdf: pikepdf.Pdf) -> None:
        del elements(pdf, role)[0][key]

    return apply


def put(role: str, key: str, value: Any) -> Move:
    def apply(pdf: pikepdf.Pdf) -> None:
        elements(pdf, role)[0][key] = value

    return apply


def rename(*pairs: str, only_first: bool = False) -> Move:
    """Each pair `/Old=/New`."""

    def apply(pdf: pikepdf.Pdf) -> None:
        for pair in pairs:
            old, new = pair.split("=")
            found = elements(pdf, old)
            assert found
            for elem in found[:1] if only_first else found:
                elem.S = Name(new)

    return apply


def root(key: str, value: Any = None) -> Move:
    """Take an entry of the catalogue away, or set it."""

    def apply(pdf: pikepdf.Pdf) -> None:
        if value is None:
            del pdf.Root[key]
        else:
            pdf.Root[key] = value

    return apply


def rewrite(old: bytes, new: bytes, page: int = 0) -> Move:
    """Replace the first place in a page's stream that the pattern matches."""

    def apply(pdf: pikepdf.Pdf) -> None:
        held = pdf.pages[page]
        held.contents_coalesce()
        code, times = re.subn(old, new, held.Contents.read_bytes(), count=1, flags=re.S)
        assert times == 1
        held.Contents = pdf.make_stream(code)

    return apply


def fonts(pdf: pikepdf.Pdf) -> list[Any]:
    return [font for _, font in pdf.pages[0].Resources.Font.items()]


def first_link(pdf: pikepdf.Pdf) -> Any:
    return pdf.pages[0].Annots[0]


# ---- moves that need no telling --------------------------------------------------------------------------------


def title(info: str, xmp: str) -> Move:
    def apply(pdf: pikepdf.Pdf) -> None:
        pdf.docinfo["/Title"] = info
        text = pdf.Root.Metadata.read_bytes().decode("utf-8")
        changed, times = re.subn(r'(<rdf:li xml:lang="x-default">)[^<]*', rf"\g<1>{xmp}", text)
        assert times == 1
        pdf.Root.Metadata.write(changed.encode("utf-8"))

    return apply


def other_part(pdf: pikepdf.Pdf) -> None:
    text = pdf.Root.Metadata.read_bytes()
    pdf.Root.Metadata.write(text.replace(b"<pdfuaid:part>1<", b"<pdfuaid:part>7<"))


def loose_link(pdf: pikepdf.Pdf) -> None:
    link = elements(pdf, "/Link")[0]
    link.K = Array([kid for kid in link.K if not isinstance(kid, Dictionary)])


def silent_link(pdf: pikepdf.Pdf) -> None:
    del first_link(pdf)["/Contents"]


def link_without_place(pdf: pikepdf.Pdf) -> None:
    del first_link(pdf)["/StructParent"]


def link_in_a_strangers_place(pdf: pikepdf.Pdf) -> None:
    numbers = pdf.Root.StructTreeRoot.ParentTree.Nums
    at = next(at for at in range(0, len(numbers), 2) if int(numbers[at]) == int(first_link(pdf).StructParent))
    numbers[at + 1] = elements(pdf, "/Figure")[0]


def no_tab_order(pdf: pikepdf.Pdf) -> None:
    del pdf.pages[0]["/Tabs"]


def no_parent_tree(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.StructTreeRoot["/ParentTree"]


def no_place(pdf: pikepdf.Pdf) -> None:
    del pdf.pages[0]["/StructParents"]


def mixed_up_parents(pdf: pikepdf.Pdf) -> None:
    numbers = pdf.Root.StructTreeRoot.ParentTree.Nums
    listed = next(held for held in numbers if isinstance(held, Array))
    a, b = next((0, at) for at in range(len(listed)) if listed[at].objgen != listed[0].objgen)
    listed[a], listed[b] = listed[b], listed[a]


def loose_paint(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].contents_add(pdf.make_stream(b"0 0 10 10 re f"), prepend=False)


def marks_of(pdf: pikepdf.Pdf, elem: Any) -> list[int]:
    held = elem.get("/K")
    return [int(kid) for kid in (held if isinstance(held, Array) else [held]) if isinstance(kid, int)]


def paragraph_said_to_be_decoration(pdf: pikepdf.Pdf) -> None:
    """Wholly: the element is gone from the tree as well, so that tree and page agree."""
    paragraph = next(p for p in elements(pdf, "/P") if len(marks_of(pdf, p)) == 1 and not isinstance(p.K, Array))
    mark = int(paragraph.K)
    rewrite(rb"/P <<\s*/MCID %d\s*>> BDC" % mark, b"/Artifact BMC")(pdf)
    held = paragraph.P.K
    if isinstance(held, Array):
        paragraph.P.K = Array([kid for kid in held if getattr(kid, "objgen", None) != paragraph.objgen])
    else:
        del paragraph.P["/K"]


def content_of_nobody(pdf: pikepdf.Pdf) -> None:
    paragraph = next(p for p in elements(pdf, "/P") if isinstance(p.get("/K"), int))
    del paragraph["/K"]


def content_claimed_twice(pdf: pikepdf.Pdf) -> None:
    first, second = [p for p in elements(pdf, "/P") if isinstance(p.get("/K"), int)][:2]
    second.K = Array([first.K, second.K])


def head_read_twice(pdf: pikepdf.Pdf) -> None:
    first, second = elements(pdf, "/TH")[:2]
    second.K = Array([first.K, second.K]) if not isinstance(second.K, Array) else Array([first.K, *second.K])


def sections_swapped(pdf: pikepdf.Pdf) -> None:
    part = elements(pdf, "/Document")[0].K
    part = part[0] if isinstance(part, Array) else part
    part.K = Array(reversed(list(part.K)))


def paragraphs_swapped(pdf: pikepdf.Pdf) -> None:
    for box in elements(pdf, "/Sect"):
        held = box.get("/K")
        at = [n for n, kid in enumerate(held) if str(kid.get("/S", "")) == "/P"] if isinstance(held, Array) else []
        if len(at) > 1:
            held[at[0]], held[at[1]] = held[at[1]], held[at[0]]
            return
    raise AssertionError("no two paragraphs side by side")


def plain_font(pdf: pikepdf.Pdf) -> None:
    plain = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name("/Helvetica"))
    pdf.pages[0].Resources.Font["/F1"] = pdf.make_indirect(plain)


def font_program_gone(pdf: pikepdf.Pdf) -> None:
    del fonts(pdf)[0].DescendantFonts[0].FontDescriptor["/FontFile2"]


def font_without_meaning(pdf: pikepdf.Pdf) -> None:
    del fonts(pdf)[0]["/ToUnicode"]


def glyphs_of_no_meaning(pdf: pikepdf.Pdf) -> None:
    """One letter is said to be U+0000."""
    stream = fonts(pdf)[0].ToUnicode
    stream.write(re.sub(rb"<0001> <[0-9A-F]+>", b"<0001> <0000>", stream.read_bytes(), count=1))


def short_row(pdf: pikepdf.Pdf) -> None:
    row = next(row for row in elements(pdf, "/TR") if len(row.K) == 3)
    row.K = Array(list(row.K)[:2])


def empty_heading(pdf: pikepdf.Pdf) -> None:
    """Its words go to the paragraph after it."""
    heading = elements(pdf, "/H2")[0]
    paragraph = next(p for p in elements(pdf, "/P") if isinstance(p.get("/K"), int))
    mark = heading.K
    assert isinstance(mark, int)
    paragraph.K = Array([mark, paragraph.K])
    del heading["/K"]
    for held in pdf.Root.StructTreeRoot.ParentTree.Nums:
        if isinstance(held, Array):
            held[int(mark)] = paragraph


def suspects(pdf: pikepdf.Pdf) -> None:
    pdf.Root.MarkInfo.Suspects = True
