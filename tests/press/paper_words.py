"""Take the words off a printed document again, and say which words it was to have.

Takes  a `Document` and the PDF made of it.
Gives  `read_by`, for each of two programs that are not ours the words it reads, page after page; `written`, the words of the
       document's own XHTML in its order; both NFC, without invisible controls.
Knows  that running heads and feet, tabs, list marks and drawings' letterings are not text of the XHTML's flow, by their marks in
       the page's stream (ISO 32000-1, 14.6); nothing of how they were put there.
"""

from __future__ import annotations

import io
import re
import unicodedata
import warnings
from collections.abc import Callable, Mapping

import pikepdf
import pypdf
import pypdfium2

from generator.page.document import Document
from generator.page.xhtml import Node, Text, read
from tests.press.text.sheet import plain

_BESIDE = frozenset({"/Artifact", "/Figure", "/Lbl"})
_INLINE = frozenset({"a", "span", "strong", "em", "time", "data"})


def flow_only(data: bytes) -> bytes:
    """The same file, everything painted beside the flow of the text taken out of its pages."""
    return _kept(data, lambda marks: not marks & _BESIDE)


def furniture_only(data: bytes) -> bytes:
    """The same file with what is painted as an artifact, and nothing else."""
    return _kept(data, lambda marks: "/Artifact" in marks)


def _kept(data: bytes, keep: Callable[[set[str]], bool]) -> bytes:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            kept, marks = [], []
            for instruction in pikepdf.parse_content_stream(page):
                operator = str(instruction.operator)
                if operator in ("BMC", "BDC"):
                    marks.append(str(instruction.operands[0]))
                if keep(set(marks)) or not _paints(operator):
                    kept.append(instruction)
                if operator == "EMC":
                    marks.pop()
            page.Contents = pdf.make_stream(pikepdf.unparse_content_stream(kept))
        out = io.BytesIO()
        pdf.save(out)
    return out.getvalue()


def _paints(operator: str) -> bool:
    return operator in ("Tj", "TJ", "'", '"')


def pypdf_reads(data: bytes) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)


def pdfium_reads(data: bytes) -> str:
    pages = []
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        document = pypdfium2.PdfDocument(data)
        for page in document:
            text = page.get_textpage()
            pages.append(str(text.get_text_range()))
            text.close()
            page.close()
        document.close()
    return "\n".join(pages)


READERS: Mapping[str, Callable[[bytes], str]] = {"pypdf": pypdf_reads, "pdfium": pdfium_reads}


def words(text: str) -> list[str]:
    """A hyphen at the end of a line joins its two halves: pdfium writes U+FFFE or U+0002 for it, pypdf breaks the line."""
    joined = re.sub("[\ufffe\u0002]\\s*", "-", text)
    return plain(unicodedata.normalize("NFC", re.sub(r"(?<=\w)([-\u2010])\n", r"\1", joined))).split()


def written(document: Document, page_of: Mapping[str, int]) -> list[str]:
    """Words of the XHTML that run in its flow; numbers of pages as the press found them."""
    return words(_text(read(document.xhtml).elements("body")[0], page_of, False))


def furniture(document: Document) -> set[str]:
    """Words that may stand at the head and foot of pages, in the band over them, at their edge, and in table heads, painted on every page."""
    body = read(document.xhtml).elements("body")[0]
    found = [node for node in body.walk() if {"running", "band", "tab"} & set(node.classes) or node.tag == "th"]
    return set(words(" ".join(_text(node, {}, True) for node in found)))


def _text(node: Node | Text, page_of: Mapping[str, int], with_furniture: bool, contents: bool = False) -> str:
    if isinstance(node, Text):
        return node.text
    if "page-of" in node.classes:
        return str(page_of.get(node.get("href")[1:], ""))
    if not with_furniture and {"running", "tab"} & set(node.classes):
        return ""
    contents = contents or "contents" in node.classes
    inner = "".join(_text(child, page_of, with_furniture, contents) for child in node.children)
    if contents and node.tag == "a":
        inner += f" {page_of[node.get('href')[1:]]}"  # in a list of contents every entry is given its page
    return inner if node.tag in _INLINE else f" {inner} "
