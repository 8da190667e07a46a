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

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bench.yardstick import COLD, FONTS, ROOT, runs_of

ROUNDS = 9


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
        (folder / "runs.json").write_text(json.dumps(runs_of(printed, cold=True)), encoding="utf-8")
        (folder / "bare.py").write_text(COLD, encoding="utf-8")
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
