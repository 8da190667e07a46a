"""Read and judge a book, line and column kept, against a bare load of the same files by PyYAML's C parser."""

from __future__ import annotations

import gc
import statistics
import sys
import time
from pathlib import Path

import yaml

sys.path.insert(0, str(Path(__file__).parents[2]))

from generator.protocol.book import read_book
from generator.source.text import read_tree

ROOT = Path(__file__).parents[2]
COPIES = 20


def files() -> dict[str, bytes]:
    """The shipped book; its protocols repeated under other names and numbers, so that there is something to time."""
    book = {path.name: path.read_bytes() for path in sorted((ROOT / "protocols").glob("*.yaml"))}
    many = dict(book)
    for name, data in book.items():
        text = data.decode()
        if (not text.lstrip().startswith("#") and "\nkind:" in text) or text.startswith("protocol:"):
            slug = name.removesuffix(".yaml")
            number = next(line.split()[1] for line in text.splitlines() if line.startswith("id:"))
            for copy in range(COPIES):
                changed = text.replace(f"protocol: {slug}\n", f"protocol: {slug}-c{copy}\n", 1).replace(
                    f"id: {number}", f"id: {number}-{copy}", 1
                )
                many[f"{slug}-c{copy}.yaml"] = changed.encode()
    return many


def bare(data: dict[str, bytes]) -> None:
    for one in data.values():
        yaml.load(one, Loader=yaml.CSafeLoader)


def ours(data: dict[str, bytes]) -> int:
    readings = {name: read_tree(one, name) for name, one in data.items()}
    reviewed = read_book({name: reading.tree for name, reading in readings.items() if reading.tree is not None}, "book")
    return sum(problem.severity == "error" for problem in reviewed.problems)


def timed(work: object, data: dict[str, bytes]) -> float:
    gc.collect()
    gc.disable()  # as the product does while it reads
    start = time.process_time()
    work(data)  # type: ignore[operator]
    return time.process_time() - start


def reading_only(data: dict[str, bytes]) -> None:
    for name, one in data.items():
        read_tree(one, name)


def main() -> None:
    data = files()
    errors = ours(data)
    rounds = []
    for _ in range(7):
        yardstick = timed(bare, data)
        rounds.append((timed(reading_only, data) / yardstick, timed(ours, data) / yardstick))
    size = sum(map(len, data.values()))
    sys.stdout.write(f"{len(data)} files, {size / 1000:.0f} kB, {errors} errors\n")
    for label, column in (("read with line and column", 0), ("read and judge", 1)):
        ratios = sorted(row[column] for row in rounds)
        sys.stdout.write(
            f"{label}: {statistics.median(ratios):.2f} × the bare load ({ratios[0]:.2f} to {ratios[-1]:.2f})\n"
        )


if __name__ == "__main__":
    main()
