"""Statements that describe the chart: `station`, `airport`, `fix`, and what they share."""

from __future__ import annotations

from navlog.nav.angles import position_word_count, read_position
from navlog.nav.chart import Airport, Position, Station, StationKind
from navlog.nav.problems import problem_error
from navlog.nav.radio import channel_for, check_vor_frequency, frequency_for
from navlog.nav.record import changed
from navlog.nav.sectors import Sector
from navlog.nav.units import (
    read_altitude_ft,
    read_angle_deg,
    read_declination_deg,
    read_distance_nm,
    read_elevation_ft,
    read_frequency,
    read_frequency_khz,
)
from navlog.request.cursor import Cursor, joined_span
from navlog.request.records import FixDefinition, Name
from navlog.request.route_line import check_identifier, check_new_identifier, check_station_identifier
from navlog.request.tree import Word

STATION_OPTIONS = ("decl", "class", "dme", "kind", "elev", "unusable", "name")
AIRPORT_OPTIONS = ("elev", "name")
FIX_OPTIONS = ("mra",)
_KINDS = ("vor", "dme", "tacan", "ndb")
_CLASSES = {
    "T": "T", "L": "L", "H": "H", "VL": "VL", "VH": "VH", "terminal": "T", "low": "L", "high": "H",
}  # fmt: skip
_DME_CLASSES = ("DL", "DH", "T", "L", "H")
_SOMEWHERE = Position(0.0, 0.0)


def read_station(cursor: Cursor) -> Station:
    """`station` IDENT MHZ [POSITION] and its options; kHz for an NDB, the channel for a TACAN."""
    ident = read_new_name(cursor, letters_only=True)
    frequency = cursor.take("a frequency")
    position = _read_position_if_any(cursor)
    station = Station(ident.ident, StationKind.VOR, position, span=ident.span)
    given: set[str] = set()
    while not cursor.at_end:
        option = cursor.take_option(STATION_OPTIONS, given, repeatable=("unusable",))
        station = _station_option(cursor, option, station)
    return _tuned(cursor, frequency, station)


def read_airport(cursor: Cursor) -> Airport:
    """`airport` IDENT POSITION [`elev`] [`name`]."""
    ident = read_new_name(cursor)
    position = _read_position_if_any(cursor)
    if position is None:
        position = cursor.read("a position", read_position, _SOMEWHERE)
    airport = Airport(ident.ident, position, span=ident.span)
    given: set[str] = set()
    while not cursor.at_end:
        if cursor.take_option(AIRPORT_OPTIONS, given).text == "elev":
            airport = changed(airport, elevation_ft=cursor.read("an elevation", read_elevation_ft, 0.0))
        else:
            airport = changed(airport, name=cursor.take_quoted("its name"))
    return airport


def read_fix(cursor: Cursor) -> FixDefinition:
    """`fix` IDENT by position, by radial and distance, or by two crossing radials, and [`mra`]."""
    ident = read_new_name(cursor)
    position = _read_position_if_any(cursor)
    fix = FixDefinition(ident.ident, ident.span, position)
    if position is None:
        fix = _fix_by_radials(cursor, fix)
    for name, _ in fix.radials:
        if name.ident == fix.ident:
            clash = f"the fix has the name of `{name.ident}`, the station that it lies from"
            cursor.report(Word(fix.ident, fix.span), "name-clash", clash, "give the fix a name of its own")
    given: set[str] = set()
    while not cursor.at_end:
        cursor.take_option(FIX_OPTIONS, given)
        fix = changed(fix, mra_ft=cursor.read("an altitude", read_altitude_ft, 0.0))
    return fix


def read_new_name(cursor: Cursor, *, letters_only: bool = False) -> Name:
    """The identifier that a statement defines."""
    word = cursor.take("an identifier")
    check = _check_new_station if letters_only else check_new_identifier
    return Name(cursor.convert(word, check, word.text), word.span)


def read_name(cursor: Cursor, what: str) -> Name:
    """An identifier defined somewhere else."""
    word = cursor.take(what)
    return Name(cursor.convert(word, check_identifier, word.text), word.span)


def read_station_name(cursor: Cursor) -> Name:
    """The identifier of a station defined somewhere else."""
    word = cursor.take("a station")
    return Name(cursor.convert(word, check_station_identifier, word.text), word.span)


def _read_position_if_any(cursor: Cursor) -> Position | None:
    """The position that the next words write, None where they don't."""
    count = position_word_count([cursor.peek(ahead) for ahead in range(len(cursor.rest()))])
    if not count:
        return None
    words = tuple(cursor.take("a position") for _ in range(count))
    text = " ".join(word.text for word in words)
    return cursor.guard(lambda: read_position(text), joined_span(words), _SOMEWHERE)


def read_positive_distance_nm(text: str) -> float:
    """A distance in NM that is more than nothing."""
    distance_nm = read_distance_nm(text)
    if not distance_nm:
        raise problem_error("bad-value", f"distance `{text}` is zero")
    return distance_nm


def _check_new_station(text: str) -> str:
    return check_new_identifier(check_station_identifier(text))


