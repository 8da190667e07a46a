"""Take times turn by turn, and say how they compare.

Takes  named pieces of work, each told which turn it is.
Gives  `turns` (seconds of each, round by round), `clocked` and `forked` (in this process, or in a copy of it), `told` (one line).
Knows  two clocks: the processor's, for work of one thread on a machine that others use too, and the wall's, for engines that use what
       cores they find or other processes. Nothing of documents.
"""

from __future__ import annotations

import argparse
import gc
import os
import pickle
import statistics
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any, NamedTuple

Work = Callable[[int], object]


class Taken(NamedTuple):
    """Seconds that a piece of work took."""

    wall: float
    processor: float


Timed = Callable[[int], Taken]


def turns(works: Mapping[str, Timed], rounds: int) -> dict[str, list[Taken]]:
    """Let each take its turn in every round, in another order each time."""
    names = list(works)
    taken: dict[str, list[Taken]] = {name: [] for name in names}
    for turn in range(rounds):
        first = turn % len(names)
        for name in names[first:] + names[:first]:
            taken[name].append(works[name](turn))
    return taken


def clocked(work: Work, times: int = 1) -> Timed:
    """What the work takes in this process, warm. times: what the work does over and over counts once."""

    def timed(turn: int) -> Taken:
        gc.collect()
        wall, processor = time.perf_counter(), time.process_time()
        work(turn)
        return Taken((time.perf_counter() - wall) / times, (time.process_time() - processor) / times)

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


def forked(work: Work) -> Timed:
    """What the work takes in a copy of this process: imports are paid for, and no round finds what another kept."""

    def timed(turn: int) -> Taken:
        taken = apart(lambda: clocked(work)(turn))
        assert isinstance(taken, Taken)
        return taken

    return timed


def added(first: Sequence[Taken], second: Sequence[Taken]) -> list[Taken]:
    """Two pieces of work done one after the other."""
    return [Taken(a.wall + b.wall, a.processor + b.processor) for a, b in zip(first, second, strict=True)]


def ratios(ours: Sequence[Taken], theirs: Sequence[Taken], clock: str = "processor") -> list[float]:
    """Round by round."""
    return [float(getattr(own, clock) / getattr(other, clock)) for own, other in zip(ours, theirs, strict=True)]


@contextmanager
def as_installed() -> Iterator[None]:
    """Compiled templates are kept, in a folder of their own, even where the shell forbids Python to write them."""
    kept = sys.dont_write_bytecode, sys.pycache_prefix
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        sys.dont_write_bytecode, sys.pycache_prefix = False, folder
        try:
            yield
        finally:
            sys.dont_write_bytecode, sys.pycache_prefix = kept


def told(what: str, values: Sequence[float], unit: str, goal: str = "", besides: str = "") -> None:
    """Print one figure: median first, its range, the rounds, the goal."""
    middle, low, high = statistics.median(values), min(values), max(values)
    sys.stdout.write(
        f"{middle:8.2f} {unit}  ({low:.2f} to {high:.2f}; {len(values)} round{'s' * (len(values) != 1)})  {what}"
        f"{'; goal ' + goal if goal else ''}{'; ' + besides if besides else ''}\n"
    )
    sys.stdout.flush()


def milliseconds(values: Sequence[Taken], clock: str = "processor") -> str:
    """For the end of a line: holds for this machine only."""
    return f"{1000 * statistics.median(getattr(value, clock) for value in values):.1f} ms"


def options(about: str | None, **more: tuple[int, str]) -> argparse.Namespace:
    """`--rounds`, `--no-peers`, and more numbers by name with their default and what they are."""
    parser = argparse.ArgumentParser(description=(about or "").partition("\n")[0])
    parser.add_argument("--rounds", type=int, default=5, help="turns of each (default 5)")
    parser.add_argument("--no-peers", action="store_true", help="our own figures only")
    for name, (default, what) in more.items():
        parser.add_argument(f"--{name}", type=int, default=default, help=f"{what} (default {default})")
    return parser.parse_args()
