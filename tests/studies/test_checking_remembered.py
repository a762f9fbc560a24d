"""What a check remembers: the same said again, nothing worked twice, and everything that matters counts as a change."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import msgspec
import pytest
from helpers.flown import EXAMPLES, Run, changed, navlog
from hypothesis import given, settings
from hypothesis import strategies as st

from navlog.catalogue import import_data
from navlog.studies import checking, remembered

NOTICE = "!XHA 07/012 QEL NAV VOR/DME OUT OF SERVICE 2607171200-2607201200\n"
BULLETIN = EXAMPLES / "forecast"
FLIGHT = changed(
    "aircraft trainer.toml", "notices briefing.txt", "terrain tiles", without=("tas", "burn", "fuel", "taxi")
)


class Library:
    """A folder with a flight that names an aircraft, notices and terrain, another flight, and a catalogue."""

    def __init__(self, root: Path) -> None:
        self.root, self.routes, self.cache = root, root / "routes", root / "cache"
        self.routes.mkdir()
        (self.routes / "named.route").write_text(FLIGHT, "utf-8")
        (self.routes / "plain.route").write_text(changed(), "utf-8")
        shutil.copy(EXAMPLES / "trainer.toml", self.routes)
        (self.routes / "briefing.txt").write_text(NOTICE, "utf-8")
        shutil.copytree(EXAMPLES / "terrain", self.routes / "tiles")
        self.catalogue = root / "islands.sqlite"
        import_data(EXAMPLES / "islands", self.catalogue)

    def check(self, *options: str, cached: bool = True) -> Run:
        kept = ("--cache", str(self.cache)) if cached else ()
        return navlog("check", str(self.routes), "--catalogue", str(self.catalogue), *kept, *options)


@pytest.fixture
def library(tmp_path: Path) -> Library:
    return Library(tmp_path)


@pytest.fixture
def worked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the files that are checked and not remembered, as they come."""
    names: list[str] = []
    verdicts = checking._verdicts

    def watched(read: checking._Read, *rest: object) -> object:
        names.append(Path(read.plans.file).name)
        return verdicts(read, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(checking, "_verdicts", watched)
    return names


@pytest.mark.parametrize("form", ["text", "json", "csv", "sarif", "junit", "github"])
def test_what_is_remembered_is_told_as_if_it_were_new(library: Library, worked: list[str], form: str) -> None:
    (library.routes / "broken.route").write_text(changed("route XHAR NOWHERE"), "utf-8")
    (library.routes / "no text.route").write_bytes(b"\xff\x00")
    new = library.check("--format", form, cached=False)
    first = library.check("--format", form)
    worked.clear()
    again = library.check("--format", form)
    assert worked == []
    assert new == first == again


def test_several_processes_remember_for_each_other(library: Library, worked: list[str]) -> None:
    first = library.check("--jobs", "2")
    assert library.check() == first
    assert worked == []
    assert library.check("--jobs", "2") == first


def appended(path: str) -> Callable[[Library], None]:
    def change(library: Library) -> None:
        with open(library.routes / path, "ab") as opened:
            opened.write(b"\n# more\n")

    return change


def removed(library: Library) -> None:
    (library.routes / "trainer.toml").unlink()


def another_tile(library: Library) -> None:
    shutil.copy(library.routes / "tiles" / "islands.tif", library.routes / "tiles" / "more.tif")


def touched_tile(library: Library) -> None:
    path = library.routes / "tiles" / "islands.tif"
    path.write_bytes(path.read_bytes())


def linked_outside(library: Library) -> None:
    """The same aircraft file, now outside the folder: problems may not quote it."""
    path = library.routes / "trainer.toml"
    path.rename(library.root / "trainer.toml")
    path.symlink_to(library.root / "trainer.toml")


BOTH, NAMED, PLAIN = ["named.route", "plain.route"], ["named.route"], ["plain.route"]


@pytest.mark.parametrize(
    ("change", "again"),
    [
        pytest.param(appended("plain.route"), PLAIN, id="route file"),
        pytest.param(appended("trainer.toml"), NAMED, id="aircraft"),
        pytest.param(appended("briefing.txt"), NAMED, id="notices"),
        pytest.param(removed, NAMED, id="aircraft gone"),
        pytest.param(another_tile, NAMED, id="tile more"),
        pytest.param(touched_tile, NAMED, id="tile written"),
        pytest.param(linked_outside, NAMED, id="aircraft outside"),
        pytest.param(lambda library: None, [], id="nothing"),
        pytest.param(lambda library: (library.routes / "other.txt").write_text("x"), [], id="file that nobody reads"),
    ],
)
def test_a_change_of_a_file_counts_for_those_that_read_it(
    library: Library, worked: list[str], change: Callable[[Library], None], again: list[str]
) -> None:
    library.check()
    change(library)
    worked.clear()
    found = library.check()
    assert worked == again
    assert found == library.check(cached=False)


def test_a_bulletin_counts(library: Library, worked: list[str]) -> None:
    shutil.copytree(BULLETIN, library.routes / "forecast")
    library.check()
    worked.clear()
    winds = library.routes / "forecast" / "winds.txt"
    winds.write_text(winds.read_text("utf-8") + "\n", "utf-8")
    library.check()
    assert worked == ["trip.route"]


def test_a_file_that_was_missing_and_comes_counts(library: Library, worked: list[str]) -> None:
    held = (library.routes / "trainer.toml").read_bytes()
    (library.routes / "trainer.toml").unlink()
    assert library.check().status == 2
    (library.routes / "trainer.toml").write_bytes(held)
    worked.clear()
    assert library.check() == library.check(cached=False)
    assert worked[:1] == NAMED


@pytest.mark.parametrize(
    "options",
    [
        ("--wind", "calm"), ("--date", "2026-07-19"), ("--unavailable", "QHB"), ("--set", "ceiling 9000"),
        ("--radial-limits", "1", "2"), ("--select", "under-mea"), ("--ignore", "under-mea"),
        ("--min-severity", "error"),
        ("--quote-outside",), ("--format", "json"), ("--write-baseline", "known.json"),
    ],
    ids=" ".join,
)  # fmt: skip
def test_an_option_counts_and_the_answers_of_others_stay(
    library: Library, worked: list[str], options: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(library.root)
    library.check()
    worked.clear()
    first = library.check(*options)
    assert worked == BOTH
    worked.clear()
    assert library.check(*options) == first
    library.check()
    assert worked == []
    assert first == library.check(*options, cached=False)


def test_a_baseline_counts(library: Library, worked: list[str]) -> None:
    known = library.root / "known.json"
    library.check("--write-baseline", str(known), cached=False)
    library.check("--baseline", str(known))
    known.write_text('{"schema": "navlog/baseline-1", "findings": []}', "utf-8")
    worked.clear()
    library.check("--baseline", str(known))
    assert worked == BOTH


def test_another_catalogue_counts(library: Library, worked: list[str]) -> None:
    library.check()
    folder = library.root / "data"
    shutil.copytree(EXAMPLES / "islands", folder)
    stations = folder / "NAV_BASE.csv"
    stations.write_text(stations.read_text("utf-8").replace("113.7", "113.9"), "utf-8")
    import_data(folder, library.catalogue)
    worked.clear()
    library.check()
    assert worked == BOTH


def test_a_catalogue_that_is_replaced_during_a_run_is_not_remembered(
    library: Library, worked: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    verdicts = checking._verdicts

    def replacing(*given: object) -> object:
        held = library.catalogue.read_bytes()
        library.catalogue.unlink()
        library.catalogue.write_bytes(held)
        return verdicts(*given)  # type: ignore[arg-type]

    with monkeypatch.context() as patched:
        patched.setattr(checking, "_verdicts", replacing)
        library.check()
    assert list(library.cache.glob("*.check")) == []


@pytest.mark.parametrize("name", ["VERSION", "_LIBRARIES", "_zones"])
def test_the_version_the_libraries_and_the_time_zones_count(
    library: Library, worked: list[str], monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    library.check()
    worked.clear()
    other: dict[str, object] = {"VERSION": "0.0.9", "_LIBRARIES": ("pyproj",), "_zones": lambda: b"# version 1999a\n"}
    monkeypatch.setattr(remembered, name, other[name])
    library.check()
    assert worked == BOTH


def test_the_code_counts(library: Library, worked: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    library.check()
    code = library.root / "code" / "navlog"
    shutil.copytree(
        Path(remembered.__file__).parents[1], code, ignore=shutil.ignore_patterns("*.pyc", "schema", "help")
    )
    before = remembered.made_of()
    monkeypatch.setattr(remembered, "__file__", str(code / "studies" / "remembered.py"))
    assert remembered.made_of() == before
    with open(code / "nav" / "wind.py", "a", encoding="utf-8") as opened:
        opened.write("# other\n")
    worked.clear()
    library.check()
    assert worked == BOTH


def test_another_name_for_a_file_counts(library: Library, worked: list[str]) -> None:
    library.check()
    (library.routes / "plain.route").rename(library.routes / "same.route")
    worked.clear()
    found = library.check("--all")
    assert "same.route" in worked
    assert "plain.route" not in found.out + found.err


def entries(library: Library) -> list[Path]:
    return sorted(library.cache.glob("*.check"))


def test_a_folder_does_not_grow_with_every_change(library: Library) -> None:
    library.check()
    before = len(entries(library))
    for number in range(3):
        (library.routes / "plain.route").write_text(changed(f"fuel {30 + number}gal"), "utf-8")
        library.check()
    assert len(entries(library)) == before
    assert not [one for one in library.cache.iterdir() if one.suffix != ".check"]


@settings(max_examples=60)
@given(data=st.data())
def test_whatever_stands_in_an_entry_the_answer_is_the_same(
    data: st.DataObject, damaged: tuple[Library, Run, dict[Path, bytes]]
) -> None:
    library, right, whole = damaged
    for path, held in whole.items():
        place = data.draw(st.integers(0, len(held) - 1))
        path.write_bytes(
            data.draw(
                st.sampled_from(
                    [held[:place], held[:place] + b"\x00" + held[place + 1 :], held + b"x", b"", held[:15] + held[16:]]
                )
                | st.binary(max_size=80)
            )
        )
    assert library.check() == right


@pytest.fixture(scope="module")
def damaged(tmp_path_factory: pytest.TempPathFactory) -> tuple[Library, Run, dict[Path, bytes]]:
    """A library with what is right of it, and its entries whole."""
    library = Library(tmp_path_factory.mktemp("damaged"))
    right = library.check()
    return library, right, {path: path.read_bytes() for path in entries(library)}


def forged(path: Path, packed: bytes) -> None:
    """Write an entry whose digest is right."""
    path.write_bytes(remembered._HEAD + sha256(packed).digest() + packed)


@pytest.mark.parametrize(
    "packed",
    [b"", b"\xc1", b"\xdd\xff\xff\xff\xff", b"\x91" * 5_000, msgspec.msgpack.encode(["x", [], b""]),
     msgspec.msgpack.encode({"holds_for": 1}), msgspec.msgpack.encode([1, 2, 3])],
)  # fmt: skip
def test_a_forged_entry_of_another_kind_is_passed_over(library: Library, packed: bytes) -> None:
    right = library.check()
    for path in entries(library):
        forged(path, packed)
    assert library.check() == right


@pytest.mark.parametrize("body", [b"", b"\xc1", b"\x91\xc0", msgspec.msgpack.encode([{"flight": 1}]), b"\x91" * 5_000])
def test_a_forged_answer_of_another_kind_is_passed_over(library: Library, body: bytes) -> None:
    right = library.check()
    for path in entries(library):
        whole = path.read_bytes()[len(remembered._HEAD) + 32 :]
        entry = msgspec.msgpack.decode(whole, type=remembered._Entry)
        forged(path, msgspec.msgpack.encode(remembered._Entry(entry.holds_for, entry.used, body)))
    assert library.check() == right


@pytest.mark.skipif(os.name != "posix", reason="named pipes and modes are those of POSIX")
def test_pipes_folders_and_links_in_place_of_entries_are_passed_over(library: Library) -> None:
    right = library.check()
    first, second = entries(library)
    first.unlink()
    os.mkfifo(first)
    second.unlink()
    second.mkdir()
    assert library.check() == right
    first.unlink()
    first.symlink_to("/dev/zero")
    assert library.check() == right


@pytest.mark.skipif(os.name != "posix", reason="modes are those of POSIX")
def test_a_folder_into_which_others_may_write_is_refused(library: Library) -> None:
    library.check()
    assert library.cache.stat().st_mode & 0o077 == 0
    library.cache.chmod(0o777)
    found = library.check()
    assert (found.status, found.out) == (2, "")
    assert "[not-private]" in found.err


def test_a_folder_that_cannot_be_is_a_problem(library: Library) -> None:
    library.cache.write_text("a file", "utf-8")
    found = library.check()
    assert (found.status, found.out) == (2, "")
    assert "[cannot-write]" in found.err


def test_standard_input_is_not_remembered(library: Library) -> None:
    found = navlog("check", "-", "--cache", str(library.cache), typed=changed())
    assert found.status == 0
    assert entries(library) == []


def test_a_cache_goes_with_findings_alone(library: Library) -> None:
    found = library.check("--requirement", "61.109")
    assert (found.status, "--cache does not go with --requirement" in found.err) == (2, True)


@pytest.mark.skipif(os.name != "posix", reason="names that are no text are those of POSIX")
def test_names_that_are_no_text_are_remembered_too(library: Library, worked: list[str]) -> None:
    # 0xFF begins no character of UTF-8 (RFC 3629, 1), and is a byte that a file's name may hold.
    odd = os.fsdecode(b"\xff.route")
    (library.routes / "named.route").rename(library.routes / odd)
    first = library.check()
    assert first.status in (0, 1)
    assert odd in worked
    worked.clear()
    again = library.check()
    assert worked == []
    assert (again.out, again.status) == (first.out, first.status)
    assert library.check(cached=False).out == first.out
