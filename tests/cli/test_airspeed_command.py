"""`navlog airspeed`."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Run = Callable[..., tuple[int, str, str]]


def test_pressure_and_density_altitude(navlog: Run) -> None:
    # FAA PHAK, chapter 10, sample problem 1: 5,718 ft; about 7,700 ft (exact 7,709.5).
    assert navlog("airspeed 5883ft 70F --altimeter 30.10inHg") == (
        0,
        "at 5883 ft: pressure altitude 5718 ft\ndensity altitude 7710 ft\ntemperature +21C, 17C above standard\n",
        "",
    )


def test_a_negative_temperature_is_an_argument(navlog: Run) -> None:
    # EASA question bank: CAS 150 at 10,000 ft and -10 C is TAS 173 (exact 172.4).
    assert navlog("airspeed FL100 -10C --cas 150kt") == (
        0,
        "TAS 172 kt, CAS 150 kt, Mach 0.27\n"
        "at FL100: pressure altitude 10000 ft\n"
        "density altitude 9377 ft\n"
        "temperature -10C, 5C below standard\n",
        "",
    )
    assert navlog("airspeed --cas 150kt FL100 -10C")[0] == 0
    assert navlog("airspeed FL100 -15C")[0] == 0


def test_what_is_not_given_is_said(navlog: Run) -> None:
    # Doc 7488/3: 11.0 C at 2,000 ft.
    _, out, _ = navlog("airspeed 2000 --tas 100")
    assert out == (
        "TAS 100 kt, CAS 97 kt, Mach 0.15\n"
        "at 2000 ft: pressure altitude 2000 ft (no altimeter setting: 1013 hPa taken)\n"
        "density altitude 2000 ft\n"
        "temperature +11C (none given: standard taken)\n"
    )


@pytest.mark.parametrize(
    "line",
    [
        "airspeed",
        "airspeed -5C",
        "airspeed 5000 -15X",
        "airspeed 5000 -15C 9",
        "airspeed 5000 --mach 1.2",
        "airspeed 5000 --cas 0",
        "airspeed 5000 --cas 100 --tas 100",
        "airspeed FL100 --altimeter 1013",
        "airspeed 5000 --altimeter 29.92",
        "airspeed 99000",
    ],
)
def test_bad_input_leaves_with_2(navlog: Run, line: str) -> None:
    status, out, err = navlog(line)
    assert (status, out) == (2, "")
    assert "error" in err.lower()
