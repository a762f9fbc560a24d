"""Libraries of routes for tests: small files over the invented islands and over the NASR excerpt."""

from __future__ import annotations

from pathlib import Path

from helpers.nasr_excerpt import DATA

from navlog.catalogue import import_data
from navlog.rules.samples import sample

REAL_ROUTES = (
    "CRE V1 PLANN",
    "CHS V1 CRE",
    "GLL V101 LIBEL",
    "RMG V154 TIROE",
    "WALLO V1 ISO",
    "VEL V101 RENAE",
    "LOA V583 FZT",
)
"""Routes that the NASR excerpt knows."""


def real_library(folder: Path, files: int) -> list[str]:
    """Files of two flights each over the NASR excerpt, with levels and days that differ."""
    names = []
    for number in range(files):
        lines = ["tas 120kt", "wind 250/20", f"date 2026-05-{14 + number % 17:02d}"]
        for flight in range(2):
            route = REAL_ROUTES[(number + 3 * flight) % len(REAL_ROUTES)]
            altitude_ft = 2_500 + 500 * (number % 20)
            lines += [f'flight "{number} {flight}"', f"  altitude {altitude_ft}", f"  route {route}"]
        path = folder / f"{number:04d}.route"
        path.write_text("\n".join(lines) + "\n", "utf-8")
        names.append(str(path))
    return names


def islands(folder: Path, **flights: str) -> list[str]:
    """A file a flight; each says which statements of the base flight it changes, a line each."""
    names = []
    for name, changed in flights.items():
        path = folder / f"{name}.route"
        path.write_text(sample(*changed.splitlines()), "utf-8")
        names.append(str(path))
    return names


def excerpt_catalogue(folder: Path) -> str:
    """A catalogue of the committed NASR excerpt."""
    path = folder / "catalogue.sqlite"
    import_data(DATA / "nasr", path)
    return str(path)
