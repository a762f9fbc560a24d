"""What the rules tell of notices, each finding whole: which counts, which does not, and whom two contradict.

The flight takes off at 15:10Z on 18 July, is on V801 from 15:16 to 15:34Z and lands at 15:39Z.
"""

from __future__ import annotations

import pytest
from helpers.judged import table, told_of

from navlog.rules.samples import FILES

_PAIR = "ROUTE ZZZ. V801 HARBOUR (QHB) VORTAC TO ELDON (QEL) VORTAC COP 12 NM FROM QHB."
_NEXT = "ROUTE ZZZ. V801 ELDON (QEL) VORTAC TO SKERRY (QSK) VORTAC COP 10 NM FROM QEL."
_DAY = "2607181200-2607182359"
_NOTICES = {
    **FILES,
    # 07/003 is cancelled, 07/004 ends 40 minutes before take-off.
    "ended.txt": "!XHA 07/001 QEL NAV VOR U/S 2607181000-2607181400EST\n"
    "!XHA 07/002 QEL NAV DME U/S 2607181000-2607181400\n"
    "!XHA 07/003 QHB NAV VOR U/S 2607181000-2607181300EST\n"
    "!XHA C07/003 QHB NAV VOR U/S 2607181000-2607181300EST\n"
    "!XHA 07/004 QHB NAV DME U/S 2607181000-2607181430EST\n"
    "!XHA 07/005 QEL NAV DME U/S 2607181000-PERM\n",
    "idle.txt": "!XHA 07/001 QHB NAV VOR BAFFLED 2607181200-PERM\n"
    "!XHA 07/002 QHB NAV VOR U/S 2607201200-2607202000\n"
    "!XHA 07/003 XHAR AD AP CLSD 2607201200-2607202000\n"
    "!XHA 07/004 XHAR RWY 01/19 CLSD 2607181200-2607182000\n"
    "!XHA C07/009 QEL NAV VOR U/S 2607181200-2607182000\n",
    "closed.txt": "!XHA 07/003 XHAR AD AP CLSD 2607181200-2607182000\n",
    "same.txt": f"!FDC 6/0001 ZZZ {_PAIR} {_DAY}\n!FDC 6/0002 ZZZ {_PAIR} {_DAY}\n",
    "next.txt": f"!FDC 6/0001 ZZZ {_PAIR} {_DAY}\n!FDC 6/0002 ZZZ {_NEXT} {_DAY}\n",
}

