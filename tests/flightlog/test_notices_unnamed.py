"""Notices of a VOR without its identifier: by name, by frequency, by the Q line's circle alone."""

from __future__ import annotations

import pytest
from helpers.noticed import flown, found

ELDON = 'station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme elev 410ft name "Eldon"'
"""The base flight's second station, with its name; a Q line tells its place as 4544N03933W."""


def notice(words: str, circle: str = "4544N03933W025", q_code: str = "QNVAS") -> str:
    """QNVAS: a VOR, unserviceable (ICAO Doc 8400; FAA JO 7930.2, appendix B)."""
    item = f"\nE) {words})" if words else ""
    return f"(A0300/26 NOTAMN\nQ) ZZZZ/{q_code}/IV/BO/E/000/999/{circle}\nA) ZZZZ B) 2607180000 C) 2607182359{item}"


@pytest.mark.parametrize(
    ("words", "out"),
    [
        ("ELDON VOR U/S.", "QEL VOR out of service"),
        ("ELDON DVOR/DME 110.2MHZ CH39X NOT AVBL DUE MAINT.", "QEL VOR and DME out of service"),
        ("VOR 110.20 U/S.", "QEL VOR out of service"),
        ("DVOR/DME ELDON (QEL) 110.200MHZ CH39X NOT AVBL DUE MAINT.", "QEL VOR and DME out of service"),
        ("VOR/DME ELDON /QEL/ U/S.", "QEL VOR and DME out of service"),
        ("ELDON VOR ON TEST, DO NOT USE.", "QEL VOR on test: not to be used"),
    ],
)
def test_a_station_by_name_or_frequency_and_place_is_sure(words: str, out: str) -> None:
    answer = flown(notice(words), ELDON)
    assert found(answer, "notice-not-understood") == []
    assert any(out in one for one in found(answer, "notice-counts"))
    assert found(answer, "station-out")


@pytest.mark.parametrize(
    ("words", "circle"),
    [
        # Nothing tells where it is, so another Eldon, or another VOR on 110.20, may be meant.
        ("ELDON VOR U/S.", ""),
        ("VOR 110.20 U/S.", ""),
        # The name is that of QEL and the frequency is not.
        ("ELDON VOR 113.10 U/S.", "4544N03933W025"),
        ("VOR ELDON UNSERVICEABLE.", "4544N03933W025"),
        # Another name at its very place; 2 NM are two of the minutes that a Q line is told in.
        ("ELDER VOR U/S.", "4544N03933W025"),
        # A word that has the letters of its identifier in it does not name it.
        ("VOR ELDON UNSERVICEABLE REF QELDON.", "4544N03933W025"),
        # Cut short: no item E.
        ("", "4544N03933W025"),
        ("", "4544N03913W025"),
    ],
)
def test_a_station_that_is_not_sure_is_printed_whole_with_a_warning(words: str, circle: str) -> None:
    answer = flown(notice(words, circle), ELDON)
    (told,) = found(answer, "notice-not-understood")
    assert told.startswith("A0300/26 may mean QEL; ")
    assert words.rstrip(".") in told
    assert found(answer, "station-out") == []


@pytest.mark.parametrize(
    ("words", "circle"),
    [
        ("ELDON VOR U/S.", "4544N03033W025"),
        ("VOR 110.20 U/S.", "4544N03033W025"),
        ("VOR 113.10 U/S.", "4544N03933W025"),
        ("ELDER VOR U/S.", "4544N03913W025"),
        ("", "4544N03033W025"),
    ],
)
def test_another_station_says_nothing_to_the_flight(words: str, circle: str) -> None:
    """Six hundred miles off, on another frequency, or of another name 14 NM away: 20' x cos 45.7 = 14.0."""
    answer = flown(notice(words, circle), ELDON)
    assert found(answer, "notice-not-understood") == []
    assert found(answer, "station-out") == []


def test_a_station_by_name_is_out_only_at_the_hours_of_its_notice() -> None:
    text = notice("ELDON VOR U/S.").replace("2607180000 C) 2607182359", "2607190000 C) 2607192359")
    answer = flown(text, ELDON)
    assert found(answer, "station-out") == []
    assert found(answer, "notice-not-understood") == []
