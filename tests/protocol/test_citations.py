"""The list of published sources is whole, and its lines can be found in print."""

from __future__ import annotations

import pytest

from generator.protocol.citations import CITATIONS, citation, unknown_numbers


def test_numbers_run_without_a_gap() -> None:
    assert list(CITATIONS) == list(range(1, 94))


def test_each_line_ends_as_a_reference_does_and_stands_once() -> None:
    lines = [source.text for source in CITATIONS.values()]
    assert all(line.endswith(".") and line == " ".join(line.split()) for line in lines)
    assert len(set(lines)) == len(lines)


def test_a_number_leads_to_its_source() -> None:
    # Thomas S, EWMA J 2003;3(1):21-23; Gleason, Clinician's Brief 2023; Campbell, Today's Veterinary Practice 2015.
    assert "Laplace" in citation(1).text
    assert citation(3).short == "Gleason H"
    assert "Moist wound healing" in citation(30).text


def test_a_number_out_of_the_list_is_told() -> None:
    assert unknown_numbers((3, 0, 94, 40)) == (0, 94)
    with pytest.raises(KeyError):
        citation(94)


def test_what_was_only_remembered_is_marked() -> None:
    assert {source.number for source in CITATIONS.values() if source.seen == "memory"} == {56, 69, 70}