def _station_option(cursor: Cursor, option: Word, station: Station) -> Station:
    match option.text:
        case "decl":
            if cursor.take_if("true"):
                return changed(station, declination_deg=0.0, true_referenced=True)
            return changed(station, declination_deg=cursor.read("a declination", read_declination_deg, 0.0))
        case "class":
            return changed(station, service=_CLASSES[cursor.take_choice("a class", _CLASSES)])
        case "dme":
            if cursor.peek()[:1].isdigit():
                station = changed(station, channel=cursor.read("a channel", _channel, None))
            if cursor.peek() in _DME_CLASSES:
                station = changed(station, dme_service=cursor.take("a class").text)
            return changed(station, dme=True)
        case "kind":
            return changed(station, kind=StationKind(cursor.take_choice("a kind", _KINDS)))
        case "elev":
            return changed(station, elevation_ft=cursor.read("an elevation", read_elevation_ft, 0.0))
        case "unusable":
            return changed(station, unusable=(*station.unusable, _read_sector(cursor)))
        case _:
            return changed(station, name=cursor.take_quoted("its name"))


def _read_sector(cursor: Cursor) -> Sector:
    """`150-160` [`beyond` 10nm] [`below` 1900ft]: radials clockwise from the first to the second."""
    start_deg, end_deg = cursor.read("two radials", _two_radials, (360.0, 360.0))
    sector = Sector(start_deg, end_deg)
    while limit := cursor.take_if("beyond", "below"):
        if limit.text == "beyond" and sector.beyond_nm is None:
            sector = changed(sector, beyond_nm=cursor.read("a distance", read_distance_nm, 0.0))
        elif limit.text == "below" and sector.below_ft is None:
            sector = changed(sector, below_ft=cursor.read("an altitude", read_altitude_ft, 0.0))
        else:
            cursor.stop(limit, "given-twice", f"`{limit.text}` is given twice")
    return sector


def _two_radials(text: str) -> tuple[float, float]:
    start, dash, end = text.partition("-")
    if not dash:
        raise problem_error("bad-value", f"`{text}` is not a sector", hint="write two radials: 150-160")
    first_deg, last_deg = read_angle_deg(start), read_angle_deg(end)
    # 000 reads as 360, and from there to 360 is one radial: all round is meant.
    return (0.0, 360.0) if last_deg == 360.0 and start in ("000", "001") else (first_deg, last_deg)


def _fix_by_radials(cursor: Cursor, fix: FixDefinition) -> FixDefinition:
    """STN RADIAL, then a distance, a DME reading with its altitude, or `x` and another STN RADIAL."""
    first = _read_radial(cursor)
    if cursor.take_if("x"):
        return changed(fix, radials=(first, _read_radial(cursor)))
    if not cursor.take_if("dme"):
        distance_nm = cursor.read("a distance, or `x`", read_positive_distance_nm, 0.0)
        return changed(fix, radials=(first,), distance_nm=distance_nm)
    distance_nm = cursor.read("a DME reading", read_positive_distance_nm, 0.0)
    if not cursor.take_if("at"):
        place = cursor.words[-1] if cursor.at_end else cursor.take("`at`")
        cursor.stop(place, "missing-word", "a DME reading lacks its altitude", "write dme 21 at 5500")
    altitude_ft = cursor.read("an altitude", read_altitude_ft, 0.0)
    return changed(fix, radials=(first,), distance_nm=distance_nm, dme_altitude_ft=altitude_ft)


def _read_radial(cursor: Cursor) -> tuple[Name, float]:
    return read_station_name(cursor), cursor.read("a radial", read_angle_deg, 360.0)


def _channel(text: str) -> str:
    """A TACAN or DME channel as written: `84X`."""
    if frequency_for(text) is None:
        raise problem_error("bad-channel", f"`{text}` is not a channel", hint="write 1 to 126 and X or Y: 84X")
    return text


def _tuned(cursor: Cursor, frequency: Word, station: Station) -> Station:
    """`station` with what its kind is tuned by: MHz, kHz or a channel."""
    match station.kind:
        case StationKind.NDB:
            return changed(station, frequency_khz=cursor.convert(frequency, read_frequency_khz, 0.0))
        case StationKind.TACAN:
            channel = cursor.convert(frequency, _channel, None)
            _check_pair(cursor, station, channel)
            return changed(station, channel=channel, dme=True)
        case StationKind.DME:
            frequency_mhz = cursor.convert(frequency, _dme_frequency, None)
            station = changed(station, dme=True)
        case _:
            frequency_mhz = cursor.convert(frequency, _vor_frequency, None)
    if frequency_mhz is not None:
        _check_pair(cursor, station, channel_for(frequency_mhz))
    return changed(station, frequency_mhz=frequency_mhz)


def _vor_frequency(text: str) -> float:
    paired_mhz = frequency_for(text)
    if paired_mhz is not None:
        hint = f"write {paired_mhz:.2f}, or kind tacan"
        raise problem_error("bad-frequency", f"`{text}` is a channel", hint=hint)
    return check_vor_frequency(text)


def _dme_frequency(text: str) -> float:
    """The frequency in MHz that a DME's channel is paired with, a VOR's or a localizer's."""
    channel_for(text)
    return read_frequency(text)


def _check_pair(cursor: Cursor, station: Station, paired: str | None) -> None:
    """A problem where the channel that `dme` states is not the one paired with the frequency."""
    if station.channel is None or paired is None or station.channel == paired:
        return
    written = next(word for word in cursor.words if word.text == station.channel)
    message = f"channel {station.channel} is not paired with {cursor.words[1].text}"
    cursor.report(written, "unpaired-channel", message, f"the paired channel is {paired}")
