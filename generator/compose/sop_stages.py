"""What the stages of a procedure share, printed once.

Takes  the sections of a procedure, each with what it was made from.
Gives  `by_stage`: for one part of the sections, its contents with the stages that they hold for.
Knows  that two stages share a part when an author wrote the same in both, wherever it stands in the file.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass
from typing import Any

from markupsafe import Markup

# Where something was written is no part of what was written.
_PLACES = frozenset({"spans", "span"})


def by_stage(sections: Sequence[Mapping[str, Any]], part: str) -> list[dict[str, Any]]:
    """Contents in the order of the stages; `stage` is None where there is but one section or all stages share it."""
    found: list[tuple[object, list[Markup], Any]] = []
    for section in sections:
        written = section["written"][part]
        stages = next((stages for other, stages, _ in found if other == written), None)
        if stages is None:
            stages = []
            found.append((written, stages, section[part]))
        if section["stage"] is not None:
            stages.append(section["stage"])
    shared = len(found) == 1
    return [
        {"stage": None if shared or not stages else Markup(", ").join(stages), "content": content}
        for _, stages, content in found
    ]


def bare(value: object) -> object:
    """A value of the model without the places it was written at, for comparison."""
    if is_dataclass(value) and not isinstance(value, type):
        return tuple((f.name, bare(getattr(value, f.name))) for f in fields(value) if f.name not in _PLACES)
    if isinstance(value, tuple):
        return tuple(bare(one) for one in value)
    if isinstance(value, Mapping):
        return tuple((key, bare(one)) for key, one in value.items())
    return value
