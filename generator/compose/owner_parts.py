"""The parts of an owner's sheet, in the order a worried owner needs them.

Takes  a `Plan` and the voice of its sheet.
Gives  for each part the lines and drawings its place in the template prints.
Knows  what is said in which case: booked, bookable, closed, no opening; which lines two protocols share.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import timedelta
from functools import partial
from itertools import groupby
from typing import Any, cast

from markupsafe import Markup

from generator.compose.days import day_strip, is_past
from generator.compose.owner_pictures import Pictures
from generator.compose.phones import phone_columns
from generator.compose.voice import Line, Voice
from generator.page.day_strip import draw_day_strip
from generator.page.pictograms import Pictogram
from generator.protocol.model import OwnerText, Pictured
from generator.reckon.plan import Event, Plan
from generator.source.span import Span
from generator.words import isolation, moments
from generator.words.isolation import bare
from generator.words.languages import scripts

ONE_ROW = 8  # days that the strip shows in one row
_TOES = 4  # acts that would stand where the picture of the toes stands in a draft


@dataclass(frozen=True, slots=True)
class Act:
    """A line of what an owner does or never does, and the picture beside it."""

    picture: Pictogram | None
    line: Line


class Parts:
    """One of these a sheet."""

    def __init__(self, plan: Plan, voice: Voice) -> None:
        assert plan.deadline is not None
        self.plan = plan
        self.voice = voice
        self.deadline_event: Event = plan.deadline
        self.is_limb = " " in plan.patient.limb.site
        self.shows_toes = self.is_limb and any(
            p.covers is not None and p.covers.leave_showing for p in plan.bandage.parts
        )
        self.from_right = bool({"ARABIC", "HEBREW"} & set(scripts(voice.local.language)))
        self.pictures = Pictures(plan, voice, self.shows_toes, self.from_right)
        self.pet = voice.name(plan.patient.name, plan.patient.spans.get("patient.name"), "pet")
        self.items = 0
        # Which numbers answer a question of the teach-back: where to look, how to keep it quiet, what means ring.
        self.asked: dict[str, tuple[int, int]] = {}

    def _numbers(self, count: int) -> tuple[int, int]:
        """The numbers of the next items, first and last: the same in every language, so that staff can point."""
        first, self.items = self.items + 1, self.items + count
        return first, self.items

    # ---- whose, and by when -------------------------------------------------------------------------------

    def who(self) -> dict[str, Any]:
        """Species, where the bandage is, owner and file number."""
        patient, say = self.plan.patient, self.voice.say
        kind = "sling" if set(self.plan.bandage.purposes) == {"sling"} else "bandage"
        name = self.voice.name
        return {
            "species": say(f"species-{patient.species}"),
            "site": say(f"{kind}-{patient.limb.site.replace(' ', '-')}"),
            "owner": say("owner", owner=name(patient.owner_name, patient.spans.get("owner.name"), "owner")),
            "file": say("file", file=name(patient.file_number, patient.spans.get("patient.file_number"), "file"))
            if patient.file_number
            else None,
        }

    def what_it_does(self) -> list[Line]:
        """What the bandage is for, in the clinic's words."""
        return self._authored("what_it_does", lambda text: (text.what_it_does,))

    def deadline(self) -> dict[str, Any]:
        """The one message: by when, when to come, what if not, and the end beside it."""
        voice, event, say = self.voice, self.deadline_event, self.voice.say
        is_change = event.kind == "change"
        can_book = event.booked is not None or event.slot is not None
        label, clinics = voice.both("must-change" if is_change else "must-come-off")
        return {
            # The clinic's date stands behind the clinic's words, even where these are signed and other lines are not.
            "label": replace(label, gloss=clinics.text, gloss_language=clinics.language),
            "date": voice.date_of(event.headline, "deadline", year=True)(voice.local),
            # Where the clinic's words count, they say the date too.
            "date_gloss": voice.date_of(event.headline, "deadline-gloss", year=True)(voice.clinic_local),
            "come": say("come-at", time=voice.clock_of(event.headline, "come"))
            if can_book
            else self._no_slot(event, "visit-elsewhere", "visit-no-opening"),
            "latest": self._latest(event, can_book),
            "end": self._end(),
            "cannot": say("cannot-come"),
            "cannot_text": say("cannot-come-change" if is_change else "cannot-come-off"),
        }

    def _end(self) -> Line | None:
        if self.deadline_event.kind == "removal":
            return None
        if self.plan.remove_by is None:
            return self.voice.say("last-bandage-open")
        return self.voice.say("last-bandage", date=self.voice.date_of(self.plan.remove_by.headline, "end"))

    def _latest(self, event: Event, can_book: bool) -> Line:
        """The bare time where the date above is the same."""
        voice = self.voice
        if can_book and moments.shown_day(event.headline, voice.local) != moments.shown_day(event.due, voice.local):
            return voice.say("never-later", moment=voice.moment(event.due, "latest", year=False))
        return voice.say("never-later-time", time=voice.clock_of(event.due, "latest"))

    def _no_slot(self, event: Event, elsewhere: str, nowhere: str) -> Line:
        if event.where != "emergency place":
            return self.voice.say(nowhere, moment=self.voice.moment(event.due, "check"))
        place = self.plan.book.clinic.emergency_place
        return self.voice.say(
            elsewhere, place=self.voice.name(place.name, place.spans.get("name"), "place"),
            moment=self.voice.moment(event.due, "check"),
            **({} if elsewhere == "check-by" else {"address": self.voice.name(", ".join(place.address), place.spans.get("address"), "place-address")}),
        )  # fmt: skip

    # ---- what is numbered ---------------------------------------------------------------------------------

    def listed(self) -> dict[str, Any]:
        """Signs and acts, numbered in the order in which they are printed."""
        alarm, groups = self.alarm(), self.groups()
        alarm["start"]["tell"] = self._numbers(len(alarm["signs"]["tell"]))[0]
        return {"alarm": alarm, "groups": groups}

    # ---- signs --------------------------------------------------------------------------------------------

    def alarm(self) -> dict[str, Any]:
        """What means go, what means ring, and who answers when."""
        signs: dict[str, list[Line]] = {"go": [], "ring": [], "tell": []}
        place = {"emergency": "go", "urgent": "ring", "same day": "ring", "next visit": "tell"}
        for sign in self.plan.signs:
            line = self.voice.authored(sign.owner, sign.spans.get("owner"), f"sign.{sign.id}", pet=self.pet)
            signs[place[sign.urgency]].append(line)
        self.asked["ring"] = self._numbers(len(signs["go"]))[0], self._numbers(len(signs["ring"]))[1]
        return {
            "go": self.voice.say("go-now"), "ring": self.voice.say("ring-now"), "tell": self.voice.say("tell-us"),
            "signs": signs, "start": {"go": 1, "ring": 1 + len(signs["go"])}, "phones": phone_columns(self.plan, self.voice),
            # Hours are unsigned words too: the clinic's stand beneath.
            "phones_beneath": phone_columns(self.plan, self.voice.in_clinic_words()) if self.voice.unsigned else None,
            "pictures": {
                "go": (self.pictures.sign("go-now"), self.voice.label("go-now")),
                "ring": (self.pictures.sign("ring"), self.voice.label("ring-now")),
            },
        }  # fmt: skip

    # ---- days ---------------------------------------------------------------------------------------------

    def days(self) -> dict[str, Any]:
        """The strip, and where the first check is."""
        spec = day_strip(self.plan, self.voice, self.from_right, self.shows_toes)
        drawing = self.voice.writer.drawing("days", partial(draw_day_strip, spec))
        # What the strip says in words does not hang on its width: any measure will do to ask for it.
        said = draw_day_strip(spec, 2000.0, lambda text, size, _: len(text) * size).alternative
        return {
            "drawing": drawing,
            "alt": f"{self.voice.label('days')}. {bare(said)}",
            "check": self.check(),
            "look": self.look(),
            "is_long": len(spec.days) > ONE_ROW,
        }

    def check(self) -> Line | None:
        """Where and when the first check is, unless it lies behind."""
        event = self.plan.first("check")
        if event is None or is_past(event, self.plan):
            return None
        if self.plan.is_before_home(event):
            time = self.voice.clock_of(event.due, "check")
            return self.voice.say("check-before-home", pet=self.pet, time=time)
        if event.booked is None and event.slot is None:
            return self._no_slot(event, "check-by", "check-no-opening")
        return self.voice.say("check-here", moment=self.voice.moment(event.headline, "check"))

    def look(self) -> Line | None:
        """At what times of the day the owner looks, as on the last day: a change of the clocks lies behind it."""
        looks = [event.due for event in self.plan.events if event.kind == "watch" and event.where == "home"]
        if not looks:
            return None
        last = [at for at in looks if looks[-1] - at < timedelta(days=1)]
        # A midnight ends the day, as it is said: 11:59 PM comes after noon.
        times = sorted(last, key=lambda at: at.hour * 60 + at.minute or 24 * 60)
        shown = [self.voice.clock_of(at, f"look{number}") for number, at in enumerate(times)]
        return self.voice.say(
            "look-at", times=lambda local: Markup(isolation.comma(local.language)).join(one(local) for one in shown)
        )

    # ---- what to do ---------------------------------------------------------------------------------------

    def groups(self) -> list[list[dict[str, Any]]]:
        """Two columns of groups, numbered down each: what to do each day first, in the arrangement that is less high.

        The height is judged by the number of acts, so that their numbers are the same in every language.
        """
        every, dry = self._acts("every_day", lambda t: t.every_day), self._acts("keep_dry", lambda t: t.keep_dry)
        never, rest = self._acts("never", lambda t: t.never), self._rest()
        groups = {
            "every-day": (every, "bullet"), "keep-dry": (dry, "bullet"), "never": (never, "cross"), "rest": (rest, "bullet"),
        }  # fmt: skip
        beside_dry = (("every-day", "keep-dry"), ("never", "rest"))
        beside_rest = (("every-day", "rest"), ("keep-dry", "never"))
        alone = (("every-day",), ("keep-dry", "never", "rest"))
        # In a draft the toes stand under "Every day".
        toes = _TOES if self.shows_toes else 0

        def height(columns: tuple[tuple[str, ...], ...]) -> int:
            first, second = (sum(len(groups[name][0]) for name in column) for column in columns)
            return max(first + toes, second)

        columns = min((beside_dry, beside_rest, alone), key=height)
        made = [[self._group(name, *groups[name]) for name in column if groups[name][0]] for column in columns]
        return [column for column in made if column]

    def _group(self, title: str, acts: list[Act], mark: str) -> dict[str, Any]:
        """Lines that follow one another and have the same picture share it."""
        rows: list[dict[str, Any]] = []
        for picture, lines in groupby(acts, key=lambda act: act.picture):
            drawing = self.pictures.sign(picture) if picture else None
            number = self._numbers(1)[0]
            rows.append(
                {
                    "drawing": drawing,
                    "number": self.voice.count(number, "item")(self.voice.local),
                    "lines": [act.line for act in lines],
                }
            )
        self.asked[title] = (self.items + 1 - len(rows), self.items)
        return {
            "start": self.asked[title][0],
            "title": self.voice.say(title),
            "rows": rows,
            "mark": mark,
            "pictured": any(r["drawing"] for r in rows),
        }

    def _rest(self) -> list[Act]:
        """Rest in acts, with numbers: of several protocols the strictest of each. A cat stays in (common practice)."""
        if self.plan.patient.species == "cat":
            return [Act("indoors", self.voice.say("cat-indoors", pet=self.pet))]
        found = [text.exercise for text in self.plan.bandage.owner if text.exercise is not None]
        if not found:
            return []
        voice, system = self.voice, self.plan.book.clinic.units
        walks = min(exercise.walks for exercise in found)
        seconds = min(exercise.minutes_each.shortest.seconds for exercise in found)
        lead = min(exercise.lead for exercise in found)
        return [
            Act("short-lead", voice.say("walks", walks=voice.count(walks, "walks"))),
            Act("short-lead", voice.say("walk-minutes", minutes=voice.minutes(seconds // 60, "walk-minutes"))),
            Act("short-lead", voice.say("walk-lead", length=voice.lead(lead, system, "lead"))),  # type: ignore[arg-type]
        ]

    def _acts(self, key: str, of: Callable[[OwnerText], Iterable[str]]) -> list[Act]:
        """The lines of all protocols with the pictures that the book gives them."""
        pictures = self.plan.book.pictures
        return [Act(_drawn(pictures.get(said)), line) for said, line in self._said(key, of)]

    def _authored(self, key: str, of: Callable[[OwnerText], Iterable[str]]) -> list[Line]:
        """The lines of all protocols, none twice."""
        return [line for _, line in self._said(key, of)]

    def _said(self, key: str, of: Callable[[OwnerText], Iterable[str]]) -> list[tuple[str, Line]]:
        """As authored and as printed."""
        found: dict[str, Span | None] = {}
        for text in self.plan.bandage.owner:
            for line in of(text):
                found.setdefault(line, text.spans.get(key))
        return [(line, self.voice.authored(line, span, f"owner.{key}", pet=self.pet)) for line, span in found.items()]

    # ---- foot ---------------------------------------------------------------------------------------------

    def foot(self, sheet: str) -> dict[str, Any]:
        """What identifies the sheet."""
        plan, voice = self.plan, self.voice
        parts = (plan.bandage.stored,) if plan.bandage.stored else plan.bandage.parts
        return {
            "pet": self.pet(voice.local),
            "protocols": [
                voice.say("revision", id=voice.name(p.id, p.span("id"), "id"), revision=voice.count(p.revision, "revision")) for p in parts
            ],
            "sheet": voice.say("sheet", sheet=lambda _: voice.writer.number("sheet", sheet, sheet)),
            "issued": voice.say("issued", moment=lambda local: voice.issued(plan.now, local)),
            "pages": voice.say("pages", page=lambda _: Markup('<span class="page-number"/>'), pages=lambda _: Markup('<span class="page-count"/>')),
            "turn": voice.say("turn-over"),
            "decides": voice.say("vet-decides"),
            "draft_mark": voice.say("draft-mark"),
        }  # fmt: skip


def _drawn(pictured: Pictured | None) -> Pictogram | None:
    return cast(Pictogram, pictured.picture.replace(" ", "-")) if pictured is not None else None
