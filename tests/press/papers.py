"""Documents for the tests of the press: small ones made round a body, and two whole ones.

Takes  markup for the content, and what the document should be besides.
Gives  `document`, `sheet` (an owner's sheet with all kinds of blocks) and `binder` (chapters of several pages).
Knows  the vocabulary; draws its own two plain drawings.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from generator.page.document import Document
from generator.page.paths import Label, Measure, Path, Picture, Segment

ISSUED = datetime(2027, 3, 13, 10, 12, tzinfo=UTC)


def square(x: float, y: float, side: float) -> tuple[Segment, ...]:
    return ("M", x, y), ("L", x + side, y), ("L", x + side, y + side), ("L", x, y + side), ("Z",)


def toes(width: float, measure: Measure) -> Picture:
    """Two squares and a label centred under them."""
    middle = width / 2
    return Picture(
        width,
        60,
        (
            Path(square(middle - 30, 20, 28), fill="sand", stroke="ink"),
            Path(square(middle + 2, 20, 28), fill="sand", stroke="alarm", dash=(2, 1)),
            Label("Together", middle, 4, 12, True, "leaf", "middle"),
        ),
        "Two toes side by side",
    )


def document(content: str, *, kind: str = "sheet", language: str = "en", furniture: str = "", **given: Any) -> Document:
    """A document whose main part is the content given."""
    xhtml = (
        f'<html xmlns="http://www.w3.org/1999/xhtml" lang="{language}"><head><title>Test</title></head>\n'
        f'<body class="{kind}">{furniture}<main>\n{content}\n</main></body></html>'
    )
    settings: dict[str, Any] = {
        "title": "Maple: going home", "language": language, "issued": ISSUED, "drawings": {"toes": toes},
    }  # fmt: skip
    return Document(xhtml=xhtml, **{**settings, **given})


HEAD = (
    '<header class="running"><div class="columns"><p>Larkspur Bridge Animal Clinic</p>'
    '<p class="end">Going home Saturday 13 March 2027</p></div></header>'
)
FOOT = (
    '<footer class="running"><hr/><div class="columns"><p>LB-SUP-002, revision 4</p>'
    '<p class="end"><span class="page-number"/> of <span class="page-count"/></p></div></footer>'
)

SHEET = """
<div class="columns" data-widths="10 11"><div><h1 class="display">Maple</h1>
<p id="who">Dog. Padded bandage on the <strong>left back leg</strong>.</p></div>
<div class="box deadline middle"><p>We must change this bandage by</p>
<p class="lead"><time datetime="2027-03-20T10:00">Saturday 20 March</time></p><hr/><p>Never later than 10:30.</p></div></div>
<section class="box alarm"><div class="columns"><div><h2>Go now, day or night</h2>
<ul class="mark-triangle tight"><li>Toes cold, blue, grey or white</li><li>Blood drips from the bandage</li></ul></div>
<div><h2>Ring now</h2><ul class="mark-ring tight"><li>The bandage is wet</li><li>The bandage smells bad</li></ul></div></div>
<hr/><p class="small">Mon to Fri 8:00 to 18:30</p>
<p class="large"><a href="tel:+18025550142" title="Ring the clinic: 802-555-0142">802-555-0142</a></p></section>
<div class="columns"><section><h2>Every day</h2><ul class="mark-tick"><li>Look at the toes.</li><li>Keep it dry.</li></ul></section>
<section><h2>Never</h2><ul class="mark-cross"><li>Do <strong>not</strong> cut the bandage.</li></ul></section></div>
<h2>Visits</h2><table data-widths="2 3 1"><thead><tr><th scope="col">Day</th><th scope="col">What</th>
<th scope="col" class="number">At</th></tr></thead><tbody><tr><th scope="row">Sunday 14</th><td>First check</td>
<td class="number"><data value="11:30" id="first">11:30</data></td></tr><tr class="total"><th scope="row">Saturday 20</th>
<td>Change</td><td class="number">10:00</td></tr></tbody></table>
<div class="box tint"><div class="columns middle"><figure data-drawing="toes" data-alt="Right: the two toes lie together."/>
<p lang="es">Los dos dedos deben verse. <span lang="en">See</span> <a href="#who">arriba</a>.</p></div></div>
<dl><dt>Phone</dt><dd>802-555-0142</dd><dt>Seen by</dt><dd>Dr J. Ferrow</dd></dl>
<p class="blank">Explained by</p><p data-ticks="1">Owner explained it in own words</p>
"""


def sheet(**given: Any) -> Document:
    return document(SHEET, furniture=HEAD + FOOT, **given)


STEPS = (
    "Lay two stirrups along the limb, ends past the toes.",
    "Roll padding from the toes upward, overlapping by half, three passes.",
    "Pad hollows, not bony points: build up around them.",
    "Lay conforming gauze in the same direction with an even pull.",
    "Turn the stirrups up and stick them down.",
)


def chapter(number: int, times: int) -> str:
    name = f"LB-SUP-00{number}"
    steps = "".join(
        f'<li id="{name}.step.{at}"><p class="caution">Caution {number}.{at}: leave the nails showing.</p>'
        f"<p>Step {number}.{at}: {STEPS[at % len(STEPS)]}</p></li>"
        for at in range(1, times + 1)
    )
    rows = "".join(f"<tr><td>Row {number}.{at}</td><td/><td/></tr>" for at in range(1, times + 1))
    return f"""<section class="chapter" id="{name}">
<header class="running"><p>{name} revision {number}</p></header>
<footer class="running"><hr/><p class="end">Page <span class="chapter-page"/> of <span class="chapter-pages"/>,
binder <span class="page-number"/> of <span class="page-count"/></p></footer>
<h1>Protocol {number}</h1><p>Purpose: see <a href="#LB-SUP-001">Protocol 1</a> on page <a class="page-of" href="#LB-SUP-001"/>.</p>
<h2 id="{name}.steps">Steps</h2><ol class="mark-disc">{steps}</ol>
<h2>Watch log</h2><table class="grid" data-widths="2 1 1"><thead><tr><th scope="col">Due</th>
<th scope="col">Done</th><th scope="col">By</th></tr></thead><tbody>{rows}</tbody></table>
<p class="changed">Changed since the last revision.</p></section>"""


def binder(chapters: int = 3, times: int = 30, **given: Any) -> Document:
    """A contents page and chapters of two or more pages each."""
    entries = "".join(
        f'<li><a href="#LB-SUP-00{n}">Protocol {n}</a><ol><li><a href="#LB-SUP-00{n}.steps">Steps</a></li></ol></li>'
        for n in range(1, chapters + 1)
    )
    body = "".join(chapter(n, times) for n in range(1, chapters + 1))
    xhtml = (
        '<html xmlns="http://www.w3.org/1999/xhtml" lang="en"><body class="binder">'
        '<footer class="running"><p>Binder <span class="page-number"/></p></footer>'
        '<main><h1 class="display">Binder</h1><nav class="contents"><h2>Contents</h2>'
        f"<ol>{entries}</ol></nav></main>{body}</body></html>"
    )
    settings: dict[str, Any] = {"title": "Bandage procedures", "language": "en", "issued": ISSUED}
    return Document(xhtml=xhtml, **{**settings, **given})
