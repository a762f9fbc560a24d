"""The records of notices: what one takes from a station, a segment or a fix, and when.

A notice says so in effects, each about one thing. Times are UTC; radials are the station's own, altitudes feet MSL.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from enum import StrEnum
from typing import TypeAlias

from msgspec import Struct

from navlog.nav.angles import position_text
from navlog.nav.chart import Position
from navlog.nav.problems import Span, problem_error
from navlog.nav.sectors import Sector

MARGIN = timedelta(minutes=30)
"""How near to a notice's hours a flight may come before it counts: an arrival is a plan, not a promise."""

BY_MARGIN = ", within 30 minutes of its use"
"""Said of a notice that counts by the margin alone."""

_PART_WORDS = {"vor": "VOR", "dme": "DME", "both": "VOR and DME"}


class StationOut(Struct, frozen=True):
    """A station's part "vor", "dme" or "both" is not to be used; `why` in words, as "out of service"."""

    station: str
    of: str
    why: str = "out of service"


class StationSector(Struct, frozen=True):
    """A station is unusable on some radials, beyond a distance or below an altitude."""

    station: str
    sector: Sector


class StationUnmonitored(Struct, frozen=True):
    """Nobody watches over the station: it may be used, and nobody tells when it fails (FAA AIM 1-1-3)."""

    station: str


class SegmentMinimum(Struct, frozen=True):
    """Another MEA, MOCA or MAA (`kind`) on airways from one point to another, where `way` is set that way alone."""

    airways: tuple[str, ...]
    start: str
    end: str
    kind: str
    altitude_ft: float
    way: str | None = None


class SegmentClosed(Struct, frozen=True):
    """Airways from one point to another are not to be flown by VOR."""

    airways: tuple[str, ...]
    start: str
    end: str


class SegmentChangeover(Struct, frozen=True):
    """Another changeover point on airways between two points: `distance_nm` from `station`."""

    airways: tuple[str, ...]
    start: str
    end: str
    station: str
    distance_nm: float


class CrossingMinimum(Struct, frozen=True):
    """An MCA at a point of airways, for those who go on `way`."""

    airways: tuple[str, ...]
    at: str
    altitude_ft: float
    way: str | None = None


class ReceptionMinimum(Struct, frozen=True):
    """An MRA of a fix."""

    fix: str
    altitude_ft: float


def airport_names(ident: str) -> tuple[str, ...]:
    """The identifiers under which a flight may have an airport that a notice names."""
    # The domestic form names it without its `K`, the ICAO form with it (from memory of FAA Order JO 7930.2).
    return (ident, f"K{ident}", *((ident[1:],) if len(ident) == 4 and ident[0] == "K" else ()))


class AirportClosed(Struct, frozen=True):
    """An airport is closed."""

    airport: str


class NoFuel(Struct, frozen=True):
    """Fuel, of one kind or of all, is not to be had at an airport."""

    airport: str


class Disc(Struct, frozen=True):
    """All within `radius_nm` of `middle`."""

    middle: Position
    radius_nm: float = 0.0


class ObstacleTold(Struct, frozen=True):
    """An obstacle within `radius_nm` of a position, lit or not, its top above the sea in feet where that is read."""

    position: Position
    top_ft: float | None
    radius_nm: float = 0.0


class Cancellation(Struct, frozen=True):
    """Another notice is cancelled."""

    ident: str


class OtherMatter(Struct, frozen=True):
    """What is understood to change nothing that a log computes: a runway, an obstacle, TACAN azimuth.

    Only where that is `sure` may the notice name what a flight uses and still mean nothing to it.
    """

    subject: str
    sure: bool = True


Effect: TypeAlias = (
    StationOut
    | StationSector
    | StationUnmonitored
    | SegmentMinimum
    | SegmentClosed
    | SegmentChangeover
    | CrossingMinimum
    | ReceptionMinimum
    | AirportClosed
    | NoFuel
    | ObstacleTold
    | Cancellation
    | OtherMatter
)


class AidTold(Struct, frozen=True):
    """A VOR or DME that a notice tells without its identifier: by name, by frequency, by the circle of its Q line.

    `effects` are what it takes from it, with the station left empty; `words` are empty where the notice is cut short.
    """

    name: str | None = None
    frequency_mhz: float | None = None
    circle: Disc | None = None
    effects: tuple[StationOut | StationSector | StationUnmonitored, ...] = ()
    words: str = ""


