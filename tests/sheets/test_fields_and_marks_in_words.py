"""Fields beside the way, receiver checks and what tells a place, in the words of the sheets, worked by hand."""

from __future__ import annotations

from typing import Any

import pytest
from helpers.drawn import reports

from navlog.flightlog.records import Leg, Log, Mark, Trouble
from navlog.nav.chart import Airport, Position, Provenance, Source, Station, StationKind
from navlog.nav.receiver_check import Checkpoint
from navlog.nav.record import changed
from navlog.printed.back import BackPart, back
from navlog.printed.diverting import BEFORE_DRAWINGS, diversion_lines, tables
from navlog.printed.marks import beside, by_time_alone, in_brackets, mark_text
from navlog.printed.receivers import receiver_lines
from navlog.printed.remarks import change_of_level
from navlog.printed.rows import rows
from navlog.printed.ticks import stays_on_front
from navlog.resolve.route import Identification, MarkKind, PointKind
from navlog.rules.diversion import FieldBeside, FieldsBeside
from navlog.rules.report import Report

AT = (
    "airport XAA N46 00.00 W039 00.00 elev 100ft\n"
    "station QBB 114.00 N46 20.00 W039 00.00 decl 0E class L dme elev 0ft\n"
    "airport XCC N46 40.00 W039 00.00 elev 200ft\nfix FIXA N46 30.00 W039 00.00\n"
    "direct XAA - QBB 20nm min 2000\ndate 2026-07-18\noff 15:00Z\nwind calm\nvariation 0E\naltitude 3500\ntas 120kt\n"
    "burn 8gph\nfuel 20gal\nroute XAA QBB FIXA XCC\n"
)
VOR = Station("QXX", StationKind.VOR, Position(46.0, -38.0), frequency_mhz=115.0, declination_deg=0.0, dme=True)


def report_of(*more: str) -> Report:
    (report,) = reports(AT + "\n".join((*more, "")))
    return report


LOG: Log = report_of().log


def field(
    ident: str, along_nm: float, distance_nm: float = 5.0, use: str | None = "public", station: Station | None = VOR
) -> FieldBeside:
    airport = Airport(ident, Position(46.0, -38.0), elevation_ft=812.0, use=use)
    return FieldBeside(airport, along_nm, "QBB", 7.4, distance_nm, False, 84.6, 91.2, 12.4, station, 213.4, 21.6)


def beside_way(*found: FieldBeside, way_nm: float = 40.0, **more: Any) -> FieldsBeside:
    given = FieldsBeside(way_nm, 25.0, True, 0, (), found)
    return changed(given, **more)


HEADS = "field past by crsM hdgM   NM min elev VOR R/DME"


def test_the_table_of_fields_has_a_row_each_as_they_come() -> None:
    over = changed(field("XOV", 30.0), overhead=True, magnetic_course_deg=None, time_min=None)
    lines, table = diversion_lines(beside_way(field("XNE", 10.0), field("XOW", 20.0, 12.34, use=None), over))
    assert table == (
        HEADS,
        "XNE   QBB   7  085  091  5.0  12  812 QXX 213/22",
        "XOW*  QBB   7  085  091 12.3  12  812 QXX 213/22",
        "XOV   QBB   7    -    -  5.0   ?  812 QXX 213/22",
    )
    assert lines == (
        "By so many NM past a point, level from abeam; courses and headings magnetic; * the route file's own."
        " Runways ?, lights ?: not in the data; approaches not looked at.",
    )


@pytest.mark.parametrize(
    ("station", "located"),
    [(VOR, "QXX 213/22"), (changed(VOR, dme=False), "QXX 213/-"), (None, "?")],
)
def test_where_a_field_lies_from_a_vor(station: Station | None, located: str) -> None:
    _, (_, row) = diversion_lines(beside_way(field("XNE", 10.0, station=station)))
    assert row.endswith(f" 812 {located}")


