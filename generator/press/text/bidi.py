"""The Unicode Bidirectional Algorithm (UAX 9): which characters run which way.

Takes  one paragraph of text and, if known, its base direction.
Gives  an embedding level a character, and the visual order of levels on one line.
Knows  the rules of UAX 9 by their names (P2 to L2); nothing of fonts, lines or glyphs.

Source: Unicode Standard Annex 9, revision 46 (Unicode 15.0). Checked against Unicode's BidiCharacterTest.
"""

from __future__ import annotations

import unicodedata
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from generator.press.text.brackets import CLOSER_OF, CLOSERS, EQUIVALENT

_DEEPEST = 125  # BD2, max_depth
_BRACKET_STACK = 63  # BD16
_INITIATORS = frozenset({"LRI", "RLI", "FSI"})
_EMBEDDINGS = frozenset({"RLE", "LRE", "RLO", "LRO"})
_REMOVED = _EMBEDDINGS | {"PDF", "BN"}  # X9
_NEUTRAL = _INITIATORS | {"B", "S", "WS", "ON", "PDI"}  # what N1 and N2 call NI


def levels(text: str, base: int | None = None) -> tuple[int, list[int]]:
    """Resolve embedding levels of one paragraph, rules P2 to L1 with the whole paragraph as one line.

    Args:
        base: 0 left-to-right, 1 right-to-left, None to find it from the first strong character.
    Returns:
        The paragraph level and one level a character; characters that X9 removes get the level before them.
    """
    kinds = [unicodedata.bidirectional(character) or "L" for character in text]
    ends = _isolate_ends(kinds)
    if base is None:
        base = _first_strong(kinds, ends, 0, len(kinds)) or 0
    paragraph = _Paragraph(text, kinds, list(kinds), ends, base, [base] * len(kinds))
    _explicit(paragraph)
    for sequence in _sequences(paragraph):
        _Sequence(paragraph, sequence).resolve()
    return base, _line_levels(paragraph)


def visual_order(line: Sequence[int]) -> list[int]:
    """Rule L2: the indices of a line's levels from left to right."""
    order = list(range(len(line)))
    odd = [level for level in line if level & 1]
    if not odd:
        return order
    for level in range(max(line), min(odd) - 1, -1):
        start = 0
        while start < len(order):
            stop = start
            while stop < len(order) and line[order[stop]] >= level:
                stop += 1
            order[start:stop] = order[start:stop][::-1]
            start = stop + 1
    return order


@dataclass(slots=True)
class _Paragraph:
    text: str
    kinds: list[str]  # Bidi_Class as the Unicode Character Database has it
    classes: list[str]  # the same after directional overrides
    ends: dict[int, int]  # isolate initiator -> its PDI (BD9)
    base: int
    levels: list[int]


def _isolate_ends(kinds: Sequence[str]) -> dict[int, int]:
    open_isolates: list[int] = []
    ends = {}
    for place, kind in enumerate(kinds):
        if kind in _INITIATORS:
            open_isolates.append(place)
        elif kind == "PDI" and open_isolates:
            ends[open_isolates.pop()] = place
    return ends


def _first_strong(kinds: Sequence[str], ends: dict[int, int], start: int, stop: int) -> int | None:
    """P2 and P3; isolates are stepped over."""
    place = start
    while place < stop:
        kind = kinds[place]
        if kind == "L":
            return 0
        if kind in ("R", "AL"):
            return 1
        if kind in _INITIATORS:
            place = ends.get(place, stop)
        place += 1
    return None


