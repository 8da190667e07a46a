"""A pressure bandage and the bandage after it: two clocks, worked by hand in UTC.

Minutes of a pressure bandage (release 15, off 20, toes every 5, all from the first application) are common practice. That the
next bandage is counted from the release, the earliest moment at which it can go on, is a house rule: no deadline comes later.
Changes of the clocks in New York 2027: 14 March 07:00Z, 7 November 06:00Z (IANA tz database, release 2026f).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from functools import cache

import pytest

from generator.compose import plan_data
from generator.protocol.animal import read_patient
from generator.protocol.model import Book, Patient, Protocol
from generator.reckon.plan import Event, Plan
from generator.reckon.reckoner import reckon
from generator.reckon.sequence import reckon_sequence
from generator.source.problem import Refusal
from generator.source.text import read_tree
from tests.conftest import ROOT, review
from tests.reckon.zones import zone

NEW_YORK = zone("America/New_York")


@cache
def book() -> Book:
    found = review(ROOT / "protocols").book
    assert found is not None
    return found


def part(name: str) -> Protocol:
    slug, _, stage = name.partition("@")
    protocol = book().protocols[slug]
    return protocol.stages[stage] if stage else protocol


# A plain pad is changed within a day (K9 guideline 14; Birchard 2014), so that the hours below are those of the wound's first stage.
PAD = "{exudate: high, contact: sterile absorbent pad}"


def animal(
    when: str, *, site: str = "right fore", skin: str = "wound", species: str = "dog", wound: str = PAD
) -> Patient:
    text = f"""
