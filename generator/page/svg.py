"""Write a Picture for a browser.

Takes  a Picture and the value of each colour by its token's name.
Gives  one `svg` element, in which y runs downwards, with the alternative as its title.
Knows  SVG 1.1 and 2 (W3C); nothing of fonts, which the page's style sheet sets.
"""

from __future__ import annotations

from collections.abc import Mapping
from xml.sax.saxutils import escape, quoteattr

from generator.page.direction import is_rtl
from generator.page.paths import Label, Measure, Operation, Path, Picture

_SWAPPED = {"start": "end", "middle": "middle", "end": "start"}


def as_svg(picture: Picture, colours: Mapping[str, str], measure: Measure | None = None) -> str:
    """The drawing as one element, sized in points.

    Args:
        colours: the CSS value of every token the drawing uses.
        measure: what the drawing was laid out with; its words then keep to the widths they were given, whatever
            font the browser has.
    Raises:
        KeyError: a colour has no value: a drawing never falls back to black.
    """
    width, height = _number(picture.width), _number(picture.height)
    # A pictogram beside its own words has no alternative: it is hidden, not announced as empty.
    said = clean(picture.alternative)
    role = f'role="img" aria-label={quoteattr(said)}' if said else 'aria-hidden="true"'
    title = f"<title>{escape(said)}</title>" if said else ""
    body = "".join(_painted(operation, picture.height, colours, measure) for operation in picture.operations)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {role} width="{width}pt" height="{height}pt" '
        f'viewBox="0 0 {width} {height}">{title}{body}</svg>'
    )


def _painted(operation: Operation, height: float, colours: Mapping[str, str], measure: Measure | None) -> str:
    if isinstance(operation, Label):
        return _text(operation, height, colours, measure)
    return _path(operation, height, colours)


def _path(path: Path, height: float, colours: Mapping[str, str]) -> str:
    steps = []
    for segment in path.segments:
        values: tuple[float, ...] = segment[1:]
        numbers = [value if index % 2 == 0 else height - value for index, value in enumerate(values)]
        steps.append(segment[0] + " ".join(_number(value) for value in numbers))
    fill = quoteattr(colours[path.fill]) if path.fill else '"none"'
    stroke = ""
    if path.stroke:
        stroke = f' stroke={quoteattr(colours[path.stroke])} stroke-width="{_number(path.width)}"'
        stroke += ' stroke-linecap="round" stroke-linejoin="round"'
        if path.dash:
            stroke += f' stroke-dasharray="{" ".join(_number(value) for value in path.dash)}"'
    return f'<path d="{"".join(steps)}" fill={fill}{stroke}/>'


def _text(label: Label, height: float, colours: Mapping[str, str], measure: Measure | None) -> str:
    from_right = is_rtl(label.language or "")
    # `start` means the left end to us and the reading end to SVG.
    anchor = _SWAPPED[label.anchor] if from_right else label.anchor
    language = f" lang={quoteattr(label.language)} xml:lang={quoteattr(label.language)}" if label.language else ""
    wide = measure(label.text, label.size, label.bold) if measure is not None else 0.0
    # Glyphs too, not only their spaces: joined scripts would come apart.
    kept = f' textLength="{_number(wide)}" lengthAdjust="spacingAndGlyphs"' if wide else ""
    return (
        f'<text x="{_number(label.x)}" y="{_number(height - label.y)}" font-size="{_number(label.size)}"'
        f' font-weight="{700 if label.bold else 400}" fill={quoteattr(colours[label.colour])}'
        f' text-anchor="{anchor}" direction="{"rtl" if from_right else "ltr"}"{kept}{language}>'
        f"{escape(clean(label.text))}</text>"
    )


def clean(text: str) -> str:
    """The text with only what XML 1.0 can carry (production 2, Char)."""
    return "".join(
        c for c in text if c in "\t\n\r" or " " <= c <= "\ud7ff" or "\ue000" <= c <= "\ufffd" or c > "\uffff"
    )


def _number(value: float) -> str:
    """Up to three decimals, no exponent, no minus zero."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