def _explicit(paragraph: _Paragraph) -> None:
    """X1 to X8: levels from embeddings, overrides and isolates."""
    kinds, classes, out = paragraph.kinds, paragraph.classes, paragraph.levels
    # Directional status stack: level, override class or None, isolate?
    stack: list[tuple[int, str | None, bool]] = [(paragraph.base, None, False)]
    lost_isolates = lost_embeddings = valid_isolates = 0
    for place, kind in enumerate(kinds):
        level, override, _ = stack[-1]
        if kind in _EMBEDDINGS:  # X2 to X5
            out[place] = level
            deeper = _next_level(level, rtl=kind[0] == "R")
            if deeper <= _DEEPEST and not lost_isolates and not lost_embeddings:
                stack.append((deeper, kind[0] if kind[2] == "O" else None, False))
            elif not lost_isolates:
                lost_embeddings += 1
        elif kind in _INITIATORS:  # X5a to X5c
            out[place] = level
            classes[place] = override or kind
            rtl = kind == "RLI"
            if kind == "FSI":
                rtl = _first_strong(kinds, paragraph.ends, place + 1, paragraph.ends.get(place, len(kinds))) == 1
            deeper = _next_level(level, rtl=rtl)
            if deeper <= _DEEPEST and not lost_isolates and not lost_embeddings:
                valid_isolates += 1
                stack.append((deeper, None, True))
            else:
                lost_isolates += 1
        elif kind == "PDI":  # X6a
            if lost_isolates:
                lost_isolates -= 1
            elif valid_isolates:
                lost_embeddings = 0
                while not stack[-1][2]:
                    stack.pop()
                stack.pop()
                valid_isolates -= 1
            out[place] = stack[-1][0]
            classes[place] = stack[-1][1] or kind
        elif kind == "PDF":  # X7
            out[place] = level
            if lost_embeddings and not lost_isolates:
                lost_embeddings -= 1
            elif not lost_isolates and not stack[-1][2] and len(stack) > 1:
                stack.pop()
        elif kind == "B":  # X8
            out[place] = paragraph.base
        else:  # X6
            out[place] = level
            if override and kind != "BN":
                classes[place] = override


def _next_level(level: int, *, rtl: bool) -> int:
    return (level + 1) | 1 if rtl else (level + 2) & ~1


def _sequences(paragraph: _Paragraph) -> Iterable[tuple[list[int], str, str]]:
    """X9 and X10: isolating run sequences with their sos and eos."""
    kinds, ends, base = paragraph.kinds, paragraph.ends, paragraph.base
    explicit = list(paragraph.levels)
    kept = [place for place, kind in enumerate(kinds) if kind not in _REMOVED]
    runs: list[list[int]] = []
    for place in kept:
        if runs and explicit[runs[-1][-1]] == explicit[place]:
            runs[-1].append(place)
        else:
            runs.append([place])
    starting_at = {run[0]: run for run in runs}
    matched = set(ends.values())
    for run in runs:
        if kinds[run[0]] == "PDI" and run[0] in matched:
            continue  # belongs to the sequence of its initiator
        sequence = list(run)
        while kinds[sequence[-1]] in _INITIATORS and sequence[-1] in ends:
            sequence += starting_at[ends[sequence[-1]]]
        level = explicit[sequence[0]]
        before = bisect_left(kept, sequence[0])
        after = bisect_right(kept, sequence[-1])
        previous = explicit[kept[before - 1]] if before else base
        unclosed = kinds[sequence[-1]] in _INITIATORS and sequence[-1] not in ends
        following = base if unclosed or after == len(kept) else explicit[kept[after]]
        yield sequence, "LR"[max(level, previous) & 1], "LR"[max(level, following) & 1]


