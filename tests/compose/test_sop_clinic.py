"""The clinic's page of the binder: what clinic.yaml says, in words for whoever opens it at night."""

from __future__ import annotations

from functools import cache

from generator.compose import binder
from generator.page.xhtml import Node
from tests.compose.plans import at, book, templates
from tests.compose.reading import body, said


@cache
def chapter(name: str) -> Node:
    whole = body(binder(book(), templates(), at("2027-03-13T11:00")).xhtml)
    return next(node for node in whole.walk() if node.id == name)


def settings() -> dict[str, str]:
    names = [said(node) for node in chapter("telephones").walk() if node.tag == "dt"]
    values = [said(node) for node in chapter("telephones").walk() if node.tag == "dd"]
    return dict(zip(names, values, strict=True))


def test_both_telephones_and_the_way_to_the_night_place_are_there():
    found = settings()
    assert found["Telephone"] == "+1 802-555-0142"
    assert found["When closed"] == "Millrace Night Hospital, 200 Dam Road, Tamarind Falls"
    assert found["Its telephone"] == "+1 802-555-0178"
    assert (found["It answers"], found["It looks at bandages"]) == ("always", "yes")


def test_days_with_the_same_hours_stand_together():
    assert settings()["Open"] == "Mon to Fri 08:00 to 18:30; Sat 08:30 to 13:00"


def test_closed_days_that_follow_each_other_are_one_stretch():
    closed = settings()["Closed on"].split("; ")
    assert closed[0] == "2027-01-01"
    assert closed[-1] == "2027-12-24 to 2027-12-25"


def test_limits_of_the_house_are_printed_with_what_they_are_for():
    rows = [
        [said(cell) for cell in row.elements("th", "td")] for row in chapter("telephones").walk() if row.tag == "tr"
    ]
    assert rows[1:] == [["sling", "off for good 10 d"]]


def test_a_condition_says_from_what_it_is_known_and_what_the_card_will_say():
    rows = {said(row.elements("th")[0]): said(row) for row in chapter("modifiers").walk() if row.tag == "tr"}
    assert "under 6 months, or under 12 months over 25 kg" in rows["growing"]
    assert "any cat" in rows["cat"]
    assert "ticked" in rows["oedema"]
    assert f"Card says: {book().modifiers['oedema'].warns}" in rows["oedema"]


def test_each_width_has_its_price_and_a_contact_layer_its_family():
    rows = {said(row.elements("th")[0]): said(row) for row in chapter("stock").walk() if row.tag == "tr"}
    assert "5 cm (1.10 USD), 7.5 cm (1.45 USD), 10 cm (1.80 USD)" in rows["cast padding"]
    assert "contact: calcium alginate" in rows["alginate sheet"]
    assert "each 3.80 USD" in rows["alginate sheet"]
