"""True airspeeds that the aeroplane is hardly meant to fly."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.records import Phase
from navlog.nav.atmosphere import standard_temperature_c, tas_from_cas_kt
from navlog.nav.figures import whole
from navlog.request.levels import level_altitude_ft
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import BASE, sample

_TIMES = 2.0
"""A flight that changes its speed by more has a digit too many or lost (common practice, no source)."""

_FAST_BELOW_FT = 10_000.0
_FASTEST_CAS_KT = 250.0
"""14 CFR 91.117(a)."""

_WARM_C = 30.0
"""Air so much warmer than standard makes the most true airspeed of it (common practice, no source)."""


@rule(
    "airspeed-doubtful",
    Severity.WARNING,
    group=Group.FLYING,
    source="14 CFR 91.117(a): below 10,000 ft no more than 250 knots indicated",
    remedy="read the speed again: `N0090` is 90 kt, `N0900` 900",
    passing=BASE,
    failing=sample("route XHAR QHB V801 QEL/N0900A055 XOLD"),
)
def airspeed_doubtful(case: Case) -> Iterator[Found]:
    """A leg is flown at more than twice, or less than half, the flight's own true airspeed.

    Also below 10,000 ft at more than 250 kt of calibrated airspeed, in air 30 degrees C warmer than standard.
    """
    book = (leg.tas_kt for leg in case.legs if leg.phase is Phase.CRUISE and leg.stretch.tas_kt is None)
    own_kt = case.request.tas_kt or next(book, None)
    for leg in case.legs:
        stated_kt, altitude_ft = leg.stretch.tas_kt, level_altitude_ft(leg.stretch.level, leg.altimeter_hpa)
        tas_kt = stated_kt if stated_kt is not None else leg.tas_kt
        if tas_kt is None:
            continue
        if own_kt is not None and not own_kt / _TIMES <= tas_kt <= own_kt * _TIMES:
            yield Found(f"{whole(tas_kt)} kt, where the flight's own is {whole(own_kt)} kt", leg, about=f"{tas_kt}")
        elif tas_kt > _FASTEST_CAS_KT and altitude_ft < _FAST_BELOW_FT:
            warm_c = standard_temperature_c(altitude_ft) + _WARM_C
            fastest_kt = tas_from_cas_kt(cas_kt=_FASTEST_CAS_KT, pressure_altitude_ft=altitude_ft, temperature_c=warm_c)
            if tas_kt > fastest_kt:
                most = f"250 knots indicated, the most below 10,000 ft, are {whole(fastest_kt)} kt in warm air"
                yield Found(f"{whole(tas_kt)} kt at {whole(altitude_ft)} ft: {most}", leg, about=f"{tas_kt}")
