"""The shapes of the JSON outputs that are written key by key, short enough to read; `json_schemas` makes the schemas.

A key is a word or two and what it tells: `"straight_nm": "number? the straight line"`. The word is `text`, `number`,
`whole`, `yes` (true or false), `day`, `moment`, words parted by `|`, `=a constant`, or `@name`, a definition; `?` after
it allows null, `[...]` is a list. The unit follows from the key's end.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeAlias

from navlog.catalogue.comparisons import Checked
from navlog.studies.marking import MarkedVerdict

Shape: TypeAlias = "str | Mapping[str, Shape]"

STEP = {"what": "text", "formula": "text", "values": "text its numbers put in", "result": "text", "source": "text"}
PLACE = {"file": "text", "line": "whole counted from 1"}
STATUS = "ok|warning|error|problem as in navlog/1"

HAND: dict[str, tuple[str, Mapping[str, Shape]]] = {
    "since-1": (
        "What changes on one flight between two catalogues, of `navlog check --since OLD --format json`.",
        {
            "flight": "text? null where a problem in the common part stops the whole file",
            "source": PLACE,
            "status": "unchanged|changed|problem",
            "old_catalogue": "[@source] the editions that spoke on the flight's day",
            "new_catalogue": "[@source] the editions that speak now",
            "changes": "[@change]",
            "problems": "[@problem]",
        },
    ),
    "requirement-1": (
        "One training requirement over the flights of a file, of `navlog check --requirement NAME --format json`.",
        {
            "source": {"file": "text"},
            "requirement": "text its name",
            "title": "text what it asks for",
            "rule": "text the regulation",
            "distance_part_only": "yes always true: experience, dual and solo are not judged",
            "result": "pass|fail|depends: depends on how the distance is measured",
            "hops": "[@hop] from landing to landing",
            "conditions": "[@condition]",
            "breaks": "[text] where one flight does not begin where the one before ended",
        },
    ),
    "around-1": (
        "The way round for one flight without a station, of `navlog check --propose-around IDENT --format json`.",
        {
            "station": "text the one that is lost",
            "flight": "text?",
            "source": PLACE,
            "result": "ok|around|none|problem: nothing is lost, a way round is found, none is, it has a problem",
            "lost": "[text] the parts of the way that rely on the station",
            "route": "text? the way round as a route line",
            "distance_nm": "number? of the way round",
            "more_nm": "number? how much longer the way round is",
            "altitude_ft": "number? the altitude that it needs",
            "forced_by": "text? what asks for a higher altitude than planned",
            "status": "ok|warning|error|problem? of the way round, as in navlog/1",
            "findings": "[@finding] of the way round",
            "reason": "text? why there is none",
            "problems": "[@problem]",
        },
    ),
    "proposal-1": (
        "One proposed route, of `navlog propose --format json`.",
        {
            "rank": "whole counted from 1 within its kind",
            "kind": "published|airways: published by the FAA, or found on the airways",
            "route": "text as a route line",
            "distance_nm": "number? along the route",
            "direct_nm": "number the straight line",
            "time_min": "number? null without an airspeed",
            "fuel_gal": "number? null without an airspeed or burn",
            "altitude_ft": "number planned",
            "lowest_altitude_ft": "number? the lowest at which the airways connect",
            "forced_by": "text? what asks for that altitude",
            "off_airway_nm": "number flown direct",
            "airway_changes": "whole",
            "status": STATUS,
            "findings": "[@finding]",
        },
    ),
    "notices-1": (
        "One notice as it is understood, of `navlog notices --format json`.",
        {
            "ident": "text",
            "form": "domestic|FDC|ICAO",
            "file": "text",
            "line": "whole counted from 1",
            "location": "text what it is filed under",
            "from": "moment? null where no beginning is told",
            "to": "moment? null where no end is told",
            "estimated": "yes whether the end is",
            "hours": "text? as published, not read: it counts throughout",
            "effects": "[@effect] what it changes",
            "not_understood": "text? why it is not understood, or not whole",
            "void": "text? by what it is cancelled or replaced",
            "counts": "yes? at the moment of --at; null without one",
            "text": "text its own words on one line",
        },
    ),
    "explain-1": (
        "The workings of one flight, of `navlog explain FILE --format json`.",
        {
            "computation": "=explain",
            "flight": "text?",
            "source": PLACE,
            "legs": "[@explained_leg]",
            "fuel": "[@step]",
            "problems": "[@problem]",
        },
    ),
    "rule-1": (
        "What a rule says, of `navlog explain --rule ID --format json`.",
        {
            "rule": "text",
            "severity": "error|warning|note",
            "at_times": "[error|warning|note] other severities that its findings may have",
            "title": "text",
            "source": "text the regulation or practice behind it",
            "remedy": "text",
            "acceptable": "yes whether a flight may accept it",
            "passing": "text a route file without the finding",
            "failing": "text the same with it",
            "files": "@files",
        },
    ),
    "mark-1": (
        "The marking of one answer sheet, of `navlog mark --format json`.",
        {
            "computation": "=mark",
            "flight": "text",
            "answers": "text the file",
            "right": "whole how many figures are",
            "off": "whole",
            "not_marked": "whole figures for which the log has no number",
            "fuel_unit": "text what quantities of fuel are in",
            "marks": "[@figure_marked]",
        },
    ),
    "revise-1": (
        "A flight revised in the air, of `navlog revise --format json`. Fuel is in `fuel_unit`.",
        {
            "computation": "=revise",
            "flight": "text",
            "at": {"point": "@point", "time": "moment UTC", "leg": "whole the leg that ends there"},
            "fuel_unit": "text",
            "fuel_on_board": "number? in `fuel_unit`",
            "fuel_read": "yes whether it was read in flight, else by the planned burn",
            "warnings": "[text]",
            "flown": "[@part_flown]",
            "wind": "@wind_found?",
            "legs": "[@leg] the legs ahead",
            "planned_eta": "[moment?] the planned time at the end of each leg ahead",
            "reserve": "number? in `fuel_unit`",
            "reserve_min": "number?",
            "reserve_rule": "text?",
            "remaining": "number? left at the end, in `fuel_unit`",
            "reserve_holds": "yes? null where it is not known",
            "alternates": "[@alternate_ahead]",
            "fields": "[@field]",
        },
    ),
    "audit-1": (
        "Published figures of airways measured again, of `navlog catalogue audit --format json`.",
        {
            "audit": "[text] the sources",
            "limits": {"course_deg": "number", "length_nm": "number", "changeover_nm": "number"},
            "airways": "whole how many were measured",
            "legs": "whole",
            "segments": "whole",
            "unmeasured": "whole how many have no positions",
            "compared": "@compared",
            "disagreements": "[@compared_figure]",
        },
    ),
    "baseline-1": (
        "The findings that a gate knows, of `navlog check --write-baseline FILE`.",
        {"findings": "[@known]"},
    ),
}
"""Each kind by hand: what it is, and its keys."""

PARTS: dict[str, Mapping[str, Shape]] = {
    "change": {
        "kind": "way|station|frequency|radial|altitude|changeover|length|problem",
        "where": "text a part of the route or a station",
        "what": "text",
        "old": "text? as printed; null where it was not there",
        "new": "text? as printed; null where it is not there",
    },
    "hop": {
        "from": "text",
        "to": "text",
        "straight_nm": "number between the two landings",
        "flown_nm": "number along the route",
        "on_airways_nm": "number of it on airways",
    },
    "condition": {
        "measure": "text what is measured",
        "least": "number in NM, or how many",
        "more_than": "yes whether the least itself is too little",
        "straight": "number? by straight lines, NM",
        "flown": "number? along the route, NM, or how many",
        "of": "text? between which points",
        "result": "pass|fail|depends",
    },
    "step": STEP,
    "explained_leg": {
        "number": "whole",
        "from": "@point",
        "to": "@point",
        "via": "text?",
        "phase": "text as in navlog/1",
        "workings": "[@step]",
        "unknown": "[@unknown]",
    },
    "slip": {"code": "text", "words": "text"},
    "figure_marked": {
        "alternate": "text? the one on whose way the leg lies, null on the route",
        "leg": "whole? null for the totals",
        "quantity": "text the column; of `told_by` the kind and the station, as `radial QEL` or `dme QHB`",
        "unit": "text",
        "given": "number the pilot's; a time of day in minutes after midnight UTC, a TO flag is 1",
        "computed": "number? exact",
        "printed": "number? as the log prints it",
        "verdict": "|".join(MarkedVerdict),
        "off": "number? given less printed",
        "follows": "[text] the pilot's own wrong figures from which it follows",
        "slips": "[@slip] what gives just this wrong figure",
        "reason": "text? why the log has no number",
    },
    "part_flown": {
        "from": "@point",
        "to": "@point",
        "time": "moment UTC, at its end",
        "distance_nm": "number",
        "time_min": "number",
        "planned_min": "number?",
        "groundspeed_kt": "number?",
        "planned_groundspeed_kt": "number?",
        "half_minute_kt": "number? what half a minute changes the groundspeed by",
        "headwind_kt": "number? with the forecast's crosswind; tailwind negative",
        "forecast_headwind_kt": "number?",
        "reason": "text? why no wind can be told",
    },
    "wind_found": {
        "found": "@wind",
        "forecast": "@wind",
        "difference": "@wind",
        "whole": "yes whether direction too was found, else the headwind part alone",
        "method": "text",
    },
    "alternate_ahead": {
        "from": "text",
        "to": "text",
        "off": "moment? UTC, when the way to it begins",
        "eta": "moment? UTC",
        "fuel_remaining": "number? in `fuel_unit`",
        "reserve_holds": "yes?",
    },
    "field": {
        "ident": "text",
        "name": "text?",
        "distance_nm": "number",
        "true_course_deg": "number?",
        "magnetic_heading_deg": "number?",
        "compass_heading_deg": "number?",
        "groundspeed_kt": "number?",
        "time_min": "number?",
        "fuel_left": "number? in `fuel_unit`",
        "reserve_kept": "yes?",
        "station": "text? the one that tells where it is",
        "radial_deg": "number?",
        "station_nm": "number? from the station",
    },
    "compared_figure": {
        "checked": "|".join(Checked),
        "unit": "degrees|NM what the figures are in",
        "airway": "text",
        "location": "text?",
        "from": "text",
        "to": "text",
        "at": "text the point whose figure it is",
        "published": "number?",
        "computed": "number?",
        "difference": "number? published less computed",
        "note": "text?",
    },
    "known": {
        "file": "text relative to the baseline's folder",
        "flight": "text",
        "rule": "text",
        "leg": "text its two points; empty for the whole flight",
        "count": "whole how many",
    },
}
"""Definitions that shapes name, beside those of `navlog/1`."""

OPEN_PARTS: dict[str, dict[str, Any]] = {
    "compared": {
        "description": "how many figures were compared, by what is checked",
        "type": "object",
        "properties": {str(one): {"type": "integer"} for one in Checked},
        "additionalProperties": False,
    },
    "files": {
        "description": "the text of each file that the samples name, by its name",
        "type": "object",
        "additionalProperties": {"type": "string"},
    },
}
