"""Syllables of a word in languages whose spelling tells them: each by a written rule.

Takes  a word in small letters, without apostrophes.
Gives  one function a language.
Knows  which vowels stand together in one syllable, which apart (hiatus, shown by an accent or not), and which are mute. Never
       where a line may break: hyphenation leaves a first vowel standing and counts `agua`, `idea`, `ухо` as one syllable.
"""

from __future__ import annotations

import re


def _strong_or_one(word: str, strong: str, weak: str) -> int:
    """In each group of vowels every strong one is a syllable; weak ones lean on it, or make one together."""
    return sum(max(1, sum(letter in strong for letter in group)) for group in re.findall(f"[{strong}{weak}]+", word))


# ---- Romance languages -----------------------------------------------------------------------------------------


def spanish(word: str) -> int:
    """`agua` 2, `idea` 3, `día` 2, `ciudad` 2. Real Academia Española, Ortografía 2010: i and u without accent lean on a, e, o."""
    said = re.sub("qu|gu(?=[eiéí])", "k", word)
    # At the end of a word y is a vowel (`muy`), else a consonant (`ayuda`).
    said = re.sub("y$", "i", said)
    return _strong_or_one(said, "aeoáéíóú", "iuü")


# An unwritten stress on i or u parts it from the vowel beside it; only a dictionary knows where.
_ITALIAN_APART = re.compile(
    "((?:malatt|terap|farmac|allerg|chirurg|energ|anestes|graf|biops|zopp)i)(?=[ae]$)|(pa)(?=ur)"
)


def italian(word: str) -> int:
    """`idea` 3, `acqua` 2, `più` 1, `mio` 2, `aiuto` 3, `malattia` 4."""
    if re.fullmatch("[^aeiouàèéìòóù]*(?<![qg])[iu][aeo]", word):
        return 2
    said = _ITALIAN_APART.sub(r"\1\2-", word)
    # Between vowels i is a consonant (`aiuto`, `gioia`).
    said = re.sub("(?<=[aeo])i(?=[aeou])", "j", said)
    return _strong_or_one(said, "aeoàèéìíòóù", "iuî")


_PORTUGUESE = "aeiouáâãàéêíóôõúü"


def portuguese(word: str) -> int:
    """`água` 2, `dia` 2, `mão` 1, `saúde` 3, `rainha` 3, `história` 3. Brazilian: i and u before a vowel stand apart."""
    said = re.sub("(?<=[qg])u(?=[aeoiáâãéêíóôõ])", "", word)
    said = re.sub("ã[eo]", "ã", re.sub("õe", "õ", said))
    # Unstressed at the end after a written accent: one syllable (`história`, `área`).
    if re.search("[áâãéêíóôõú]", said[:-2]):
        said = re.sub("[ieou](?=[aeo]s?$)", "", said)
    # After a vowel i and u lean on it, unless nh or a consonant that shuts the syllable follows (`rainha`, `ainda`, `cair`).
    shut = "(?!nh|[mnrlz](?:[^aeiouáâãéêíóôõúh]|$))"
    said = re.sub(f"(?<=[{_PORTUGUESE}])(?<![{_PORTUGUESE}][iu])[iu]{shut}", "", said)
    return len(re.findall(f"[{_PORTUGUESE}]", said))


# Third persons of verbs, whose -ent is mute; in nouns and adverbs it is said (`dent`, `souvent`).
_FRENCH_VERBS = frozenset((
    "bougent", "changent", "coulent", "deviennent", "doivent", "enflent", "gonflent", "mangent", "montrent", "ouvrent", "peuvent",
    "portent", "restent", "saignent", "sentent", "servent", "tiennent", "tombent", "touchent", "viennent", "veulent",
))  # fmt: skip
_FRENCH_KNOWN = {"pays": 2, "paysan": 3, "paysage": 3, "août": 1, "paon": 1, "faon": 1, "monsieur": 2, "abbaye": 3}
_FRENCH_SYLLABLE = re.compile(
    "eau|[eo]eu|oei|uei|eui|oui|[ae]i|[ae]î|au|aû|ay|ey|eu|eû|o[iîuùûy]|ie?u|u[iî]|[aàâeéèêëiîïoôuùûüy]"
)


def french(word: str) -> int:
    """`porte` 1, `idée` 2, `viande` 1, `oublier` 3, `payer` 2, `viennent` 1: mute e at the end never counts."""
    if word in _FRENCH_KNOWN:
        return _FRENCH_KNOWN[word]
    said = word.replace("œ", "oe").replace("æ", "é")
    said = re.sub("(?<=q)u|(?<=g)u(?=[eéèêiî])|(?<=g)e(?=[aoâ])", "", said)
    # Between vowels, and before one at the start, y is a consonant.
    said = re.sub("(?:^|(?<=[aeoué]))y(?=[aeiouéèê])", "j", said)
    said = re.sub("aient$", "ai", said)
    if word in _FRENCH_VERBS:
        said = said[:-3]
    # i before a vowel glides, but not after br, cl and the like (`viande`, but `oublier`).
    said = re.sub("(?<![bcdfgptv][rl])(?<=[bcdfghjklmnpqrstvxz])i(?=[aâeéèêoôu](?!$)|[éèêâô])", "", said)
    short = re.sub("es?$", "", said)
    found = _FRENCH_SYLLABLE.findall(short) or _FRENCH_SYLLABLE.findall(said)
    return len(found)


def haitian(word: str) -> int:
    """`pansman` 2, `ou` 1, `kreyòl` 2: the official spelling writes sounds; only ou and ui are two letters for one."""
    return len(re.findall("ou|ui|[aeèioòu]", word))


# ---- Germanic languages ----------------------------------------------------------------------------------------


def german(word: str) -> int:
    """`Tierarzt` 2, `bauen` 2, `Familie` 4, `beenden` 3."""
    said = word.replace("qu", "kw")
    # Apart after a prefix (`beenden`, `geimpft`) and in some words from Latin (`Familie`, `Patient`).
    said = re.sub("^(ge|be)(?=e[^aeiourt]|impf|inhalt)", r"\1-", said)
    said = re.sub("((?:famil|lin|ser|fer|arter|bakter)i|pati)(?=e)", r"\1-", said)
    return len(re.findall("aa|ee|oo|a[iyu]|äu|e[iyu]|ie|[aeiouyäöüé]", said))


def dutch(word: str) -> int:
    """`verband` 2, `ijs` 1, `bloeien` 2, `reëel` 2, `station` 2."""
    said = re.sub("(?<=[ts])i(?=on)", "", word)
    return len(re.findall("aai|ooi|oei|eeu|ieu|ë[ei]|aa|ee|oo|uu|ie|oe|eu|ui|ei|ij|au|ou|[aeiouyàáèéëïóöü]", said))


# ---- Slavic languages ------------------------------------------------------------------------------------------


def polish(word: str) -> int:
    """`uwaga` 3, `nie` 1, `ciepły` 2, `auto` 2, `nauka` 3: i before a vowel only softens; `w` and `z` have none."""
    said = re.sub("^(na|za|nie|prze|po|do|wy)(?=u)", r"\1-", word)
    said = re.sub("i(?=[aąeęioóu])", "", said)
    said = re.sub("au|eu", "a", said)
    return len(re.findall("[aąeęioóuy]", said))


def russian(word: str) -> int:
    """One for each vowel letter: `ухо` 2, `в` 0."""
    return len(re.findall("[аеёиоуыэюя]", word))


def ukrainian(word: str) -> int:
    """One for each vowel letter: `вухо` 2, `її` 2."""
    return len(re.findall("[аеєиіїоуюя]", word))
