"""`navlog wind`."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Run = Callable[..., tuple[int, str, str]]


def test_heading_and_groundspeed(navlog: Run) -> None:
    # FAA PHAK, chapter on navigation: groundspeed 88 kt, heading 076, 220 NM in about 2.5 h, 20 gal at 8 gal/h.
    status, out, err = navlog(
        "wind --course 090T --tas 120kt --wind 045/40 --variation 7E --distance 220nm --burn 8gph"
    )
    assert (status, err) == (0, "")
    assert out == (
        "heading 076T = 069M (correction 14L), groundspeed 88 kt\n"
        "course 090T = 083M, heading 076T = 069M (correction 14L), TAS 120 kt, groundspeed 88 kt, wind 045T/40\n"
        "crosswind 28 kt from the left, headwind 28 kt\n"
        "220.0 NM in 2 h 29 min, 20.0 gal\n"
    )


def test_wind_from_what_was_flown(navlog: Run) -> None:
    # Flight-computer instruction sheet, example 16: 154 at 33.
    status, out, _ = navlog("wind --course 094T --gs 146 --heading 104T --tas 165")
    assert status == 0
    assert out.splitlines()[0] == "wind 154T/33"


def test_track_and_groundspeed(navlog: Run) -> None:
    # EASA question bank: track 262, groundspeed 182 (exact 181.5).
    _, out, _ = navlog("wind --heading 254T --tas 163 --wind 130/30")
    assert out.splitlines()[0] == "course 262T, groundspeed 181 kt"


def test_a_magnetic_wind_and_course(navlog: Run) -> None:
    _, magnetic, _ = navlog("wind --course 045M --tas 130 --wind 175M/30 --variation 15E")
    _, true, _ = navlog("wind --course 060T --tas 130 --wind 190/30 --variation 15E")
    assert magnetic == true
    # EASA question bank: heading 055 M, groundspeed 147.
    assert magnetic.splitlines()[0] == "heading 070T = 055M (correction 10R), groundspeed 147 kt"


def test_two_answers_are_both_printed(navlog: Run) -> None:
    # Groundspeed 100 at TAS 100 in a wind from 360 at 20: the two headings mirror the wind's line.
    status, out, _ = navlog("wind --gs 100 --tas 100 --wind 360/20")
    assert status == 0
    assert out == (
        "answer 1 of 2: heading 084T (correction 11L), course 096T\n"
        "course 096T, heading 084T (correction 11L), TAS 100 kt, groundspeed 100 kt, wind 360T/20\n"
        "crosswind 20 kt from the left, tailwind 2 kt\n"
        "\n"
        "answer 2 of 2: heading 276T (correction 11R), course 264T\n"
        "course 264T, heading 276T (correction 11R), TAS 100 kt, groundspeed 100 kt, wind 360T/20\n"
        "crosswind 20 kt from the right, tailwind 2 kt\n"
    )


def test_the_wind_in_halves(navlog: Run) -> None:
    _, out, _ = navlog("wind --course 360T --tas 100 --heading 010T --wind-from 090T")
    # sin 10 x 100 = 17.4 across.
    assert out.splitlines()[0] == "wind speed 17 kt, groundspeed 98 kt"


def test_groundspeed_as_flown(navlog: Run) -> None:
    # FAA private item: 9 NM in 5 min is 108 kt, 50 NM to go 28 min. US Navy P-802: 36 NM in 10:00, TAS 210.
    assert navlog("wind --gs 9nm/5min --distance 50nm")[1] == ("groundspeed 108 kt\n50.0 NM in 28 min\n")
    assert navlog("wind --tas 210 --gs 36nm/10min")[1] == ("groundspeed 216 kt at TAS 210 kt: tailwind 6 kt\n")


def test_calm(navlog: Run) -> None:
    _, out, _ = navlog("wind --course 090T --tas 100 --wind calm")
    assert out == (
        "heading 090T (correction 0), groundspeed 100 kt\n"
        "course 090T, heading 090T (correction 0), TAS 100 kt, groundspeed 100 kt, wind calm\n"
        "no crosswind, no headwind\n"
    )


@pytest.mark.parametrize(
    ("line", "error"),
    [
        (
            "--course 360T --tas 80 --wind 090/90",
            "error: the crosswind of 90 kt is more than the TAS of 80 kt [impossible-triangle]\n"
            "  hint: check wind and airspeed\n",
        ),
        (
            "--course 360T --tas 0kt --wind 090/9",
            "error: the true airspeed is zero [bad-value]\n  hint: a speed is above 0 kt\n",
        ),
        (
            "--course 090 --tas 80 --wind 090/9",
            "--course:1:1: error: `090` does not say its north [bad-angle]\n"
            "   1 | 090\n     | ^^^\n  hint: write 090T for true or 090M for magnetic\n",
        ),
        (
            "--course 090M --tas 80 --wind 090/9",
            "error: a magnetic direction is given without the variation [no-variation]\n"
            "  hint: give the variation, such as 7E\n",
        ),
        (
            "--gs 80 --burn 8gph",
            "error: a burn needs a distance [missing-value]\n  hint: give the distance to be flown\n",
        ),
    ],
)
def test_bad_input_is_one_message(navlog: Run, line: str, error: str) -> None:
    assert navlog(f"wind {line}") == (2, "", error)


def test_a_wind_is_given_whole_or_in_halves(navlog: Run) -> None:
    status, out, err = navlog("wind --course 090T --tas 90 --wind 090/9 --wind-speed 4")
    assert (status, out) == (2, "")
    assert "not both" in err


@pytest.mark.parametrize("wind", ["3000 230/12 6000 240/18", "3000 230/12", "230-12", "at QHB 230/12", ""])
def test_the_wind_is_one_wind(navlog: Run, wind: str) -> None:
    status, out, err = navlog("wind", "--course", "090T", "--tas", "90", "--wind", wind)
    assert (status, out) == (2, "")
    assert err.startswith("--wind:1:")
