"""Sentences, words and signs of a line. Every expected count was made by hand."""

from __future__ import annotations

import pytest

from generator.words.reading.counting import count_line
from generator.words.reading.counts import Counts, filled_up, total


def sentences_and_units(line: str, language: str) -> tuple[int, int]:
    counts = count_line(line, language)
    return counts.sentences, counts.units


@pytest.mark.parametrize(
    ("line", "language", "sentences", "units"),
    [
        ("Smell the bandage at both ends.", "en", 1, 6),
        ("Every day", "en", 1, 2),  # no full stop, and two words: a sentence all the same
        ("Keep dry. Call us. Stay calm.", "en", 3, 6),  # short ones are not dropped
        ("If it comes off, leave it off. Ring us.", "en", 2, 9),
        ("Good: together", "en", 1, 2),
        ("¿No puede venir? ¡Llámenos!", "es", 2, 4),
        ("Ring us … or come.", "en", 2, 4),
        ("Wait... Ring us!", "en", 2, 3),
        ("Walk and/or carry", "en", 1, 4),
        ("S'il s'enlève, laissez-le.", "fr", 1, 3),
        ("(Ring us.) Now!", "en", 2, 3),
        ("हर दिन देखें। तुरंत फ़ोन करें।", "hi", 2, 6),
        ("በየቀኑ ጣቶቹን ይመልከቱ። ይደውሉ።", "am", 2, 4),
        ("هل تعذر الحضور؟ اتصل بنا.", "ar", 2, 5),
        ("Không cắt băng. Gọi ngay.", "vi", 2, 5),
        ("붕대를 자르지 마세요.", "ko", 1, 3),
        ("请勿剪开绷带。马上打电话!", "zh-Hans", 2, 11),
        ("包帯を切らないでください。", "ja", 1, 12),
        ("อย่าตัดผ้าพันแผล", "th", 1, 14),  # tone marks are no letters
    ],
)
def test_counted_by_hand(line, language, sentences, units):
    assert sentences_and_units(line, language) == (sentences, units)


def test_what_every_field_of_the_counts_holds():
    # Administer | the | medicine | immediately: 4 + 1 + 3 + 5 syllables, 10 + 3 + 8 + 11 letters.
    assert count_line("Administer the medicine immediately.", "en") == Counts(
        sentences=1, units=4, words=4, syllables=13, letters=32, over_six=3, over_seven=3, one_syllable=1, three_syllables=3, four_syllables=2, longest=4
    )  # fmt: skip


def test_signs_of_the_scripts():
    japanese = count_line("包帯を切らないでください。", "ja")
    assert (japanese.han, japanese.kana) == (3, 9)
    assert count_line("붕대를 자르지 마세요.", "ko").hangul == 9
    # `人々`: the mark that repeats a sign is one.
    assert count_line("人々", "ja").han == 2


def test_a_field_is_one_word_of_one_syllable():
    kept = count_line("Keep {pet} indoors.", "en")
    assert (kept.words, kept.syllables, kept.one_syllable) == (3, 4, 2)
    # Glued to an ending or between signs it is still one.
    assert count_line("{pet}'s toes", "en").words == 2
    assert count_line("让{pet}休息。", "zh-Hans").units == 5


@pytest.mark.parametrize(
    "line", ["{moment}", "", "  ", "(802) 555-0142", "10:00", "—", "2027-03-20, 24 h".replace("h", "")]
)
def test_fields_and_figures_alone_are_no_text(line):
    assert count_line(line, "en") == Counts()


def test_figures_are_left_out_and_end_no_sentence():
    assert sentences_and_units("Ring (802) 555-0142 at 10:00 or 10.5 now.", "en") == (1, 4)


def test_marks_of_indic_and_arabic_scripts():
    # पट्टी: two consonants doubled by a virama, one more, one vowel sign: three letters and a vowel sign make four.
    assert count_line("पट्टी", "hi").letters == 4
    # With all its vowel marks كَلْب has the same three letters as without.
    assert count_line("كَلْب", "ar").letters == count_line("كلب", "ar").letters == 3


def test_decomposed_letters_count_once():
    assert count_line("e\u0301", "fr").letters == 1


def test_counts_of_lines_add_up_and_keep_the_longest_sentence():
    both = total([count_line("Ring us now. Do not wait.", "en"), count_line("Keep it dry at all times.", "en")])
    assert (both.sentences, both.words, both.longest) == (3, 12, 6)


def test_a_short_line_is_filled_up_to_six_words_and_a_longer_one_is_left_alone():
    filled = filled_up(count_line("Extremities discoloured.", "en"))
    # 4 + 3 syllables, and four words of one.
    assert (filled.words, filled.syllables, filled.sentences) == (6, 11, 1)
    six = count_line("Smell the bandage at both ends.", "en")
    assert filled_up(six) is six
    assert filled_up(Counts()) == Counts()
