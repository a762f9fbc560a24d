"""`navlog notices`: what it prints of a briefing, and what it refuses."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

BRIEFING = Path(__file__).parents[2] / "examples" / "briefing.txt"

Run = Callable[..., tuple[int, str, str]]


def test_a_notice_that_is_not_understood_is_printed_whole(navlog: Run) -> None:
    status, out, _ = navlog(f"notices {BRIEFING}")
    assert status == 0
    assert "!XHA 07/015 QHB NAV VOR/DME TACAN AZM BAFFLED 2607171200-PERM" in out
    assert "QEL VOR unusable on R-085 to R-105 beyond 10 NM below 5000 ft" in out
    assert out.splitlines()[-1].startswith(f"{BRIEFING}: 7 notices, 1 not understood or not whole, 0 cancelled")


def test_at_a_moment_it_tells_which_notices_count(navlog: Run) -> None:
    _, out, _ = navlog(f"notices {BRIEFING} --format json --at", "2026-07-18 15:10Z")
    counts = {one["ident"]: one["counts"] for one in map(json.loads, out.splitlines())}
    assert counts["!XHA 07/012"] is True
    assert counts["!XHA 07/013"] is False


def test_json_has_the_effect_in_figures(navlog: Run) -> None:
    _, out, _ = navlog(f"notices {BRIEFING} --format json")
    sector = json.loads(out.splitlines()[0])["effects"][0]
    assert (sector["kind"], sector["station"]) == ("station-sector", "QEL")
    assert sector["sector"]["beyond_nm"] == 10.0


def test_a_text_without_notices_is_told(navlog: Run, tmp_path: Path) -> None:
    empty = tmp_path / "mail.txt"
    empty.write_text("Dear pilot, no news today.\n", "utf-8")
    for file in (empty, "examples/landing.route"):
        status, out, err = navlog(f"notices {file}")
        assert (status, out) == (2, "")
        assert f"{file}:1:1: error: no notice is found in this text [no-notices]" in err


def test_what_is_no_moment_is_refused_with_its_place(navlog: Run) -> None:
    status, _, err = navlog(f"notices {BRIEFING} --at", "noon")
    assert status == 2
    assert "--at:1:1: error: `noon` is no moment [bad-value]" in err
