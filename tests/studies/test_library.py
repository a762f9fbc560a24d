"""The library's door: what `check_text` says of a file is what `navlog check` says of it."""

from __future__ import annotations

import csv
import json
import re
import shutil
import subprocess
import sys
import xml.etree.ElementTree as ET
from datetime import date, datetime
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, ROOT, Json, changed, navlog

import navlog as navlog_package
from navlog import (
    Answer,
    FlightAnswer,
    NavlogError,
    check_text,
    log_text,
    open_catalogue,
    rows,
    to_geojson,
)
from navlog.rules.domains import every_rule
from navlog.rules.samples import FILES
from navlog.version import VERSION

FOLDERS = (EXAMPLES, *(ROOT / "tests" / name for name in ("data/valid", "data/invalid", "sheets/routes")))
ROUTES = sorted(path for folder in FOLDERS for path in folder.rglob("*.route"))


def told(answers: tuple[Answer, ...]) -> list[Json]:
    """What the library says, in the words of the JSON of `check`."""
    return [
        {
            "flight": one.flight,
            "status": one.status,
            "findings": [
                (
                    found.rule,
                    found.severity.value,
                    found.told,
                    found.leg,
                    found.span.line,
                    found.accepted,
                )
                for found in one.findings
            ],
            "problems": [
                (found.code, found.message, found.span.line if found.span is not None else None, found.hint)
                for found in one.problems
            ],
        }
        for one in answers
    ]


def printed(file: Path, *options: str) -> list[Json]:
    """The same of what `navlog check` prints."""
    lines = navlog("check", str(file), "--format", "json", *options).out.splitlines()
    return [
        {
            "flight": one["flight"],
            "status": one["status"],
            "findings": [
                tuple(found[key] for key in ("rule", "severity", "message", "leg", "line", "accepted"))
                for found in one["findings"]
            ],
            "problems": [tuple(found[key] for key in ("code", "message", "line", "hint")) for found in one["problems"]],
        }
        for one in map(json.loads, lines)
    ]


@pytest.mark.parametrize("file", ROUTES, ids=lambda file: str(file.relative_to(ROOT)))
def test_the_library_finds_what_check_finds(file: Path, islands: str) -> None:
    data = file.read_bytes()
    with open_catalogue(islands) as catalogue:
        found = told(check_text(data, str(file), catalogue=catalogue))
    assert found
    assert found == printed(file, "--catalogue", islands)
    assert told(check_text(data, str(file))) == printed(file)


def test_the_library_finds_what_check_finds_in_every_sample(islands: str, tmp_path: Path) -> None:
    for name, text in FILES.items():
        (tmp_path / name).write_text(text, "utf-8")
    (tmp_path / "trainer.toml").write_bytes((EXAMPLES / "trainer.toml").read_bytes())
    samples = sorted({text for rule in every_rule() for text in (rule.passing, rule.failing)})
    rules = set()
    with open_catalogue(islands) as catalogue:
        for number, text in enumerate(samples):
            file = tmp_path / f"{number:03d}.route"
            file.write_text(text, "utf-8")
            answers = check_text(text, str(file), catalogue=catalogue)
            assert told(answers) == printed(file, "--catalogue", islands), text
            rules |= {found.rule for one in answers for found in one.findings}
    assert len(rules) > 60


def test_neighbours_of_the_catalogue_count(islands: str, tmp_path: Path) -> None:
    # QNO of the islands has 114.90, and so has the flight's QHB here, 33 NM away.
    text = changed("station QHB 114.90 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft")
    with open_catalogue(Path(islands)) as catalogue:
        assert [one.frequency_mhz for one in catalogue.stations("QNO", date(2026, 7, 18))] == [114.9]
        (with_neighbours,) = check_text(text, catalogue=catalogue)
    (alone,) = check_text(text)
    assert "frequency-shared" in {found.rule for found in with_neighbours.findings}
    assert "frequency-shared" not in {found.rule for found in alone.findings}


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "missing-statement"),
        ("statoin QHB 113.70\n", "unknown-keyword"),
        (b"\xff\xfes\x00t\x00", "bad-encoding"),
        (b"\x00\x01\xff", "bad-encoding"),
        (b"#" * 1_000_001, "too-large"),
        ("aircraft nowhere.toml\n" + changed(without=("tas", "burn")), "cannot-read"),
        (changed("route XHAR QHB NOWHERE"), "unknown-name"),
    ],
    ids=["empty", "misspelt", "utf-16", "not text", "too large", "no such aircraft", "unknown point"],
)
def test_what_is_broken_is_a_value_and_raises_nothing(text: str | bytes, code: str) -> None:
    (answer,) = check_text(text, "trip.route")
    assert (answer.status, answer.report, answer.findings) == ("problem", None, ())
    assert code in {problem.code for problem in answer.problems}


