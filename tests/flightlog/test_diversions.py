"""Where the way to an alternate begins: in the air at the height of the route, on the ground where it lands.

The aeroplane climbs 500 ft a minute at 11 gal/h, as the samples' aircraft file says.
"""

from __future__ import annotations

import pytest
from helpers.flown import Json
from helpers.folder import Folder

from navlog.rules.samples import FILES, sample

BY_FILE = ("aircraft climber.toml", "-tas", "-burn", "wind calm")


def way(folder: Folder, *changed: str) -> Json:
    """The way to the only alternate of the samples' flight, flown by the aircraft file."""
    folder.put("climber.toml", FILES["climber.toml"])
    (found,) = folder.fly(sample(*BY_FILE, *changed))["alternates"]
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize("level", [4500, 8500])
def test_a_diversion_begins_at_the_height_at_which_the_route_passes_its_point(folder: Folder, level: int) -> None:
    legs = way(folder, f"alternate QEL via QHB XHAR at {level}", "route XHAR QHB V801 QEL QHB XHAR")["legs"]
    assert legs[0]["start_altitude_ft"] == 4500
    climbed = [leg for leg in legs if leg["phase"] == "climb"]
    assert sum(leg["time_min"] for leg in climbed) == pytest.approx((level - 4500) / 500, abs=0.01)
    if climbed:
        assert climbed[-1]["end_altitude_ft"] == pytest.approx(level)


def test_the_fuel_of_the_climb_is_in_that_of_the_diversion(folder: Folder) -> None:
    high = way(folder, "alternate QEL via QHB XHAR at 8500", "route XHAR QHB V801 QEL QHB XHAR")
    assert high["fuel_gal"] == pytest.approx(sum(leg["fuel_used_gal"] for leg in high["legs"]))
    (fuel, time) = (
        sum(leg[key] for leg in high["legs"] if leg["phase"] == "climb") for key in ("fuel_used_gal", "time_min")
    )
    assert (fuel, time) == (pytest.approx(8 * 11 / 60, abs=0.01), pytest.approx(8, abs=0.01))


def test_a_diversion_from_a_point_passed_twice_begins_at_the_lower_height(folder: Folder) -> None:
    # The way out climbs to 6500 ft before QEL; back at QHB the descent to XHAR has begun.
    folder.put("climber.toml", FILES["climber.toml"])
    twice = ("alternate QHB via XHAR at 5500", "route XHAR QHB/A065 V801 QEL V801 QHB XHAR")
    found = folder.fly(sample(*BY_FILE, *twice))
    passed_ft = [leg["end_altitude_ft"] for leg in found["legs"] if leg["to"]["ident"] == "QHB"]
    assert len(set(passed_ft)) == 2
    assert found["alternates"][0]["legs"][0]["start_altitude_ft"] == pytest.approx(min(passed_ft))


def test_a_way_from_an_airport_that_is_landed_at_begins_on_the_ground(folder: Folder) -> None:
    assert way(folder, "alternate XHAR")["legs"][0]["start_altitude_ft"] == 350


def test_a_way_from_an_airport_that_is_flown_over_begins_in_the_air(folder: Folder) -> None:
    over = ("airport XMID N45 58.00 W039 26.00 elev 600ft", "route XHAR QHB XMID over QEL XOLD")
    assert way(folder, "alternate XMID via XHAR", *over)["legs"][0]["start_altitude_ft"] == 4500
