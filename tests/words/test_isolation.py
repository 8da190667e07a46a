"""Isolates: figures stay whole and in order in text of any direction."""

from __future__ import annotations

import unicodedata

from generator.words.isolation import bare, comma, dated, ltr, name


def test_a_telephone_number_is_one_isolated_unbreakable_stretch() -> None:
    # Unicode Standard Annex 9, table of explicit directional isolates: LRI U+2066, PDI U+2069.
    assert ltr("(802) 555-0142") == "\u2066(802)\u00a0555\u2060-\u20600142\u2069"


def test_no_place_is_left_where_a_line_could_break() -> None:
    for text in ("12.5 kg", "+1 802-555-0142", "6:00\u202fPM", "2 m (6 ft)", "10–12 h"):
        shown = ltr(text)
        assert " " not in shown
        assert "\u202f" not in shown
        for place, letter in enumerate(shown):
            if letter in "-–/":
                assert shown[place - 1] == shown[place + 1] == "\u2060"


def test_isolates_are_closed_and_a_hostile_name_cannot_open_others() -> None:
    hostile = "Ma\u202eple\u2067"
    for shown in (ltr(hostile), name(hostile)):
        assert shown[-1] == "\u2069"
        assert [c for c in shown if unicodedata.category(c) == "Cf"] == [shown[0], "\u2069"]


def test_a_name_takes_its_own_direction_and_keeps_its_spaces() -> None:
    assert name("Maple Tree") == "\u2068Maple Tree\u2069"


def test_bare_gives_back_what_was_typed() -> None:
    assert bare(ltr("+1 802-555-0142")) == "+1 802-555-0142"
    assert bare(name("لوز")) == "لوز"


def test_what_stands_for_am_keeps_its_place_after_the_hour():
    # CLDR 47, ar: `h:mm a`. Read from the right: first the hour, then the word.
    assert ltr("10:30 ص") == "\u206610:30\u2069\u00a0ص"
    assert ltr("5 دقائق") == "\u20665\u2069\u00a0دقائق"
    assert ltr("10:30 AM") == "\u206610:30\u00a0AM\u2069"


def test_a_date_is_not_torn_between_a_figure_and_its_word():
    assert dated("суббота, 20 марта 2027 г.").replace("\u00a0", "_") == "суббота, 20_марта_2027_г."
    assert dated("Saturday, March 20, 2027").replace("\u00a0", "_") == "Saturday, March_20, 2027"
    assert dated("السبت، 20 مارس 2027") == "السبت، 20 مارس 2027"


def test_items_of_a_list_are_parted_as_the_language_does():
    # CLDR 47, list patterns: ar and ur "،", zh and ja "、".
    assert [comma(tag) for tag in ("en", "ar", "ur", "zh-Hans", "ja", "ru")] == [", ", "، ", "، ", "、", "、", ", "]
