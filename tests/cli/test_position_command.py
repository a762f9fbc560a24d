"""`navlog position`."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from helpers.flown import EXAMPLES

Run = Callable[..., tuple[int, str, str]]


# FAA NASR 2026-05-14: GEP to ODI leaves on radial 125.47, 110.30 NM; ODI is met on its 311.80 radial.
GEP = "GEP 117.30 45.14568488 -93.37318094 decl 6E class VH dme DH elev 877ft"
ODI = "ODI 117.90 43.91232916 -91.46751616 decl 1E elev 1282ft"
ROUND_ROBIN = str(EXAMPLES / "round_robin.route")


def test_radials_and_distances_nearest_first(navlog: Run) -> None:
    status, out, err = navlog(
        "position", "43.91232916 -91.46751616", "--station", GEP, "--station", ODI, "--altitude", "5500ft"
    )
    assert (status, err) == (0, "")
    # 4,623 ft above GEP is in the band of 40 NM; DME sqrt(110.3^2 + 0.76^2).
    assert out == (
        "ODI 117.90 --- -.. ..  no radial  0.0 NM  over the station: the needle is not to be trusted\n"
        "GEP 117.30 --. . .--.  radial 125, course 305 TO  110.3 NM, DME 110.3"
        "  outside its service volume of 40 NM\n"
    )


def test_a_station_without_declination_says_so(navlog: Run) -> None:
    _, out, _ = navlog("position", "46N039W", "--station", "QHB 113.70 N46 12.30 W039 20.70")
    assert out == "QHB 113.70 --.- .... -...  no declination, so no radial  18.9 NM\n"


def test_a_southern_position_is_an_argument(navlog: Run) -> None:
    status, out, _ = navlog("position", "-33.9 151.2", "--station", "QAA 113.70 S34 00.00 E151 12.00 decl true")
    assert (status, out) == (0, "QAA 113.70 --.- .- .-  radial 360T, course 180T TO  6.0 NM\n")


def test_what_radial_am_i_on(navlog: Run) -> None:
    # FAA commercial item: 035 with TO is the 215 radial.
    assert navlog("position --centred 035 TO") == (
        0,
        "radial 215: needle centred on 035 TO\n",
        "",
    )
    assert navlog("position --centred 035 FROM")[1] == ("radial 035: needle centred on 035 FROM\n")


@pytest.mark.parametrize(
    "line",
    [
        ("position",),
        ("position", "46N039W"),
        ("position", "46N039W", "--centred", "035", "TO"),
        ("position", "N46", "--station", ODI),
        ("position", "46N039W", "--station", "QHB 113.70"),
        ("position", "--centred", "035", "FROM", "--from", ROUND_ROBIN),
        ("position", "--centred", "035", "FROM", "--station", ODI),
        ("position", "--centred", "035", "FROM", "--altitude", "5500ft"),
        ("position", "--centred", "035", "AT"),
        ("position", "--centred", "35", "TO"),
    ],
)
def test_bad_input_leaves_with_2(navlog: Run, line: tuple[str, ...]) -> None:
    status, out, err = navlog("", *line)
    assert (status, out) == (2, "")
    assert "error" in err.lower()


def test_a_standard_of_accuracy_tells_how_far_off_radials_and_dmes_may_be(navlog: Run) -> None:
    """30.09 NM x sin 3.6 is 1.89; AIM 1-1-7: 3 % of 30.1 are 0.90 NM; Doc 8168: 0.25 NM + 1.25 %, and 4.53 degrees."""
    asked = ("position", "N46 05.00 W039 02.00", "--from", ROUND_ROBIN, "--altitude", "5500ft", "--accuracy")
    _, faa, _ = navlog(*asked, "faa")
    _, icao, _ = navlog(*asked, "icao")
    assert faa.splitlines()[2].endswith("30.1 NM, DME 30.1  radial within 1.9 NM  DME within 0.90 NM")
    assert icao.splitlines()[2].endswith("30.1 NM, DME 30.1  radial within 2.4 NM  DME within 0.63 NM")


def test_a_centred_needle_tells_its_radial_within_the_standard(navlog: Run) -> None:
    _, out, _ = navlog("position", "--centred", "035", "TO", "--accuracy", "2")
    assert out == "radial 215: needle centred on 035 TO, within 2 degrees\n"
