"""The workings of oxygen and daylight, and of what a second VOR receiver is best set to."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.airfields import airfields
from navlog.flightlog.altitudes import pressure_ft
from navlog.flightlog.facts import setting_text
from navlog.flightlog.oxygen import CREW_AFTER_30_MIN_FT, CREW_FT, EVERYONE_FT, high_time, share_above
from navlog.flightlog.records import Leg, Log
from navlog.nav.figures import half_up, whole
from navlog.nav.workings import COMMON_PRACTICE, Working, hundredths

_HEIGHTS = (
    (CREW_AFTER_30_MIN_FT, "14 CFR 91.211(a)(1): the crew for what is longer than 30 minutes"),
    (CREW_FT, "14 CFR 91.211(a)(2): the crew all the time"),
    (EVERYONE_FT, "14 CFR 91.211(a)(3): everyone is provided with it"),
)


def limits(log: Log) -> tuple[Working, ...]:
    """The minutes above each height of 14 CFR 91.211 that the flight reaches, and the sun at each landing."""
    return (*_oxygen(log), *_daylight(log))


def second_receiver(leg: Leg) -> Iterator[Working]:
    """What the receiver that does not guide is best set to on a leg; nothing with one, and where nothing is ahead."""
    setting = leg.other_setting
    if setting is None:
        return
    yield Working(
        f"second VOR receiver: {setting.kind.value} for {setting.place}",
        "the first ahead before a landing: another station's radial that tells a leg's end, or the station that"
        " guides next",
        "",
        f"{setting.guidance.station.ident}, {setting_text(setting.guidance)}",
        COMMON_PRACTICE,
    )


def _oxygen(log: Log) -> Iterator[Working]:
    """The minutes above a height, leg by leg; nothing of a height that is not reached."""
    found = high_time(log.legs)
    known = (found.above_12500_min, found.above_14000_min, found.above_15000_min)
    for (height_ft, source), total_min in zip(_HEIGHTS, known, strict=True):
        terms = [(leg, share_above(leg, height_ft)) for leg in log.legs]
        high = [f"{hundredths(leg.time_min or 0.0)} x {hundredths(share)}" for leg, share in terms if share]
        if total_min and high:
            yield Working(
                f"time above {whole(height_ft)} ft",
                "sum of each leg's minutes x the share of them that is higher, its height changing evenly",
                " + ".join(high),
                f"{hundredths(total_min)} min, up to {whole(_highest_ft(log.legs))} ft",
                source,
            )


def _highest_ft(legs: tuple[Leg, ...]) -> float:
    """The highest pressure altitude or altitude flown."""
    ends = [(leg.start_altitude_ft, leg.altimeter_hpa) for leg in legs]
    ends += [(leg.end_altitude_ft, leg.altimeter_hpa) for leg in legs]
    return max(max(height_ft, pressure_ft(height_ft, hpa)) for height_ft, hpa in ends)


def _daylight(log: Log) -> Iterator[Working]:
    """How long before sunset and the end of evening civil twilight each landing is, exact."""
    for one in airfields(log):
        sun, landing = one.sun, one.arrival
        if sun is None or landing is None:
            continue
        margins = (
            ("sunset", sun.sunset, one.sunset_margin_min),
            ("the end of civil twilight", sun.dusk, one.twilight_margin_min),
        )
        for name, event, margin_min in margins:
            if event is not None and margin_min is not None:
                yield Working(
                    f"{name} at {one.ident} ({one.role.value})",
                    "event - landing",
                    f"{event:%H:%M:%S}Z - {landing:%H:%M:%S}Z",
                    f"{half_up(margin_min):+d} min",
                    "sun's centre 0.833 or 6 degrees below the horizon; night by 14 CFR 1.1",
                )
