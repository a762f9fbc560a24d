"""Times of day: UTC, and local time beside it where the flight names a zone."""

from __future__ import annotations

from datetime import date, datetime

from navlog.nav import figures


def local_text(moment: datetime | None, zone: str | None, day: date) -> str:
    """The local time with the zone's abbreviation: `10:10 CDT`, a day later `00:10+1 CDT`.

    Empty where there is none or it is UTC. A zone without letters of its own shows its offset: `10:10 UTC-01`.
    """
    if moment is None or zone is None:
        return ""
    from zoneinfo import ZoneInfo

    local = moment.astimezone(ZoneInfo(zone))
    if not local.utcoffset():
        return ""
    name = local.tzname() or zone
    return f"{local:%H:%M}{figures.day_mark(local, day)} {name if name[0].isalpha() else f'UTC{name}'}"


def clock_text(moment: datetime | None, zone: str | None, day: date) -> str:
    """The time in UTC, and in brackets the local one where the flight names a zone."""
    local = local_text(moment, zone, day)
    return f"{figures.zulu(moment, day)} ({local})" if local else figures.zulu(moment, day)
