"""Every element and every class of the vocabulary can be printed, alone and right to left, without a fault.

Colours: WCAG 2.2 by way of `page/tokens.py`; only its colours may reach paper.
"""

from __future__ import annotations

import io

import pikepdf
import pytest

from generator.page.paths import Measure, Path, Picture
from generator.page.tokens import COLOURS
from generator.page.vocabulary import CLASSES, ELEMENTS
from generator.press import press
from tests.press.accessible import faults
from tests.press.geometry import assert_sound
from tests.press.papers import FOOT, HEAD, document, sheet, square, toes

WORDS = {"en": "Look at the toes", "ar": "انظر إلى الأصابع"}
_SKIPPED = {"html", "head", "title", "meta", "body"}


def icon(width: float, measure: Measure) -> Picture:
    return Picture(width, width, (Path(square(2, 2, width - 4), fill="leaf"),), "icon")


def example(tag: str, name: str, words: str, here: str) -> str:
    """The smallest content in which the element may stand, with the class on it."""
    given = f' class="{name}"' if name else ""
    if name in ("band", "tab"):
        return ""  # furniture: see below
    match tag:
        case "hr":
            return f"<hr{given}/>"
        case "br":
            return f"<p>{words}<br/>{words}</p>"
        case "h1":
            return f"<h1{given}>{words}</h1>"
        case "h2" | "h3" | "h4":
            above = "".join(f"<h{n}>{words}</h{n}>" for n in range(1, int(tag[1])))
            return f"{above}<{tag}{given}>{words}</{tag}>"
        case "strong" | "em" | "span":
            inner = "" if name and CLASSES[name].group == "counter" else words
            return f"<p>{words} <{tag}{given}>{inner}</{tag}></p>"
        case "a" if name == "page-of":
            return f'<p id="{here}">{words} <a href="#{here}" class="page-of"/></p>'
        case "a":
            return f'<p>{words} <a href="tel:+18025550142"{given}>802-555-0142</a></p>'
        case "time":
            return f'<p><time datetime="2027-03-20"{given}>{words}</time></p>'
        case "data":
            return f'<p><data value="3"{given}>3</data></p>'
        case "ul" | "ol":
            mark = ' data-drawing="icon" data-alt="Toes"' if name == "mark-drawing" else ""
            return f"<{tag}{given}><li{mark}>{words}</li><li{mark}>{words}</li></{tag}>"
        case "li":
            mark = ' data-drawing="icon" data-alt=""' if name == "mark-drawing" else ""
            return f"<ul><li{given}{mark}>{words}</li></ul>"
        case "dl":
            return f"<dl{given}><dt>{words}</dt><dd>{words}</dd></dl>"
        case "dt" | "dd":
            return (
                f"<dl><dt{given if tag == 'dt' else ''}>{words}</dt><dd{given if tag == 'dd' else ''}>{words}</dd></dl>"
            )
        case "table" | "caption" | "thead" | "tbody" | "tr" | "th" | "td":
            put = {part: given if part == tag else "" for part in ("table", "caption", "tr", "th", "td")}
            return (
                f"<table{put['table']}><caption{put['caption']}>{words}</caption><thead><tr>"
                f'<th scope="col"{put["th"]}>{words}</th><th scope="col">{words}</th></tr></thead>'
                f"<tbody><tr{put['tr']}><td{put['td']}>{words}</td><td/></tr></tbody></table>"
            )
        case "figure" | "figcaption":
            on = given if tag == "figure" else ""
            under = given if tag == "figcaption" else ""
            return f'<figure data-drawing="toes" data-alt="Toes"{on}><figcaption{under}>{words}</figcaption></figure>'
        case "nav":
            return f'<nav{given}><h1 id="{here}">{words}</h1><ol><li><a href="#{here}">{words}</a></li></ol></nav>'
        case "p":
            return f"<p{given}>{words}</p><p>{words}</p>"
        case _:
            classes = f' class="box {name}"' if name and CLASSES[name].group == "tone" and "box" in CLASSES else given
            allowed = tag in CLASSES["box"].on
            return f"<{tag}{classes if allowed else given}><p>{words}</p><p>{words}</p></{tag}>"


CASES = [(tag, "") for tag in ELEMENTS if tag not in _SKIPPED] + [
    (tag, name) for name, known in CLASSES.items() for tag in known.on if tag not in _SKIPPED and name != "running"
]
CASES = [case for case in CASES if case != ("span", "")]


CHUNK = 12  # examples a document: one fault is still found quickly, and a document is not made for each


@pytest.mark.parametrize("language", ["en", "ar"])
def test_all_of_it_prints_without_a_fault(language: str) -> None:
    wrong = []
    for start in range(0, len(CASES), CHUNK):
        chunk = CASES[start : start + CHUNK]
        content = "".join(example(*case, WORDS[language], f"here{n}") for n, case in enumerate(chunk))
        small = 9 if any(name == "fine" for _, name in chunk) else 12
        band = f'<aside class="band"><p>{WORDS[language]}</p></aside>' if ("aside", "band") in chunk else ""
        tab = (
            f'<aside class="tab" data-place="2/5"><p>{WORDS[language]}</p></aside>' if ("aside", "tab") in chunk else ""
        )
        data = press(
            document(
                content, language=language, furniture=band + tab + HEAD + FOOT, drawings={"toes": toes, "icon": icon}
            )
        ).data
        assert_sound(data, smallest=small)
        with pikepdf.open(io.BytesIO(data)) as pdf:
            wrong += [f"{chunk}: {fault}" for fault in faults(pdf)]
    assert not wrong


def _colours(pdf: pikepdf.Pdf) -> set[tuple[int, ...]]:
    found: set[tuple[int, ...]] = set()
    for page in pdf.pages:
        for instruction in pikepdf.parse_content_stream(page):
            if str(instruction.operator) in ("rg", "RG"):
                found.add(tuple(round(float(v) * 255) for v in instruction.operands))
            assert str(instruction.operator) not in ("g", "G", "k", "K", "sc", "SC", "scn", "SCN", "sh")
    return found


def test_only_the_colours_of_the_house_reach_paper() -> None:
    house = {tuple(int(value[at : at + 2], 16) for at in (1, 3, 5)) for value in COLOURS.values()}
    with pikepdf.open(io.BytesIO(press(sheet()).data)) as pdf:
        used = _colours(pdf)
    assert used
    assert used <= house