class NoticeForm(StrEnum):
    """How a notice is written."""

    DOMESTIC = "domestic"
    FDC = "FDC"
    ICAO = "ICAO"


class Period(Struct, frozen=True):
    """From when to when; None where no beginning or no end is told. An end may be `estimated`."""

    start: datetime | None = None
    end: datetime | None = None
    estimated: bool = False


class Notice(Struct, frozen=True):
    """One notice as read from a text: `ident` is its name, as "!MCN 05/552", `text` its words on one line.

    `location` is what it is filed under. `unread` says why it is not understood, or not whole; its effects are then
    what was understood. `void` says by what it is cancelled or replaced. `schedule` are hours within the period as
    published; where they are not read (`hours_read`), it counts throughout. `aid` is a station that one not understood
    tells without its identifier.
    """

    ident: str
    form: NoticeForm
    location: str
    text: str
    span: Span
    period: Period = Period()
    effects: tuple[Effect, ...] = ()
    unread: str | None = None
    void: str | None = None
    schedule: str | None = None
    aid: AidTold | None = None

    @property
    def body(self) -> str:
        """Its words after what it is filed under: item E of the ICAO form."""
        after = " E)" if self.form is NoticeForm.ICAO else f" {self.location} "
        return self.text.partition(after)[2]

    @property
    def lapses(self) -> bool:
        """Whether it ends by itself: the ICAO form stands at an estimated end until it is replaced or cancelled.

        From memory of FAA Order JO 7930.2, 4-3 and 7-2, by which a notice with `EST` expires at that time, and of
        ICAO Doc 8126, chapter 6, by which it does not.
        """
        # Of two readings the one that lets a notice stand longer is the safe one, where the form allows it.
        return self.period.end is not None and not (self.period.estimated and self.form is NoticeForm.ICAO)

    def counts_at(self, moment: datetime, margin: timedelta) -> bool:
        """Whether it is in force at a moment, or within `margin` of it; a cancelled one never is."""
        return self.void is None and self.in_force(moment - margin, moment + margin)

    def in_force(self, first: datetime, last: datetime) -> bool:
        """Whether it is in force at some moment from `first` to `last`: within its period, and its hours if read."""
        # A beginning that nobody told has begun: what is unknown is held against the flight.
        begun = self.period.start is None or self.period.start <= last
        over = self.lapses and self.period.end is not None and self.period.end < first
        if not begun or over:
            return False
        if self.schedule is None:
            return True
        from navlog.nav.notice_hours import open_between, read_hours

        hours = read_hours(self.schedule)
        if hours is None:
            return True
        # Hours before the beginning or after the end of the period are none.
        first = max(first, self.period.start) if self.period.start is not None else first
        last = min(last, self.period.end) if self.lapses and self.period.end is not None else last
        return open_between(hours, min(first, last), max(first, last))

    def puts_out(self, station: str) -> bool:
        """Whether it puts a station out of service, more of it than its DME."""
        return any(isinstance(one, StationOut) and one.station == station and one.of != "dme" for one in self.effects)

    @property
    def hours_read(self) -> bool:
        """Whether it has hours within its period that are read."""
        if self.schedule is None:
            return False
        from navlog.nav.notice_hours import read_hours

        return read_hours(self.schedule) is not None


def read_moment(text: str) -> datetime:
    """A moment in UTC, from `2026-07-18 15:10Z`; raises a `bad-value` problem."""
    try:
        return datetime.strptime(text.replace("T", " "), "%Y-%m-%d %H:%MZ").replace(tzinfo=UTC)
    except ValueError:
        hint = "write date and time in UTC: '2026-07-18 15:10Z'"
        raise problem_error("bad-value", f"`{text}` is no moment", hint=hint) from None


AT_ALL_TIMES = "it counts at all times"
"""What is told of a notice whose hours are not known."""


def period_between(start: str, end: str, *, estimated: bool) -> Period:
    """The period from ten digits to ten digits, PERM or UFN, in UTC; without times where they cannot be."""
    first = _read_moment(start)
    last = None if end in ("PERM", "UFN") else _read_moment(end)
    # A slip in one of the two: which of them is wrong nobody can tell, so it counts at all times.
    return Period() if wrong_times(start, end) is not None else Period(first, last, estimated)


