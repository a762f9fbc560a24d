"""Hostile text in names, notes, reasons, file names and published data stays mere text in every format."""

from __future__ import annotations

import csv
import io
import json
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path

import pytest
from helpers.flown import changed, navlog
from helpers.nasr_excerpt import DATA
from helpers.tiles import write_islands

from navlog.catalogue import import_data
from navlog.sheets.formats import MODULES

TEXTS = {
    "html": "</td></style><script>alert(1)</script><img src=x onerror=alert(1)>",
    "entities": "&lt;b&gt; &amp;#60; &quot; ]]> <!-- <?xml?> <![CDATA[x]]>",
    "equals": "=HYPERLINK('http://example.org';'x')",
    "plus": "+1+cmd|' /C calc'!A0",
    "minus": "-2+3",
    "at": "@SUM(A1:A9)",
    "percent": "%PDF-1.7 %s %n %(x)s {0} {x!r}",
    "pdf": ") Tj ET /JavaScript (app.alert(1)) endstream endobj trailer",
    "markdown": "[x](javascript:alert(1)) ![i](http://example.org/i.png) `c` | *b* _u_ # --- <http://example.org>",
    "shell": "$(reboot) `reboot` ; rm -rf / && ../../../etc/passwd C:\\x ~/.ssh",
    "no Latin": "Жуковский 東京 \N{AIRPLANE} e\N{COMBINING ACUTE ACCENT} \N{ZERO WIDTH JOINER}",
    "endless": "never" * 60,
}
MARKUP = re.compile(r"<\s*(script|img|iframe|object|link|a|svg)\b", re.IGNORECASE)
OTHERS = (
    *(("check", form) for form in ("text", "json", "csv", "github", "sarif", "junit")),
    *(("explain", form) for form in ("text", "json")),
    *(("revise", form) for form in ("text", "json")),
    ("mark", "csv"),
)

JUNIT = {"testsuites", "testsuite", "testcase", "failure", "error", "skipped", "system-out", "properties", "property"}
"""The elements of a JUnit report."""

Check = Callable[[str, str], None]


def route_with(text: str) -> str:
    """The invented flight with `text` wherever free text may stand; QEL stands 20 degrees off its charted radial."""
    return changed(
        f'station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft name "{text}"',
        f'airport XHAR N46 14.50 W039 07.20 elev 790ft name "{text}"',
        f'direct QHB - XHAR 9.6nm min 2500 "{text}"',
        "station QEL 110.20 N45 44.10 W039 33.00 decl 15E class L dme elev 410ft",
        "aircraft plane.toml",
        f'accept radial-differs "{text}"',
        f'radio XHAR "{text}" 118.325',
        f'note "{text}"',
        f'flight "{text}"',
        "date 2026-07-18",
        without=("tas", "burn", "date"),
    )


def flown(folder: Path, text: str, *command: str) -> str:
    """What a command prints for the flight with `text` in it."""
    card = "[cruise]\ntas_kt = 100\nburn_gal_per_h = 8\n[descent]\ntas_kt = 100\nrate_ft_per_min = 500\n"
    name = json.dumps(text.replace("\u200d", ""), ensure_ascii=False)
    (folder / "plane.toml").write_text(f"name = {name}\n{card}", "utf-8")
    (folder / "trip.route").write_text(route_with(text), "utf-8")
    done = navlog(command[0], str(folder / "trip.route"), *command[1:])
    assert done.status in (0, 1), done.err
    assert plain(done.err)
    return done.out


def plain(printed: str) -> bool:
    """Whether a terminal only prints it: no escape, no control, no change of direction."""
    return all(character.isprintable() or character in "\n\f\u200d" for character in printed)


def lines_only(printed: str, text: str) -> None:
    assert plain(printed)


def markdown(printed: str, text: str) -> None:
    assert plain(printed)
    shown = re.sub(r"\\[\W_]", "", printed)  # CommonMark 0.31, 2.4: a mark behind a backslash is itself
    assert not re.search(r"<|\]\(|!\[|`c`|&#?\w+;", shown)
    tables = re.findall(r"(?:^\|.*\n)+", shown, re.MULTILINE)
    assert tables
    for table in tables:
        assert len({line.count("|") for line in table.splitlines()}) == 1, "a name added a column"


