"""What stands on the clinic's side: the questions for the owner, and the same lines in the clinic's language.

Takes  a `Plan`, the voices of the clinic's and of the owner's language, the numbers of the sheet's items.
Gives  `clinic_copy`, the teach-back with its answers by number; `same_lines`, what staff point at.
Knows  that a question is read aloud in the owner's language and understood in the clinic's.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from generator.compose.clinic_record import record_rows
from generator.compose.notes import notes_of
from generator.compose.owner_parts import Parts
from generator.compose.voice import Line, Value, Voice
from generator.words import isolation
from generator.words.local import Local


@dataclass(frozen=True, slots=True)
class Question:
    """A question of the teach-back: in the clinic's language, in the owner's where that is another, and where its answer stands."""

    line: Line
    spoken: Line | None
    answer: Line | None


def clinic_copy(parts: Parts, owner: Voice | None) -> dict[str, Any]:
    """What staff ask, sign and have been warned of.

    Args:
        parts: of the clinic's copy, whose items are numbered already.
        owner: the voice of the owner's language; None where it is the clinic's.
    """
    plan, voice = parts.plan, parts.voice
    say = voice.say

    def asked(phrase: str, answer: Line | None, **values: Value) -> Question:
        spoken = owner.say(phrase, **values) if owner is not None else None
        return Question(say(phrase, **values), spoken, answer)

    deadline = parts.deadline_event
    questions = [
        asked("ask-when", say("answer-at", numbers=voice.moment(deadline.headline, "answer-when")), pet=parts.pet),
        asked("ask-where", _numbers(parts, "every-day")),
        asked("ask-rest", _numbers(parts, "never", "rest"), pet=parts.pet),
        asked("ask-ring", _numbers(parts, "ring")),
    ]
    return {
        "title": say("clinic-copy"), "ask": say("own-words"), "questions": questions,
        "spoken": owner.words.language if owner is not None else "",
        "band": owner.both("draft-band", language=owner.language_name(voice.words.language)) if owner is not None and owner.unsigned else None,
        "explained": say("owner-explained"),
        "signing": [say("sign-owner"), *([say("sign-interpreter")] if owner is not None else []), say("sign-staff"), say("sign-when")],
        "warned": say("plan-warned"), "nothing": say("nothing-warned"), "notes": notes_of(plan, voice.writer),
        "record": record_rows(plan, voice.writer),
    }  # fmt: skip


def _numbers(parts: Parts, *groups: str) -> Line | None:
    """From which number to which the answer stands on the sheet; groups with others between them are told apart."""
    stretches: list[tuple[int, int]] = []
    for first, last in sorted(parts.asked[group] for group in groups if group in parts.asked):
        if stretches and stretches[-1][1] + 1 == first:
            stretches[-1] = stretches[-1][0], last
        elif last >= first:
            stretches.append((first, last))
    if not stretches:
        return None
    writer = parts.voice.writer

    def number(value: int) -> Markup:
        return writer.number("item", value, str(value))

    def shown(local: Local) -> Markup:
        # Each stretch is kept in its order in every script.
        said = (
            number(first) if first == last
            else Markup(isolation.LRI + "{}\u2013{}" + isolation.PDI).format(number(first), number(last))
            for first, last in stretches
        )  # fmt: skip
        return Markup(isolation.comma(local.language)).join(said)

    return parts.voice.say("answer-at", numbers=shown)


def same_lines(parts: Parts, owner: Voice) -> dict[str, Any]:
    """The sheet's lines in the clinic's language, with the numbers they have in the owner's.

    Args:
        parts: of the clinic's language. owner: of the sheet itself, for the line that says what this is.
    """
    clinic = parts.voice
    days_check, look = parts.check(), parts.look()
    return {
        "language": clinic.words.language,
        "title": owner.both("same-lines", language=owner.language_name(clinic.words.language)),
        "point": owner.both("point"),
        "site": parts.who()["site"],
        "what": parts.what_it_does(),
        "deadline": parts.deadline(),
        "checks": [line for line in (days_check, look) if line is not None],
        **parts.listed(),
    }
