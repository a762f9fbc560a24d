"""What the published data leaves open and the log fills in by a computation."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.rules.registry import Case, Found, Group, Rule, Severity, rule
from navlog.rules.samples import PUBLISHED, sample


@rule(
    "fix-computed",
    Severity.WARNING,
    group=Group.DATA,
    source="FAA NASR FIX_NAV: radials and distances over the ground; re-aligned stations leave old radials behind",
    remedy="define the fix in the file with the position from the chart",
    passing=PUBLISHED,
    failing=sample("route XHAR QHB V801 QEL/A055 MAKER XOLD", "-direct QEL"),
)
def fix_computed(case: Case) -> Iterator[Found]:
    """A fix has no published position and stands where its radials and distances put it."""
    told = set()
    for leg in case.first_legs:
        for point in (leg.stretch.start, leg.stretch.end):
            fix = point.fix
            if fix is not None and fix.computed and fix.ident not in told:
                told.add(fix.ident)
                by = " and ".join(dict.fromkeys(bearing.station for bearing in fix.makeup))
                message = f"{fix.ident} has no published position; it is placed by its make-up from {by}"
                yield Found(message, leg, about=fix.ident)


RULES: tuple[Rule, ...] = (fix_computed,)
