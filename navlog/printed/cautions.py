"""The words that stand on every sheet: what the figures mean, and what they are not good for."""

_LEGEND = (
    "Set: course to set with the flag to expect. {hdg} TC, MC: true and magnetic course, WCA: wind correction, GS:"
    " groundspeed in kt. Wind blows from, true. Z: UTC, Z+1: a day after the date above{far}. Distances NM, altitudes"
    " ft MSL, FL pressure altitude.{rem} COP: changeover point. MEA, MOCA, MAA, MCA, MTA, MRA as in"
    " 14 CFR 95.1 and the AIM; min: stated minimum{terrain}. ! an error or warning means this figure, ? unknown, - does"
    " not apply, XXX impossible, ~ by station north, * unverified data. Turns under 3 degrees are not told. Distance,"
    " time and fuel add as printed; each course is rounded by itself; fuel used rounds up."
)

_MAGNETIC = "Hdg: magnetic heading."
_BY_COMPASS = "Hdg: compass heading by the compass card, with M magnetic where the card is silent."

_TERRAIN = "; terrain: computed from tiles, never a clearance"

_REMAINING = " Rem: from the leg's end to the last landing."
_TO_GO = " To go, Left: distance and fuel that are left at the leg's end."

STRIP_LEGEND = (
    "IN, OUT: course set to come in and to go on. fuel: planned to be left here; least: must be left to go on as"
    " planned. ATA, GS, FUEL on the right are for the pen. COP distances run along the way, DME reads slant."
)

CAUTIONS = (
    "For planning only. Verify every figure against current charts and NOTAMs; local rules and licensed practice"
    " decide, and the pilot in command is responsible. Identify each station by its Morse before relying on it."
)


_PAGE_KEY = (
    "SET: course to set, flag to expect. {hdg} turn: of the heading, L left. ETA, fuel: at the place; NM, min, GS: on"
    " the way from it; left: NM from that way's end to the next landing; ALT: to climb, keep or go down to; TOC 7.6 +8:"
    " NM and minutes after it. Distances NM, altitudes ft MSL. ! a finding means this, ? unknown, - does not apply, XXX"
    " impossible, ~ by station north, * unverified."
)


_PAGE_SIGNS = (
    "{hdg} ETA, fuel: at the place; left: at row's end. Distances NM, ft MSL. ! a finding means this, ? unknown, - does"
    " not apply, XXX impossible, ~ by station north, * unverified."
)


def page_signs(*, by_compass: bool) -> str:
    """The signs of the knee page alone, where there is no room for more."""
    return _PAGE_SIGNS.format(hdg=_heading_words(by_compass=by_compass))


def page_key(*, by_compass: bool) -> str:
    """How the knee page is read, in short."""
    return _PAGE_KEY.format(hdg=_heading_words(by_compass=by_compass))


def _heading_words(*, by_compass: bool) -> str:
    """Which headings the page has."""
    return (_BY_COMPASS if by_compass else _MAGNETIC).replace("Hdg", "HDG")


def legend(*, by_compass: bool, remaining: bool, terrain: bool, far: bool, to_go: bool = False) -> str:
    """The legend of a sheet: headings by compass or magnetic, with a column `Rem` and minimums by terrain or not.

    `to_go` where the distance from each leg's end stands in words, as `24.3 to go`; `far` where a time is more than
    nine days after the date.
    """
    return _LEGEND.format(
        hdg=_BY_COMPASS if by_compass else _MAGNETIC,
        far=", Z>9: more than nine days" if far else "",
        rem=_REMAINING if remaining else _TO_GO if to_go else "",
        terrain=_TERRAIN if terrain else "",
    )
