"""Time zones out of the tzdata package, whatever copy the computer has of its own."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from zoneinfo import ZoneInfo


@cache
def zone(name: str) -> ZoneInfo:
    """A zone of the installed tzdata package: a system copy a year old prints Vancouver one hour wrong."""
    with files("tzdata.zoneinfo").joinpath(*name.split("/")).open("rb") as file:
        return ZoneInfo.from_file(file, name)
