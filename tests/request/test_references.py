"""What a route file from a stranger makes problems tell of the files that it names."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, Run, changed, navlog

from navlog import check_text
from navlog.request.references import References

SECRET = "hunter2"
PASSWORDS = f"root:x:0:0:{SECRET}:/root:/bin/sh\n{SECRET}::1:1::/:/bin/false\n"
TOML_OF_ANOTHER = f'[login]\npassword = "{SECRET}"\n{SECRET}_key = 1\nname = ["{SECRET}"]\n'
HALF = f'name = "Trainer"\n[cruise]\ntas_kt = "{SECRET}"\n{SECRET} = 1\nburn_gal_per_h = 8\n'
BROKEN = f"[cruise]\ntas_kt = 100 {SECRET}\n"
LATIN = f"[cruise]\n# {SECRET} \xe9\n".encode("latin-1")
FORECAST = "VALID 181800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000\nFT  3000    6000\n"
BULLETIN = f"{FORECAST}QEL 2312 {SECRET}\n{SECRET} 2312 2418+04\n"
ALIKE: dict[str, str | bytes] = {"toml": HALF, "broken toml": BROKEN, "not UTF-8": LATIN, "bulletin": BULLETIN}
OTHERS: dict[str, str | bytes] = {
    "passwords": PASSWORDS,
    "toml of another": TOML_OF_ANOTHER,
    "binary": b"\x00\xff" + SECRET.encode(),
}
COMMANDS = (
    ("check",),
    ("check", "--format", "json"),
    ("check", "--format", "csv"),
    ("log",),
    ("log", "--format", "json"),
    ("explain",),
    ("revise", "--at", "QHB", "15:20"),
    ("mark", "--template"),
)


def naming(keyword: str, path: object) -> str:
    """The invented flight with a file named."""
    return changed(f"{keyword} {path}", without=("tas", "burn") if keyword == "aircraft" else ("wind",))


def put(path: Path, content: str | bytes) -> Path:
    path.parent.mkdir(exist_ok=True, parents=True)
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def told(run: Run) -> bool:
    """Whether anything printed is of the file."""
    return SECRET in run.out + run.err


@pytest.mark.parametrize("keyword", ["aircraft", "winds"])
@pytest.mark.parametrize("kind", OTHERS)
def test_a_file_of_another_kind_is_never_quoted(kind: str, keyword: str, tmp_path: Path) -> None:
    named = put(tmp_path / "inside", OTHERS[kind])
    route = put(tmp_path / "trip.route", naming(keyword, "inside"))
    for options in ((), ("--quote-outside",)):
        found = navlog("check", str(route), *options)
        assert found.status == 2
        assert not told(found)
        assert f"{named}:" in found.err
        assert "its text is not shown, as " in found.err


@pytest.mark.parametrize("kind", ALIKE)
def test_a_file_of_its_kind_in_the_folder_is_quoted(kind: str, tmp_path: Path) -> None:
    put(tmp_path / "below" / "named", ALIKE[kind])
    route = put(tmp_path / "trip.route", naming("winds" if kind == "bulletin" else "aircraft", "below/named"))
    found = navlog("check", str(route))
    assert found.status == 2
    assert "^" in found.err
    assert kind == "not UTF-8" or told(found)


def ways(folder: Path, named: Path) -> dict[str, str]:
    """Ways to write a file outside the folder."""
    (folder / "link").symlink_to(named)
    (folder / "away").symlink_to(named.parent, target_is_directory=True)
    return {
        "absolute": str(named),
        "upward": f"../{named.parent.name}/{named.name}",
        "round about": f"../{folder.name}/../{named.parent.name}/{named.name}",
        "a link": "link",
        "through a link": f"away/{named.name}",
    }


@pytest.mark.parametrize("way", ["absolute", "upward", "round about", "a link", "through a link"])
@pytest.mark.parametrize("kind", [*ALIKE, *OTHERS])
def test_no_text_from_outside_the_folder_is_told(kind: str, way: str, tmp_path: Path) -> None:
    named = put(tmp_path / "private" / "named", (ALIKE | OTHERS)[kind])
    keyword = "winds" if kind == "bulletin" else "aircraft"
    folder = tmp_path / "trips"
    folder.mkdir()
    written = ways(folder, named)[way]
    route = put(folder / "trip.route", naming(keyword, written))
    for command in COMMANDS:
        found = navlog(command[0], str(route), *command[1:])
        assert found.status == 2
        assert not told(found), command
        assert "^" not in found.err
    place = written if written.startswith("/") else f"{folder}/{written}"
    printed = navlog("check", str(route)).err
    assert f"{place}:" in printed
    assert "it lies outside the route file's folder; --quote-outside shows it" in printed
    assert not told(navlog("check", str(folder), "--jobs", "2"))


@pytest.mark.parametrize("kind", ALIKE)
def test_the_option_shows_it_where_it_is_of_the_kind(kind: str, tmp_path: Path) -> None:
    named = put(tmp_path / "private" / "named", ALIKE[kind])
    keyword = "winds" if kind == "bulletin" else "aircraft"
    route = put(tmp_path / "trips" / "trip.route", naming(keyword, named))
    for command in COMMANDS:
        found = navlog(command[0], str(route), "--quote-outside", *command[1:])
        assert found.status == 2
        assert "^" in found.err
        assert "not shown" not in found.err


def test_the_line_and_the_code_are_still_told(tmp_path: Path) -> None:
    named = put(tmp_path / "private" / "plane.toml", HALF)
    route = put(tmp_path / "trips" / "trip.route", naming("aircraft", named))
    printed = navlog("check", str(route), "--format", "json").out
    (one,) = map(json.loads, printed.splitlines())
    found = {(problem["code"], problem["file"], problem["line"], problem["column"]) for problem in one["problems"]}
    assert found == {("bad-value", str(named), 3, 1), ("unknown-key", str(named), 4, 1)}
    assert {problem["message"] for problem in one["problems"]} == {
        "this cannot be used as an aircraft file: a value cannot be used",
        "this cannot be used as an aircraft file: a key means nothing here",
    }


def test_a_sound_file_outside_is_flown_by(tmp_path: Path) -> None:
    put(tmp_path / "fleet" / "plane.toml", 'name = "Trainer"\n[cruise]\ntas_kt = 100\nburn_gal_per_h = 8\n')
    route = put(tmp_path / "trips" / "trip.route", naming("aircraft", "../fleet/plane.toml"))
    assert navlog("log", str(route)).status == 0


def test_one_check_of_two_folders_quotes_for_the_file_s_own_folder_alone(tmp_path: Path) -> None:
    # Both write the same path; what the first may be told must not be handed to the second.
    named = put(tmp_path / "a" / "plane.toml", HALF)
    put(tmp_path / "a" / "own.route", naming("aircraft", named))
    put(tmp_path / "b" / "strange.route", naming("aircraft", named))
    assert told(navlog("check", str(tmp_path / "a")))
    assert not told(navlog("check", str(tmp_path / "b")))
    for order in (("a", "b"), ("b", "a")):
        found = navlog("check", *(str(tmp_path / one) for one in order), "--format", "json")
        quoted = {json.loads(line)["flight"]: SECRET in line for line in found.out.splitlines()}
        assert quoted == {"own": True, "strange": False}


def test_standard_input_stands_in_the_folder_one_is_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    put(tmp_path / "private" / "plane.toml", HALF)
    put(tmp_path / "here" / "plane.toml", HALF)
    monkeypatch.chdir(tmp_path / "here")
    assert told(navlog("check", "-", typed=naming("aircraft", "plane.toml")))
    assert not told(navlog("check", "-", typed=naming("aircraft", "../private/plane.toml")))


def test_a_folder_beside_one_of_the_same_beginning_is_outside(tmp_path: Path) -> None:
    put(tmp_path / "trips-private" / "plane.toml", HALF)
    route = put(tmp_path / "trips" / "trip.route", naming("aircraft", "../trips-private/plane.toml"))
    assert not told(navlog("check", str(route)))


def test_the_library_withholds_alike(tmp_path: Path) -> None:
    named = put(tmp_path / "private" / "plane.toml", HALF)
    text, file = naming("aircraft", named), str(tmp_path / "trips" / "trip.route")
    (without,) = check_text(text, file)
    (shown,) = check_text(text, file, references=References(quote_outside=True))
    assert SECRET not in repr(without.problems)
    assert SECRET in repr(shown.problems)
    # Texts that the caller hands in are the caller's own.
    (own,) = check_text(text, file, references=References({str(named): HALF}))
    assert SECRET in repr(own.problems)


def test_many_blank_lines_are_judged_quickly() -> None:
    from navlog.request.references import AIRCRAFT_FILE, BULLETIN, _is_like

    for kind in (AIRCRAFT_FILE, BULLETIN):
        for one in ("\n", " ", "\t", "tas", "FT ", "VALID "):
            assert not _is_like(kind, one * (900_000 // len(one)))


NAMING = [("aircraft", ("tas", "burn")), ("winds", ("wind",)), ("notices", ()), ("terrain", ())]


@pytest.mark.parametrize(("keyword", "without"), NAMING)
@pytest.mark.parametrize(
    "command", [("log",), ("check",), ("explain",), ("mark", "--template"), ("revise", "--at", "QHB", "15:16")]
)
def test_no_files_refuses_what_a_route_file_names_at_its_statement(
    command: tuple[str, ...], keyword: str, without: tuple[str, ...], tmp_path: Path
) -> None:
    """Nothing is opened: the file named is not there, and that is not what is told."""
    route = tmp_path / "trip.route"
    route.write_text(changed(without=without) + f"\n{keyword} not-there\n", "utf-8")
    line = len(route.read_text("utf-8").splitlines())
    done = navlog(command[0], str(route), *command[1:], "--no-files")
    assert done.status == 2
    assert f"{route}:{line}:1: error: `{keyword}` names a file, and --no-files" in done.out + done.err
    assert "cannot-read" not in done.out + done.err
    route.write_text(changed(), "utf-8")
    assert navlog(command[0], str(route), *command[1:], "--no-files").status in (0, 1)


def test_no_files_lets_the_options_name_files(tmp_path: Path) -> None:
    route = tmp_path / "trip.route"
    route.write_text(changed(without=("tas", "burn")) + "\naircraft not-there.toml\n", "utf-8")
    done = navlog("log", str(route), "--no-files", "--set", f"aircraft {EXAMPLES / 'trainer.toml'}")
    assert done.status in (0, 1), done.err
