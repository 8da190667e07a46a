"""How far each language has come, in counts.

Takes  a `Held`.
Gives  its `Standing`.
Knows  what counts as translated, signed and translated back; judges nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from generator.translation.room import Held
from generator.words import signoff
from generator.words.back_translation import about


@dataclass(frozen=True, slots=True)
class Standing:
    """One catalogue in counts of messages. drafts: translated, not signed. back: STOP lines whose present words were translated back."""

    messages: int
    translated: int
    signed: int
    last_signed: date | None
    stops: int
    back: int

    @property
    def missing(self) -> int:
        """Sentences that print in the clinic's language."""
        return self.messages - self.translated

    @property
    def drafts(self) -> int:
        """Sentences that print marked, the clinic's own words beneath."""
        return self.translated - self.signed


def standing(held: Held) -> Standing:
    """Count what one language has."""
    present = [held.by_key[message.key] for message in held.wanted if message.key in held.by_key]
    translated = [entry for entry in present if entry.is_translated]
    signatures = [
        found
        for entry in translated
        if (found := signoff.signature_of(held.ledger, held.signed_for, entry)) is not None
    ]
    stops = {message.key for message in held.stops}
    return Standing(
        messages=len(held.wanted),
        translated=len(translated),
        signed=len(signatures),
        last_signed=max((signature.day for signature in signatures), default=None),
        stops=len(stops),
        back=sum(entry.key in stops and bool(about(held.back, entry)) for entry in translated),
    )
