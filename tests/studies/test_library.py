"""The library's door: what `check_text` says of a file is what `navlog check` says of it."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, ROOT, Json, changed, navlog

from navlog import Answer, check_text, open_catalogue
from navlog.catalogue import import_data
from navlog.rules.report import RULES
from navlog.rules.samples import FILES

FOLDERS = (EXAMPLES, *(ROOT / "tests" / name for name in ("data/valid", "data/invalid", "sheets/routes")))
ROUTES = sorted(path for folder in FOLDERS for path in folder.rglob("*.route"))


@pytest.fixture(scope="module")
def islands(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A catalogue of the invented islands."""
    folder = tmp_path_factory.mktemp("islands")
    import_data(EXAMPLES / "islands", folder / "catalogue.sqlite")
    return str(folder / "catalogue.sqlite")


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
    samples = sorted({text for rule in RULES for text in (rule.passing, rule.failing)})
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


def recipe() -> str:
    """The code of the topic on the library."""
    text = (ROOT / "navlog" / "help" / "library.md").read_text(encoding="utf-8")
    found = re.search(r"```python\n(.*?)```", text, re.DOTALL)
    assert found is not None
    return found[1]


def test_the_recipe_runs_and_prints_a_finding(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    exec(recipe(), {})
    assert "round_robin: ok, 108.7 NM" in capsys.readouterr().out


@pytest.mark.parametrize("broken", ["statoin QHB 113.70\n", "tas 100kt\n", ""])
def test_the_recipe_tells_the_problems_of_a_broken_file(
    broken: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "examples").mkdir()
    (tmp_path / "examples" / "round_robin.route").write_text(broken)
    monkeypatch.chdir(tmp_path)
    exec(recipe(), {})
    out = capsys.readouterr().out
    assert "problem" in out
    assert "[" in out


def test_the_recipe_passes_the_strict_type_check(tmp_path: Path) -> None:
    pytest.importorskip("mypy", reason="mypy is not installed; the extra `dev` has it")
    (tmp_path / "recipe.py").write_text(recipe(), "utf-8")
    # Without the project's settings, as in a user's own folder; navlog itself is not followed into.
    options = ("--strict", "--config-file", "", "--follow-imports", "silent", "--cache-dir", str(tmp_path / "cache"))
    done = subprocess.run(
        [sys.executable, "-m", "mypy", *options, str(tmp_path / "recipe.py")],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
    )
    assert (done.returncode, done.stdout) == (0, "Success: no issues found in 1 source file\n"), done.stdout
