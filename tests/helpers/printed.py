"""Reading a printed log back: its cells by heading, so that tests can add up what a pilot sees."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

BREAK = "=" * 80
SECOND_LINE = re.compile(
    r"   (?P<Via>\S+) +(?P<Dist>[\d.]+) NM +(?P<Rem>[\d.]+) to (?P<Goal>\w+)  alt (?P<Alt>\S+) (?P<Min>(?:MEA|min) \S+)"
    r"(?: M\w+ \d+)*"
    r"  TC (?P<TC>\S+) MC (?P<MC>\S+) WCA (?P<WCA>\S+) GS (?P<GS>\S+)"
)
MARKED = re.compile(r"(?<=\S)!(?=\s|$)")
"""The mark behind a figure that an error or warning means."""
TOTAL = re.compile(r"TOTAL  (?P<NM>\S+) NM +(?P<time>\S+) in the air +fuel (?P<fuel>\S+ \S+) +landing (?P<landing>\S+)")
WIDER = {"Set": 6, "ETA": 5}
"""How much wider than their heading the left-aligned columns before right-aligned ones are."""
FUEL = re.compile(
    r"FUEL in \S+: on board (?P<board>\S+) .*left at landing (?P<left>\S+)\s+required (?P<required>\S+) = trip"
    r" (?P<trip>\S+) .*reserve (?P<reserve>\S+)\s+\+ extra \S+\s+reserve (?P<minutes>\d+) min by .*?"
    r"(?:  margin (?P<margin>[^\n]*))?(?:\n  endurance [^\n]*)?(?:\n  before that.*)?$",
    re.DOTALL,
)


@dataclass(slots=True)
class PrintedLeg:
    """The cells of one leg and the remarks under it."""

    cells: dict[str, str]
    remarks: list[str] = field(default_factory=list)


@dataclass(slots=True)
class PrintedLog:
    """What one sheet says."""

    name: str
    stations: dict[str, str]
    legs: list[PrintedLeg]
    total: dict[str, str]
    fuel: dict[str, str]
    text: str


def printed_logs(text: str) -> list[PrintedLog]:
    """The sheets of a printed text."""
    return [printed_log(one.strip("\n")) for one in text.split(f"\n{BREAK}\n")]


def printed_log(text: str) -> PrintedLog:
    """One sheet read back."""
    blocks = text.split("\n\n")
    stations = next(block for block in blocks if block.startswith("STATIONS"))
    table = next(block for block in blocks if block.startswith("No "))
    total = next(block for block in blocks if block.startswith("TOTAL"))
    fuel = next(block for block in blocks if block.startswith("FUEL"))
    totals, fuels = TOTAL.match(total), FUEL.match(fuel)
    assert totals is not None, total
    assert fuels is not None, fuel
    return PrintedLog(
        name=text.split("\n", maxsplit=1)[0].removeprefix("VOR NAVIGATION LOG - "),
        stations={line.split()[0]: line for line in stations.split("\n")[1:]},
        legs=printed_legs(table.split("\n")),
        total=totals.groupdict(),
        fuel={key: value or "" for key, value in fuels.groupdict().items()},
        text=text,
    )


def printed_legs(lines: list[str]) -> list[PrintedLeg]:
    """The legs of the table; headings say where each cell of a leg's first line stands."""
    places = [(match.group(), match.start(), match.end()) for match in re.finditer(r"\S+", lines[0])]
    found: list[PrintedLeg] = []
    pending: str | None = None
    for line in lines[2:]:
        if re.match(r" ?\d+ ", line):
            # A mark pushes the next column on by one at most, into room that it has to spare.
            pending = MARKED.sub(" ", line)
        elif pending is not None:
            second = SECOND_LINE.match(MARKED.sub("", line))
            assert second is not None, line
            found.append(PrintedLeg(first_cells(pending, places) | second.groupdict()))
            pending = None
        elif line.startswith("   > "):
            found[-1].remarks.append(line.removeprefix("   > "))
        else:
            found[-1].remarks[-1] += " " + line.strip()
    return found


def first_cells(line: str, places: list[tuple[str, int, int]]) -> dict[str, str]:
    """The cells of a leg's first line: left-aligned ones begin under their heading, the others end there."""
    cells: dict[str, str] = {}
    for index, (heading, start, end) in enumerate(places):
        if heading in ("From", "To", "Tune", "Set", "ETA"):
            after = places[index + 1][1] if heading not in WIDER else end + WIDER[heading]
            cells[heading] = line[start:after].strip()
        else:
            before = places[index - 1][2] if index else 0
            before += WIDER.get(places[index - 1][0], 0)
            cells[heading] = line[before:end].strip()
    return cells


def hours_and_minutes(text: str) -> int:
    """Minutes of `1:24`."""
    hours, minutes = text.split(":")
    return int(hours) * 60 + int(minutes)
