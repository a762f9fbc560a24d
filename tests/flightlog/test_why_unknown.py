"""Why a figure is not known: what is missing in the flight, and nothing else, is named at each leg."""

from __future__ import annotations

import pytest
from helpers.folder import Folder
from helpers.judged import along, reported

from navlog.rules.samples import sample

COMMON = "QHB 212 - 032 QEL 29.5nm mea 3000"
"""Between two stations without positions, so that the course is the chart's."""

TRIANGLE = {"wind_correction_deg", "true_heading_deg", "magnetic_heading_deg", "groundspeed_kt", "time_min"}

AIRCRAFT = """name = "No burn in climb"
usable_fuel_gal = 40
[climb]
cas_kt = 75
rate_ft_per_min = 500
{climb}
[cruise]
tas_kt = 110
burn_gal_per_h = 8.5
"""


def reasons(*more: str, leg: int = 0) -> dict[str, str]:
    """Key and reason of what is not known on a leg of the flight along the chart."""
    return {one.key: one.reason for one in reported(*along(COMMON, *more)).log.legs[leg].unknown}


def test_without_a_wind_that_is_the_reason_throughout() -> None:
    told = reasons("-wind")
    assert {key for key, why in told.items() if why == "no wind given"} == TRIANGLE | {"wind"}


@pytest.mark.parametrize(
    ("changed", "expected"),
    [
        ((), {}),
        (("-fuel", "-taxi"), {"fuel_remaining_gal": "no `fuel` given"}),
        (
            ("-burn",),
            {"fuel_used_gal": "no `burn` given", "fuel_remaining_gal": "fuel used so far is not known"},
        ),
        (
            ("-wind",),
            {
                "fuel_used_gal": "the time of this leg is not known",
                "fuel_remaining_gal": "fuel used so far is not known",
            },
        ),
    ],
)
def test_unknown_fuel_names_what_is_missing(changed: tuple[str, ...], expected: dict[str, str]) -> None:
    for leg in (0, 1):
        told = reasons(*changed, leg=leg)
        assert {key: told[key] for key in told if key in ("fuel_used_gal", "fuel_remaining_gal")} == expected


@pytest.mark.parametrize("burn", ["burn_gal_per_h = 11", ""])
def test_a_climb_without_a_burn_is_the_aircraft_files(folder: Folder, burn: str) -> None:
    folder.put("climber.toml", AIRCRAFT.format(climb=burn))
    text = sample("aircraft climber.toml", "-tas", "-burn", "wind calm", "route XHAR QHB V801 QEL")
    first, *_, last = folder.fly(text)["legs"]
    told = [one["reason"] for one in first["unknown"] if one["key"] == "fuel_used_gal"]
    assert first["phase"] == "climb"
    assert told == ([] if burn else ["the aircraft file gives no burn in climb"])
    # In cruise the burn is given; what is left is not known any more.
    assert [one["key"] for one in last["unknown"] if one["key"].startswith("fuel_used")] == []
    assert (last["fuel_remaining_gal"] is None) is (not burn)


@pytest.mark.parametrize("density", ["fuel_density_lb_per_gal = 6.0", ""])
def test_fuel_by_weight_without_a_density_is_not_known_in_gallons(folder: Folder, density: str) -> None:
    words = f'name = "By weight"\nusable_fuel_lb = 240\n{density}\n[cruise]\ntas_kt = 110\nburn_lb_per_h = 51\n'
    folder.put("weight.toml", words)
    stop = "route XHAR QHB V801 QEL XOLD land 45min fuel 180lb XHAR"
    text = sample("aircraft weight.toml", "-tas", "-burn", "wind calm", "fuel 200lb", "taxi 6lb", stop)
    for leg in folder.fly(text)["legs"]:
        told = {one["key"]: one["reason"] for one in leg["unknown"] if one["key"].startswith("fuel_")}
        lands = leg["to"]["ident"] == "XOLD"
        keys = {"fuel_used_gal", "fuel_remaining_gal", *(["fuel_taken_gal"] if lands else []), "fuel_least_gal"}
        assert told == ({} if density else dict.fromkeys(keys, "fuel is in lb and no density is given"))
        if lands:
            # 180 lb at 6 lb a gallon.
            assert leg["fuel_taken_gal"] == (pytest.approx(30) if density else None)