def recipes() -> list[str]:
    """The pieces of code of the topic on the library."""
    text = (ROOT / "navlog" / "help" / "library.md").read_text(encoding="utf-8")
    return re.findall(r"```python\n(.*?)```", text, re.DOTALL)


PRINTED = ("round_robin: ok, 108.7 NM", "<FlightAnswer by_name: warning, ", "features")


@pytest.mark.parametrize(("number", "line"), list(enumerate(PRINTED)))
def test_the_recipes_run(
    number: int, line: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(EXAMPLES, tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    assert len(recipes()) == len(PRINTED)
    exec(recipes()[number], {})
    assert line in capsys.readouterr().out


@pytest.mark.parametrize("broken", ["statoin QHB 113.70\n", "tas 100kt\n", ""])
def test_the_recipes_tell_the_problems_of_a_broken_file(
    broken: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "examples").mkdir()
    for name in ("round_robin", "dogleg"):
        (tmp_path / "examples" / f"{name}.route").write_text(broken)
    monkeypatch.chdir(tmp_path)
    for recipe in (recipes()[0], recipes()[2]):
        exec(recipe, {})
        assert capsys.readouterr().out.strip()


def test_the_recipes_and_the_example_pass_the_strict_type_check(tmp_path: Path) -> None:
    pytest.importorskip("mypy", reason="mypy is not installed; the extra `dev` has it")
    files = [tmp_path / f"recipe_{number}.py" for number in range(len(recipes()))]
    for path, recipe in zip(files, recipes(), strict=True):
        path.write_text(recipe, "utf-8")
    files.append(EXAMPLES / "library.py")
    # Without the project's settings, as in a user's own folder; navlog itself is not followed into.
    options = ("--strict", "--config-file", "", "--follow-imports", "silent", "--cache-dir", str(tmp_path / "cache"))
    done = subprocess.run(
        [sys.executable, "-m", "mypy", *options, *map(str, files)],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
    )
    assert (done.returncode, done.stdout) == (0, f"Success: no issues found in {len(files)} source files\n"), (
        done.stdout
    )


def test_the_example_writes_a_row_a_leg_and_tells_what_is_wrong(tmp_path: Path) -> None:
    folder = tmp_path / "routes"
    folder.mkdir()
    (folder / "a.route").write_text(changed(), "utf-8")
    (folder / "b.route").write_text(changed("route XHAR NOWHERE"), "utf-8")
    table = tmp_path / "legs.csv"
    command = [sys.executable, str(EXAMPLES / "library.py"), str(folder), str(table)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=ROOT)
    assert done.returncode == 1
    assert "[unknown-name]" in done.stderr
    read = list(csv.DictReader(table.read_text("utf-8").splitlines()))
    logged = json.loads(navlog("log", str(folder / "a.route"), "--format", "json").out.splitlines()[0])
    assert [float(row["distance_nm"]) for row in read] == [leg["distance_nm"] for leg in logged["legs"]]


def sole(text: str, file: str = "-") -> FlightAnswer:
    (answer,) = check_text(text, file)
    return answer


@pytest.mark.parametrize("form", ["text", "csv", "json", "gpx", "markdown", "html", "item15", "planning"])
def test_a_sheet_of_the_library_is_what_log_prints(form: str, tmp_path: Path) -> None:
    path = EXAMPLES / "round_robin.route"
    written = log_text(path.read_bytes(), str(path), form=form)
    data = written.encode("utf-8") if isinstance(written, str) else written
    assert navlog("log", str(path), "--format", form, "-o", str(tmp_path / "sheet")).status == 0
    assert data == (tmp_path / "sheet").read_bytes()


def test_a_sheet_leaves_no_flight_out_unseen() -> None:
    text = changed() + 'flight "a"\nflight "b"\nroute XHAR NOWHERE\n'
    with pytest.raises(NavlogError) as raised:
        log_text(text)
    assert [one.code for one in raised.value.problems] == ["unknown-name"]
    for form, page in (("docx", "a4"), ("text", "a0")):
        with pytest.raises(NavlogError, match="there is no"):
            log_text(changed(), form=form, page=page)


@pytest.mark.parametrize(
    "text",
    [
        changed(),
        changed("alternate XHAR at 2000", "direct XOLD - XHAR 34.7nm min 4000"),
        changed(without=("wind",)),
        changed(without=("off", "fuel", "burn")),
        changed("wind 300/150"),
        changed("route XHAR XOLD"),
        changed("equipment vor 2 dme 1"),
    ],
    ids=["whole", "alternate", "no wind", "no clock or fuel", "unflyable", "no guidance", "two receivers"],
)
def test_rows_are_flat_have_the_same_keys_and_the_figures_of_the_json(text: str) -> None:
    answer = sole(text)
    assert answer.report is not None
    log = answer.report.log
    found = rows(log)
    assert len(found) == sum(len(way.legs) for way in (log, *log.alternates))
    assert len({tuple(row) for row in found}) == 1
    assert all(isinstance(cell, str | float | int | datetime | None) for row in found for cell in row.values())
    told = json.loads(navlog("log", "-", "--format", "json", typed=text).out)["legs"]
    for row, leg in zip(found, told, strict=False):
        assert row["guidance_set_course_deg"] == (leg["guidance"] or {}).get("set_course_deg")
        assert (row["from_ident"], row["to_ident"]) == (leg["from"]["ident"], leg["to"]["ident"])
        assert (row["magnetic_heading_deg"], row["time_min"]) == (leg["magnetic_heading_deg"], leg["time_min"])
        eta = row["eta"]
        assert leg["eta"] is None if eta is None else isinstance(eta, datetime) and leg["eta"][:19] in eta.isoformat()
        assert (row["unknown"] is None) == (leg["unknown"] == [])
    assert {row["alternate"] for row in found[len(log.legs) :]} == {way.route.points[-1].name for way in log.alternates}


def test_a_map_of_the_library_is_the_one_that_log_writes() -> None:
    path = EXAMPLES / "round_robin.route"
    answer = sole(path.read_text("utf-8"), str(path))
    assert answer.report is not None
    written = json.loads(navlog("log", str(path), "--format", "geojson").out)
    assert to_geojson(answer.report.log) == {"type": written["type"], "features": written["features"]}


def test_an_answer_shows_itself_in_a_notebook() -> None:
    html = sole(changed("fuel 3gal"))._repr_html_()
    root = ET.fromstring(html)
    assert [one.tag.rpartition("}")[2] for one in root][-1] == "svg"
    assert (root.findtext("li") or "").startswith("error: ")
    broken = ET.fromstring(sole(changed("route XHAR NO<b>WHERE"))._repr_html_())
    assert "problem" in (broken.findtext("li") or "")
    assert broken.find("svg") is None


def test_records_have_a_short_repr_and_can_be_hashed() -> None:
    answers = [sole(changed("alternate XHAR at 2000", "direct XOLD - XHAR 34.7nm min 4000")) for _ in range(2)]
    one, other = answers
    assert one.report is not None
    assert other.report is not None
    log = one.report.log
    pairs = [
        (one, other),
        (one.report, other.report),
        (log, other.report.log),
        (log.legs[0], other.report.log.legs[0]),
        (log.route, other.report.log.route),
        (log.route.request, other.report.log.route.request),
        (log.route.request.definitions, other.report.log.route.request.definitions),
    ]
    assert max(len(repr(one)) for one, _ in pairs[:-1]) < 100
    assert [one == other for one, other in pairs] == [True] * len(pairs)
    assert [hash(one) for one, _ in pairs] == [hash(other) for _, other in pairs]
    assert sole(changed("altitude 5000")) != one


def test_every_name_of_the_library_is_there() -> None:
    for name in navlog_package.__all__:
        assert getattr(navlog_package, name) is not None
    assert set(navlog_package.__all__) <= set(dir(navlog_package))
    assert navlog_package.__version__ == VERSION
    with pytest.raises(AttributeError):
        navlog_package.no_such_name  # noqa: B018
