"""What the legs ahead of a revised flight are flown without, told under each as on the log."""

from __future__ import annotations

from pathlib import Path

from helpers.flown import changed, navlog

BRIEFING = """\
!XHA 07/001 QEL NAV VOR U/S 2607181200-2607182000
!XHA 07/002 QSK NAV VOR U/S 2607181200-2607182000
"""
MEA = (
    "!FDC 6/0117 ZZZ ROUTE ZZZ. V801 HARBOUR (QHB) VOR/DME TO ELDON (QEL) VOR/DME MEA 3600. 2607010000-2707010000EST\n"
)
ROUTE = changed("route XHAR QHB QEL XOLD over QSK XHAR")
BY_QEL = "   > by !XHA 07/001: QEL VOR out of service"
DEAD_RECKONING = "   > dead reckoning, hold "


def sheets(tmp_path: Path, *at: str, text: str = ROUTE, briefing: str = BRIEFING) -> tuple[list[str], list[str]]:
    """The log and the revision of one flight, each by its lines."""
    route = tmp_path / "flight.route"
    route.write_text(text, "utf-8")
    (tmp_path / "briefing.txt").write_text(briefing, "utf-8")
    with_notices = (str(route), "--notices", str(tmp_path / "briefing.txt"))
    passed = [word for one in at for word in ("--at", *one.split())]
    return navlog("log", *with_notices).out.splitlines(), navlog("revise", *with_notices, *passed).out.splitlines()


def under(lines: list[str], leg: int) -> list[str]:
    """What stands under the row of a leg, lines broken as printed."""
    start = next(at for at, line in enumerate(lines) if line.startswith(f"{leg:2} "))
    found = []
    for line in lines[start + 1 :]:
        if line[:2].strip() or not line:
            break
        found.append(line)
    return found


def test_each_leg_ahead_that_a_notice_changes_names_it_in_the_words_of_the_log(tmp_path: Path) -> None:
    # Flown as planned: XHAR to QHB takes 6 minutes on the log, so the headings and times ahead are the log's too.
    log, revised = sheets(tmp_path, "QHB 15:16")
    for leg in (2, 3, 4, 5):
        told = [line for line in under(log, leg) if line.startswith(("   > by !", DEAD_RECKONING))]
        assert told != []
        assert under(revised, leg) == told
    assert BY_QEL in under(revised, 2)
    assert any(line.startswith(DEAD_RECKONING) for line in under(revised, 3))
    assert BY_QEL in under(revised, 3)


def test_a_leg_that_is_flown_no_more_tells_no_notice(tmp_path: Path) -> None:
    _, revised = sheets(tmp_path, "QHB 15:16", "QEL 15:34", "XOLD 15:39")
    assert "07/002" in "\n".join(revised)
    assert "07/001" not in "\n".join(revised)


def test_what_is_left_of_a_stretch_names_the_notice_that_changes_it(tmp_path: Path) -> None:
    # The changeover point lies 11 NM from QHB; the log has the notice under the leg before it.
    by_mea = "   > by !FDC 6/0117: V801 QHB to QEL MEA 3600 ft"
    log, revised = sheets(tmp_path, "QHB 15:16", "cop 15:23", text=changed(), briefing=MEA)
    assert by_mea in under(log, 2)
    assert by_mea not in under(log, 3)
    assert under(revised, 3) == [by_mea]
    assert under(revised, 4) == []


def test_without_notices_the_legs_ahead_stand_as_they_are() -> None:
    found = navlog("revise", "-", "--at", "QHB", "15:16", typed=changed()).out
    assert " > " not in found
