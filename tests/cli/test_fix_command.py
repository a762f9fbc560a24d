"""`navlog fix`."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

Run = Callable[..., tuple[int, str, str]]


QHB = "QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft"
QEL = "QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme elev 410ft"
STATIONS = ("--station", QHB, "--station", QEL)


def test_two_radials(navlog: Run) -> None:
    # Place and distances by GeographicLib in test_fixing; 25.8 x sin 1 / sin 72 = 0.47.
    assert navlog("fix QHB 160 x QEL 090", *STATIONS) == (
        0,
        "N45 51.16 W038 59.55\n"
        "QHB radial 160, 25.8 NM; QEL radial 090, 24.4 NM\n"
        "cut 72 degrees\n"
        "a bearing error of 1 degree moves it by up to 0.77 NM (QHB's by 0.47, QEL's by 0.45)\n",
        "",
    )


def test_a_radial_and_a_dme_reading(navlog: Run) -> None:
    # 4,680 ft above: sqrt(5^2 - 0.77^2) = 4.94; 0.5 NM is the DME's by FAA AIM 1-1-7.
    _, out, _ = navlog("fix QHB 084 dme 5 at 5500 --bearing-error 3.6", *STATIONS)
    assert out.splitlines()[1:] == [
        "QHB radial 084, 4.9 NM (DME 5.0)",
        "a bearing error of 3.6 degrees moves it 0.31 NM across",
        "the DME may be off by 0.50 NM; both together 0.59 NM",
    ]


def test_a_radial_and_a_distance_over_the_ground(navlog: Run) -> None:
    _, out, _ = navlog("fix QHB 084 5nm --altitude 5500ft", *STATIONS)
    assert out.splitlines()[1:] == [
        "QHB radial 084, 5.0 NM (DME 5.1)",
        "a bearing error of 1 degree moves it 0.09 NM across",
    ]


@pytest.mark.parametrize(
    ("fix", "cut"),
    [("QHB 200 x QEL 060", ", shallow"), ("QHB 205 x QEL 050", ", poor"), ("QHB 160 x QEL 090", "")],
)
def test_the_cut_is_judged(navlog: Run, fix: str, cut: str) -> None:
    _, out, _ = navlog(f"fix {fix}", *STATIONS)
    assert out.splitlines()[2].endswith(f"degrees{cut}")


def test_stations_from_a_route_file(navlog: Run, tmp_path: Path) -> None:
    file = tmp_path / "a.route"
    file.write_text(f"station {QHB}\nstation {QEL}\n")
    typed = navlog("fix QHB 160 x QEL 090", *STATIONS)
    assert navlog("fix QHB 160 x QEL 090 --from", str(file)) == typed
    status, _, err = navlog("fix QHB 160 x QEL 090 --from", str(tmp_path / "none.route"))
    assert status == 2
    assert "cannot read this file" in err


@pytest.mark.parametrize(
    ("line", "error"),
    [
        (
            "QHB 160 x QEL 270",
            "error: the two radials would meet at or behind the second station, not ahead of it [no-crossing]\n"
            "  hint: check both radials and which station each belongs to\n",
        ),
        (
            "QHB 084 dme 0.5 at 5500",
            "error: a DME 4680 ft below cannot read 0.5 NM [impossible-dme]\n"
            "  hint: right overhead it reads 0.8 NM; give more, or a distance over the ground\n",
        ),
        ("QBH 084 5nm", "error: no station `QBH` is given [unknown-ident]\n  hint: did you mean `QHB`?\n"),
        (
            "QHB 84 5nm",
            "fix:1:5: error: `84` is not an angle of three digits [bad-angle]\n"
            "   1 | QHB 84 5nm\n     |     ^^\n  hint: write three digits: 084\n",
        ),
    ],
)
def test_bad_input_is_one_message(navlog: Run, line: str, error: str) -> None:
    assert navlog(f"fix {line}", *STATIONS) == (2, "", error)


def test_the_name_that_a_route_file_gives_a_fix_is_left_out_here(navlog: Run) -> None:
    status, _, err = navlog("fix ROSKO QHB 160 x QEL 090", *STATIONS)
    assert status == 2
    assert "hint: leave the fix's name out: QHB 160 x QEL 090" in err
