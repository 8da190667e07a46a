"""A cold `gauzeleaf sheet`, process start to file on disk, against a bare canvas program that draws the same glyphs in the same fonts.

The yardstick is made from the sheet itself (`yardstick.COLD`): every run of letters with its place, size and face is read from the
printed file and drawn again by the shortest ReportLab program that can, with the same font files and nothing else (no layout, no tags,
no drawings). The other engines print the sheet's text, ready on disk, by the shortest program or command each has; `peers` says what is
not the same work.

All run from compiled modules, as installed programs do: they lie in a folder of their own, filled by the first run of each.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bench.documents import Sheets
from tests.bench.peers import Peer, present
from tests.bench.rounds import Taken, Timed, milliseconds, options, ratios, told, turns
from tests.bench.yardstick import COLD, FONTS, ROOT, runs_of

OURS = "-m generator sheet --protocol padded-limb-support --patient protocols/patients/maple.yaml --book protocols --now 2027-03-13T10:40 --language en --output"


def timed(command: list[str], compiled: Path) -> Timed:
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPYCACHEPREFIX"] = str(compiled)

    def run(turn: int) -> Taken:
        wall, used = time.perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(command, check=True, capture_output=True, cwd=ROOT, env=environment, timeout=120)
        wall, end = time.perf_counter() - wall, resource.getrusage(resource.RUSAGE_CHILDREN)
        return Taken(wall, end.ru_utime + end.ru_stime - used.ru_utime - used.ru_stime)

    run(0)  # fills the folder of compiled modules
    return run


def fed(peer: Peer, folder: Path) -> list[str]:
    """The command that prints the sheet's text."""
    source = folder / f"{peer.name}.{peer.suffix}"
    source.write_text(peer.source(Sheets().pattern.xhtml), encoding="utf-8")
    return peer.cold(source, folder / f"{peer.name}.pdf", folder)


def main() -> None:
    wanted = options(__doc__)
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as name:
        folder = Path(name)
        compiled = folder / "compiled"
        works = {"ours": timed([sys.executable, *OURS.split(), str(folder / "out")], compiled)}
        printed = next((folder / "out").glob("*.pdf"))
        (folder / "runs.json").write_text(json.dumps(runs_of(printed, cold=True)), encoding="utf-8")
        (folder / "bare.py").write_text(COLD, encoding="utf-8")
        bare = [str(folder / "bare.py"), str(folder / "runs.json"), str(folder / "bare.pdf"), str(FONTS)]
        works["canvas"] = timed([sys.executable, *bare], compiled)
        peers = [] if wanted.no_peers else present()
        works |= {peer.name: timed(fed(peer, folder), compiled) for peer in peers}
        taken = turns(works, wanted.rounds)
    ours = taken["ours"]
    for name in ("canvas", *(peer.name for peer in peers)):
        unit, goal = (
            ("× the bare canvas", "≤ 1.4") if name == "canvas" else (f"× {name}", "< 1" if name != "typst" else "")
        )
        compared = f"{milliseconds(ours, 'wall')} against {milliseconds(taken[name], 'wall')}"
        told("cold sheet", ratios(ours, taken[name], "wall"), unit, goal, compared)
    told(
        "the same by the processor's clock", ratios(ours, taken["canvas"]), "× the bare canvas", "", milliseconds(ours)
    )


if __name__ == "__main__":
    main()
