"""Hypothesis strategies for whole route files around N46 W039, every number of them known."""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import strategies as st

LETTERS = "ABCDEFGHIJ"


@dataclass(frozen=True, slots=True)
class Generated:
    """A generated flight: its places and statements, and the order in which it passes the places."""

    places: tuple[str, ...]
    statements: tuple[str, ...]
    order: tuple[str, ...]

    @property
    def text(self) -> str:
        """The route file."""
        return "\n".join((*self.places, *self.statements, f"route {' '.join(self.order)}")) + "\n"


spots = st.tuples(st.integers(0, 16), st.integers(0, 24)).map(lambda at: (44.0 + at[0] / 4.0, -42.0 + at[1] / 4.0))
"""Places 10 NM apart or more."""


@st.composite
def generated_flights(draw: st.DrawFn) -> Generated:
    """A flight of direct legs between stations, fixes and an airport that is flown over, in some wind."""
    at = draw(st.lists(spots, min_size=2, max_size=7, unique=True))
    places, names = [], []
    for letter, (latitude, longitude) in zip(LETTERS, at, strict=False):
        where = f"{latitude:.4f} {longitude:.4f}"
        kind = draw(st.sampled_from(("station", "station", "fix", "airport")))
        if kind == "station":
            declination = draw(st.integers(0, 30))
            options = draw(st.sampled_from(("", " class L elev 300ft", " class VH elev 4000ft dme")))
            name = draw(
                st.sampled_from(("", ' name "Harbour"', ' name "The long shoal off the western skerries light"'))
            )
            mhz = f"{112 + 0.5 * LETTERS.index(letter):.2f}"
            places.append(f"station QA{letter} {mhz} {where} decl {declination}W{options}{name}")
            names.append(f"QA{letter}")
        elif kind == "fix":
            places.append(f"fix FIXA{letter} {where}")
            names.append(f"FIXA{letter}")
        else:
            places.append(f"airport XAA{letter} {where}")
            names.append(f"XAA{letter}")
    tas_kt = draw(st.integers(60, 250))
    # Strong enough to blow the aeroplane back now and then, else no more than 60 % of the airspeed.
    wind_kt = draw(st.one_of(st.just(2 * tas_kt), st.integers(0, tas_kt * 6 // 10)))
    statements = (
        "date 2026-07-18",
        f"off {draw(st.integers(0, 23)):02d}:{draw(st.integers(0, 59)):02d}Z",
        f"altitude {draw(st.integers(10, 170)) * 100}",
        f"tas {tas_kt}kt",
        f"burn {draw(st.integers(40, 120)) / 10.0}{draw(st.sampled_from(('gph', 'L/h', 'kg/h')))}",
        f"wind {draw(st.integers(1, 360)):03d}/{wind_kt}",
        f"equipment vor {draw(st.integers(1, 2))} dme {draw(st.integers(0, 1))}",
    )
    unit = {"gph": "gal", "L/h": "L", "kg/h": "kg"}[next(u for u in ("gph", "L/h", "kg/h") if u in statements[4])]
    fuel = (f"fuel {draw(st.integers(100, 4000)) / 10.0}{unit}", f"taxi {draw(st.integers(0, 30)) / 10.0}{unit}")
    inside = [f"{name} over" if name.startswith("X") else name for name in names[1:-1]]
    return Generated(tuple(places), statements + fuel, (names[0], *inside, names[-1]))
