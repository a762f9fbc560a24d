"""GPX, KML and GeoJSON: the order and content that their standards ask for, and lines that are great circles.

The orders of elements are those of the schemas: GPX 1.1 (topografix.com/GPX/1/1) and OGC KML 2.2 (07-147r2).
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import jsonschema
import pytest
from geographiclib.geodesic import Geodesic
from helpers.drawn import NAMES, report, reports
from helpers.flown import EXAMPLES, changed, navlog

from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError
from navlog.printed.places import cut_at_antimeridian
from navlog.sheets import geojson, gpx, kml
from navlog.sheets.pages import PAGES

GPX = "{http://www.topografix.com/GPX/1/1}"
KML = "{http://www.opengis.net/kml/2.2}"
PAGE = PAGES["a4"]

# RFC 7946: sections 2 to 4; a position is longitude, latitude.
POSITION = {
    "type": "array",
    "minItems": 2,
    "maxItems": 2,
    "prefixItems": [
        {"type": "number", "minimum": -180, "maximum": 180},
        {"type": "number", "minimum": -90, "maximum": 90},
    ],
}
LINE = {"type": "array", "minItems": 2, "items": POSITION}


def geometry(kind: str, coordinates: Any) -> Any:
    return {
        "type": "object",
        "required": ["type", "coordinates"],
        "properties": {"type": {"const": kind}, "coordinates": coordinates},
    }


GEOJSON = {
    "type": "object",
    "required": ["type", "features"],
    "not": {"anyOf": [{"required": [name]} for name in ("coordinates", "geometries", "geometry", "properties", "crs")]},
    "properties": {
        "type": {"const": "FeatureCollection"},
        "features": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["type", "properties", "geometry"],
                "not": {"anyOf": [{"required": [name]} for name in ("coordinates", "geometries", "features")]},
                "properties": {
                    "type": {"const": "Feature"},
                    "properties": {"type": ["object", "null"]},
                    "geometry": {
                        "oneOf": [
                            {"type": "null"},
                            geometry("Point", POSITION),
                            geometry("LineString", LINE),
                            geometry("MultiLineString", {"type": "array", "items": LINE}),
                        ]
                    },
                },
            },
        },
    },
}

GPX_ORDER = {
    "gpx": ("metadata", "wpt", "rte", "trk"),
    "metadata": ("name", "desc"),
    "wpt": ("name", "desc", "type"),
    "rte": ("name", "desc", "rtept"),
    "rtept": ("name", "desc", "type"),
    "trk": ("name", "trkseg"),
    "trkseg": ("trkpt",),
    "trkpt": (),
}
KML_ORDER = {
    "kml": ("Document",),
    "Document": ("name", "Style", "Folder"),
    "Style": ("LineStyle",),
    "LineStyle": ("color", "width"),
    "Folder": ("name", "description", "Placemark"),
    "Placemark": ("name", "description", "styleUrl", "Point", "MultiGeometry"),
    "MultiGeometry": ("LineString",),
    "LineString": ("tessellate", "coordinates"),
    "Point": ("coordinates",),
}


def check_order(element: ET.Element, namespace: str, order: dict[str, tuple[str, ...]]) -> None:
    """Children are those known, in the schema's order."""
    name = element.tag.removeprefix(namespace)
    children = [child.tag.removeprefix(namespace) for child in element]
    known = order.get(name, ())
    assert children == sorted(children, key=known.index), name
    for child in element:
        check_order(child, namespace, order)


@pytest.mark.parametrize("name", NAMES)
def test_gpx_is_of_its_schema(name: str) -> None:
    root = ET.fromstring(gpx.document([report(name)], PAGE).encode())
    assert root.tag == f"{GPX}gpx"
    assert root.attrib["version"] == "1.1"
    assert root.attrib["creator"].startswith("navlog ")
    check_order(root, GPX, GPX_ORDER)
    for element in root.iter():
        if "lat" in element.attrib:
            assert -90.0 <= float(element.attrib["lat"]) <= 90.0
            assert -180.0 <= float(element.attrib["lon"]) < 180.0


@pytest.mark.parametrize("name", NAMES)
def test_kml_is_of_its_schema(name: str) -> None:
    root = ET.fromstring(kml.document([report(name)], PAGE).encode())
    check_order(root, KML, KML_ORDER)
    styles = {f"#{style.attrib['id']}" for style in root.iter(f"{KML}Style")}
    assert {used.text for used in root.iter(f"{KML}styleUrl")} <= styles
    for coordinates in root.iter(f"{KML}coordinates"):
        for triple in (coordinates.text or "").split():
            longitude, latitude = map(float, triple.split(","))
            assert -180.0 <= longitude <= 180.0
            assert -90.0 <= latitude <= 90.0


def collection(name: str) -> Any:
    return json.loads(geojson.document([report(name)], PAGE))


@pytest.mark.parametrize("name", NAMES)
def test_geojson_is_of_the_standard(name: str) -> None:
    jsonschema.Draft202012Validator(GEOJSON).validate(collection(name))


