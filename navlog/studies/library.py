"""The library's door: a route file checked or logged in one call, and logs as tables, as GeoJSON and in notebooks."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, TypeAlias

from navlog.request.typed import NO_OVERRIDES, Overrides
from navlog.rules import answers
from navlog.rules.answers import Answer

if TYPE_CHECKING:
    from navlog.flightlog.records import Leg, Log
    from navlog.request.references import References
    from navlog.resolve.lookup import ChartLookup
    from navlog.rules.registry import Thresholds
    from navlog.sheets.json_values import Json

_Cell: TypeAlias = str | float | bool | datetime | None

_COLUMNS = (
    "number", "from.ident", "from.kind", "from.latitude_deg", "from.longitude_deg", "to.ident", "to.kind",
    "to.latitude_deg", "to.longitude_deg", "via", "phase", "guidance.ident", "guidance.frequency_mhz",
    "guidance.radial_deg", "guidance.set_course_deg", "guidance.flag", "guidance.declination_deg", "changeover.kind",
    "identified_by.ident", "identified_by.radial_deg", "identified_by.dme_nm", "turn_deg", "distance_nm",
    "distance_remaining_nm", "true_course_deg", "magnetic_course_deg", "wind.from_true_deg", "wind.speed_kt", "tas_kt",
    "wind_correction_deg", "true_heading_deg", "variation_deg", "magnetic_heading_deg", "deviation_deg",
    "compass_heading_deg", "groundspeed_kt", "time_min", "elapsed_min", "altitude_ft", "start_altitude_ft",
    "end_altitude_ft", "minimum_altitude_ft", "minimum_kind", "moca_ft", "maa_ft", "mca_ft", "fuel_used_gal",
    "fuel_remaining_gal", "fuel_least_gal",
)  # fmt: skip
"""The columns of `rows` by the keys of a leg's JSON (`navlog schema navlog/1 --keys` tells each)."""

_DRAWING_PT = (560.0, 360.0)


class FlightAnswer(Answer, frozen=True):
    """What one flight of a route file came to: its `report` with `log` and `findings`, or its `problems`.

    `status` is `ok`, `warning`, `error` or `problem`; `flight` is None where a file's common part stops it whole.
    A notebook shows it with a drawing of the flight from above.
    """

    def _repr_html_(self) -> str:
        """The flight in a notebook: its line, its problems or findings, and the plan."""
        from navlog.nav.problems import printable
        from navlog.sheets.xml_text import escaped

        told = [
            *(f"problem: {one.message} [{one.code}]" for one in self.problems),
            *(f"{one.severity}: {one.told} [{one.rule}]" for one in self.findings if one.accepted is None),
        ]
        lines = [f"<p><b>{escaped(printable(repr(self)))}</b></p>"]
        lines += [f"<li>{escaped(printable(one))}</li>" for one in told]
        if self.report is not None:
            from navlog.sheets.plan_drawing import plan_drawing
            from navlog.sheets.svg import svg

            drawing = plan_drawing(self.report.log, *_DRAWING_PT)
            lines += [svg(drawing)] if drawing is not None else []
        return f"<div>{''.join(lines)}</div>"


def check_text(
    text: str | bytes,
    file: str = "-",
    *,
    catalogue: ChartLookup | None = None,
    overrides: Overrides = NO_OVERRIDES,
    references: References | None = None,
    thresholds: Thresholds | None = None,
) -> tuple[FlightAnswer, ...]:
    """What `navlog check` says of a route file: an answer a flight with its findings or problems, in file order.

    `file` names the text in problems; aircraft, bulletin and notice files that it names are read from that file's
    folder. `catalogue` is published data, as `open_catalogue` opens it: names are looked up there, and stations that
    could be mistaken for those in use. `overrides` are what the options of a command say in a flight's place. Never
    raises for what a user may have written: a text that cannot be read is one answer with its problems.
    """
    found = answers.check_text(
        text, file, catalogue=catalogue, overrides=overrides, references=references, thresholds=thresholds
    )
    return tuple(FlightAnswer(one.flight, one.file, one.line, one.report, one.problems) for one in found)


def log_text(
    text: str | bytes,
    file: str = "-",
    *,
    form: str = "text",
    page: str = "half-letter",
    catalogue: ChartLookup | None = None,
    overrides: Overrides = NO_OVERRIDES,
    references: References | None = None,
) -> str | bytes:
    """The sheet that `navlog log --format FORM --page PAGE` prints of a route file; bytes for `pdf` and `csv`.

    Raises NavlogError with the problems of every flight, so that no flight is ever left out of a sheet unseen, and
    `bad-value` for a form or page that is none. Use `check_text` to have problems as values.
    """
    from navlog.catalogue.queries import Catalogue
    from navlog.nav.problems import NavlogError, problem_error
    from navlog.request.references import References
    from navlog.sheets.formats import MODULES, PAPERS, sheet
    from navlog.studies.surroundings import for_sheets

    for what, given, known in (("form", form, tuple(MODULES)), ("page", page, PAPERS)):
        if given not in known:
            raise problem_error("bad-value", f"there is no {what} `{given}`", hint=f"one of {', '.join(known)}")
    found = check_text(text, file, catalogue=catalogue, overrides=overrides, references=references)
    problems = tuple(problem for one in found for problem in one.problems)
    if problems:
        raise NavlogError(*problems)
    published = catalogue if isinstance(catalogue, Catalogue) else None
    shown = for_sheets(found, [form], published, references if references is not None else References())
    written = sheet(form, shown, page)
    assert written is not None, "every flight has a report"
    return written


def rows(log: Log) -> list[dict[str, _Cell]]:
    """A flat dictionary a leg, alternates' legs behind the route's, for `pandas.DataFrame(rows(log))`.

    Every row has the same keys: those of a leg's JSON, the inner ones joined by `_` (`guidance_set_course_deg`), with
    `flight`, `alternate` (None on the route) and `eta`, a moment in UTC. Units are at the keys' ends. What is unknown
    or does not apply is None; `unknown` tells why.
    """
    ways: list[tuple[str | None, Log]] = [(None, log), *((one.route.points[-1].name, one) for one in log.alternates)]
    return [_row(log, alternate, way, leg) for alternate, way in ways for leg in way.legs]


def _row(log: Log, alternate: str | None, way: Log, leg: Leg) -> dict[str, _Cell]:
    from navlog.sheets.json_legs import leg_object

    found = leg_object(way, leg)
    row: dict[str, _Cell] = {"flight": log.route.request.name, "alternate": alternate}
    row |= {key.replace(".", "_"): _at(found, key) for key in _COLUMNS}
    row["eta"] = way.eta(leg)
    row["unknown"] = "; ".join(f"{one.key}: {one.reason}" for one in leg.unknown) or None
    return row


def _at(found: Json, path: str) -> _Cell:
    """The value at a path of keys; None where an object on it is not there."""
    first, _, rest = path.partition(".")
    inner = found[first]
    if not rest:
        value: _Cell = inner
        return value
    return None if inner is None else _at(inner, rest)


def to_geojson(log: Log) -> Json:
    """The flight as a feature collection of GeoJSON (RFC 7946): a point for each place, a line for each leg."""
    from navlog.sheets.geojson import features

    return {"type": "FeatureCollection", "features": list(features(log))}
