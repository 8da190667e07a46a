"""Each check of a catalogue notices its fault: one good catalogue, spoilt in one place at a time."""

from __future__ import annotations

from datetime import date

import pytest

from generator.source.span import Span
from generator.words import po
from generator.words.check import check_catalogue
from generator.words.extract import Message, Place
from generator.words.glossary import read_glossary
from generator.words.signoff import NOBODY, Signature, sign

GOOD = r"""# Words for owners.
# No sex of a pet is guessed.
# One word per thing.
msgid ""
msgstr ""
"Project-Id-Version: gauzeleaf\n"
"Language: es\n"
"MIME-Version: 1.0\n"
"Content-Type: text/plain; charset=UTF-8\n"
"Content-Transfer-Encoding: 8bit\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\n"

msgid "Do not let {pet} jump."
msgstr "No deje que {pet} salte."

msgid "Look at the toes of the left back leg."
msgstr "Mire los dedos de la pata trasera izquierda."

msgid "Ring us at once. The right front leg is cold."
msgstr "Llámenos enseguida. La pata delantera derecha está fría."

msgid "{n} walk"
msgid_plural "{n} walks"
msgstr[0] "{n} paseo"
msgstr[1] "{n} paseos"
"""
TERMS, _ = read_glossary(
    """terms: {toes: [dedos], at once: [de inmediato, enseguida]}
signals: {not: ["no"], left: [izquierd*], right: [derech*]}
""",
    "glossary.yaml",
    "es",
)
MESSAGES = tuple(Message(e.source, (Place(Span("a.yaml", 3)),), plural=e.plural) for e in po.read(GOOD, "").entries)


def names(text: str, language: str = "es", **more: object) -> list[str]:
    return [p.name for p in check_catalogue(po.read(text, "es.po"), language, MESSAGES, **{"glossary": TERMS, **more})]  # type: ignore[arg-type]


def test_a_good_catalogue_has_no_problem() -> None:
    assert names(GOOD) == []


@pytest.mark.parametrize(
    ("old", "new", "name", "line"),
    [
        # placeholders
        ("que {pet} salte", "que salte", "placeholder-differs", 13),
        ("que {pet} salte", "que {pet} salte {pet}", "placeholder-differs", 13),
        ("que {pet} salte", "que {mascota} salte", "placeholder-differs", 13),
        ("{n} paseos", "paseos", "placeholder-differs", 22),
        ("que {pet} salte", "que {pet} salte}", "brace-unbalanced", 13),
        # figures
        ("Mire los dedos", "Mire los 4 dedos", "digits-in-catalogue", 16),
        ("Mire los dedos", "Mire los ٤ dedos", "digits-in-catalogue", 16),
        ("fría", "fría a la ½", "digits-in-catalogue", 19),
        # terms
        ("los dedos", "los deditos", "term-differs", 16),
        ("enseguida", "pronto", "term-differs", 19),
        # negation and side
        ('"No deje', '"Deje', "negation-differs", 13),
        ("está fría", "no está fría", "negation-differs", 19),
        ("izquierda", "derecha", "side-differs", 16),
        ("delantera derecha", "delantera", "side-differs", 19),
        # coverage and leftovers
        ('msgstr "No deje que {pet} salte."', 'msgstr ""', "translation-missing", 13),
        ('msgid "Do not let {pet} jump."', 'msgid "Never let {pet} jump."', "translation-missing", 4),
        ('msgid "Do not let {pet} jump."', 'msgid "Never let {pet} jump."', "message-unused", 13),
        ('msgid "{n} walk"', '#~ msgid "Gone"\n#~ msgstr "Ido"\n\nmsgid "{n} walk"', "message-obsolete", 22),
        (
            'msgid "{n} walk"',
            'msgid "Do not let {pet} jump."\nmsgstr "No deje que {pet} salte."\n\nmsgid "{n} walk"',
            "message-twice",
            22,
        ),
        ('msgid "Do not let', '#, fuzzy\nmsgid "Do not let', "translation-fuzzy", 14),
        # plurals
        ('msgstr[1] "{n} paseos"\n', "", "plural-forms-differ", 22),
        ('msgstr[1] "{n} paseos"', 'msgstr[1] ""', "plural-form-empty", 22),
        ('msgid_plural "{n} walks"\n', "", "plural-forms-differ", 22),
        ('msgid_plural "{n} walks"', 'msgid_plural "{n} strolls"', "plural-differs", 22),
        ("nplurals=2; plural=(n != 1);", "nplurals=2; plural=(n > 1);", "plural-rule", 4),
        ("nplurals=2; plural=(n != 1);", "nplurals=3; plural=(n != 1);", "plural-rule", 4),
        ("nplurals=2; plural=(n != 1);", "nplurals=2; plural=(n =! 1);", "plural-rule", 4),
        # header
        (r'"Plural-Forms: nplurals=2; plural=(n != 1);\n"' + "\n", "", "header-missing", 4),
        (r'"Language: es\n"', r'"Language: pt\n"', "header-language", 4),
        ("UTF-8", "ISO-8859-1", "header-charset", 4),
        (
            r'"MIME-Version: 1.0\n"',
            r'"MIME-Version: 1.0\n"' + '\n"' + r'POT-Creation-Date: 2027-01-01 00:00+0000\n"',
            "header-date",
            4,
        ),
        # script
        ("No deje", "No d\u0435j\u0435", "script-mixed", 13),  # Cyrillic ie for Latin e
        ("fría", "fri\u0301a", "not-composed", 19),
        ("fría", "fría\u202e", "hidden-character", 19),
        ("No deje que {pet} salte.", "Не давайте {pet} прыгать, no.", "script-differs", 13),
        # length
        ("{n} paseos", "{n} paseos cortos, tranquilos, siempre con la correa puesta", "translation-long", 22),
        # what cannot be read at all
        ('msgstr "No deje que {pet} salte."', 'msgstr "No deje que {pet} salte.', "catalogue-unreadable", 14),
    ],
)
def test_each_fault_is_noticed_at_its_line(old: str, new: str, name: str, line: int) -> None:
    assert old in GOOD
    found = check_catalogue(po.read(GOOD.replace(old, new, 1), "es.po"), "es", MESSAGES, glossary=TERMS)
    assert (name, line) in [(p.name, p.span.line) for p in found], found