class _Sequence:
    """One isolating run sequence while W1 to I2 work on it."""

    def __init__(self, paragraph: _Paragraph, sequence: tuple[list[int], str, str]) -> None:
        self.paragraph = paragraph
        self.places, self.before, self.after = sequence
        self.level = paragraph.levels[self.places[0]]
        self.kinds = [paragraph.classes[place] for place in self.places]

    def resolve(self) -> None:
        self._weak()
        self._brackets()
        self._neutral()
        rise = {"L": 0, "R": 1, "AN": 2, "EN": 2} if self.level % 2 == 0 else {"L": 1, "R": 0, "AN": 1, "EN": 1}
        for place, kind in zip(self.places, self.kinds, strict=True):  # I1, I2
            self.paragraph.levels[place] = self.level + rise.get(kind, 0)

    def _weak(self) -> None:
        kinds = self.kinds
        previous = strong = self.before
        for i, kind in enumerate(kinds):  # W1
            if kind == "NSM":
                kinds[i] = "ON" if previous in _INITIATORS or previous == "PDI" else previous
            previous = kinds[i]
        for i, kind in enumerate(kinds):  # W2
            if kind in ("L", "R", "AL"):
                strong = kind
            elif kind == "EN" and strong == "AL":
                kinds[i] = "AN"
        kinds[:] = ["R" if kind == "AL" else kind for kind in kinds]  # W3
        for i in range(1, len(kinds) - 1):  # W4
            left, kind, right = kinds[i - 1 : i + 2]
            if left == right and ((left == "EN" and kind in ("ES", "CS")) or (left == "AN" and kind == "CS")):
                kinds[i] = left
        for order in (range(len(kinds)), range(len(kinds) - 1, -1, -1)):  # W5
            previous = ""
            for i in order:
                if kinds[i] == "ET" and previous == "EN":
                    kinds[i] = "EN"
                previous = kinds[i]
        kinds[:] = ["ON" if kind in ("ET", "ES", "CS") else kind for kind in kinds]  # W6
        strong = self.before
        for i, kind in enumerate(kinds):  # W7
            if kind in ("L", "R"):
                strong = kind
            elif kind == "EN" and strong == "L":
                kinds[i] = "L"

    def _pairs(self) -> list[tuple[int, int]]:
        """BD16: bracket pairs, by place of the opener."""
        waiting: list[tuple[str, int]] = []
        pairs = []
        for i, kind in enumerate(self.kinds):
            if kind != "ON":
                continue
            character = self.paragraph.text[self.places[i]]
            character = EQUIVALENT.get(character, character)
            if character in CLOSER_OF:
                if len(waiting) == _BRACKET_STACK:
                    return []
                waiting.append((CLOSER_OF[character], i))
            elif character in CLOSERS:
                for depth in range(len(waiting) - 1, -1, -1):
                    if waiting[depth][0] == character:
                        pairs.append((waiting[depth][1], i))
                        del waiting[depth:]
                        break
        return sorted(pairs)

    def _brackets(self) -> None:
        """N0."""
        own = "LR"[self.level & 1]
        for opener, closer in self._pairs():
            inside = {_strong(kind) for kind in self.kinds[opener + 1 : closer]} - {None}
            if not inside:
                continue
            direction: str | None = own
            if own not in inside:
                context = (_strong(kind) for kind in reversed(self.kinds[:opener]))
                direction = next((kind for kind in context if kind), self.before)
            for bracket in (opener, closer):
                self.kinds[bracket] = direction or own
                mark = bracket + 1
                while mark < len(self.kinds) and self.paragraph.kinds[self.places[mark]] == "NSM":
                    self.kinds[mark] = direction or own
                    mark += 1

    def _neutral(self) -> None:
        """N1 and N2."""
        kinds, own = self.kinds, "LR"[self.level & 1]
        start = 0
        while start < len(kinds):
            if kinds[start] not in _NEUTRAL:
                start += 1
                continue
            stop = start
            while stop < len(kinds) and kinds[stop] in _NEUTRAL:
                stop += 1
            left = _strong(kinds[start - 1]) if start else self.before
            right = _strong(kinds[stop]) if stop < len(kinds) else self.after
            kinds[start:stop] = [left if left == right and left else own] * (stop - start)
            start = stop


def _strong(kind: str) -> str | None:
    """How N0 to N2 see a class: figures count as right-to-left."""
    return "L" if kind == "L" else "R" if kind in ("R", "EN", "AN") else None


def _line_levels(paragraph: _Paragraph) -> list[int]:
    """X9's leftovers, then L1: separators, and spaces before them or at the end, get the base level."""
    out, base = paragraph.levels, paragraph.base
    previous = base
    for place, kind in enumerate(paragraph.kinds):
        if kind in _REMOVED:
            out[place] = previous
        previous = out[place]
    trailing = True
    for place in range(len(out) - 1, -1, -1):
        kind = paragraph.kinds[place]
        if kind in ("S", "B"):
            out[place], trailing = base, True
        elif kind in ("WS", "PDI") or kind in _INITIATORS or kind in _REMOVED:
            if trailing:
                out[place] = base
        else:
            trailing = False
    return out
