"""Times of day as a pilot writes them in flight: UTC, to the minute or the second."""

from __future__ import annotations

from navlog.nav.problems import problem_error

DAY_MIN = 1440.0
_DIGITS = "0123456789"


def read_clock_min(text: str) -> float:
    """Minutes after midnight UTC from `15:42`, `15:42Z`, `1542`, `1542Z` or `15:42:30`.

    Raises a `bad-time` problem for anything else.
    """
    plain = text[:-1] if text[-1:] in ("Z", "z") else text
    parts = plain.split(":") if ":" in plain else [plain[:-2], plain[-2:]]
    numbers = [int(part) if part and len(part) <= 2 and not part.strip(_DIGITS) else None for part in parts]
    if len(parts) not in (2, 3) or None in numbers or any(len(part) != 2 for part in parts[1:]):
        raise problem_error("bad-time", f"`{text}` is not a time of day", hint="write UTC such as 15:42Z or 1542")
    hour, minute, second = (*(number for number in numbers if number is not None), 0)[:3]
    if hour > 23 or minute > 59 or second > 59:
        raise problem_error("bad-time", f"there is no time `{text}`", hint="times run from 00:00 to 23:59")
    return hour * 60.0 + minute + second / 60.0