def test_a_shorter_table_has_the_nearest_field_of_each_part_of_the_way() -> None:
    # 40 NM in two parts: XA and XB before 20 NM, XC and XD from there on, XD at the very end.
    some = beside_way(field("XA", 1.0, 9.0), field("XB", 19.9, 3.0), field("XC", 20.0, 4.0), field("XD", 40.0, 8.0))

    def shown(most: int | None) -> list[str]:
        return [line.split()[0] for line in diversion_lines(some, most)[1][1:]]

    assert [shown(most) for most in (1, 2, 3, 4, None)] == [
        ["XB"],
        ["XB", "XC"],
        ["XA", "XB", "XD"],
        ["XA", "XB", "XC", "XD"],
        ["XA", "XB", "XC", "XD"],
    ]
    assert diversion_lines(some, 2)[0][0].startswith("2 of 4 fields shown. By so many NM")
    assert diversion_lines(some, 4)[0][0].startswith("By so many NM")
    # Of two as near the first on the way is shown.
    alike = beside_way(field("XA", 1.0), field("XB", 2.0), way_nm=40.0)
    assert [line.split()[0] for line in diversion_lines(alike, 1)[1][1:]] == ["XA"]
    # Each table is longer than the one before; three parts of the way make three rows, four make all.
    assert list(tables(some)) == [1, 2, 3, 4]
    # A way that ends where it begins has one part.
    assert [line.split()[0] for line in diversion_lines(changed(some, way_nm=0.0), 3)[1][1:]] == ["XB"]


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({}, ""),
        ({"searched": False}, "; only the route file's fields: no catalogue was asked"),
        ({"unknown_use": 3}, "; 3 more may be private: the data does not say"),
        ({"closed": ("XCL", "XDL")}, "; closed by notice: XCL, XDL"),
        (
            {"searched": False, "unknown_use": 1, "closed": ("XCL",)},
            "; only the route file's fields: no catalogue was asked; 1 more may be private: the data does not say;"
            " closed by notice: XCL",
        ),
    ],
)
def test_what_the_data_does_not_say_of_fields(more: dict[str, Any], told: str) -> None:
    none = f"no other field known to be public within 25 NM of the way{told}"
    assert diversion_lines(beside_way(**more)) == ((none,), ())
    ((words,), _) = diversion_lines(beside_way(field("XNE", 10.0), **more))
    assert words.endswith(f"not looked at{told}.")


def diversions(report: Report) -> list[BackPart]:
    return [one for one in back(report) if one.name == "diversions"]


def test_tables_of_fields_on_the_back_and_how_many_give_way_to_no_drawing() -> None:
    ten = beside_way(*(field(f"X{number}", number * 4.0 + 1.0) for number in range(10)))
    (part,) = diversions(changed(report_of(), diversions=ten))
    sizes = [len(block.table) - 1 for block in part.lengths]
    assert sizes == sorted(set(sizes))
    assert part.before_drawings == sum(size <= BEFORE_DRAWINGS for size in sizes) == 6
    assert (part.optional, part.whole, sizes[-1]) == (True, True, 10)
    (none,) = diversions(changed(report_of(), diversions=beside_way()))
    assert (len(none.lengths), none.whole) == (1, True)
    assert diversions(report_of()) == []


CHECK = Checkpoint(
    VOR, 213.0, False, "RUN-UP AREA", Position(46.0, -39.0), "XAA", None, None, Provenance(Source.NASR, "2026-07-09")
)


@pytest.mark.parametrize(
    ("point", "told"),
    [
        # On the ground within 4 degrees, in the air within 6 (14 CFR 91.171).
        (CHECK, "XAA: QXX 115.00 --.- -..- -..-, R-213, on the ground, within 4 degrees, set 213 FROM: RUN-UP AREA"),
        (
            changed(CHECK, airborne=True, altitude_ft=1500.0, distance_nm=4.44),
            "XAA: QXX 115.00 --.- -..- -..-, R-213, 4.4 NM from it, in the air at 1500 ft, within 6 degrees, set 213"
            " FROM: RUN-UP AREA",
        ),
        (
            changed(CHECK, airport=None, position=Position(46.0 + 1.0 / 6.0, -39.0)),
            "QXX, 10.0 NM from the departure: QXX 115.00 --.- -..- -..-, R-213, on the ground, within 4 degrees, set"
            " 213 FROM: RUN-UP AREA",
        ),
        (
            changed(CHECK, station=changed(VOR, true_referenced=True)),
            "XAA: QXX 115.00 --.- -..- -..-, R-213T, on the ground, within 4 degrees, set 213T FROM: RUN-UP AREA",
        ),
    ],
)
def test_a_published_checkpoint_in_words(point: Checkpoint, told: str) -> None:
    log = changed(LOG, route=changed(LOG.route, checkpoints=(point,)))
    (line,) = receiver_lines(log)
    assert line == f"checkpoint {told} (NASR 2026-07-09)"