def wrong_times(start: str, end: str) -> str | None:
    """What is wrong with the times of a notice: one is no date, or it ends before it begins; None where nothing is."""
    for told in (start, end):
        if told not in ("PERM", "UFN") and _read_moment(told) is None:
            return f"its time {told} is no date: {AT_ALL_TIMES}"
    first, last = _read_moment(start), None if end in ("PERM", "UFN") else _read_moment(end)
    if first is None or last is None or last > first:
        return None
    return f"its times contradict each other, {end} is not after {start}: {AT_ALL_TIMES}"


def _read_moment(digits: str) -> datetime | None:
    """A moment of ten digits, `2205241348`, in UTC; None where there is no such moment. 2359 is the last of a day."""
    try:
        return datetime.strptime(digits, "%y%m%d%H%M").replace(tzinfo=UTC)
    except ValueError:
        return None


def effect_words(effect: Effect) -> str:
    """What an effect means, in one line."""
    match effect:
        case StationOut():
            return f"{effect.station} {_PART_WORDS[effect.of]} {effect.why}"
        case StationSector():
            return f"{effect.station} {_PART_WORDS[effect.sector.of]} unusable {_sector_words(effect.sector)}"
        case StationUnmonitored():
            return f"{effect.station} not monitored"
        case SegmentMinimum():
            way = f" {effect.way}bound" if effect.way is not None else ""
            return f"{_stretch_words(effect)} {effect.kind} {effect.altitude_ft:.0f} ft{way}"
        case SegmentClosed():
            return f"{_stretch_words(effect)} not to be flown by VOR"
        case SegmentChangeover():
            return f"{_stretch_words(effect)} changeover point {effect.distance_nm:g} NM from {effect.station}"
        case CrossingMinimum():
            way = f" {effect.way}bound" if effect.way is not None else ""
            return f"{', '.join(effect.airways)} at {effect.at} MCA {effect.altitude_ft:.0f} ft{way}"
        case ReceptionMinimum():
            return f"{effect.fix} MRA {effect.altitude_ft:.0f} ft"
        case AirportClosed() | NoFuel():
            return f"{effect.airport} {'closed' if isinstance(effect, AirportClosed) else 'fuel not available'}"
        case ObstacleTold():
            high = f"of {effect.top_ft:.0f} ft MSL" if effect.top_ft is not None else "of a height not read"
            near = f"within {effect.radius_nm:.1f} NM of" if effect.radius_nm > 0.0 else "at"
            return f"obstacle {high} {near} {position_text(effect.position)}"
        case Cancellation():
            return f"cancels {effect.ident}"
        case OtherMatter():
            return f"changes no figure of a log: {effect.subject}"


def _stretch_words(effect: SegmentMinimum | SegmentClosed | SegmentChangeover) -> str:
    return f"{', '.join(effect.airways)} {effect.start} to {effect.end}"


def _sector_words(sector: Sector) -> str:
    """A sector's radials and limits: "on R-301 to R-325 beyond 10 NM below 5000 ft"."""
    words = []
    width_deg = sector.end_deg - sector.start_deg
    if width_deg == 0.0:
        words.append(f"on R-{sector.start_deg:03.0f}")
    elif width_deg < 360.0:
        words.append(f"on R-{sector.start_deg:03.0f} to R-{sector.end_deg:03.0f}")
    if sector.beyond_nm is not None:
        words.append(f"beyond {sector.beyond_nm:g} NM")
    if sector.below_ft is not None:
        words.append(f"below {sector.below_ft:.0f} ft")
    return " ".join(words) or "everywhere"


def period_words(notice: Notice, *, near: bool = False) -> str:
    """When a notice counts: "from 2022-10-25 21:27Z to 2024-10-25 21:27Z"; `near` where no use is within it."""
    start, end = notice.period.start, notice.period.end
    words = f"from {start:%Y-%m-%d %H:%M}Z" if start is not None else "from a time not told"
    if end is None:
        words += ", no end"
    elif notice.period.estimated:
        stands = "" if notice.lapses else ": stands until replaced or cancelled"
        words += f", estimated to {end:%Y-%m-%d %H:%M}Z{stands}"
    else:
        words += f" to {end:%Y-%m-%d %H:%M}Z"
    if notice.schedule is not None:
        words += f", hours {notice.schedule}" + ("" if notice.hours_read else ", not read")
    return words + BY_MARGIN if near else words
