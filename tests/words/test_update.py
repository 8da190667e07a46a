"""A catalogue is brought up to date without carrying old words to new sentences."""

from __future__ import annotations

from generator.source.span import Span
from generator.words import po
from generator.words.extract import Message, Place
from generator.words.update import empty, updated

PLACE = (Place(Span("protocols/a.yaml", 7, 3), "a:owner.never[1]"),)


def test_known_messages_keep_their_words_and_changed_ones_start_anew() -> None:
    base = empty("es", "nplurals=2; plural=(n != 1);", "es.po", ["Opening."])
    first = updated(base, [Message("Keep dry", PLACE), Message("Gone", PLACE)], 2)
    text = (
        po.write(first)
        .replace('msgid "Keep dry"\nmsgstr ""', '# ours\nmsgid "Keep dry"\nmsgstr "Seco"')
        .replace('msgid "Gone"\nmsgstr ""', 'msgid "Gone"\nmsgstr "Ido"')
    )
    moved = (Place(Span("protocols/b.yaml", 9)),)
    second = updated(
        po.read(text, "es.po"),
        [
            Message("Keep dry at all times", PLACE),
            Message("Keep dry", moved, "note"),
            Message("{n} a", PLACE, plural="{n} b"),
        ],
        2,
    )
    assert [(e.source, e.translations, e.places, e.notes, e.comments) for e in second.entries] == [
        ("Keep dry at all times", ("",), ("protocols/a.yaml:7 a:owner.never[1]",), (), ()),
        ("Keep dry", ("Seco",), ("protocols/b.yaml:9",), ("note",), ("ours",)),
        ("{n} a", ("", ""), ("protocols/a.yaml:7 a:owner.never[1]",), ("{n}: filled in when the sheet is printed",), ()),
    ]  # fmt: skip
    assert "Ido" not in po.write(second)
    assert second.opening == ("Opening.",)


def test_the_header_states_its_plurals_and_no_date() -> None:
    text = po.write(empty("es", "nplurals=2; plural=(n != 1);", "es.po"))
    assert '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"' in text
    assert "Date" not in text
