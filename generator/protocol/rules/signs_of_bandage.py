"""R46: a bandage names the warning signs of its kind, each as urgent as it is.

What it looks for: `signs`, by the words and the urgency that signs.yaml gives them.
Why it matters: an owner looks for what the sheet names, and waits with what it does not.
Stops: a limb bandage without the sign of cold toes; a wet bandage that may wait until tomorrow.
Write instead: the sign that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.protocol.kinds import URGENCIES
from generator.protocol.model import Book, Protocol, Sign
from generator.protocol.rules.reach import on_limb
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import speaks_of
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem


@dataclass(frozen=True, slots=True)
class _Alarm:
    """said: in the message. pattern: what it is known by. urgency: the slowest it may have. name: as usually in signs.yaml.

    may_lack: only doubted, where the source is custom or the kind shows it seldom.
    """

    said: str
    pattern: str
    urgency: str
    name: str
    may_lack: bool = False


# The trade's own table of signs. Printed: cold or blue toes published 6; nails, wet, smell and slipping published 40; lameness
# published 13, 40; breathing
# published 9; chewing published 13; strike-through published 30. The others are common practice.
COLD = _Alarm("cold or discoloured toes", r"\bcold\b|\bblue\b|discolou?r", "emergency", "toes-cold-or-discoloured")
FLINCH = _Alarm(
    "toes that do not feel", r"flinch|do(es)? not (move|feel)|no feeling|numb", "emergency", "toes-no-flinch", True
)
BLOOD = _Alarm("blood that comes through", r"\bblood|\bbleed", "emergency", "bleeding-through", True)
BREATH = _Alarm("hard breathing", r"\bbreath", "emergency", "hard-breathing")
COLLAPSE = _Alarm("collapse", r"collaps|falls? down|very dull|cannot get up", "emergency", "collapse", True)
NAILS = _Alarm("nails that move apart", r"\bnails?\b", "urgent", "nails-apart")
NAILS_SLING = _Alarm("nails that move apart", NAILS.pattern, "urgent", "nails-apart", True)
WET = _Alarm("a wet bandage", r"\bwet\b", "urgent", "wet")
SMELL = _Alarm("a bad smell", r"\bsmell|\bodou?r", "urgent", "bad-smell")
SLIPPED = _Alarm("a bandage that slips", r"\bslip", "urgent", "slipped")
LAME = _Alarm("a limb that gets worse", r"\blame|\blimp|will not put", "urgent", "more-lame", True)
CHEWING = _Alarm("chewing at it", r"\bchew|\blick|\bscratch|\bpaws? at", "same day", "chewing", True)
STAIN = _Alarm("a stain that comes through", r"strike-?through|\bstain", "same day", "strike-through", True)
# No print speaks of tails; a wrap that stops the blood of so thin a part is common practice to look for.
TAIL = _Alarm(
    "a cold or swollen tail",
    r"\btail\b.*\b(cold|blue|swells?|swollen)\b|\b(cold|blue|swells?|swollen)\b.*\btail\b",
    "emergency",
    "tail-cold-or-swollen",
    True,
)
_AIRWAY = ("sling.velpeau", "cover.head", "cover.trunk")


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    signs = [book.signs.get(name) for name in protocol.signs]
    # A name that is not in signs.yaml may be the very sign that is asked for.
    known = [sign for sign in signs if sign is not None and not is_unsound(sign)]
    if len(known) < len(signs) or (protocol.purpose == "haemorrhage" and not on_limb(protocol)):
        return
    home = bool(protocol.limits.go_home)
    for alarm in _alarms(protocol):
        # Where no sign of this urgency is named at all, `go_home_needs` says so.
        if (
            home
            and not any(sign.urgency == alarm.urgency for sign in known)
            and alarm.urgency in ("emergency", "urgent")
        ):
            continue
        if any(_is(sign, alarm) for sign in known):
            continue
        slow = next((sign for sign in known if speaks_of(_words(sign), alarm.pattern)), None)
        yield Problem(
            "sign-missing",
            protocol.span("signs"),
            f"the signs do not name {alarm.said}"
            if slow is None
            else f"`{slow.id}` is `{slow.urgency}`, and {alarm.said} is `{alarm.urgency}`",
            "an owner waits with what the sheet does not name" if home else "staff look for what the card names",
            f"add `{alarm.name}` to `signs`" if slow is None else f"write `urgency: {alarm.urgency}` in signs.yaml",
            severity="error" if home and not alarm.may_lack else "warning",
        )


def _alarms(protocol: Protocol) -> Iterator[_Alarm]:
    limb, brief = on_limb(protocol), protocol.purpose == "haemorrhage"
    if limb:
        yield from (COLD, FLINCH)
        # A pressure bandage is off before nails can move apart.
        if not brief:
            yield NAILS_SLING if protocol.purpose == "sling" or protocol.kind == "cover.catheter" else NAILS
    if protocol.kind == "cover.tail":
        yield TAIL
    contact = protocol.layer("contact")
    if contact is not None:
        yield BLOOD
    if protocol.kind in _AIRWAY:
        yield BREATH
    yield COLLAPSE
    if not brief:
        yield from (WET, SMELL, SLIPPED, CHEWING)
        if limb and protocol.kind != "cover.catheter":
            yield LAME
        if contact is not None and contact.needed_if is None:
            yield STAIN


def _is(sign: Sign, alarm: _Alarm) -> bool:
    return URGENCIES.index(sign.urgency) <= URGENCIES.index(alarm.urgency) and speaks_of(_words(sign), alarm.pattern)


def _words(sign: Sign) -> str:
    return f"{sign.id.replace('-', ' ')}. {sign.staff} {sign.owner}"


RULE = Rule(
    id="R46",
    name="sign-missing",
    looks_for="A bandage names the warning signs of its kind, each at least as urgent as the trade has it.",
    why="An owner looks for what the sheet names, and waits with what it does not.",
    source="published 6, 9, 13, 30, 40; common practice",
    broken="kind: support.soft\nsigns: [bleeding-through, nails-apart, wet, chewing]\n",
    mended="kind: support.soft\n"
    "signs: [toes-cold-or-discoloured, toes-no-flinch, bleeding-through, collapse, nails-apart, wet, bad-smell, slipped, more-lame, strike-through, chewing]\n",
    check=check,
)
