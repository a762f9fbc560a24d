"""`navlog intercept`."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Run = Callable[..., tuple[int, str, str]]


def test_inbound_with_turn_distance_and_time(navlog: Run) -> None:
    # 20 sin 15 / sin 30 = 10.35 NM flown, 20 sin 15 / sin 30 from the station as well: the triangle is isosceles.
    line = "--present 215 --radial 230 --inbound --heading 310 --distance 20nm --gs 110kt --selector 230"
    assert navlog(f"intercept {line}") == (
        0,
        "turn right 70 degrees to heading 020: 30 degree intercept, radial 15 degrees away\n"
        "the radial is met in 10.4 NM after 5.6 min, 10.4 NM from the station (nil wind)\n"
        "radial 230 inbound: set 050 TO\n"
        "needle left, at its stop\n"
        "REVERSE SENSING: with 230 set the flag shows FROM and the needle points away from the radial;"
        " set 050\n",
        "",
    )


def test_outbound_without_a_distance(navlog: Run) -> None:
    assert navlog("intercept --present 360 --radial 006 --outbound --angle 30")[1] == (
        "fly heading 036: 30 degree intercept, radial 6 degrees away\n"
        "radial 006 outbound: set 006 FROM\n"
        "needle right, 3.0 dots\n"
    )


def test_a_course_names_the_radial(navlog: Run) -> None:
    by_course = navlog("intercept --present 215 --course 050 --inbound")
    assert by_course == navlog("intercept --present 215 --radial 230 --inbound")


def test_on_the_radial(navlog: Run) -> None:
    assert navlog("intercept --present 230 --radial 230 --inbound --heading 050 --distance 9nm")[1] == (
        "on the radial: keep heading 050\nradial 230 inbound: set 050 TO\nneedle centred, TO\n"
    )


def test_abeam_and_beyond(navlog: Run) -> None:
    _, abeam, _ = navlog("intercept --present 360 --radial 090 --outbound")
    assert abeam.splitlines()[-1] == "flag off now: abeam the station"
    _, beyond, _ = navlog("intercept --present 340 --radial 090 --outbound --selector 080")
    assert beyond.splitlines()[-2:] == [
        "needle right, at its stop; flag TO until abeam the station",
        "selector is at 080: set 090",
    ]


def test_needle_to_miles_and_back(navlog: Run) -> None:
    # 30 tan 4 = 2.1; FAA items: 2 degrees at 60 NM about 2 NM, 5 NM at 100 NM about a dot and a half.
    assert navlog("intercept --deflection 2dots --distance 30nm")[1] == (
        "2.0 dots = 4.0 degrees\n2.1 NM off the radial, 30.0 NM from the station\n"
    )
    assert navlog("intercept --off 5nm --distance 100nm")[1] == (
        "1.4 dots = 2.9 degrees\n5.0 NM off the radial, 100.0 NM from the station\n"
    )
    assert navlog("intercept --deflection 12deg --distance 30nm")[1].startswith(
        "6.0 dots = 12.0 degrees, the needle at its stop\n"
    )


def test_a_radial_that_is_not_met(navlog: Run) -> None:
    assert navlog("intercept --present 215 --radial 260 --inbound") == (
        2,
        "",
        "error: at 45 degrees the radial, 45 degrees away, is not met before the station [no-intercept]\n"
        "  hint: an angle of 46 degrees or more works; or go direct to the station: course 035 TO\n",
    )


@pytest.mark.parametrize(
    "line",
    [
        "",
        "--present 215 --radial 230",
        "--present 215 --inbound",
        "--present 215 --radial 230 --inbound --outbound",
        "--present 215 --radial 230 --outbound --inbound",
        "--off 70nm --distance 60nm",
        "--radial 230 --inbound",
        "--present 215 --radial 230 --course 050 --inbound",
        "--present 215 --radial 230 --inbound --gs 0kt --distance 5",
        "--present 215 --radial 230 --inbound --distance 0",
        "--present 215 --radial 230 --inbound --angle 0",
        "--deflection 2dots",
        "--deflection 2dots --off 3nm --distance 5nm",
        "--deflection 2docs --distance 5nm",
        "--off 3nm --distance 0nm",
    ],
)
def test_bad_input_leaves_with_2(navlog: Run, line: str) -> None:
    status, out, err = navlog(f"intercept {line}")
    assert (status, out) == (2, "")
    assert "error" in err.lower()