def test_a_fault_stops_only_what_is_dangerous() -> None:
    # What falls back to English as a whole, or only takes room, is a warning; what would print wrongly is an error.
    found = check_catalogue(
        po.read(GOOD.replace('msgstr "No deje que {pet} salte."', 'msgstr ""'), ""), "es", MESSAGES, glossary=TERMS
    )
    assert [p.severity for p in found] == ["warning"]
    found = check_catalogue(po.read(GOOD.replace("izquierda", "derecha"), ""), "es", MESSAGES, glossary=TERMS)
    assert {p.severity for p in found} == {"error"}


def test_every_problem_says_why_and_what_to_write() -> None:
    spoilt = (
        GOOD.replace("{pet} salte", "salte 4").replace("izquierda", "derecha").replace("Language: es", "Language: pt")
    )
    for problem in check_catalogue(po.read(spoilt, "es.po"), "es", MESSAGES):
        assert problem.what
        assert problem.why
        assert problem.fix
        assert not problem.what[0].isupper()


def test_a_signature_for_words_that_changed_is_told() -> None:
    entry = po.read(GOOD, "").entries[0]
    ledger = sign(NOBODY, "es", entry, Signature("A. One", "B. Two", "sworn translator", date(2027, 3, 1)))
    assert names(GOOD, ledger=ledger) == []
    assert names(GOOD.replace("salte", "brinque"), ledger=ledger) == ["signature-stale"]


@pytest.mark.parametrize(
    ("language", "header", "is_good"),
    # CLDR 47 cardinal rules. Some gettext tables in use give Hebrew 2, Persian 1 and Arabic swapped forms.
    [
        ("he", "nplurals=2; plural=(n != 1);", False),
        ("he", "nplurals=3; plural=(n==1 ? 0 : n==2 ? 1 : 2);", True),
        (
            "ar",
            "nplurals=6; plural=(n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n%100>=3 && n%100<=10 ? 3 : n%100>=11 ? 4 : 5);",
            True,
        ),
        ("ru", "nplurals=2; plural=(n != 1);", False),
        ("vi", "nplurals=2; plural=(n > 1);", True),
        ("vi", "nplurals=2; plural=(n != 1);", False),
        ("fr", "nplurals=2; plural=(n > 1);", True),
        ("fr", "nplurals=2; plural=(n != 1);", False),
    ],
)
def test_a_plural_rule_must_tell_apart_what_the_language_does(language: str, header: str, is_good: bool) -> None:
    head = (
        GOOD[: GOOD.index('msgid "Do not')]
        .replace("Language: es", f"Language: {language}")
        .replace("nplurals=2; plural=(n != 1);", header)
    )
    found = [p.name for p in check_catalogue(po.read(head, ""), language)]
    assert found == ([] if is_good else ["plural-rule"])
