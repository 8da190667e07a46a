"""Which sentences can cost a leg if they are wrong: the STOP lines.

Takes  messages, each knowing where on the sheet it stands.
Gives  those whose translation must be translated back, by somebody who has not seen the English.
Knows  parts of the sheet and a few phrases; nothing of translations.
"""

from __future__ import annotations

from collections.abc import Iterable

from generator.words import notes
from generator.words.extract import Message, Place

# Parts of the fixed phrases, by the words before the colon of their headings in `compose/phrases.py`: by when it must come
# off, whom to ring and when, what means now, and the two pictures that say the same.
PARTS = frozenset({"the deadline", "beside the deadline", "the alarm box", "picture of toes"})
# Deadlines that stand among the days, and what tells a draft from the words that count.
PHRASES = frozenset({"by-moment", "check-here", "check-by", "check-no-opening", "draft-band"})
_LINES = frozenset({notes.GO, notes.RING, notes.LINES["never"]})


def stop_messages(messages: Iterable[Message]) -> tuple[Message, ...]:
    """Deadlines, alarm headings, hours and telephones, signs that mean go or ring, and all that an owner must never do."""
    return tuple(message for message in messages if any(map(_stops, message.places)))


def _stops(place: Place) -> bool:
    kind, _, name = place.path.partition(":")
    if kind == "phrase":
        return name in PHRASES or place.part.partition(":")[0] in PARTS
    return place.part in _LINES