patient: {{name: Kestrel, species: {species}, weight: {22 if species == "dog" else 4} kg, born: 2024-06-30}}
owner: {{name: S. Wendover, language: en}}
limb: {{site: {site}, distal_girth: 13 cm, proximal_girth: 19 cm, covered_length: 18 cm}}
skin: {skin}
wound: {wound}
reason: swelling
{when}
issued_by: Dr M. Tamsin
"""
    tree = read_tree(text.encode(), "kestrel.yaml").tree
    assert tree is not None
    patient, problems = read_patient(tree)
    assert patient is not None, problems
    return patient


def planned(when: str, *then: str, now: str = "2027-11-30T12:00", patient: Patient | None = None) -> Plan:
    moment = datetime.fromisoformat(now).replace(tzinfo=NEW_YORK)
    one = patient or animal(when)
    return reckon_sequence([part("pressure-bandage")], [part(name) for name in then], one, book(), moment, NEW_YORK)


def after(plan: Plan) -> Plan:
    assert plan.then is not None
    return plan.then


def shown(moment: datetime | None) -> str | None:
    return moment.isoformat(timespec="minutes") if moment is not None else None


def row(event: Event | None) -> tuple[str | None, ...]:
    assert event is not None
    return shown(event.opens), shown(event.due), shown(event.slot), event.where


def refused(names: Sequence[str], then: Sequence[str], patient: Patient) -> dict[str, str]:
    with pytest.raises(Refusal) as caught:
        reckon_sequence([part(n) for n in names], [part(n) for n in then], patient, book(), datetime(2027, 11, 30, tzinfo=NEW_YORK), NEW_YORK)  # fmt: skip
    return {
        problem.name: f"{problem.span} {problem.what} {problem.why} {problem.fix}" for problem in caught.value.problems
    }


def test_clocks_that_jump_forward_between_application_and_release() -> None:
    # On 01:50 EST = 06:50Z; fifteen minutes on it is 07:05Z, which clocks show as 03:05; off 07:10Z = 03:10.
    plan = planned("applied: 2027-03-14T01:50\nfirst: yes", "open-wound@inflammatory")
    assert [(e.kind, shown(e.due)) for e in plan.events] == [
        ("watch", "2027-03-14T01:55-05:00"),
        ("watch", "2027-03-14T03:00-04:00"),
        ("watch", "2027-03-14T03:05-04:00"),
        ("release", "2027-03-14T03:05-04:00"),
        ("removal", "2027-03-14T03:10-04:00"),
    ]
    then = after(plan)
    # 12 h and 24 h from 07:05Z: 19:05Z = 15:05, and 07:05Z = 03:05 on Monday. Sunday is closed; Monday opens at 08:00.
    assert shown(then.applied) == shown(then.began) == "2027-03-14T03:05-04:00"
    window = ("2027-03-14T15:05-04:00", "2027-03-15T03:05-04:00", None, "emergency place")
    assert row(then.first("check")) == window
    assert row(then.first("change")) == window
    assert then.deadline is then.first("change")
    assert [shown(e.due) for e in then.events if e.kind == "watch"] == ["2027-03-14T15:05-04:00"]


def test_clocks_that_go_back_between_application_and_release() -> None:
    # On 01:50 EDT = 05:50Z; release 06:05Z, which clocks show as 01:05 EST, "before" it went on; off 06:10Z = 01:10.
    # Much fluid takes alginate, 48 to 72 h (Campbell 2015), which is the stage's own window.
    when = "applied: 2027-11-07T01:50\nfirst: yes"
    plan = planned(when, "open-wound@proliferative", patient=animal(when, wound="{exudate: high}"))
    assert shown(plan.applied) == "2027-11-07T01:50-04:00"
    release, off = plan.first("release"), plan.deadline
    assert release is not None
    assert off is not None
    assert (shown(release.due), shown(off.due)) == ("2027-11-07T01:05-05:00", "2027-11-07T01:10-05:00")
    then = after(plan)
    assert shown(then.applied) == "2027-11-07T01:05-05:00"
    # 24 to 48 h: 8 to 9 Nov 01:05; the last half hour of Monday's opening (18:30) begins 18:00. 48 to 72 h: Tuesday likewise.
    assert row(then.first("check")) == ("2027-11-08T01:05-05:00", "2027-11-09T01:05-05:00", "2027-11-08T18:00-05:00", "clinic")  # fmt: skip
    assert row(then.first("change")) == ("2027-11-09T01:05-05:00", "2027-11-10T01:05-05:00", "2027-11-09T18:00-05:00", "clinic")  # fmt: skip


def test_wrapping_again_moves_neither_the_release_nor_what_is_counted_from_it() -> None:
    # First on 01:40 EST = 06:40Z, again at 01:50: release 06:55Z = 01:55 EST. 24 h from there: Monday 06:55Z = 02:55 EDT.
    plan = planned("applied: 2027-03-14T01:50\nbegan: 2027-03-14T01:40", "open-wound@inflammatory")
    then = after(plan)
    assert shown(then.applied) == "2027-03-14T01:55-05:00"
    assert then.deadline is not None
    assert shown(then.deadline.due) == "2027-03-15T02:55-04:00"


def test_the_end_of_the_next_bandage_is_not_counted_from_the_pressure_bandage() -> None:
    # Tuesday 09:00; release 09:15. Three days for swelling end on Friday 09:15, not 09:00; a half hour's visit begins 08:45.
    then = after(planned("applied: 2027-03-16T09:00\nfirst: yes", "padded-limb-support"))
    assert row(then.remove_by) == (None, "2027-03-19T09:15-04:00", "2027-03-19T08:45-04:00", "clinic")
    assert row(then.first("check"))[1:] == ("2027-03-17T09:15-04:00", "2027-03-17T08:45-04:00", "clinic")


def test_the_end_of_the_next_bandage_is_counted_from_one_of_its_kind_before_the_bleeding() -> None:
    # Padded since Monday 09:00: its three days end on Thursday 09:00. The minutes count from Tuesday 09:00 all the same.
    when = "applied: 2027-03-16T09:00\nearlier: [{protocol: padded-limb-support, on: 2027-03-15T09:00, off: 2027-03-16T08:50}]"
    plan = planned(when, "padded-limb-support")
    assert plan.deadline is not None
    assert shown(plan.deadline.due) == "2027-03-16T09:20-04:00"
    then = after(plan)
    assert then.remove_by is not None
    assert shown(then.remove_by.due) == "2027-03-18T09:00-04:00"
    assert [(one.protocol, shown(one.on), shown(one.off), one.counts) for one in then.earlier] == [
        ("padded-limb-support", "2027-03-15T09:00-04:00", "2027-03-16T08:50-04:00", True),
        ("pressure-bandage", "2027-03-16T09:00-04:00", "2027-03-16T09:15-04:00", False),
    ]


def test_a_second_pressure_bandage_has_what_the_first_left_of_its_minutes() -> None:
    # First on 08:50: release 09:05, off 09:10, and the next bandage from 09:05.
    when = "applied: 2027-03-16T09:00\nearlier: [{protocol: pressure-bandage, on: 2027-03-16T08:50, off: 2027-03-16T08:58}]"
    plan = planned(when, "padded-limb-support")
    assert plan.deadline is not None
    assert shown(plan.deadline.due) == "2027-03-16T09:10-04:00"
    assert shown(after(plan).applied) == "2027-03-16T09:05-04:00"


@pytest.mark.parametrize("name", ["open-wound@inflammatory", "padded-limb-support", "heavy-padded-limb"])
def test_the_next_bandage_is_what_a_plan_of_its_own_would_say(name: str) -> None:
    """The same written out in a patient file, as it will be once the next bandage is on."""
    plan = planned("applied: 2027-03-14T01:50\nfirst: yes", name)
    alone = animal(
        "planned: 2027-03-14T03:05\nearlier: [{protocol: pressure-bandage, on: 2027-03-14T01:50, off: 2027-03-14T03:05}]"
    )
    moment = datetime(2027, 11, 30, 12, tzinfo=NEW_YORK)
    wanted, found = plan_data(reckon([part(name)], alone, book(), moment, NEW_YORK)), plan_data(after(plan))
    # Beside it the sequence only adds what becomes of the pad.
    found["notes"] = [note for note in found["notes"] if note["code"] != "pad-beneath"]
    assert {k: v for k, v in found.items() if k != "sheet"} == {k: v for k, v in wanted.items() if k != "sheet"}


def test_an_earlier_pressure_bandage_moves_no_end_of_another_kind() -> None:
    when = "applied: 2027-03-16T09:20\nearlier: [{protocol: pressure-bandage, on: 2027-03-16T09:00, off: 2027-03-16T09:12}]"
    plan = reckon(
        [part("padded-limb-support")], animal(when), book(), datetime(2027, 3, 16, 10, tzinfo=NEW_YORK), NEW_YORK
    )
    assert shown(plan.began) == "2027-03-16T09:20-04:00"
    assert plan.remove_by is not None
    assert shown(plan.remove_by.due) == "2027-03-19T09:20-04:00"


def test_what_becomes_of_the_pad_is_left_to_the_clinician_and_said() -> None:
    then = after(planned("applied: 2027-03-16T09:00\nfirst: yes", "open-wound@inflammatory"))
    note = next(note for note in then.notes if note.code == "pad-beneath")
    assert dict(note.values) == {"material": "haemostatic pad", "contact": "sterile absorbent pad"}
    assert any(layer.layer.layer == "contact" for layer in then.layers)


def test_several_make_one_bandage() -> None:
    then = after(planned("applied: 2027-03-16T09:00\nfirst: yes", "open-wound@inflammatory", "splinted-limb"))
    assert [p.name for p in then.bandage.parts] == ["splinted-limb", "open-wound@inflammatory"]
    assert then.deadline is not None
    # The wound's 24 h, not the splint's week.
    assert shown(then.deadline.due) == "2027-03-17T09:15-04:00"


def test_only_a_pressure_bandage_is_followed() -> None:
    found = refused(
        ["padded-limb-support"], ["open-wound@inflammatory"], animal("applied: 2027-03-16T09:00\nfirst: yes")
    )
    assert set(found) == {"followed-without-bleeding"}
    words = found["followed-without-bleeding"]
    assert words.startswith("--then open-wound@inflammatory")
    assert "--protocol padded-limb-support --protocol open-wound@inflammatory" in words
    assert "--protocol pressure-bandage --then open-wound@inflammatory" in words


def test_no_pressure_bandage_follows() -> None:
    found = refused(["pressure-bandage"], ["pressure-bandage"], animal("applied: 2027-03-16T09:00\nfirst: yes"))
    assert set(found) == {"pressure-bandage-again"}
    assert "press by hand" in found["pressure-bandage-again"]


def test_a_next_bandage_for_another_site_is_refused() -> None:
    found = refused(["pressure-bandage"], ["ehmer-sling"], animal("applied: 2027-03-16T09:00\nfirst: yes"))
    assert "site-not-covered" in found


def test_a_next_bandage_for_another_species_is_refused() -> None:
    dogs = replace(part("padded-limb-support"), species=("dog",))
    with pytest.raises(Refusal) as caught:
        reckon_sequence([part("pressure-bandage")], [dogs], animal("applied: 2027-03-16T09:00\nfirst: yes", species="cat"), book(),
                        datetime(2027, 11, 30, tzinfo=NEW_YORK), NEW_YORK)  # fmt: skip
    assert [problem.name for problem in caught.value.problems] == ["species-not-covered"]


def test_a_wound_without_a_contact_layer_in_the_next_bandage_is_refused_and_named_rightly() -> None:
    bare = replace(part("padded-limb-support"), layers=tuple(x for x in part("padded-limb-support").layers if x.layer != "contact"))  # fmt: skip
    with pytest.raises(Refusal) as caught:
        reckon_sequence([part("pressure-bandage")], [bare], animal("applied: 2027-03-16T09:00\nfirst: yes"), book(),
                        datetime(2027, 11, 30, tzinfo=NEW_YORK), NEW_YORK)  # fmt: skip
    (problem,) = caught.value.problems
    assert problem.name == "wound-without-contact"
    assert "`--then`" in problem.fix
    assert "`--protocol`" not in problem.fix


def test_what_is_wrong_with_both_is_said_at_once_and_nothing_twice() -> None:
    # Applied in the future stops the first; the site stops the second; the unknown condition is one mistake, not two.
    patient = replace(animal("applied: 2028-03-16T09:00\nfirst: yes"), condition=("nonsense",))
    patient = replace(patient, spans={**patient.spans, "condition[0]": patient.spans[""]})
    with pytest.raises(Refusal) as caught:
        reckon_sequence([part("pressure-bandage")], [part("ehmer-sling")], patient, book(), datetime(2027, 11, 30, tzinfo=NEW_YORK), NEW_YORK)  # fmt: skip
    names = [problem.name for problem in caught.value.problems]
    assert {"applied-in-future", "site-not-covered"} <= set(names)
    assert len(names) == len(set(names))


def test_a_course_already_over_is_refused_for_the_next_bandage_too() -> None:
    # Padded since Friday: the three days for swelling ended on Monday; no such bandage follows on Tuesday.
    when = "applied: 2027-03-16T09:00\nearlier: [{protocol: padded-limb-support, on: 2027-03-12T09:00, off: 2027-03-16T08:50}]"
    assert "course-over" in refused(["pressure-bandage"], ["padded-limb-support"], animal(when))