def spreadsheet(printed: str, text: str) -> None:
    rows = list(csv.reader(io.StringIO(printed, newline=""), strict=True))
    assert len({len(row) for row in rows}) == 1
    for cell in (cell for row in rows for cell in row):
        assert not cell.startswith(("=", "+", "-", "@", "\t", "\r", "|", "%")) or re.fullmatch(r"-\d+(\.\d+)?", cell)


def json_lines(printed: str, text: str) -> None:
    whole = [printed] if printed.startswith('{"type"') else printed.splitlines()
    strings = [one for line in whole for one in strings_in(json.loads(line))]
    assert any(text in one for one in strings), "the text itself is kept"
    assert printed.isascii() or plain(printed)


def strings_in(value: object) -> list[str]:
    if isinstance(value, dict):
        return [one for inner in value.values() for one in strings_in(inner)]
    if isinstance(value, list):
        return [one for inner in value for one in strings_in(inner)]
    return [value] if isinstance(value, str) else []


def xml(printed: str, text: str) -> None:
    tags = {element.tag.rpartition("}")[2] for element in ET.fromstring(printed.encode()).iter()}
    assert not tags & {"script", "img", "b", "style", "link"} - {"link" if "<gpx" in printed else ""}
    for element in ET.fromstring(printed.encode()).iter():
        if element.tag.endswith("}description"):
            assert not MARKUP.search(element.text or ""), "a description is shown as HTML"


