"""Numbers, moments and sources as the JSON of a flight writes them."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from navlog.nav.chart import Provenance

Json = dict[str, Any]

_DECIMALS = 9


def number(value: float | None) -> float | None:
    """A number as it is written: nine decimals at most, and never minus zero."""
    return None if value is None else round(value, _DECIMALS) + 0.0


def moment(when: datetime | None) -> str | None:
    """A moment in UTC with milliseconds."""
    if when is None:
        return None
    return when.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def source_object(source: Provenance) -> Json:
    """One source of published data."""
    return {
        "source": source.source.value,
        "cycle": source.cycle,
        "effective": source.effective.isoformat() if source.effective is not None else None,
        "expires": source.expires.isoformat() if source.expires is not None else None,
    }
