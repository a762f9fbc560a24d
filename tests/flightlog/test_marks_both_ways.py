"""A fix is told by the same cross radials flown one way and the other.

Two radials cut a straight way at one angle from either side. At a bend they do not; what counts is where a radial
cuts one side at 30 degrees or more (common practice, no source). All places are laid out by geographiclib.
"""

from __future__ import annotations

import pytest
from geographiclib.geodesic import Geodesic
from helpers.flown import Json, flight
from hypothesis import given, settings
from hypothesis import strategies as st

M_PER_NM = 1852.0
Place = tuple[float, float]
FULMA: Place = (46.0, -39.0)


def away(azimuth_deg: float, distance_nm: float) -> Place:
    """The place so far from FULMA."""
    there = Geodesic.WGS84.Direct(*FULMA, azimuth_deg, distance_nm * M_PER_NM)
    return there["lat2"], there["lon2"]


def written(place: Place) -> str:
    return f"{place[0]:.7f} {place[1]:.7f}"


def both(east_deg: float, bend_deg: float, others: list[tuple[float, float]], *named: str) -> tuple[Json, Json]:
    """The leg to FULMA from QAA, 20 NM before it on a way that leads `east_deg`, and from QZZ, 20 NM behind it.

    The way bends there to the right. `others` are the azimuth and distance at which QBB and QCC lie; of those `named`
    the radial is the fix's own.
    """
    ends = {"QAA": away(east_deg + 180.0, 20.0), "QZZ": away(east_deg + bend_deg, 20.0)}
    places = ends | dict(zip(("QBB", "QCC"), (away(*one) for one in others), strict=False))
    mhz = {"QAA": "113.70", "QZZ": "115.10", "QBB": "110.20", "QCC": "112.40"}
    stations = [f"station {ident} {mhz[ident]} {written(at)} decl 0E class H elev 0ft" for ident, at in places.items()]
    radials = {ident: Geodesic.WGS84.Inverse(*at, *FULMA)["azi1"] % 360.0 for ident, at in places.items()}
    fix = " x ".join(f"{ident} {radials[ident]:07.3f}" for ident in ("QAA", *named)) if named else written(FULMA)
    common = [*stations, f"fix FULMA {fix}", "date 2026-07-18", "altitude 9000", "tas 120kt", "wind calm"]
    there, back = (
        next(
            leg for leg in flight("\n".join([*common, f"route {way}"]) + "\n")["legs"] if leg["to"]["ident"] == "FULMA"
        )
        for way in ("QAA FULMA QZZ", "QZZ FULMA QAA")
    )
    return there, back


def told(leg: Json) -> list[tuple[str, float]]:
    """The stations whose radials tell the leg's end, with the radial."""
    return sorted((one["ident"], round(one["radial_deg"], 3)) for one in leg["marks"])


@settings(deadline=None, max_examples=60)
@given(
    east_deg=st.floats(0, 359),
    others=st.lists(
        st.tuples(
            st.sampled_from([one for one in range(0, 360) if min(one % 180 % 15, -one % 15) > 2]), st.floats(5, 35)
        ),
        min_size=1,
        max_size=2,
    ),
    named=st.booleans(),
)
def test_on_a_straight_way_the_same_radials_tell_a_fix_both_ways(
    east_deg: float, others: list[tuple[float, float]], named: bool
) -> None:
    """Legs count with the course of their middle, 0.2 degrees from that at the fix: cuts are 2 away from 15 and 30."""
    placed = [(east_deg + turned_deg, distance_nm) for turned_deg, distance_nm in others]
    there, back = both(east_deg, 0.0, placed, *(("QBB",) if named else ()))
    assert told(there) == told(back)
    # The cut of the radial at the fix, by the angle between the two lines.
    cuts = {ident: min(one % 180, -one % 180) for ident, (one, _) in zip(("QBB", "QCC"), others, strict=False)}
    assert all(mark["cut_deg"] == pytest.approx(cuts[mark["ident"]], abs=0.5) for mark in there["marks"])
    assert ({ident for ident, cut_deg in cuts.items() if cut_deg > 30} == set()) or there["marks"] != []


@pytest.mark.parametrize(
    ("cut_deg", "bend_deg", "there", "back"),
    [
        # The way to FULMA is cut at 31 degrees and the way on at 28: the needle serves both.
        (31, 3, True, True),
        (28, -3, True, True),
        (29, 3, False, False),
        (17, -14, True, True),
        # Beyond 15 degrees the way turns there, and each side counts with its own cut.
        (40, 16, True, False),
        (24, -16, False, True),
        (14, -20, False, True),
    ],
)
def test_at_a_slight_bend_a_radial_that_cuts_one_side_well_tells_the_fix_from_both(
    cut_deg: float, bend_deg: float, there: bool, back: bool
) -> None:
    ways = both(90.0, bend_deg, [(90.0 + cut_deg, 20.0)])
    assert [told(way) != [] for way in ways] == [there, back]
    for way, cut in zip(ways, (cut_deg, cut_deg - bend_deg), strict=True):
        assert [one["cut_deg"] for one in way["marks"]] == ([pytest.approx(cut, abs=0.5)] if way["marks"] else [])
