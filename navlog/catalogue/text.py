"""What the catalogue knows, as lines of text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from itertools import islice
from textwrap import wrap

from navlog.catalogue.editions import Edition, Holding
from navlog.catalogue.reception import Neighbour
from navlog.catalogue.report import ImportReport
from navlog.catalogue.schema import KINDS, OBSTACLE
from navlog.nav import figures
from navlog.nav.angles import position_text
from navlog.nav.chart import Airport, Airway, Fix, Place, Provenance, Segment, Service, Source, Station, StationKind
from navlog.nav.layout import WIDTH, columns
from navlog.nav.radio import morse
from navlog.nav.sectors import Sector

_LABEL = 14
_SOURCES = {
    Source.FILE: "the route file",
    Source.NASR: "FAA NASR",
    Source.CIFP: "FAA CIFP",
    Source.OURAIRPORTS: "OurAirports",
    Source.DOF: "FAA Digital Obstacle File",
}
_LOCATIONS = {"C": "contiguous United States", "A": "Alaska", "H": "Hawaii"}
_UNVERIFIED = "unverified"


def import_lines(report: ImportReport) -> Iterator[str]:
    """What an import took and what was missing; rejected rows have lines of their own."""
    for file in report.files:
        rejected = f", {file.rejected} rejected" if file.rejected else ""
        before = f", {file.before} before" if file.before not in (None, file.rows) else ""
        yield f"{_file_name(file.file)}: {file.rows} {file.kind}{before}{rejected} ({source_text(file.provenance)})"
    for name, consequence in report.missing:
        yield f"{name} is not in this import; where no import before brought it, {consequence}"
    yield from report.notes


def rejection_lines(report: ImportReport) -> Iterator[str]:
    """Every rejected row with its place, in the form that editors can jump to."""
    for file in report.files:
        for rejection in file.rejections:
            yield f"{rejection.file}:{rejection.line}: rejected: {rejection.reason}"
        if file.rejected > len(file.rejections):
            yield f"{file.file}: {file.rejected - len(file.rejections)} more rejected"


def info_lines(editions: Iterable[Edition], sources: Sequence[Provenance], day: date) -> Iterator[str]:
    """Sources, cycles and counts, and which of them the day is answered from."""
    known = tuple(editions)
    holdings = [holding for edition in known for holding in edition.holdings]
    counts = iter(
        columns(
            [
                (KINDS[one.kind], str(one.rows), _holding_text(one, edition.provenance.effective))
                for edition in known
                for one in edition.holdings
            ],
            "lrl",
            indent="  ",
        )
    )
    for edition in known:
        yield source_text(edition.provenance) + use_text(edition.provenance, sources, day)
        yield from islice(counts, len(edition.holdings))
    held = {holding.kind for holding in holdings}
    # A log can do without obstacles, as only terrain asks for them.
    missing = [name for kind, name in KINDS.items() if kind not in held and kind != OBSTACLE]
    if missing:
        yield f"nothing is known of: {', '.join(missing)}"


def _holding_text(holding: Holding, newest: date | None) -> str:
    """The file, with its own date where the edition has a later one."""
    rejected = f", {holding.rejected} rejected" if holding.rejected else ""
    dated = f", of {holding.effective}" if holding.effective not in (None, newest) else ""
    return f"{holding.file}{dated}{rejected}"


def use_text(provenance: Provenance, sources: Sequence[Provenance], day: date) -> str:
    """Whether an edition speaks on a day, and whether it is in force then; nothing where it does not."""
    if provenance not in sources:
        return ""
    return f", used for {day}{_out_of_force(provenance, day)}"


def _out_of_force(provenance: Provenance, day: date) -> str:
    """Why an edition is not in force on a day; nothing where it is."""
    if provenance.expires is not None and provenance.expires <= day:
        return " though expired"
    if provenance.effective is not None and provenance.effective > day:
        return " though not yet in force"
    return ""


def source_text(provenance: Provenance) -> str:
    """The source, its cycle and the days on which it holds."""
    words = [_SOURCES[provenance.source]]
    if provenance.cycle is not None:
        words.append(f"cycle {provenance.cycle}")
    if provenance.effective is not None and provenance.expires is not None:
        last = provenance.expires - timedelta(days=1)
        words.append(f"{provenance.effective} to {last}")
    if provenance.oldest is not None:
        words.append(f"mixed cycles, oldest {provenance.oldest}")
    if not provenance.verified:
        words.append(_UNVERIFIED)
    return ", ".join(words)


def station_lines(station: Station, variation_deg: float | None, day: date, airways: Sequence[str]) -> Iterator[str]:
    """Everything that a pilot asks of a station."""
    kind = station.published_kind or station.kind.value
    yield " ".join(filter(None, [station.ident, kind, station.name, station.region]))
    yield from entry("frequency", _frequency_text(station))
    yield from entry("Morse", morse(station.ident))
    if station.position is not None:
        yield from entry("position", position_text(station.position))
    if station.elevation_ft is not None:
        yield from entry("elevation", f"{figures.whole(station.elevation_ft)} ft")
    yield from entry("declination", _declination_text(station))
    if variation_deg is not None:
        yield from entry("variation", f"{figures.east_west(variation_deg)} on {day}")
    yield from entry("service", _service_text(station))
    yield from entry("status", station.status)
    yield from entry("unusable", *(_sector_text(sector) for sector in station.unusable))
    yield from entry("remarks", *station.remarks)
    yield from entry("airways", " ".join(airways))
    yield from entry("source", source_and_use(station.provenance, day))


def _frequency_text(station: Station) -> str:
    words = []
    if station.frequency_mhz is not None:
        words.append(f"{station.frequency_mhz:.2f} MHz")
    if station.frequency_khz is not None:
        words.append(f"{station.frequency_khz:g} kHz")
    if station.channel is not None:
        words.append(f"channel {station.channel}")
    unverified = [] if station.provenance.verified or not words else [_UNVERIFIED]
    return ", ".join(words + unverified)


def _declination_text(station: Station) -> str:
    if station.declination_deg is None:
        return ""
    text = "true north" if station.true_referenced else figures.east_west(station.declination_deg)
    if station.declination_year is not None:
        text += f" ({station.declination_year})"
    return text if station.provenance.verified else f"{text}, {_UNVERIFIED}"


def _service_text(station: Station) -> str:
    parts = (("VOR", station.service), ("DME", station.dme_service))
    return ", ".join(f"{part} {service}" for part, service in parts if service is not None)


def _sector_text(sector: Sector) -> str:
    """An unusable sector: `VOR 270-290 beyond 10 NM below 1900 ft`."""
    part = {"vor": "VOR", "dme": "DME"}.get(sector.of, "VOR and DME")
    words = [part, f"{sector.start_deg:03.0f}-{sector.end_deg:03.0f}"]
    if sector.beyond_nm is not None:
        words.append(f"beyond {sector.beyond_nm:g} NM")
    if sector.below_ft is not None:
        words.append(f"below {sector.below_ft:.0f} ft")
    return " ".join(words)


def source_and_use(provenance: Provenance, day: date) -> str:
    """The source, and that it is used though it is not in force on a day."""
    return source_text(provenance) + _used_out_of_force(provenance, day)


def _used_out_of_force(provenance: Provenance, day: date) -> str:
    why = _out_of_force(provenance, day)
    return why and f", used for {day}{why}"


def airway_lines(airway: Airway, day: date) -> Iterator[str]:
    """Points, radials, distances and altitudes both ways; what holds on a segment stands under it."""
    location = _LOCATIONS.get(airway.location or "", airway.location)
    yield f"{airway.ident} ({location}), {source_text(airway.provenance)}"
    if why := _out_of_force(airway.provenance, day):
        yield f"  used for {day}{why}"
    for remark in airway.remarks:
        yield from wrap(remark, WIDTH, initial_indent="  ", subsequent_indent="  ")
    yield "  radials: leaving the point, arriving at the next; MEA: onward, back"
    places = airway.places or (None,) * len(airway.points)
    names = [f"{point} {_kind_text(place)}".rstrip() for point, place in zip(airway.points, places, strict=True)]
    rows = [(name, *_segment_cells(segment)) for name, segment in zip(names, airway.segments, strict=False)]
    heads = ("point", "radials", "NM", "MEA", "MOCA", "MAA")
    heading, *table = columns([heads, *rows, (names[-1], *[""] * 5)], "lrrrrr", indent="  ")
    yield heading
    for line, segment, place in zip(table, airway.segments, places, strict=False):
        yield line
        for note in _segment_notes(segment, place):
            yield from wrap(note, WIDTH, initial_indent="      ", subsequent_indent="        ")
    yield table[-1]


def _segment_cells(segment: Segment) -> tuple[str, str, str, str, str]:
    radials = [figures.NOT_APPLICABLE if one is None else figures.course(one) for one in _ends(segment)]
    along = figures.NOT_APPLICABLE if segment.distance_nm is None else f"{segment.distance_nm:.2f}"
    onward, back = segment.mea.forward_ft, segment.mea.backward_ft
    mea = figures.level(onward) if onward == back else f"{figures.level(onward)}/{figures.level(back)}"
    moca, maa = figures.level(segment.moca.forward_ft), figures.level(segment.maa.forward_ft)
    return "/".join(radials), along, mea, moca, maa


def _ends(segment: Segment) -> tuple[float | None, float | None]:
    return segment.start_radial_deg, segment.end_radial_deg


def _segment_notes(segment: Segment, place: Place | None) -> Iterator[str]:
    if segment.service is not Service.NORMAL:
        yield segment.service.value
    if isinstance(place, Fix) and place.mra_ft is not None:
        yield f"MRA {figures.level(place.mra_ft)} at {segment.start}"
    if segment.gnss_mea.forward_ft is not None:
        yield f"GNSS MEA {figures.level(segment.gnss_mea.forward_ft)}"
    for changeover in segment.changeovers:
        until = f", as far as {changeover.until}" if changeover.until is not None else ""
        yield f"COP {changeover.distance_nm:g} NM from {changeover.station} to {changeover.ahead}{until}"
    for crossing in segment.crossings:
        kind = "MTA" if crossing.turning else "MCA"
        arriving = f" from {crossing.coming_from}" if crossing.coming_from is not None else ""
        toward = f" toward {crossing.toward}" if crossing.toward is not None else ""
        yield f"{kind} {figures.level(crossing.altitude_ft)} at {crossing.at}{arriving}{toward}"
    if segment.along is not None:
        yield f"fly {segment.along.station} radial {figures.course(segment.along.radial_deg)}"
    if segment.turn:
        yield f"turn at {segment.end}"
    yield from segment.remarks


def neighbour_lines(neighbours: Iterable[Neighbour], altitude_ft: float | None) -> list[str]:
    """Places with the radial there, true course to each, and distance; with an altitude, who is received there."""
    heads = ("place", "frequency", "radial", "course", "NM", "received", "name")
    asked = altitude_ft is not None
    rows = [cells if asked else (*cells[:5], *cells[6:]) for cells in (heads, *map(_neighbour_cells, neighbours))]
    return columns(rows, "lrrrrll" if asked else "lrrrrl")


def _neighbour_cells(one: Neighbour) -> tuple[str, str, str, str, str, str, str]:
    place = one.place
    tuned = f"{place.frequency_mhz:.2f}" if isinstance(place, Station) and place.frequency_mhz else ""
    name = f"{place.ident} {_kind_text(place)}".rstrip()
    away = figures.distance(one.distance_nm)
    radial = figures.NOT_APPLICABLE if one.radial_deg is None else figures.course(one.radial_deg)
    course = figures.NOT_APPLICABLE if one.course_deg is None else f"{figures.course(one.course_deg)}T"
    return name, tuned, radial, course, away, _reception_text(one), place.name or ""


def _reception_text(one: Neighbour) -> str:
    if not isinstance(one.place, Station):
        return ""
    dme_only = one.unusable == ("dme",) and one.place.kind is StationKind.VOR
    if one.unusable and not dme_only:
        return "unusable"
    if one.in_sight is None:
        return figures.UNKNOWN
    if not one.in_sight:
        return "too low"
    if one.in_service is False:
        return "too far"
    if dme_only:
        return "VOR only"
    return "in sight" if one.in_service is None else "yes"


def _kind_text(place: Place | None) -> str:
    if isinstance(place, Station):
        return place.published_kind or place.kind.value
    return place.kind if isinstance(place, Airport) else ""


def entry(label: str, *texts: str | None) -> Iterator[str]:
    """A labelled line; further texts stand below the first, nothing for none."""
    lines = [line for text in texts if text for line in wrap(text, WIDTH - _LABEL - 2)]
    for number, line in enumerate(lines):
        yield f"  {label if number == 0 else '':<{_LABEL}}{line}"


def _file_name(label: str) -> str:
    return label.replace("\\", "/").rpartition("/")[2]
