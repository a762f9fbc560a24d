"""What a notice says of a whole aerodrome: closed, perhaps closed, or of no figure of a log."""

from __future__ import annotations

import pytest

from navlog.nav.notices import Notice, effect_words
from navlog.request.notices import read_notices


def only(text: str) -> Notice:
    (notice,) = read_notices(text, "briefing.txt")
    return notice


def words_of(notice: Notice) -> tuple[str, ...]:
    return tuple(effect_words(one) for one in notice.effects)


def aerodrome(code: str, said: str) -> Notice:
    """Invented: item E under a Q code of a whole aerodrome."""
    return only(f"(A0118/26 NOTAMN\nQ) ZZZZ/Q{code}/IV/NBO/A/000/999\nA) XXAA B) 2607181200 C) PERM\nE) {said})")


# ICAO Doc 8126, NOTAM code: FA is an aerodrome, FP a heliport, LC closed; MR a runway. AD, CLSD, WIP: ICAO Doc 8400.
@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("FALC", "AD CLSD DUE WIP"),
        ("FALC", "AD CLSD."),
        ("FALC", "AERODROME CLOSED DUE TO FLOODING FOR WHICH NO END IS KNOWN"),
        ("FALC", "AD CLSD TO ALL TFC"),
        ("FPLC", "HELIPORT CLSD"),
        ("FAXX", "AIRPORT IS TEMPORARILY CLOSED"),
        ("FALC", "ALL RWYS CLSD"),
    ],
)
def test_an_aerodrome_closed_by_the_icao_form_is_closed(code: str, said: str) -> None:
    notice = aerodrome(code, said)
    assert (words_of(notice), notice.unread) == (("XXAA closed",), None)


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("FALC", "AD CLSD EXC EMERG ACFT"),
        ("FALC", "AD CLSD TO NON SKED ACFT DUE WIP"),
        ("FALC", "AD CLSD DUE WIP EXC FOR HEL"),
        ("FALC", "AERODROMO CERRADO"),
        ("FALT", "OPR FOR BASED ACFT"),
        ("FAAP", "PPR 24 HR"),
        ("FALN", "NO OPS AFTER SUNSET"),
        ("MRLC", "AD CLSD DUE WIP ON RWY 09/27"),
        ("MRLC", "ALL RUNWAYS ARE CLSD"),
    ],
)
def test_what_may_close_an_aerodrome_is_not_dismissed(code: str, said: str) -> None:
    notice = aerodrome(code, said)
    assert notice.effects == ()
    assert notice.unread is not None


# HX: a concentration of birds, HW: work in progress, FU: fuel, MR: a runway (ICAO Doc 8126, NOTAM code).
@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("FAHX", "BIRDS IN VICINITY OF AD"),
        ("FAHW", "WIP NEAR APRON"),
        ("MRLC", "RWY 09/27 CLSD"),
    ],
)
def test_what_leaves_an_aerodrome_open_changes_no_log(code: str, said: str) -> None:
    notice = aerodrome(code, said)
    assert notice.unread is None
    assert all("changes no figure of a log" in one for one in words_of(notice))


# U/S: unserviceable (ICAO Doc 8400). What marks or lights an aerodrome may be so while it is open.
@pytest.mark.parametrize("said", ["WINDCONE U/S", "AP WINDCONE UNSERVICEABLE", "AP PAPI RWY 09 U/S", "AP ABN U/S"])
def test_what_is_unserviceable_at_an_aerodrome_does_not_close_it(said: str) -> None:
    notice = only(f"!XBE 07/001 XBEC AD {said} 2607181200-PERM")
    assert (words_of(notice), notice.unread) == (("changes no figure of a log: an aerodrome",), None)


@pytest.mark.parametrize(
    "said",
    ["U/S", "AP U/S DUE FLOODING", "AP IS TEMPO U/S", "AP RWY U/S", "AP RWY 09/27 U/S", "AP ALL RWYS U/S", "SFC U/S",
     "MANOEUVRING AREA U/S", "LANDING AREA TEMPO UNSERVICEABLE", "AP WINDCONE U/S. AD CLSD AT NIGHT"],
)  # fmt: skip
def test_an_aerodrome_or_its_landing_ground_unserviceable_may_be_closed(said: str) -> None:
    notice = only(f"!XBE 07/001 XBEC AD {said} 2607181200-PERM")
    assert notice.effects == ()
    assert notice.unread is not None
    assert notice.unread.startswith("it may close ")


# FU: fuel availability, AU: not available (FAA Order JO 7930.2, appendix B); the others as published or in its style.
@pytest.mark.parametrize(
    ("said", "airport"),
    [
        ("(A0118/26 NOTAMN\nQ) ZZZZ/QFUAU/IV/NBO/A/000/999\nA) XXAA B) 2607181200 C) PERM\nE) FUEL NOT AVBL)", "XXAA"),
        ("!XBE 07/001 XBEC AD AP FUEL NOT AVBL 2607181200-PERM", "XBEC"),
        ("!XBE 07/001 XBEC SVC 100LL FUEL UNAVBL 2607181200-PERM", "XBEC"),
        ("!XBE 07/001 XBEC SVC SELF SERVE AVGAS OUT OF SERVICE 2607181200-PERM", "XBEC"),
        # Of one kind: whether it is the one that is needed the words tell, which the finding prints.
        ("!XBE 07/001 XBEC SVC 100LL NOT AVBL 2607181200-PERM", "XBEC"),
        ("!XBE 07/001 XBEC SVC NO 100LL FUEL AVBL 2607181200-PERM", "XBEC"),
        ("!XBE 07/001 XBEC SVC NO JET A1 2607181200-PERM", "XBEC"),
        ("!XBE 07/001 XBEC SVC AVGAS NOT AVBL. RWY 09/27 CLSD EXC TAXI 2607181200-PERM", "XBEC"),
    ],
)
def test_fuel_that_is_not_to_be_had_is_read(said: str, airport: str) -> None:
    notice = only(said)
    assert (words_of(notice), notice.unread) == ((f"{airport} fuel not available",), None)