def test_a_checkpoint_without_an_edition() -> None:
    bare = changed(CHECK, provenance=Provenance(Source.NASR))
    (line,) = receiver_lines(changed(LOG, route=changed(LOG.route, checkpoints=(bare,))))
    assert line.endswith("RUN-UP AREA (NASR)")


def mark(kind: MarkKind, troubles: tuple[Trouble, ...] = (), **more: Any) -> Mark:
    one = Identification(VOR, kind, 212.6, 12.0)
    return Mark(changed(one, **more), 90.0, 12.44, 0.5, troubles)


def test_what_tells_a_place_in_words() -> None:
    assert mark_text(mark(MarkKind.DME)) == "QXX DME 12.4"
    assert mark_text(mark(MarkKind.RADIAL)) == "QXX R-213 crosses"
    assert mark_text(mark(MarkKind.RADIAL, station=changed(VOR, true_referenced=True))) == "QXX R-213T crosses"
    silent = mark(MarkKind.RADIAL, (Trouble.HORIZON, Trouble.MRA))
    assert list(beside(silent)) == ["may not be received, under the horizon", "may not be received, below the MRA"]
    assert in_brackets(silent) == " (may not be received, under the horizon; may not be received, below the MRA)"
    assert in_brackets(mark(MarkKind.RADIAL)) == ""
    # A published radial more than a degree from the place's own is told with it, of a DME nothing.
    assert in_brackets(mark(MarkKind.RADIAL, published_radial_deg=215.0)) == " (published R-215)"
    assert in_brackets(mark(MarkKind.RADIAL, published_radial_deg=213.5)) == ""
    assert in_brackets(mark(MarkKind.DME, published_radial_deg=215.0)) == ""


def leg_to(name: str) -> Leg:
    return next(leg for leg in LOG.legs if leg.end.name == name)


def test_what_is_found_by_time_alone() -> None:
    # FIXA is on the way, and nothing but QBB behind it tells it, without a DME on board.
    assert [by_time_alone(leg_to(name)) for name in ("QBB", "FIXA", "XCC")] == [False, True, False]
    somewhere = changed(
        leg_to("FIXA"),
        end_nm=5.0,
        ends_stretch=False,
        end=changed(leg_to("FIXA").end, point=None, kind=PointKind.POSITION.value),
    )
    assert by_time_alone(somewhere) is True
    assert by_time_alone(changed(somewhere, end=changed(somewhere.end, kind=PointKind.TOP_OF_CLIMB.value))) is False


def test_only_a_place_between_two_points_where_the_level_changes_is_told_by_its_miles() -> None:
    row = next(row for row in rows(LOG) if row.leg.end.name == "FIXA")
    assert change_of_level(row) is None
    for kind, told in (
        (PointKind.TOP_OF_CLIMB, "4.0 NM from QBB, 6.0 NM to FIXA"),
        (PointKind.TOP_OF_DESCENT, "4.0 NM from QBB, 6.0 NM to FIXA"),
        (PointKind.LEVEL_CHANGE, "4.0 NM from QBB, 6.0 NM to FIXA"),
        (PointKind.CHANGEOVER, None),
    ):
        leg = changed(
            row.leg, start_nm=0.0, end_nm=4.0, ends_stretch=False, end=changed(row.leg.end, point=None, kind=kind.value)
        )
        assert change_of_level(changed(row, leg=leg)) == told


@pytest.mark.parametrize(
    ("tick", "stays"),
    [
        ("MCA QEL 4500", True), ("MTA QEL 4500", True), ("MRA 5000", True), ("MOCA 2400", True), ("MAA 17500", True),
        ("misses MEA 3000", True), ("KITWA 7.0 +4 min 3000", True), ("KITWA 7.0 +4", False), ("TOC 7.0", False),
        ("dead reckoning", False),
    ],
)  # fmt: skip
def test_altitudes_to_be_kept_stay_on_a_front_that_is_full(tick: str, stays: bool) -> None:
    assert stays_on_front(tick) is stays