_TOLD = """\
notices-empty: notices no_notices.txt
    warning flight 17:9 no notice is found in no_notices.txt: nothing of it counts
notice-estimated: notices ended.txt
    warning leg 1 5:1 QHB DME out of service by !XHA 07/004: estimated back 2026-07-18 1430Z: ask [apart]
    warning leg 2 1:1 QEL VOR out of service by !XHA 07/001: estimated back 2026-07-18 1400Z: ask [apart]
notice-idle: notices ended.txt
    note flight 1:1 !XHA 07/001 is not counted: QEL VOR out of service (from 2026-07-18 10:00Z, estimated to 2026-07-18 14:00Z) [apart]
    note flight 2:1 !XHA 07/002 is not counted: QEL DME out of service (from 2026-07-18 10:00Z to 2026-07-18 14:00Z) [apart]
    note flight 3:1 !XHA 07/003 is not counted: QHB VOR out of service (cancelled by !XHA C07/003) [apart]
    note flight 5:1 !XHA 07/004 is not counted: QHB DME out of service (from 2026-07-18 10:00Z, estimated to 2026-07-18 14:30Z) [apart]
notice-counts: notices ended.txt
    note leg 2 6:1 by !XHA 07/005: QEL DME out of service (from 2026-07-18 10:00Z, no end) [apart]
# Without a time of take-off none is known to be over before the flight; what an alternate uses too is told once.
notice-estimated: notices ended.txt | -off
    warning leg 1 5:1 QHB DME out of service by !XHA 07/004: estimated back 2026-07-18 1430Z: ask [apart]
    warning leg 2 1:1 QEL VOR out of service by !XHA 07/001: estimated back 2026-07-18 1400Z: ask [apart]
notice-estimated: notices ended.txt | alternate XHAR from QEL
    warning leg 1 5:1 QHB DME out of service by !XHA 07/004: estimated back 2026-07-18 1430Z: ask [apart]
    warning leg 2 1:1 QEL VOR out of service by !XHA 07/001: estimated back 2026-07-18 1400Z: ask [apart]
notice-counts: notices ended.txt | alternate XHAR from QEL
    note leg 2 6:1 by !XHA 07/005: QEL DME out of service (from 2026-07-18 10:00Z, no end) [apart]
airport-closed: notices closed.txt | alternate XHAR
    error leg 1 1:1 XHAR is closed by !XHA 07/003 from 2026-07-18 12:00Z to 2026-07-18 20:00Z [apart]
    error alternate XHAR leg 1 1:1 XHAR is closed by !XHA 07/003 from 2026-07-18 12:00Z to 2026-07-18 20:00Z [apart]
# What is not understood is told by another rule, and a cancellation of nothing is nothing.
notice-idle: notices idle.txt
    note flight 2:1 !XHA 07/002 is not counted: QHB VOR out of service (from 2026-07-20 12:00Z to 2026-07-20 20:00Z) [apart]
    note flight 3:1 !XHA 07/003 is not counted: XHAR closed (from 2026-07-20 12:00Z to 2026-07-20 20:00Z) [apart]
    note flight 4:1 !XHA 07/004 is not counted: changes no figure of a log: a runway: !XHA 07/004 XHAR RWY 01/19 CLSD 2607181200-2607182000 [apart]
airport-closed: notices notices.txt
    error leg 4 3:1 XOLD is closed by !XHA 07/002 from 2026-07-18 12:00Z to 2026-07-18 20:00Z [apart]
airport-closed: notices idle.txt | date 2026-07-20
    error leg 1 3:1 XHAR is closed by !XHA 07/003 from 2026-07-20 12:00Z to 2026-07-20 20:00Z [apart]
airport-closed: notices notices.txt | route XHAR QHB V801 QEL | -direct QEL | alternate XOLD
    error alternate XOLD leg 1 3:1 XOLD is closed by !XHA 07/002 from 2026-07-18 12:00Z to 2026-07-18 20:00Z [apart]
notices-contradict: notices points.txt
    warning leg 2 2:1 !FDC 6/0001 and !FDC 6/0002 differ, and the later in the briefing holds: V801 QHB to QEL changeover point 12 NM from QHB; V801 QHB to QEL changeover point 15 NM from QEL
notices-contradict: notices same.txt
# Of two stretches of one airway.
notices-contradict: notices next.txt | station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L | airway V801 QHB 212 - QEL 29.5nm mea 3000 - QSK 33nm mea 3000 | route XHAR QHB V801 QSK
notice-counts: notices next.txt | station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L | airway V801 QHB 212 - QEL 29.5nm mea 3000 - QSK 33nm mea 3000 | route XHAR QHB V801 QSK
    note leg 2 1:1 by !FDC 6/0001: V801 QHB to QEL changeover point 12 NM from QHB (from 2026-07-18 12:00Z to 2026-07-18 23:59Z) [apart]
    note leg 4 2:1 by !FDC 6/0002: V801 QEL to QSK changeover point 10 NM from QEL (from 2026-07-18 12:00Z to 2026-07-18 23:59Z) [apart]
"""  # noqa: E501 - a flight or a finding is one line


@pytest.mark.parametrize(("flight", "told"), table(_TOLD).items())
def test_all_that_a_rule_tells_of_notices(flight: str, told: list[str]) -> None:
    assert told_of(flight, _NOTICES) == told