class Outline(HTMLParser):
    """The tags of a page with their attributes."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, list[str]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, [name for name, _ in attrs]))


def html(printed: str, text: str) -> None:
    for tag, attributes in Outline(printed).tags:
        assert tag not in ("script", "img", "iframe", "object", "embed", "a", "base", "form")
        assert not [name for name in attributes if name.startswith("on") or name in ("href", "src")]
    assert printed.count("</style>") == printed.count("<style>") == 1


CHECKS: dict[str, Check] = {
    "text": lines_only,
    "strip": lines_only,
    "steps": lines_only,
    "planning": lines_only,
    "item15": lines_only,
    "markdown": markdown,
    "html": html,
    "csv": spreadsheet,
    "json": json_lines,
    "geojson": json_lines,
    "gpx": xml,
    "kml": xml,
}


def test_every_format_is_checked() -> None:
    assert {*CHECKS, "pdf"} == {*MODULES}


@pytest.mark.parametrize("form", CHECKS)
@pytest.mark.parametrize("kind", TEXTS)
def test_hostile_text_is_only_text(kind: str, form: str, tmp_path: Path) -> None:
    CHECKS[form](flown(tmp_path, TEXTS[kind], "log", "--format", form), TEXTS[kind])


@pytest.mark.parametrize("kind", TEXTS)
def test_hostile_text_in_a_pdf_makes_no_object(kind: str, tmp_path: Path) -> None:
    pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")
    flown(tmp_path, TEXTS[kind], "log", "-o", str(tmp_path / "trip.pdf"))
    page = (tmp_path / "trip.pdf").read_bytes()
    outside = re.sub(rb"\((?:\\.|[^\\)])*\)", b"()", page)  # ISO 32000-1, 7.3.4.2: literal strings, escaped
    assert not re.search(rb"/(JavaScript|JS|URI|Launch|OpenAction|AA|EmbeddedFile)\b", outside)
    assert outside.count(b" obj\n") == outside.count(b"endobj\n")
    assert outside.count(b"trailer") == 1


@pytest.mark.parametrize(("command", "form"), OTHERS)
@pytest.mark.parametrize("kind", TEXTS)
def test_hostile_text_in_other_answers(kind: str, command: str, form: str, tmp_path: Path) -> None:
    text = TEXTS[kind]
    own = {"mark": ["--template"], "revise": ["--at", "QHB", "15:20"]}.get(command, [])
    options = own if command == "mark" else [*own, "--format", form]
    printed = flown(tmp_path, text, command, *options)
    if form == "sarif":
        assert any(text in one for one in strings_in(json.loads(printed)))
    elif form == "junit":
        assert {one.tag for one in ET.fromstring(printed.encode()).iter()} <= JUNIT
    elif form == "github":
        commands = [line for line in printed.splitlines() if "::" in line]
        assert all(re.match(r"::(error|warning|notice) file=[^:]*::", line) for line in commands)
    elif form == "csv":
        spreadsheet(printed, text)
    elif form == "json":
        json_lines(printed, text)
    else:
        lines_only(printed, text)


CHARACTERS = "a\x1b[31m\x07\x9b2J\u202eb\u2066\x00\r\x7f"
"""Escapes, a bell and changes of direction; a route file with them is refused, other sources may bring them."""


@pytest.mark.parametrize("form", CHECKS)
def test_a_file_name_of_control_characters_is_only_text(form: str, tmp_path: Path) -> None:
    folder = tmp_path / CHARACTERS.replace("\x00", "").replace("/", "")
    folder.mkdir()
    printed = flown(folder, "Harbour", "log", "--format", form)
    CHECKS[form](printed, "Harbour")
    assert plain(printed.replace("\r\n", "\n"))


ASKED = [("catalogue", "station", "QHB"), ("catalogue", "nearby", "46.2 -39.3"), ("log", "-")]


@pytest.mark.parametrize("command", ASKED, ids=" ".join)
def test_published_names_of_control_characters_are_only_text(command: tuple[str, ...], tmp_path: Path) -> None:
    header = (DATA / "nasr" / "NAV_BASE.csv").read_text("utf-8").splitlines()[0]
    columns = next(csv.reader([header]))
    row = dict.fromkeys(columns, "") | {
        "EFF_DATE": "2026/05/14", "NAV_ID": "QHB", "NAV_TYPE": "VOR", "NAME": CHARACTERS.replace("\r", ""),
        "CITY": "\x1b]0;x\x07", "STATE_CODE": "\u202eX", "COUNTRY_CODE": "US", "LAT_DECIMAL": "46.205",
        "LONG_DECIMAL": "-39.345", "MAG_VARN": "15", "MAG_VARN_HEMIS": "W", "FREQ": "113.7",
    }  # fmt: skip
    with (tmp_path / "NAV_BASE.csv").open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([columns, list(row.values())])
    path = tmp_path / "catalogue.sqlite"
    import_data(tmp_path, path)
    text = changed("route XHAR QHB XOLD", "date 2026-05-20", without=("station QHB", "airway", "direct"))
    options = ["--date", "2026-05-20"] if command[0] == "catalogue" else []
    done = navlog(*command, *options, "--catalogue", str(path), typed=text)
    assert "QHB" in done.out
    assert plain(done.out)
    assert plain(done.err)


@pytest.mark.parametrize("form", [*CHECKS, "notices"])
@pytest.mark.parametrize("kind", TEXTS)
def test_hostile_text_in_a_notice_is_only_text(kind: str, form: str, tmp_path: Path) -> None:
    """One that is not understood, and one that counts."""
    text = TEXTS[kind]
    notices = f"!XHA 07/001 QHB NAV VOR {text} 2607181200-PERM\n!XHA 07/002 QEL NAV DME U/S {text} 2607181200-PERM\n"
    (tmp_path / "briefing.txt").write_text(notices, "utf-8")
    (tmp_path / "trip.route").write_text(changed("notices briefing.txt", f'note "{text}"'), "utf-8")
    log = ("log", str(tmp_path / "trip.route"), "--format", form)
    done = navlog(*(("notices", str(tmp_path / "briefing.txt")) if form == "notices" else log))
    assert done.status in (0, 1), done.err
    assert plain(done.err)
    CHECKS.get(form, lines_only)(done.out, text)


@pytest.mark.parametrize("form", CHECKS)
@pytest.mark.parametrize("name", [CHARACTERS, TEXTS["html"], TEXTS["markdown"], "=1+1"], ids=["escapes", *"hmf"])
def test_a_hostile_name_of_a_tile_is_only_text(name: str, form: str, tmp_path: Path) -> None:
    """The tile's name stands in the head of the sheets and beside the ground below a leg."""
    tiles = tmp_path / "tiles"
    tiles.mkdir()
    kept = re.sub(r"[/\x00]", "", name)
    write_islands(tiles).rename(tiles / f"{kept}.tif")
    text = changed("terrain tiles", "route XHAR QHB XOLD", without=("direct", "airway"))
    (tmp_path / "trip.route").write_text(text, "utf-8")
    done = navlog("log", str(tmp_path / "trip.route"), "--format", form)
    assert done.status in (0, 1), done.err
    assert plain(done.err)
    assert plain(done.out.replace("\r\n", "\n"))
    CHECKS[form](done.out, "QHB")
