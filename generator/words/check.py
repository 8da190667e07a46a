"""Judge a catalogue by machine: everything that can be seen without knowing the language.

Takes  a catalogue, the glossary beside it, the messages it should hold, the ledger.
Gives  every problem, each at its line in the catalogue.
Knows  that a sheet which reads well can still say the wrong thing: fields, figures, sides and negations are counted.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from generator.source.problem import Problem, in_order
from generator.words import fields, signoff
from generator.words.catalogue import plural_rule
from generator.words.extract import Message
from generator.words.glossary import Glossary, english_count, english_says
from generator.words.languages import scripts
from generator.words.local import UnknownLanguageError, cldr_name, fact
from generator.words.po import Catalogue, Entry

# House rule: longest translation in shares of the English, with room for very short words.
LONGEST = 1.6
_SHORT = 24
_STEADY = (
    "Project-Id-Version",
    "Language",
    "MIME-Version",
    "Content-Type",
    "Content-Transfer-Encoding",
    "Plural-Forms",
)
# Invisible but needed: no-break space, Thai break, joiners of Persian and Indic scripts, word joiner.
_ALLOWED_HIDDEN = "\u00a0\u200b\u200c\u200d\u2060"


def check_catalogue(
    catalogue: Catalogue,
    language: str,
    messages: Iterable[Message] | None = None,
    ledger: signoff.Ledger = signoff.NOBODY,
    glossary: Glossary | None = None,
) -> tuple[Problem, ...]:
    """Every problem of a catalogue, in the order of its lines.

    Args:
        catalogue: as `po.read` gave it; its own problems are passed on.
        language: BCP 47 tag the catalogue is kept under.
        messages: what it should hold; None leaves coverage unchecked.
        ledger: signatures given so far.
        glossary: locked terms, and the words for not, left and right; None leaves both unchecked.
    """
    problems = [*catalogue.problems, *_header(catalogue, language), *_leftovers(catalogue)]
    rule = plural_rule(catalogue.header.get("Plural-Forms", ""))
    for entry in catalogue.entries:
        problems += check_entry(entry, language, rule[0] if rule else None, glossary)
    if messages is not None:
        problems += _coverage(catalogue, tuple(messages))
    problems += _signatures(catalogue, language, ledger)
    return in_order(problems)


def check_entry(entry: Entry, language: str, forms: int | None, glossary: Glossary | None) -> Iterator[Problem]:
    """Every problem of one message, at the message's own place.

    Args:
        forms: number of plural forms of the language; None leaves it unchecked.
    """
    yield from _digits(entry, entry.source)
    if "fuzzy" in entry.flags:
        yield _problem(
            "translation-fuzzy",
            entry,
            "the message is marked fuzzy",
            "nobody can tell whether it is meant to be printed",
            "translate it anew and take the mark out; approval is recorded in the ledger",
        )
    wanted = 1 if entry.plural is None else forms
    if wanted is not None and len(entry.translations) != wanted:
        yield _problem(
            "plural-forms-differ",
            entry,
            f"the message has {len(entry.translations)} forms, the language {wanted}",
            "for some counts there would be no sentence",
            f"write msgstr[0] to msgstr[{wanted - 1}]" if wanted > 1 else "write one msgstr",
        )
    written = [text for text in entry.translations if text.strip()]
    if written and len(written) < len(entry.translations):
        yield _problem(
            "plural-form-empty",
            entry,
            "some forms of the message are empty",
            "for some counts there would be no sentence",
            "fill in every form",
        )
    for text in written:
        yield from _placeholders(entry, text)
        yield from _digits(entry, text)
        yield from _script(entry, text, language)
        if glossary is not None:
            yield from _sense(entry, text, glossary)
            yield from _terms(entry, text, glossary)
        yield from _length(entry, text)


def _placeholders(entry: Entry, text: str) -> Iterator[Problem]:
    wanted, found = fields.names(entry.plural or entry.source), fields.names(text)
    if wanted != found:
        lost, extra = sorted((wanted - found).elements()), sorted((found - wanted).elements())
        parts = [f"lacks {_braced(lost)}"] * bool(lost) + [f"has {_braced(extra)} too much"] * bool(extra)
        yield _problem(
            "placeholder-differs",
            entry,
            "the translation " + " and ".join(parts),
            "a name, a date or a figure would be missing from the sheet, or stand twice",
            "use exactly the fields of the English sentence",
        )
    if fields.stray_braces(text):
        yield _problem(
            "brace-unbalanced",
            entry,
            f"braces stand alone: `{fields.stray_braces(text)}`",
            "the braces would print as they stand",
            "write each field as in the English sentence, such as {pet}",
        )


def _digits(entry: Entry, text: str) -> Iterator[Problem]:
    # Digits of any script, and what is a number besides: ½, ², ①, Ⅳ.
    figure = next((run for is_one, run in groupby(text, _is_figure) if is_one), None)
    if figure is not None:
        yield _problem(
            "digits-in-catalogue",
            entry,
            f"the figure `{''.join(figure)}` stands in the text",
            "figures come from the plan, so that they are the same in every language",
            "say it without a figure, or by a field",
        )


def _script(entry: Entry, text: str, language: str) -> Iterator[Problem]:
    if unicodedata.normalize("NFC", text) != text:
        yield _problem(
            "not-composed",
            entry,
            "letters and their accents stand apart",
            "they may print one beside the other",
            "save the text in Unicode form NFC",
        )
    hidden = [c for c in text if unicodedata.category(c) in ("Cc", "Cf") and c not in _ALLOWED_HIDDEN]
    if hidden:
        yield _problem(
            "hidden-character",
            entry,
            f"a hidden character stands here: U+{ord(hidden[0]):04X}",
            "it cannot be seen, and can turn text or figures round on paper",
            "delete it and type the words again",
        )
    bare = re.sub(r"\{[^}]*\}", " ", text)
    expected = scripts(language)
    of = [_script_of(letter) for letter in bare if unicodedata.category(letter) in ("Ll", "Lu", "Lt", "Lo")]
    if of and sum(name in expected for name in of) < 0.95 * len(of):
        yield _problem(
            "script-differs",
            entry,
            "most letters are not of this language's script",
            "the owner could not read it",
            "write the translation in the script of the language",
        )
    for word in re.findall(r"[^\W\d_]+", bare):
        if len({_script_of(letter) for letter in word} & {"LATIN", "CYRILLIC", "GREEK"}) > 1:
            yield _problem(
                "script-mixed",
                entry,
                f"`{word}` mixes letters of two scripts that look alike",
                "search, speech and other fonts would break the word",
                "type the word again with one keyboard",
            )


def _sense(entry: Entry, text: str, glossary: Glossary) -> Iterator[Problem]:
    source = entry.plural or entry.source
    if "not" in glossary.signals and bool(english_count("not", source)) != bool(glossary.count("not", text)):
        yield _problem(
            "negation-differs",
            entry,
            "one of the two sentences says `not`, the other does not",
            "the owner would do the very thing that harms",
            "translate the sentence as it stands, negation included",
        )
    for side in ("left", "right"):
        if side in glossary.signals and english_count(side, source) != glossary.count(side, text):
            yield _problem(
                "side-differs",
                entry,
                f"`{side}` is not said as often as in English",
                "the owner would look at the wrong leg",
                "name the same side",
            )


def _terms(entry: Entry, text: str, glossary: Glossary) -> Iterator[Problem]:
    source = entry.plural or entry.source
    for term, forms in glossary.terms.items():
        if english_says(term, source) and not glossary.says(term, text):
            yield _problem(
                "term-differs",
                entry,
                f"`{term}` is not said by an approved word",
                "an owner who meets two words looks for two things",
                "use " + " or ".join(f"`{form}`" for form in forms) + ", or add the form to the glossary",
            )


def _length(entry: Entry, text: str) -> Iterator[Problem]:
    # A field takes the same room in both, however long its name.
    length, source = (len(re.sub(r"\{[^}]*\}", "x" * 8, words)) for words in (text, entry.plural or entry.source))
    most = int(LONGEST * max(source, _SHORT))
    if length > most:
        yield _problem(
            "translation-long",
            entry,
            f"the translation has {length} letters, the English {source}",
            "it may push the sheet onto a second side",
            f"say it in at most {most} letters, or print a sheet with it and see that side one still holds all that is urgent",
            "warning",
        )


def _header(catalogue: Catalogue, language: str) -> Iterator[Problem]:
    header, span = catalogue.header, catalogue.header_span

    def problem(name: str, what: str, why: str, fix: str) -> Problem:
        return Problem(name, span, what, why, fix)

    for key in _STEADY:
        if not header.get(key):
            yield problem(
                "header-missing",
                f"the catalogue's header has no `{key}`",
                "the catalogue cannot be read the same way everywhere",
                f"add a line `{key}: …`",
            )
    if header.get("Language", language) != language:
        yield problem(
            "header-language",
            f"the header says `{header['Language']}`, the folder `{language}`",
            "owners would get a sheet in another language",
            f"write `Language: {language}`",
        )
    if "charset=utf-8" not in header.get("Content-Type", "charset=utf-8").lower().replace(" ", ""):
        yield problem(
            "header-charset",
            "the header does not say charset=UTF-8",
            "accents would print as other signs",
            "write `Content-Type: text/plain; charset=UTF-8`",
        )
    if "POT-Creation-Date" in header:
        yield problem(
            "header-date",
            "the header has a date of making",
            "it changes with every run and hides what did change",
            "delete the line `POT-Creation-Date`",
        )
    rule = plural_rule(header.get("Plural-Forms", ""))
    if rule is None:
        if header.get("Plural-Forms"):
            yield problem(
                "plural-rule",
                "the line `Plural-Forms` cannot be read",
                "counts would be said wrongly",
                "write it as `nplurals=2; plural=(n != 1);`",
            )
        return
    forms, form = rule
    used = {form(n) for n in range(1001)}
    if used != set(range(forms)):
        yield problem(
            "plural-rule",
            f"the plural rule gives forms {sorted(used)}, but {forms} are announced",
            "for some counts there would be no sentence",
            "make `nplurals` and `plural` agree",
        )
    elif clash := _plural_clash(language, rule):
        yield problem(
            "plural-rule",
            clash,
            "a count would be said in the form of another",
            "state a rule that tells the same numbers apart as the language does",
        )


def _plural_clash(language: str, rule: tuple[int, object]) -> str | None:
    """Where the catalogue's rule and CLDR's tell counts apart differently; None where they agree or CLDR is silent."""
    forms, form = rule
    # babel takes Haitian Creole for French; the language has one form (from memory).
    if not callable(form) or language.split("-")[0] == "ht":
        return None
    try:
        category = fact(cldr_name(language, "001"), "plural_form")
    except UnknownLanguageError:
        return None
    by_category: dict[str, int] = {}
    for n in range(1001):
        if by_category.setdefault(category(n), form(n)) != form(n):
            return f"the plural rule parts {n} from other counts of the kind `{category(n)}`"
    if len(set(by_category.values())) < len(by_category):
        return f"the language has {len(by_category)} kinds of counts ({', '.join(by_category)}), the rule {forms} forms"
    return None


def _leftovers(catalogue: Catalogue) -> Iterator[Problem]:
    for span in catalogue.obsolete:
        yield Problem(
            "message-obsolete",
            span,
            "an obsolete message stands here",
            "a dead sentence can come back to life with other words around it",
            "delete the lines that start with #~",
        )
    seen: dict[tuple[str | None, str], Entry] = {}
    for entry in catalogue.entries:
        if entry.key in seen:
            yield Problem(
                "message-twice",
                entry.span,
                f"`{entry.source}` stands twice",
                "which of the two is printed could not be told",
                "keep one of the two",
                also=((seen[entry.key].span, "the first one is here"),),
            )
        seen.setdefault(entry.key, entry)


def _coverage(catalogue: Catalogue, messages: Sequence[Message]) -> Iterator[Problem]:
    held = {entry.key: entry for entry in catalogue.entries}
    wanted = {message.key: message for message in messages}
    for key, message in wanted.items():
        entry = held.get(key)
        if entry is None or not entry.is_translated:
            place = entry.span if entry is not None else catalogue.header_span
            yield Problem(
                "translation-missing",
                place,
                f"`{message.source}` has no translation",
                "the owner reads this line in English",
                "translate it, all forms of it",
                "warning",
                tuple((place.span, "it is said here") for place in message.places[:1]),
            )
        elif entry.plural != message.plural:
            yield Problem(
                "plural-differs",
                entry.span,
                "the plural of the English sentence has changed",
                "the owner reads this line in English",
                "extract the messages again",
            )
    for key, entry in held.items():
        if key not in wanted:
            yield _problem(
                "message-unused",
                entry,
                f"nothing says `{entry.source}` any more",
                "a dead sentence is work for every reader of the catalogue",
                "delete the message",
                "warning",
            )


def _signatures(catalogue: Catalogue, language: str, ledger: signoff.Ledger) -> Iterator[Problem]:
    if not ledger:
        return
    known = Counter(signoff.digest(language, entry) for entry in catalogue.entries)
    for key in ledger:
        if key not in known:
            yield Problem(
                "signature-stale",
                catalogue.header_span,
                f"the signature under `{key[:12]}` belongs to words that have changed since",
                "it approves nothing now; the message prints as a draft",
                "have the changed message signed again and take the old row out",
                "warning",
            )


def _problem(name: str, entry: Entry, what: str, why: str, fix: str, severity: str = "error") -> Problem:
    return Problem(
        name,
        entry.span,
        what,
        why,
        fix,
        "warning" if severity == "warning" else "error",
    )


def _is_figure(letter: str) -> bool:
    return unicodedata.category(letter) in ("Nd", "Nl", "No")


def _script_of(letter: str) -> str:
    return unicodedata.name(letter, "UNKNOWN").split()[0]


def _braced(names: Iterable[str]) -> str:
    return ", ".join("{" + name + "}" for name in names)
