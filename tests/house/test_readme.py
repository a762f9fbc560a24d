"""Every command in README.md, DEVELOPERS.md and the topics of `navlog help` is run and prints what stands there."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from navlog.cli import COMMANDS, run
from navlog.cli.catalogue_option import default_catalogue
from navlog.cli.help_command import topics
from navlog.request.statements import STATEMENTS
from navlog.rules.domains import every_rule

ROOT = Path(__file__).parents[2]
HELP = ROOT / "navlog" / "help"
PAGES = ("README.md", "DEVELOPERS.md", *sorted(f"navlog/help/{path.name}" for path in HELP.glob("*.md")))
BLOCK = re.compile(r"^```console\n(.*?)^```\n", re.MULTILINE | re.DOTALL)
EXAMPLE_KEY = re.compile(r"^\[?(\w+)\]?(?: *=|$)|, (\w+) =", re.MULTILINE)
ROUTE_BLOCK = re.compile(r"This is `(examples/\S+)`:\n\n```route\n(.*?)```\n", re.DOTALL)


def blocks() -> list[tuple[str, str]]:
    """Every console block: the page it stands on and its text."""
    found = []
    for page in PAGES:
        text = (ROOT / page).read_text(encoding="utf-8")
        found += [(page, match.group(1)) for match in BLOCK.finditer(text)]
    return found


def printed(command: str, capfd: pytest.CaptureFixture[str]) -> str:
    """What a command line of a page prints, messages after results."""
    words = shlex.split(command)
    assert words[0] == "navlog"
    capfd.readouterr()
    run(words[1:])
    out, err = capfd.readouterr()
    return (out + err).replace(str(Path(default_catalogue()).parent), "~/.config/navlog")


@pytest.mark.parametrize(("page", "block"), blocks(), ids=[block.splitlines()[0] for _, block in blocks()])
def test_a_command_prints_what_the_page_shows(
    page: str,
    block: str,
    capfd: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    request: pytest.FixtureRequest,
    tmp_path: Path,
) -> None:
    monkeypatch.chdir(ROOT)
    monkeypatch.delenv("NAVLOG_CATALOGUE", raising=False)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    command, _, shown = block.partition("\n")
    assert command.startswith("$ navlog ")
    run(["catalogue", "import", "examples/islands"])
    now = printed(command.removeprefix("$ "), capfd)
    if request.config.getoption("--update-golden"):
        text = (ROOT / page).read_text(encoding="utf-8")
        changed = text.replace(f"```console\n{block}```", f"```console\n{command}\n{now}```")
        (ROOT / page).write_text(changed, "utf-8")
    else:
        assert shown == now


def test_the_route_file_shown_is_the_example(request: pytest.FixtureRequest) -> None:
    page = HELP / "route-file.md"
    text = page.read_text(encoding="utf-8")
    match = ROUTE_BLOCK.search(text)
    assert match is not None
    example = (ROOT / match.group(1)).read_text(encoding="utf-8")
    if request.config.getoption("--update-golden"):
        start, end = match.span(2)
        page.write_text(text[:start] + example + text[end:], "utf-8")
    else:
        assert match.group(2) == example


def assert_table(page: Path, head: str, rows: str, *, update: bool) -> None:
    """The table of `page` under `head` has these rows."""
    text = page.read_text(encoding="utf-8")
    start = text.index(head) + len(head)
    end = text.find("\n\n", start - 1) + 1 or len(text)
    if update:
        page.write_text(text[:start] + rows + text[end:], "utf-8")
    else:
        assert text[start:end] == rows


def test_the_table_of_statements_is_the_one_that_the_parser_goes_by(request: pytest.FixtureRequest) -> None:
    rows = "".join(
        f"| `{one.keyword} {one.form}` | {one.says} | "
        + ", ".join(f"`{one.keyword} {example}`" for example in one.examples)
        + " |\n"
        for one in STATEMENTS.values()
    )
    head = "| statement | what it says | such as |\n| --- | --- | --- |\n"
    assert_table(HELP / "route-file.md", head, rows, update=request.config.getoption("--update-golden"))


def test_the_table_of_rules_is_the_registry(request: pytest.FixtureRequest) -> None:
    rows = "".join(
        f"| `{one.ident}` | {' or '.join(each.value for each in (one.severity, *one.at_times))} | {one.title} |\n"
        for one in every_rule()
    )
    head = "| rule | severity | what it says |\n| --- | --- | --- |\n"
    assert_table(HELP / "findings.md", head, rows, update=request.config.getoption("--update-golden"))


def test_the_readme_lists_every_command_and_every_topic(request: pytest.FixtureRequest) -> None:
    update = request.config.getoption("--update-golden")
    commands = "".join(f"| `{name}` | {says} |\n" for name, (_, says) in COMMANDS.items())
    assert_table(ROOT / "README.md", "| command | what it does |\n| --- | --- |\n", commands, update=update)
    told = "".join(f"| [`{name}`](navlog/help/{name}.md) | {says} |\n" for name, says in topics().items())
    assert_table(ROOT / "README.md", "| topic | what it tells |\n| --- | --- |\n", told, update=update)


def test_the_readme_is_short_and_topics_are_not_empty() -> None:
    assert len((ROOT / "README.md").read_text(encoding="utf-8").splitlines()) <= 350
    assert [name for name in topics() if len((HELP / f"{name}.md").read_text("utf-8").splitlines()) < 3] == []


def test_every_key_of_an_aircraft_file_stands_in_its_table() -> None:
    section = (HELP / "aircraft.md").read_text(encoding="utf-8")
    example = (ROOT / "examples" / "trainer.toml").read_text(encoding="utf-8")
    found = {one or other for one, other in EXAMPLE_KEY.findall(example)}
    assert {"climb", "steer_deg", "isa_deviation_c"} <= found
    assert [key for key in found if key not in section] == []


def test_the_readme_opens_with_one_paragraph_that_states_the_job() -> None:
    first = (ROOT / "README.md").read_text(encoding="utf-8").split("\n\n")[0]
    job = "turns a plain-text list of stations, radials and airways into a VOR navigation log"
    assert first.startswith(f"`navlog` {job}")


INLINE = re.compile(r"`navlog ([^`]*examples/[^`]*)`")
SENTENCES = sorted({line for page in PAGES for line in INLINE.findall((ROOT / page).read_text(encoding="utf-8"))})


@pytest.mark.parametrize("line", SENTENCES)
def test_a_command_in_a_sentence_works(
    line: str, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(ROOT)
    monkeypatch.setenv("NAVLOG_CATALOGUE", str(tmp_path / "islands.sqlite"))
    run(["catalogue", "import", "examples/islands"])
    assert run(shlex.split(line)) == 0
    assert "bug" not in capfd.readouterr().err


def test_every_command_is_in_the_reference() -> None:
    text = (HELP / "reference.md").read_text(encoding="utf-8")
    missing = [name for name in COMMANDS if name != "catalogue" and f"$ navlog {name} --help" not in text]
    assert missing == []


def test_completion_offers_commands() -> None:
    asked = {"_NAVLOG_COMPLETE": "bash_complete", "COMP_WORDS": "navlog vor", "COMP_CWORD": "1"}
    command = [sys.executable, "-m", "navlog"]
    found = subprocess.run(command, env=os.environ | asked, capture_output=True, text=True, check=True, cwd=ROOT)
    assert "vor-check" in found.stdout
