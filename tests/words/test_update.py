"""A catalogue is brought up to date without carrying old words to new sentences."""

from __future__ import annotations

from generator.source.span import Span
from generator.words import po
from generator.words.extract import Message, Place
from generator.words.update import Update, blank, empty, updated

PLACE = (Place(Span("protocols/a.yaml", 7, 3), "a:owner.never[1]"),)
OTHER = (Place(Span("protocols/c.yaml", 7, 3), "c:owner.never[1]"),)


def test_known_messages_keep_their_words_and_changed_ones_start_anew() -> None:
    base = empty("es", "nplurals=2; plural=(n != 1);", "es.po", ["Opening."])
    first = updated(base, [Message("Keep dry", PLACE), Message("Gone", OTHER)], 2).catalogue
    text = (
        po.write(first)
        .replace('msgid "Keep dry"\nmsgstr ""', '# ours\nmsgid "Keep dry"\nmsgstr "Seco"')
        .replace('msgid "Gone"\nmsgstr ""', 'msgid "Gone"\nmsgstr "Ido"')
    )
    moved = (Place(Span("protocols/b.yaml", 9)),)
    update = updated(
        po.read(text, "es.po"),
        [
            Message("Keep dry at all times", PLACE),
            Message("Keep dry", moved, "note"),
            Message("{n} a", (Place(Span("protocols/d.yaml", 7, 3)),), plural="{n} b"),
        ],
        2,
    )
    second = update.catalogue
    assert (update.kept, update.new, update.changed, update.gone) == (1, 1, 1, 1)
    assert [(e.source, e.translations, e.places, e.notes, e.comments) for e in second.entries] == [
        ("Keep dry at all times", ("",), ("protocols/a.yaml:7 a:owner.never[1]",), (), ("before: Keep dry", "before, translated: Seco")),
        ("Keep dry", ("Seco",), ("protocols/b.yaml:9",), ("note",), ("ours",)),
        ("{n} a", ("", ""), ("protocols/d.yaml:7",), ("{n}: filled in when the sheet is printed",), ()),
    ]  # fmt: skip
    assert "Ido" not in po.write(second)
    assert second.opening == ("Opening.",)


def catalogue(**lines: str) -> po.Catalogue:
    """A catalogue of one list: each English sentence with its translation, in order."""
    messages = [at(number, source) for number, source in enumerate(lines, 1)]
    text = po.write(updated(empty("es", "nplurals=2; plural=(n != 1);", "es.po"), messages, 2).catalogue)
    for source, translation in lines.items():
        text = text.replace(f'msgid "{source}"\nmsgstr ""', f'msgid "{source}"\nmsgstr "{translation}"')
    return po.read(text, "es.po")


def at(number: int, source: str, slug: str = "a") -> Message:
    return Message(source, (Place(Span(f"protocols/{slug}.yaml", 6 + number), f"{slug}:owner.never[{number}]"),))


def comments(found: Update) -> dict[str, tuple[str, ...]]:
    return {entry.source: entry.comments for entry in found.catalogue.entries}


OLD = {"Do not cut it.": "No lo corte.", "Keep it on.": "Déjelo puesto.", "Ring us.": "Llámenos."}


def test_a_sentence_that_changed_is_empty_and_shows_what_it_was() -> None:
    found = updated(catalogue(**OLD), [at(1, "Do not cut or tape it."), at(2, "Keep it on."), at(3, "Ring us.")], 2)
    assert comments(found) == {
        "Do not cut or tape it.": ("before: Do not cut it.", "before, translated: No lo corte."),
        "Keep it on.": (), "Ring us.": (),
    }  # fmt: skip
    assert not found.catalogue.entries[0].is_translated
    assert (found.kept, found.new, found.changed, found.gone) == (2, 0, 1, 1)


def test_what_it_was_stays_until_it_is_translated_again_and_goes_then() -> None:
    now = [at(1, "Do not cut or tape it."), at(2, "Keep it on."), at(3, "Ring us.")]
    first = po.write(updated(catalogue(**OLD), now, 2).catalogue)
    second = po.write(updated(po.read(first, "es.po"), now, 2).catalogue)
    assert second == first
    # Reworded once more before anybody came to translate it.
    again = updated(po.read(first, "es.po"), [at(1, "Never cut or tape it."), *now[1:]], 2)
    assert comments(again)["Never cut or tape it."] == ("before: Do not cut it.", "before, translated: No lo corte.")
    done = first.replace(
        'msgid "Do not cut or tape it."\nmsgstr ""', 'msgid "Do not cut or tape it."\nmsgstr "No corte."'
    )
    assert comments(updated(po.read(done, "es.po"), now, 2))["Do not cut or tape it."] == ()


def test_a_line_put_in_before_others_is_new_and_moves_them_without_a_word() -> None:
    found = updated(catalogue(**OLD), [at(1, "Wash it."), *(at(n, s) for n, s in enumerate(OLD, 2))], 2)
    assert comments(found)["Wash it."] == ()
    assert (found.kept, found.new, found.changed, found.gone) == (3, 1, 0, 0)


def test_a_line_reworded_while_another_goes_is_known_by_its_words() -> None:
    found = updated(catalogue(**OLD), [at(1, "Keep it on."), at(2, "Ring us now.")], 2)
    assert comments(found)["Ring us now."][0] == "before: Ring us."


def test_a_sentence_changed_in_one_protocol_and_not_in_another_stays_and_shows_itself() -> None:
    both = Message("Keep it on.", (*at(1, "").places, *at(1, "", "b").places))
    held = updated(empty("es", "nplurals=2; plural=(n != 1);", "es.po"), [both], 2).catalogue
    held = po.read(po.write(held).replace('on."\nmsgstr ""', 'on."\nmsgstr "Déjelo."'), "es.po")
    found = updated(held, [at(1, "Keep it on."), at(1, "Keep it on, day and night.", "b")], 2)
    assert comments(found) == {
        "Keep it on.": (),
        "Keep it on, day and night.": ("before: Keep it on.", "before, translated: Déjelo."),
    }


def test_a_mark_of_another_program_is_kept_for_check_to_see() -> None:
    # msgmerge of GNU gettext marks a guessed translation `fuzzy`: taking the mark off would approve the guess.
    held = po.read(po.write(catalogue(**OLD)).replace('msgid "Ring us."', '#, fuzzy\nmsgid "Ring us."'), "es.po")
    found = updated(held, [at(n, s) for n, s in enumerate(OLD, 1)], 2)
    assert [entry.flags for entry in found.catalogue.entries] == [(), (), ("fuzzy",)]


def test_a_list_without_language_gives_the_same_bytes_and_no_date() -> None:
    text = po.write(blank([at(1, "Ring us."), Message("{n} a", PLACE, plural="{n} b")], "owner.pot", ["List."]))
    assert text == po.write(po.read(text, "owner.pot"))
    assert "Date" not in text
    assert '"Language' not in text
    assert 'msgid_plural "{n} b"\nmsgstr[0] ""\nmsgstr[1] ""\n' in text


def test_the_header_states_its_plurals_and_no_date() -> None:
    text = po.write(empty("es", "nplurals=2; plural=(n != 1);", "es.po"))
    assert '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"' in text
    assert "Date" not in text
