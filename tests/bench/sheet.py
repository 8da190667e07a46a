"""A cold `gauzeleaf sheet`, process start to file on disk, against a bare canvas program that draws the same glyphs in the same fonts.

The yardstick is made from the sheet itself: every run of letters with its place, size and face is read from the printed file and
drawn again by the shortest ReportLab program that can, with the same font files and nothing else (no layout, no tags, no drawings).

Both run from compiled modules, as an installed program does: they lie in a folder of their own, filled by the first run of each.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pdfplumber

ROOT = Path(__file__).parents[2]
FONTS = ROOT / "generator" / "press" / "fonts"
ROUNDS = 9
YARDSTICK = """
import json, sys
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont
pages, place, fonts = json.load(open(sys.argv[1])), sys.argv[2], sys.argv[3]
for face in ("Regular", "Bold"):
    registerFont(TTFont(face, f"{fonts}/NotoSans-{face}.ttf"))
canvas = Canvas(place)
for page in pages:
    canvas.setPageSize(page["size"])
    for text, x, y, size, face in page["runs"]:
        canvas.setFont(face, size)
        canvas.drawString(x, y, text)
    canvas.showPage()
canvas.save()
"""


def runs_of(pdf: Path) -> list[dict[str, object]]:
    """Stretches of letters on one line in one face, as the printed file has them."""
    pages: list[dict[str, object]] = []
    with pdfplumber.open(pdf) as document:
        for page in document.pages:
            runs: list[list[object]] = []
            for char in page.chars:
                face = "Bold" if "Bold" in char["fontname"] else "Regular"
                y = round(page.height - char["bottom"] + 0.22 * char["size"], 2)
                last = runs[-1] if runs else None
                if last and last[2] == y and last[3] == char["size"] and last[4] == face:
                    last[0] = str(last[0]) + char["text"]
                else:
                    runs.append([char["text"], round(char["x0"], 2), y, char["size"], face])
            pages.append({"size": [page.width, page.height], "runs": runs})
    return pages


def timed(command: list[str], compiled: Path) -> float:
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPYCACHEPREFIX"] = str(compiled)
    start = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True, cwd=ROOT, env=environment)
    return time.perf_counter() - start


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        ours = [
            sys.executable,
            "-m",
            "generator",
            "sheet",
            "--protocol",
            "padded-limb-support",
            "--patient",
            "protocols/patients/maple.yaml",
        ]
        ours += [
            "--book",
            "protocols",
            "--now",
            "2027-03-13T10:40",
            "--language",
            "en",
            "--output",
            str(folder / "out"),
        ]
        compiled = folder / "compiled"
        timed(ours, compiled)
        printed = next((folder / "out").glob("*.pdf"))
        (folder / "runs.json").write_text(json.dumps(runs_of(printed)), encoding="utf-8")
        (folder / "bare.py").write_text(YARDSTICK, encoding="utf-8")
        bare = [
            sys.executable,
            str(folder / "bare.py"),
            str(folder / "runs.json"),
            str(folder / "bare.pdf"),
            str(FONTS),
        ]
        timed(bare, compiled)
        ratios = sorted(timed(ours, compiled) / timed(bare, compiled) for _ in range(ROUNDS))
        sys.stdout.write(
            f"cold sheet: {statistics.median(ratios):.2f} × the bare canvas ({ratios[0]:.2f} to {ratios[-1]:.2f}), {ROUNDS} rounds\n"
        )


if __name__ == "__main__":
    main()
