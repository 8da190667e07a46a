"""PO catalogues: read with their places, written back to the same bytes."""

from __future__ import annotations

import io

from babel.messages.pofile import read_po
from hypothesis import given
from hypothesis import strategies as st

from generator.source.span import Span
from generator.words import po
from generator.words.update import empty

TEXT = r"""# Spanish for owners.
# term: toes = dedos
msgid ""
msgstr ""
"Language: es\n"
"Content-Type: text/plain; charset=UTF-8\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\n"

# a word of the translator
#. fixed phrase never
#: generator/compose/phrases.py:90
#: templates/sheet.j2:4
msgctxt "heading"
msgid "Never"
msgstr "Nunca"

#, fuzzy, python-brace-format
msgid ""
"Say \"now\",\n"
"then {n} day."
msgid_plural "Say \"now\",\nthen {n} days."
msgstr[0] "Diga {n} día."
msgstr[1] "Diga "
"{n} días."

#~ msgid "Gone"
#~ msgstr "Ido"
"""


def test_every_part_of_a_message_is_read_with_its_line() -> None:
    catalogue = po.read(TEXT, "es.po")
    assert catalogue.problems == ()
    assert catalogue.opening == ("Spanish for owners.", "term: toes = dedos")
    assert catalogue.header == {
        "Language": "es", "Content-Type": "text/plain; charset=UTF-8", "Plural-Forms": "nplurals=2; plural=(n != 1);",
    }  # fmt: skip
    first, second = catalogue.entries
    assert (first.context, first.source, first.translations) == ("heading", "Never", ("Nunca",))
    assert first.span == Span("es.po", 14, 1, 5)
    assert first.places == ("generator/compose/phrases.py:90", "templates/sheet.j2:4")
    assert first.notes == ("fixed phrase never",)
    assert first.comments == ("a word of the translator",)
    assert second.source == 'Say "now",\nthen {n} day.'
    assert second.plural == 'Say "now",\nthen {n} days.'
    assert second.translations == ("Diga {n} día.", "Diga {n} días.")
    assert second.flags == ("fuzzy", "python-brace-format")
    assert catalogue.obsolete[0].line == 26


def test_windows_line_ends_and_a_byte_order_mark_change_nothing() -> None:
    plain = po.read(TEXT, "es.po")
    assert po.read("\ufeff" + TEXT.replace("\n", "\r\n"), "es.po").entries == plain.entries


def test_a_broken_line_is_named_and_costs_only_its_own_message() -> None:
    broken = TEXT.replace('msgstr "Nunca"', 'msgstr "Nunca')
    catalogue = po.read(broken, "es.po")
    assert [(p.name, p.span.line) for p in catalogue.problems] == [("catalogue-unreadable", 15)]
    assert [entry.is_translated for entry in catalogue.entries] == [False, True]


def test_the_same_catalogue_gives_the_same_bytes() -> None:
    once = po.write(po.read(TEXT, "es.po"))
    assert po.write(po.read(once, "es.po")) == once
    assert "fuzzy" in once
    assert "#~" not in once


def test_a_general_reader_of_catalogues_reads_what_we_write_the_same_way() -> None:
    catalogue = po.read(TEXT, "es.po")
    other = read_po(io.BytesIO(po.write(catalogue).encode()), locale="es")
    never = other.get("Never", context="heading")
    assert never is not None
    assert never.string == "Nunca"
    assert never.locations == [("generator/compose/phrases.py", 90), ("templates/sheet.j2", 4)]
    many = next(m for m in other if m.pluralizable)
    assert many.id == ('Say "now",\nthen {n} day.', 'Say "now",\nthen {n} days.')
    assert many.string == ("Diga {n} día.", "Diga {n} días.")


@given(st.lists(st.tuples(st.text(min_size=1), st.text()), unique_by=lambda pair: pair[0], max_size=5))
def test_any_text_survives_writing_and_reading(pairs: list[tuple[str, str]]) -> None:
    base = empty("es", "nplurals=2; plural=(n != 1);", "es.po")
    entries = tuple(po.Entry(source, (text,), Span("es.po")) for source, text in pairs)
    back = po.read(po.write(po.Catalogue("es.po", base.header, base.header_span, (), entries)), "es.po")
    assert [(e.source, e.translations[0]) for e in back.entries] == pairs
    assert back.problems == ()
