"""Take times turn by turn, and say how they compare.

Takes  named pieces of work, each told which turn it is.
Gives  `turns` (seconds of each, round by round), `clocked` and `forked` (in this process, or in a copy of it), `told` (one line).
Knows  the clock on the wall, for the peers use what cores they find; nothing of documents.
"""

from __future__ import annotations

import argparse
import gc
import os
import pickle
import statistics
import sys
import time
import traceback
from collections.abc import Callable, Mapping, Sequence
from typing import Any

Work = Callable[[int], object]


def turns(works: Mapping[str, Callable[[int], float]], rounds: int) -> dict[str, list[float]]:
    """Let each take its turn in every round, in another order each time; each gives its own seconds."""
    names = list(works)
    taken: dict[str, list[float]] = {name: [] for name in names}
    for turn in range(rounds):
        first = turn % len(names)
        for name in names[first:] + names[:first]:
            taken[name].append(works[name](turn))
    return taken


def clocked(work: Work) -> Callable[[int], float]:
    """Seconds that the work takes in this process, warm."""

    def timed(turn: int) -> float:
        gc.collect()
        start = time.perf_counter()
        work(turn)
        return time.perf_counter() - start

    return timed


def apart(work: Callable[[], Any]) -> Any:
    """What the work gives, done in a copy of this process that then ends: it leaves nothing behind."""
    reader, writer = os.pipe()
    sys.stdout.flush()
    child = os.fork()
    if not child:
        status = 1
        try:
            os.close(reader)
            with os.fdopen(writer, "wb") as pipe:
                pickle.dump(work(), pipe)
            status = 0
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(status)
    os.close(writer)
    with os.fdopen(reader, "rb") as pipe:
        data = pipe.read()
    if os.waitpid(child, 0)[1]:
        raise RuntimeError("the work failed in a process of its own: see above")
    return pickle.loads(data)


def forked(work: Work) -> Callable[[int], float]:
    """Seconds that the work takes in a copy of this process: imports are paid for, and no round finds what another kept."""
    return lambda turn: float(apart(lambda: clocked(work)(turn)))


def ratios(ours: Sequence[float], theirs: Sequence[float]) -> list[float]:
    """Round by round."""
    return [own / other for own, other in zip(ours, theirs, strict=True)]


def told(what: str, values: Sequence[float], unit: str, goal: str = "", besides: str = "") -> None:
    """Print one figure: median first, its range, the rounds, the goal."""
    middle, low, high = statistics.median(values), min(values), max(values)
    sys.stdout.write(
        f"{middle:8.2f} {unit}  ({low:.2f} to {high:.2f}; {len(values)} round{'s' * (len(values) != 1)})  {what}"
        f"{'; goal ' + goal if goal else ''}{'; ' + besides if besides else ''}\n"
    )
    sys.stdout.flush()


def milliseconds(values: Sequence[float]) -> str:
    """For the end of a line: holds for this machine only."""
    return f"{1000 * statistics.median(values):.1f} ms here"


def options(about: str | None, **more: tuple[int, str]) -> argparse.Namespace:
    """`--rounds`, `--no-peers`, and more numbers by name with their default and what they are."""
    parser = argparse.ArgumentParser(description=(about or "").partition("\n")[0])
    parser.add_argument("--rounds", type=int, default=5, help="turns of each (default 5)")
    parser.add_argument("--no-peers", action="store_true", help="our own figures only")
    for name, (default, what) in more.items():
        parser.add_argument(f"--{name}", type=int, default=default, help=f"{what} (default {default})")
    return parser.parse_args()
