"""The style sheet of a document in a browser, from the same tokens as on paper.

Takes  the paper's name, for whoever prints from the browser.
Gives  `style_sheet`: CSS as one text, the screen's rules first, then what printing changes.
Knows  how a token becomes a CSS variable: points as rems, so that a reader's own type size moves the whole page.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from string import Template

from generator.page.style_rules import PAPER, SCREEN
from generator.page.tokens import (
    AIR,
    BODY_SIZE,
    CLOSE_PITCH,
    COLOURS,
    FINE_FLOOR,
    LINE,
    MARGINS,
    PAPERS,
    PICTOGRAM,
    PITCH_BY_SCRIPT,
    RADIUS,
    SCALE,
    SCREEN_EDGE,
    SCREEN_FLOOR,
    SMALL_FLOOR,
    SPACE,
    TOUCH,
    WRITING_ROW,
    Step,
)

_REM = 12.0  # points: 16 CSS pixels, what a browser's text measures until its reader asks for another size

# What asks for each step of the scale; classes come after elements and so stand above them.
_SELECTORS = {
    "h1": "h1", "h2": "h2", "h3": "h3, caption", "h4": "h4", "head-cell": 'th[scope="col"]',
    "small": ".small, .gloss, figcaption", "fine": ".fine, .running", "large": ".large", "lead": ".lead",
    "display": ".display",
}  # fmt: skip
_COLOUR_OF = {"leaf": "var(--accent)", "slate": "var(--quiet)", "ink": "var(--text)"}


@cache
def style_sheet(paper: str) -> str:
    """CSS for every kind of document; `paper` is a name of `tokens.PAPERS`.

    Raises:
        KeyError: there is no such paper.
    """
    widest = max(measure(kind, paper) for kind in MARGINS) + 2 * SCREEN_EDGE
    places = {"WIDE": rem(widest), "ROOT": f"{_number(_REM)}pt"}
    parts = (
        ":root { " + " ".join(_tokens()) + " }",
        "body { " + " ".join(_spaces()) + " }",
        *_kinds(paper),
        *_scripts(),
        Template(SCREEN).substitute(places),
        *(_step(name, selector) for name, selector in _SELECTORS.items()),
        *_pages(paper),
        Template(PAPER).substitute(places),
    )
    return "\n".join(part.strip() for part in parts) + "\n"


def on_every_page(words: str) -> str:
    """CSS that prints the words of a band over every page after the first, where the band itself stands.

    A browser that knows no margin boxes (CSS Paged Media 3, section 5) leaves them out.
    """
    # A CSS string: whatever is not a plain letter, digit or space is written as its number (CSS Syntax 3, 4.3.7).
    quoted = "".join(c if c.isalnum() or c == " " else f"\\{ord(c):x} " for c in words)
    look = f"color: {COLOURS['alarm']}; font-weight: 700; font-size: {_number(FINE_FLOOR)}pt; font-family: system-ui, sans-serif"
    return f'@page {{ @top-center {{ content: "{quoted}"; {look}; }} }}\n@page :first {{ @top-center {{ content: none; }} }}\n'


def rem(points: float) -> str:
    """A length of paper as one of the screen."""
    return f"{_number(points / _REM)}rem"


def measure(kind: str, paper: str) -> float:
    """Width in points between the margins of a page."""
    margins = MARGINS[kind]
    return PAPERS[paper][0] - margins.binding - margins.outer


def _number(value: float) -> str:
    return f"{value:.4f}".rstrip("0").rstrip(".")


def _tokens() -> Iterator[str]:
    """Every token once; what is inherited and changed by boxes stands last."""
    for name, value in COLOURS.items():
        yield f"--{name}: {value};"
    yield f"--gutter: {_number(SPACE['gutter'])};"
    for name, length in RADIUS.items():
        yield f"--radius-{name}: {rem(length)};"
    for name, length in LINE.items():
        yield f"--line-{name}: {rem(length)};"
    yield f"--pitch-lead: {_number(SCALE['lead'].pitch)}; --pitch-close: {_number(CLOSE_PITCH)};"
    yield f"--touch: {rem(TOUCH)}; --edge: {rem(SCREEN_EDGE)}; --writing-row: {rem(WRITING_ROW)};"
    yield f"--pictogram: {rem(PICTOGRAM)}; --floor: {rem(SCREEN_FLOOR)}; --fine-floor: {rem(FINE_FLOOR)};"
    yield f"--pitch: {_number(SCALE['body'].pitch)}; --script: 1;"
    yield "--text: var(--ink); --accent: var(--leaf); --quiet: var(--slate); --rule: var(--hairline);"
    yield "--warn: var(--alarm); --on-accent: var(--white);"


def _spaces() -> Iterator[str]:
    """What hangs on the size of the body's type, which is not known above the body."""
    for name, length in SPACE.items():
        if name != "gutter":
            yield f"--space-{name}: calc({_number(length)} * var(--base));"
    for name in ("small", "fine"):
        yield f"--size-{name}: calc({_number(SCALE[name].factor)} * var(--base));"


def _kinds(paper: str) -> Iterator[str]:
    """Type size and air by kind of page. A screen need not fit a page: it has the air of a binder."""
    for kind, size in BODY_SIZE.items():
        yield (
            f".{kind} {{ --base: {rem(max(size, SCREEN_FLOOR))}; --air: {_number(AIR['binder'])};"
            f" --measure: {rem(measure(kind, paper) + 2 * SCREEN_EDGE)}; --printed: {rem(size)};"
            f" --printed-air: {_number(AIR[kind])}; --printed-floor: {rem(SMALL_FLOOR[kind])}; page: {kind}; }}"
        )


def _scripts() -> Iterator[str]:
    """More pitch where marks stand tall, and only there: words of another language inside have their own."""
    yield "[lang] { --script: 1; }"
    for language, factor in PITCH_BY_SCRIPT.items():
        yield f":lang({language}) {{ --script: {_number(factor)}; }}"


def _step(name: str, selector: str) -> str:
    step: Step = SCALE[name]
    size = f"max(var(--floor), calc({_number(step.factor)} * var(--base)))"
    weight = " font-weight: 700;" if step.bold else ""
    colour = f" color: {_COLOUR_OF[step.colour]};" if step.colour else ""
    return f"{selector} {{ font-size: {size}; --pitch: {_number(step.pitch)};{weight}{colour} }}"


def _pages(paper: str) -> Iterator[str]:
    width, height = PAPERS[paper]
    yield f"@page {{ size: {_number(width)}pt {_number(height)}pt; }}"
    for kind, m in MARGINS.items():
        sides = (
            {":right": (m.outer, m.binding), ":left": (m.binding, m.outer)}
            if m.mirrored
            else {"": (m.outer, m.binding)}
        )
        for side, (right, left) in sides.items():
            four = " ".join(f"{_number(length)}pt" for length in (m.top, right, m.bottom, left))
            yield f"@page {kind}{side} {{ margin: {four}; }}"
