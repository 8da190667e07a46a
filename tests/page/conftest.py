"""A stand-in for the press's fonts, and an eye for labels that collide."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from generator.page.paths import Label, Measure, Path, Picture

NARROW, WIDE = frozenset("iljtfI.,:;'|()[] "), frozenset("mwMW—…")


def _measure(text: str, size: float, bold: bool) -> float:
    """Roughly a humanist sans: 0.3, 0.57 or 0.9 of the size a letter, bold 6 % wider."""
    ems = sum(0.3 if letter in NARROW else 0.9 if letter in WIDE else 0.57 for letter in text)
    return ems * size * (1.06 if bold else 1.0)


def _box(label: Label) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of a label's ink.

    Noto Sans: capitals reach 0.714 of the size, accents on them 0.93, descenders 0.24 (from the font's outlines).
    """
    width = _measure(label.text, label.size, label.bold)
    left = label.x - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    return left, label.y - 0.24 * label.size, left + width, label.y + 0.93 * label.size


def _extent(path: Path) -> tuple[float, float, float, float]:
    """Box of the points and handles of an outline, half its pen around it."""
    xs = [v for segment in path.segments for v in segment[1::2] if isinstance(v, float | int)]
    ys = [v for segment in path.segments for v in segment[2::2] if isinstance(v, float | int)]
    half = path.width / 2 if path.stroke else 0.0
    return min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half


def _faults(picture: Picture) -> list[str]:
    """Labels that touch one another or leave the picture, and outlines that leave it."""
    labels = [operation for operation in picture.operations if isinstance(operation, Label)]
    paths = [operation for operation in picture.operations if isinstance(operation, Path)]
    found = []
    boxes = [(label.text, _box(label)) for label in labels]
    for index, (text, (left, bottom, right, top)) in enumerate(boxes):
        if left < -0.01 or bottom < -0.01 or right > picture.width + 0.01 or top > picture.height + 0.01:
            found.append(f"`{text}` leaves the picture")
        for other, (left2, bottom2, right2, top2) in boxes[index + 1 :]:
            if min(right, right2) - max(left, left2) > 0.01 and min(top, top2) - max(bottom, bottom2) > 0.01:
                found.append(f"`{text}` runs into `{other}`")
    for path in paths:
        left, bottom, right, top = _extent(path)
        if left < -1 or bottom < -1 or right > picture.width + 1 or top > picture.height + 1:
            found.append(f"an outline leaves the picture: {path.segments[:2]}")
    return found


@pytest.fixture(scope="session")
def measure() -> Measure:
    return _measure


@pytest.fixture(scope="session")
def faults() -> Callable[[Picture], list[str]]:
    return _faults


@pytest.fixture(scope="session")
def box() -> Callable[[Label | Path], tuple[float, float, float, float]]:
    return lambda operation: _box(operation) if isinstance(operation, Label) else _extent(operation)