def test_a_description_in_kml_shows_no_markup_of_a_name() -> None:
    root = ET.fromstring(kml.document([report("hostile")], PAGE).encode())
    for description in root.iter(f"{KML}description"):
        assert "<script" not in (description.text or "")
        assert "<img" not in (description.text or "")


def test_fixes_and_changeover_points_are_places() -> None:
    named = {feature["properties"].get("name"): feature for feature in collection("marsh")["features"]}
    assert named["PINEY"]["properties"]["kind"] == "fix"
    assert named["COP"]["properties"]["about"] == "11.0 NM from QHB (stated), then QEL 110.20 --.- . .-.."
    assert named["COP"]["geometry"]["coordinates"] == pytest.approx([-39.4218, 46.0298], abs=1e-3)


def test_a_place_without_a_position_is_told_without_geometry() -> None:
    text = (EXAMPLES / "chart_only.route").read_text("utf-8")
    (whole,) = reports(text)
    found = json.loads(geojson.document([whole], PAGE))["features"]
    assert {feature["properties"].get("name") for feature in found} >= {"QHB", "QEL", "QSK", "COP"}
    assert all(feature["geometry"] is None for feature in found)
    with pytest.raises(NavlogError, match="no point of test has a position"):
        gpx.document([whole], PAGE)
    assert "<Placemark>" not in kml.document([whole], PAGE)


def test_gpx_holds_the_points_of_the_route_and_no_others() -> None:
    root = ET.fromstring(gpx.document([report("marsh")], PAGE).encode())
    names = [name.text for point in root.iter(f"{GPX}rtept") for name in point.findall(f"{GPX}name")]
    # The route line: XHAR QHB V801 QEL/A055 V802 PINEY LAKER XHAR; changeovers and changes of level are none of it.
    assert names == ["XHAR", "QHB", "QEL", "PINEY", "LAKER", "XHAR"]
    assert not list(root.iter(f"{GPX}wpt"))
    assert "LEGEND" not in "".join(root.itertext())


def test_a_point_without_a_position_is_named_in_the_gpx() -> None:
    (whole,) = reports(changed("station QSK 112.40", "route QHB V801 QEL QSK", "direct QEL 142 - QSK 47.0nm"))
    root = ET.fromstring(gpx.document([whole], PAGE).encode())
    (desc,) = root.findall(f"{GPX}rte/{GPX}desc")
    assert (desc.text or "").startswith("NOT IN THIS ROUTE, having no position: QSK\n")
    assert len(list(root.iter(f"{GPX}rtept"))) == 2


def test_a_plan_without_any_position_writes_no_gpx(tmp_path: Path) -> None:
    done = navlog("log", str(EXAMPLES / "chart_only.route"), "-o", str(tmp_path / "trip.gpx"))
    assert done.status == 2
    assert "[no-positions]" in done.err
    assert list(tmp_path.iterdir()) == []


def test_lines_follow_the_great_circle() -> None:
    """Every point of a leg lies on the geodesic of GeographicLib, to a tenth of a metre."""
    for feature in collection("dateline")["features"]:
        geometry = feature["geometry"]
        if geometry is None or geometry["type"] != "LineString":
            continue
        (lon1, lat1), *between, (lon2, lat2) = geometry["coordinates"]
        line = Geodesic.WGS84.InverseLine(lat1, lon1, lat2, lon2)
        assert len(between) >= line.s13 / 18_520.0 - 1.0
        for lon, lat in between:
            along = Geodesic.WGS84.Inverse(lat1, lon1, lat, lon)["s12"]
            on = line.Position(along)
            assert Geodesic.WGS84.Inverse(lat, lon, on["lat2"], on["lon2"])["s12"] < 0.1


def test_a_line_across_180_degrees_is_cut_there() -> None:
    (crossing,) = [
        feature["geometry"]["coordinates"]
        for feature in collection("dateline")["features"]
        if feature["geometry"] is not None and feature["geometry"]["type"] == "MultiLineString"
    ]
    west, east = crossing
    assert (west[-1][0], east[0][0]) == (180.0, -180.0)
    assert west[-1][1] == east[0][1]
    assert west[0][1] < west[-1][1] < east[-1][1]


def test_the_cut_lies_on_the_straight_way_between_the_points_beside_it() -> None:
    pieces = cut_at_antimeridian([Position(10.0, 179.0), Position(12.0, -179.0)])
    assert pieces == (((179.0, 10.0), (180.0, 11.0)), ((-180.0, 11.0), (-179.0, 12.0)))
    there = cut_at_antimeridian([Position(0.0, -179.5), Position(4.0, 178.5)])
    assert there == (((-179.5, 0.0), (-180.0, 1.0)), ((180.0, 1.0), (178.5, 4.0)))


def test_a_point_on_180_degrees_makes_no_piece_of_no_length() -> None:
    pieces = cut_at_antimeridian([Position(0.0, 179.0), Position(0.0, 180.0), Position(0.0, -179.0)])
    assert all(len(set(piece)) == len(piece) > 1 for piece in pieces)
    assert pieces[0][0] == (179.0, 0.0)
    assert pieces[-1][-1] == (-179.0, 0.0)
