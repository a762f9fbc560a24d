"""What notices that change no figure are of, by their keyword or Q code, and fuel that is for the pilot to read.

Forms as in FAA Order JO 7930.2 and ICAO Doc 8126; the notices are invented.
"""

from __future__ import annotations

import pytest

from navlog.nav.notices import Notice, effect_words
from navlog.request.notices import read_notices


def only(text: str) -> Notice:
    (notice,) = read_notices(text, "briefing.txt")
    return notice


def coded(e: str, code: str) -> Notice:
    """A notice of the ICAO form by its item E and Q code."""
    q = f"Q) XXAA/Q{code}/IV/BO/AE/000/999/4612N03921W025"
    return only(f"A0001/26 NOTAMN\n{q}\nA) XXAA B) 2605010000 C) PERM\nE) {e}\n")


def means(notice: Notice) -> list[str]:
    return [effect_words(one) for one in notice.effects]


# Second and third letters: NB a non-directional beacon, NL a locator, NX a direction finder (ICAO Doc 8400).
@pytest.mark.parametrize("letters", ["NB", "NL", "NX"])
def test_a_beacon_is_nothing_of_a_vor_log(letters: str) -> None:
    notice = coded("HARBOUR U/S", f"{letters}AS")
    assert (means(notice), notice.unread) == (["changes no figure of a log: a beacon"], None)


# Keywords of FAA Order JO 7930.2 after the place, in the words of the sheet.
@pytest.mark.parametrize(
    ("keyword", "subject"),
    [
        ("RWY", "a runway"),
        ("TWY", "a taxiway"),
        ("APRON", "an apron"),
        ("RAMP", "an apron"),
        ("COM", "communications"),
        ("SVC", "a service"),
        ("AIRSPACE", "airspace"),
        ("IAP", "an approach procedure"),
        ("ODP", "a departure procedure"),
        ("SID", "a departure procedure"),
        ("STAR", "an arrival procedure"),
        ("VFP", "a visual procedure"),
        ("SPECIAL", "a special procedure or notice"),
        ("SECURITY", "security"),
        ("CHART", "a chart"),
        ("DATA", "published data"),
        ("CONSTRUCTION", "construction"),
    ],
)
def test_what_changes_no_figure_is_told_by_its_subject(keyword: str, subject: str) -> None:
    notice = only(f"!XHA 07/001 XHA {keyword} REVISED 2605010000-PERM")
    assert (means(notice), notice.unread) == ([f"changes no figure of a log: {subject}"], None)


# Second letters of a Q code (FAA Order JO 7930.2, appendix B).
@pytest.mark.parametrize(
    ("letters", "subject"),
    [
        ("ACCA", "airspace"),
        ("CACA", "communications"),
        ("FMCA", "an aerodrome"),
        ("GWCA", "satellite navigation"),
        ("ILCA", "an instrument landing system"),
        ("LACA", "lighting"),
        ("MRCA", "movement and landing areas"),
        ("OACA", "other information"),
        ("PICA", "procedures"),
        ("RDCA", "airspace restrictions"),
        ("SACA", "air traffic services"),
        ("WPCA", "a warning"),
    ],
)
def test_of_a_q_code_the_group_tells_the_subject(letters: str, subject: str) -> None:
    notice = coded("REVISED", letters)
    assert (means(notice), notice.unread) == ([f"changes no figure of a log: {subject}"], None)


@pytest.mark.parametrize(
    ("fuel", "unread"),
    [
        ("FUEL AVBL 0800-1700", "it tells at which hours, or how, fuel is to be had"),
        ("100LL AVAILABLE DLY SR-SS", "it tells at which hours, or how, fuel is to be had"),
        ("FUEL NOT AVBL EXC 100LL", "it names an exception to what fuel is to be had, or not"),
    ],
)
def test_fuel_at_hours_or_with_exceptions_is_for_the_pilot_to_read(fuel: str, unread: str) -> None:
    assert only(f"!XHA 07/001 XHA SVC {fuel} 2605010000-PERM").unread == unread