# EXC: except (ICAO Doc 8400; FAA Order JO 7930.2, appendix A).
@pytest.mark.parametrize("where", ["SVC", "AD AP"])
@pytest.mark.parametrize(
    "words",
    [
        "FUEL NOT AVBL EXC 100LL",
        "FUEL NOT AVBL EXCEPT 100LL",
        "FUEL OTHER THAN 100LL NOT AVBL",
        "EXC 100LL FUEL NOT AVBL",
        "NO FUEL EXC AVGAS",
        "NO FUEL BUT 100LL",
        "FUEL NOT AVBL, 122.95 EXC 100LL",
        "FUEL AVBL EXC JET A1",
        "ONLY 100LL AVBL",
    ],
)
def test_an_exception_to_what_fuel_is_to_be_had_is_for_the_pilot_to_read(where: str, words: str) -> None:
    notice = only(f"!XBE 07/001 XBEC {where} {words} 2607181200-PERM")
    assert (words_of(notice), notice.unread) == ((), "it names an exception to what fuel is to be had, or not")


def test_one_kind_of_fuel_alone_is_for_the_pilot_to_read() -> None:
    notice = only("!XBE 07/001 XBEC SVC FUEL AVBL 100LL ONLY 2607181200-PERM")
    assert (words_of(notice), notice.unread) == ((), "it tells at which hours, or how, fuel is to be had")


@pytest.mark.parametrize(
    "words", ["FUEL AVBL", "NEW FUEL FARM", "NO REFUELLING WITH PAX ON BOARD", "RWY 18/36 CLSD EXC TAXI. FUEL AVBL"]
)
def test_fuel_that_is_to_be_had_changes_no_log(words: str) -> None:
    notice = only(f"!XBE 07/001 XBEC SVC {words} 2607181200-PERM")
    assert (words_of(notice), notice.unread) == (("changes no figure of a log: a service",), None)


def test_hours_of_fuel_are_neither_a_lack_of_it_nor_of_no_matter() -> None:
    notice = only("!XBE 07/001 XBEC SVC FUEL AVBL DLY 0700-1900 2607181200-PERM")
    assert words_of(notice) == ()
    assert notice.unread == "it tells at which hours, or how, fuel is to be had"


# AR: ATS route, LC: closed, CH: changed; AA: minimum altitude; AX: significant point (JO 7930.2, appendix B).
@pytest.mark.parametrize(
    ("qualifiers", "said"),
    [
        ("Q) ZZXX/QARLC/IV/NBO/E/000/999\n", "ATS ROUTE V801 QHB-QEL CLOSED"),
        ("Q) ZZXX/QAACH/IV/NBO/E/000/999\n", "QHB-QEL 6000FT"),
        ("Q) ZZXX/QAXXX/IV/NBO/E/000/999\n", "REEFY WITHDRAWN"),
        ("", "V801 SEGMENT QHB TO QEL NOT AVAILABLE"),
        ("", "AWY A1 BTN QHB AND QEL CLSD"),
        ("", "V801 QHB-QEL NOT AVBL"),
    ],
)
def test_what_is_about_an_airway_is_not_dismissed(qualifiers: str, said: str) -> None:
    notice = only(f"(C0001/26 NOTAMN\n{qualifiers}A) ZZHA B) 2607181400 C) 2607181900\nE) {said})")
    assert (notice.effects, notice.unread) == ((), "its words for an airway are not known")


# FAA Order JO 7930.2, keyword AD: `AD AP CLSD` closes the airport to all (from memory).
@pytest.mark.parametrize(
    ("said", "means"),
    [
        ("AD AP CLSD", ("XBEC closed",)),
        ("AD AP CLSD DLY 0000-0600", ("XBEC closed",)),
        ("AD AP CLSD EXC MON-FRI 0700-1500", ("XBEC closed",)),
        ("AD AP CLSD EXC EMERG ACFT", ()),
        ("AD AP CLSD TO TRANSIENT ACFT", ()),
        ("AD AP CLSD EXC PPR 30MIN", ()),
        ("AD AP ALL RWYS CLSD", ("XBEC closed",)),
        ("AD AP JET OPS PROHIBITED", ()),
        ("RWY ALL CLSD", ()),
        ("SVC AIRPORT CLSD", ()),
    ],
)
def test_an_airport_closed_by_the_domestic_form(said: str, means: tuple[str, ...]) -> None:
    notice = only(f"!XHA 06/010 XBEC {said} 2606210000-2606302200")
    assert words_of(notice) == means
    assert (notice.unread is None) == bool(means)
