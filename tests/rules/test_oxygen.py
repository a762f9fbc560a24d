"""Oxygen by 14 CFR 91.211(a): minutes above 12,500, 14,000 and 15,000 ft in a cabin that is not pressurised."""

from __future__ import annotations

import pytest
from helpers.flown import Json, changed, flight
from helpers.judged import along, found
from hypothesis import given
from hypothesis import strategies as st

from navlog.flightlog.oxygen import HighTime, _share_above
from navlog.rules.oxygen import _asked_for

WAY = "route N46 W039 N47 W039"


def level(altitude_ft: int, distance_nm: float, tas_kt: int = 120) -> tuple[str, ...]:
    """A level flight of a distance in calm air, due north over the sea."""
    end = 46.0 + distance_nm / 60.0
    return (
        f"fix NORTH {end:.5f} -39.0000",
        "fix SOUTH 46.0000 -39.0000",
        f"altitude {altitude_ft}",
        f"tas {tas_kt}kt",
        "wind calm",
        "route SOUTH NORTH",
    )


def told(altitude_ft: int, distance_nm: float) -> list[str]:
    return found("oxygen", *level(altitude_ft, distance_nm))


def times(altitude_ft: int, distance_nm: float) -> tuple[float, float, float]:
    high: Json = flight(changed(*level(altitude_ft, distance_nm)))["oxygen"]
    assert high["unknown"] == []
    return high["above_12500_min"], high["above_14000_min"], high["above_15000_min"]


# At 120 kt, 50 NM are 25 minutes and 80 NM are 40 minutes (a minute of latitude is 1.0007 NM at 46 N).
@pytest.mark.parametrize(
    ("altitude_ft", "distance_nm", "words"),
    [
        (12500, 80, ""),  # "above 12,500 feet"
        (12600, 50, ""),  # 30 minutes are allowed
        (12600, 80, "40 min above 12500 ft up to 14000: oxygen for the crew after 30 min"),
        (14000, 80, "40 min above 12500 ft up to 14000: oxygen for the crew after 30 min"),  # "up to and including"
        (14100, 50, "25 min above 14000 ft: oxygen for the crew all that time"),
        (15000, 50, "25 min above 14000 ft: oxygen for the crew all that time"),  # "above 15,000 feet"
        (
            15100,
            50,
            "25 min above 14000 ft: oxygen for the crew all that time, 25 min above 15000 ft: oxygen for everyone"
            " aboard",
        ),
    ],
)
def test_who_must_have_oxygen(altitude_ft: int, distance_nm: float, words: str) -> None:
    expected = [f"warning: {words}; the cabin counted as not pressurised"] if words else []
    assert told(altitude_ft, distance_nm) == expected


@pytest.mark.parametrize(("length_nm", "asked"), [(60, False), (62, True)])
def test_just_30_minutes_are_not_more_than_30(length_nm: int, asked: bool) -> None:
    # "of more than 30 minutes duration": 60 NM at 120 kt are 30.
    way = along(f"QHB 212 - 032 QEL {length_nm}nm mea 3000", "altitude 13000", "tas 120kt", "wind calm")
    assert bool(found("oxygen", *way)) is asked


def test_json_has_the_minutes_above_each_height() -> None:
    assert times(12500, 80) == (0, 0, 0)
    assert times(13000, 80) == pytest.approx((40, 0, 0), abs=0.1)
    assert times(15500, 80) == pytest.approx((40, 40, 40), abs=0.1)


def test_at_a_low_pressure_the_pressure_altitude_counts() -> None:
    # 14,000 ft at 980 hPa are a pressure altitude of about 14,000 + 920 ft, the height of 980 hPa (ICAO Doc 7488/3).
    asked = level(14000, 50)
    assert found("oxygen", *asked) == []
    (words,) = found("oxygen", *asked, "altimeter 980hPa")
    assert "25 min above 14000 ft: oxygen for the crew all that time" in words
    # At a high one the altitude itself does: 14,100 ft stay above 14,000.
    assert "above 14000 ft" in found("oxygen", *level(14100, 50), "altimeter 1040hPa")[0]


def test_an_unknown_time_so_high_is_unknown_and_told() -> None:
    so_high = (*level(13000, 80), "-wind")
    (words,) = found("oxygen", *(one for one in so_high if not one.startswith("wind ")))
    assert "a time that is not known above 12500 ft" in words
    text = changed(*(one for one in level(13000, 80) if one != "wind calm"), without=("wind",))
    high = flight(text)["oxygen"]
    assert high["above_12500_min"] is None
    assert high["above_14000_min"] == 0
    assert [one["key"] for one in high["unknown"]] == ["above_12500_min"]


def test_the_minutes_begin_anew_after_a_landing() -> None:
    there = "airport XMID 46.8333 -39.0000 elev 0ft"  # half way, 25 minutes from either end
    legs = (*(one for one in level(13000, 100) if not one.startswith("route")), there)
    assert found("oxygen", *legs, "route SOUTH XMID land 30min NORTH") == []
    (words,) = found("oxygen", *legs, "route SOUTH XMID over NORTH")
    assert "50 min above 12500 ft" in words


heights = st.floats(0, 20_000)


@given(start_ft=heights, end_ft=heights, height_ft=st.sampled_from([12500.0, 14000.0, 15000.0]))
def test_the_share_of_a_climb_above_a_height_is_that_of_small_steps(
    start_ft: float, end_ft: float, height_ft: float
) -> None:
    steps = 2000
    above = sum(start_ft + (end_ft - start_ft) * (step + 0.5) / steps > height_ft + 0.5 for step in range(steps))
    near = min(1.0, 1.0 / max(abs(end_ft - start_ft), 1e-9))  # half a foot counts as no height
    assert _share_above(start_ft, end_ft, height_ft) == pytest.approx(above / steps, abs=0.001 + near)


# 14 CFR 91.211(a): above 12,500 ft to 14,000 for more than 30 minutes; above 14,000 the crew; above 15,000 everyone.
@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        ((30.0, 0.0, 0.0), []),
        ((30.1, 0.0, 0.0), ["30 min above 12500 ft up to 14000: oxygen for the crew after 30 min"]),
        ((0.4, 0.4, 0.0), ["0 min above 14000 ft: oxygen for the crew all that time"]),
        (
            (5.0, 5.0, 0.6),
            ["5 min above 14000 ft: oxygen for the crew all that time", "1 min above 15000 ft: oxygen for everyone"],
        ),
        (
            (None, 5.0, None),
            [
                "a time that is not known above 12500 ft up to 14000: oxygen for the crew after 30 min",
                "5 min above 14000 ft: oxygen for the crew all that time",
                "a time that is not known above 15000 ft: oxygen for everyone",
            ],
        ),
    ],
)
def test_who_must_have_oxygen_by_the_minutes(
    minutes: tuple[float | None, float | None, float | None], words: list[str]
) -> None:
    found = HighTime(*minutes, highest_ft=16_000.0)
    assert _asked_for(found) == ", ".join(words).replace("for everyone", "for everyone aboard")
