"""What each notice of a text was taken to mean: in words, or a line of JSON each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from textwrap import wrap
from typing import Any

from msgspec.structs import asdict

from navlog.nav.chart import Position
from navlog.nav.layout import WIDTH
from navlog.nav.notices import MARGIN, Effect, Notice, OtherMatter, effect_words, period_words
from navlog.nav.sectors import Sector

_SCHEMA = "navlog/notices-1"
_INDENT = "    "


def notice_lines(notices: tuple[Notice, ...], file: str, moment: datetime | None) -> Iterator[str]:
    """Each notice with its line, when it counts and what it means; one that is not understood is printed whole.

    With a `moment` it is told whether it counts then.
    """
    for notice in notices:
        void = f": {notice.void}, counts no more" if notice.void is not None else ""
        yield f"{notice.span.file}:{notice.span.line}: {notice.ident} ({notice.location}){void}"
        if notice.unread is not None:
            what = "not understood" if not _known(notice) else "not understood whole"
            yield f"{_INDENT}{what}: {notice.unread}"
            yield from _wrapped(notice.text)
        yield from (f"{_INDENT}{effect_words(one)}" for one in notice.effects)
        counts = _counts(notice, moment)
        then = "" if counts is None else ": counts then" if counts else ": does not count then"
        yield f"{_INDENT}{period_words(notice)}{then}"
    yield _count(notices, file)


def _counts(notice: Notice, moment: datetime | None) -> bool | None:
    return notice.counts_at(moment, MARGIN) if moment is not None else None


def _known(notice: Notice) -> bool:
    return any(not isinstance(one, OtherMatter) for one in notice.effects)


def _wrapped(text: str) -> Iterator[str]:
    width = WIDTH - 2 * len(_INDENT)
    yield from (f"{_INDENT}{_INDENT}{line}" for line in wrap(text, width, break_on_hyphens=False))


def _count(notices: tuple[Notice, ...], file: str) -> str:
    unread = sum(one.unread is not None for one in notices)
    void = sum(one.void is not None for one in notices)
    idle = sum(one.unread is None and not _known(one) for one in notices)
    noun = "notice" if len(notices) == 1 else "notices"
    return (
        f"{file}: {len(notices)} {noun}, {unread} not understood or not whole, {void} cancelled or replaced,"
        f" {idle} that change no figure of a log"
    )


def notices_json(notices: Iterable[Notice], moment: datetime | None) -> str:
    """One object a line and a notice; `counts` is null without a `moment`."""
    import json

    return "".join(json.dumps(_notice_object(one, moment), ensure_ascii=True) + "\n" for one in notices)


def _notice_object(notice: Notice, moment: datetime | None) -> dict[str, Any]:
    return {
        "schema": _SCHEMA,
        "ident": notice.ident,
        "form": str(notice.form),
        "file": notice.span.file,
        "line": notice.span.line,
        "location": notice.location,
        "from": _moment_text(notice.period.start),
        "to": _moment_text(notice.period.end),
        "estimated": notice.period.estimated,
        "hours": notice.schedule,
        "hours_read": notice.hours_read if notice.schedule is not None else None,
        "effects": [_effect_object(one) for one in notice.effects],
        "not_understood": notice.unread,
        "void": notice.void,
        "counts": _counts(notice, moment),
        "text": notice.text,
    }


def _effect_object(effect: Effect) -> dict[str, Any]:
    from re import sub

    records = Sector, Position
    told = {key: asdict(value) if isinstance(value, records) else value for key, value in asdict(effect).items()}
    kind = sub(r"(?<=[a-z])(?=[A-Z])", "-", type(effect).__name__).lower()
    return {"kind": kind, "means": effect_words(effect), **told}


def _moment_text(moment: datetime | None) -> str | None:
    return f"{moment:%Y-%m-%dT%H:%MZ}" if moment is not None else None
