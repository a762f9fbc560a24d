"""A flight due north over an invented tile of hills, and what is told of it."""

from __future__ import annotations

from pathlib import Path

from helpers.judged import of
from helpers.tiles import write_srtm

from navlog.catalogue import import_data, open_catalogue
from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.rules.answers import Answer, answers
from navlog.rules.samples import FILES, SampleCatalogue, sample

RIDGE = (
    "station QHB 113.70 N44 30.00 W071 30.00 decl 15W class L dme elev 0ft",
    "station QEL 110.20 N44 54.00 W071 30.00 decl 15W class L dme elev 0ft",
    "airport XHAR N44 06.00 W071 30.00 elev 0ft",
    "airway V801 QHB 015 - 195 QEL 24nm mea 3000",
    "-direct QHB",
    "-direct QEL",
    "route XHAR QHB V801 QEL",
)
"""A flight due north, 24 NM from the field to QHB, over an invented tile; row 600 is N44 30, 72 seconds a mile."""


def flown_over(folder: Path, heights: dict[tuple[int, int], int], *changed: str) -> Answer:
    write_srtm(folder, "N44W072", heights)
    (one,) = answers(
        read_flights(sample(f'terrain "{folder}"', *RIDGE, *changed), "f.route"), SampleCatalogue(), References(FILES)
    )
    assert one.report is not None, one.problems
    return one


def mast_row(where: str, top_ft: int, accuracy: str) -> str:
    """A row of the FAA's Digital Obstacle File of an invented mast, `accuracy` as in `5 D`: place, then height."""
    row = f"33-000001 O US NH HARBOUR          {where} TOWER              1 00100 {top_ft:05d} R {accuracy} M"
    return f"{row} 1990ASO01578OE C 2014138 "


def flown_past_mast(folder: Path, row: str, *changed: str) -> Answer:
    """The flight over flat ground, past the mast of a row; the catalogue that holds it lies in the folder."""
    (folder / "DOF.DAT").write_text(f"  CURRENCY DATE = 06/27/26\n\n\n\n{row}\n", "ascii")
    import_data(folder / "DOF.DAT", folder / "catalogue.sqlite")
    write_srtm(folder, "N44W072", {})
    text = sample(f'terrain "{folder}"', *RIDGE, *changed)
    with open_catalogue(folder / "catalogue.sqlite") as catalogue:
        (one,) = answers(read_flights(text, "f.route"), catalogue, References(FILES))
    assert one.report is not None, one.problems
    return one


def told(one: Answer, rule: str) -> list[str]:
    assert one.report is not None
    return of(rule, one.report.findings)
