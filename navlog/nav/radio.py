"""VOR and DME by the book: frequencies, channels, Morse, range, slant distance and needle deflection.

Heights are feet above the station, distances nautical miles, deflections degrees with right positive.
"""

from __future__ import annotations

from functools import lru_cache
from math import atan2, degrees, hypot, inf, isfinite, nextafter, radians, sqrt, tan

from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.units import FEET_PER_NM, read_frequency

# First channel, last channel, and the frequency in kHz paired with the first one's X channel; each channel is
# 100 kHz on, its Y channel 50 kHz more. The rule of ICAO Annex 10, Volume I, Table A, read second-hand; all
# 1,111 stations of FAA NASR 2026-05-14 that give both agree.
_PAIRINGS = ((1, 16, 134_400), (17, 59, 108_000), (60, 69, 133_300), (70, 126, 112_300))

# ITU-R M.1677-1.
_LETTERS = ".- -... -.-. -.. . ..-. --. .... .. .--- -.- .-.. -- -. --- .--. --.- .-. ... - ..- ...- .-- -..- -.-- --.."
_FIGURES = "----- .---- ..--- ...-- ....- ..... -.... --... ---.. ----."
_MORSE = dict(zip("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789", f"{_LETTERS} {_FIGURES}".split(), strict=True))

# Height above the transmitter from, to (both included) and radius: FAA AIM 1-1-8, table 1-1-1. Where bands
# touch or overlap, the larger radius holds.
_BELOW_18000_FT = nextafter(18_000.0, 0.0)
_VOLUMES: dict[str, tuple[tuple[float, float, float], ...]] = {
    "T": ((1_000, 12_000, 25),),
    "L": ((1_000, 18_000, 40),),
    "H": ((1_000, 14_500, 40), (14_500, 60_000, 100), (18_000, 45_000, 130)),
    "VL": ((1_000, 5_000, 40), (5_000, _BELOW_18000_FT, 70)),
    "VH": ((1_000, 5_000, 40), (5_000, 14_500, 70), (14_500, 60_000, 100), (18_000, 45_000, 130)),
    # From memory, as is the line of sight up to 12,900 ft.
    "DL": ((0, _BELOW_18000_FT, 130),),
    "DH": ((0, 60_000, 100), (0, 45_000, 130)),
}
_LINE_OF_SIGHT_BELOW_FT = {"DL": 12_900.0, "DH": 12_900.0}

# FAA Instrument Flying Handbook, chapter 7: each dot is 2 degrees; the last stands at 10 degrees.
DOT_DEG = 2.0
# ICAO Doc 8168, Volume I, part I, section 2, chapter 2, 2.4.4.1: the cone's angle from the vertical.
_CONE_DEG = 50.0


def check_vor_frequency(mhz: str | float) -> float:
    """The frequency in MHz, if a VOR may have it: 108.00 to 117.95 in steps of 0.05, localizers left out.

    The band and its steps are those of ICAO Annex 10, Volume I, 3.3.2. Below 112 MHz the odd tenths, with or
    without 0.05, belong to localizers (EASA learning objectives; true of all 826 VORs of FAA NASR).
    Raises a `bad-frequency` problem for any other, `bad-value` for text that is no number.
    """
    khz, said = _kilohertz(mhz)
    if not 108_000 <= khz <= 117_950:
        raise _bad_frequency(f"{said} MHz is not in the VOR band", "VOR frequencies run from 108.00 to 117.95")
    if khz % 50:
        lower = int(khz // 50) * 50
        hint = f"steps are 0.05 MHz: {lower / 1000:.2f} or {(lower + 50) / 1000:.2f}"
        raise _bad_frequency(f"{said} MHz is not a channel", hint)
    # 108.10 and 108.15 are localizers, 108.20 and 108.25 VORs: the tenth decides for both.
    if khz < 112_000 and khz // 100 % 2:
        hint = "below 112 MHz a VOR has an even tenth, such as 110.20 or 110.25"
        raise _bad_frequency(f"{said} MHz is a localizer frequency", hint)
    return khz / 1000.0


@lru_cache(maxsize=1_024)
def channel_for(mhz: str | float) -> str:
    """The DME or TACAN channel paired with a VOR or localizer frequency: `84X` for 113.70.

    Raises a `bad-frequency` problem for a frequency that is paired with none.
    """
    khz, said = _kilohertz(mhz)
    for first, last, first_khz in _PAIRINGS:
        steps, rest = divmod(khz - first_khz, 100)
        # The bands of the table do not overlap, so the first that holds the frequency is the only one.
        if 0 <= steps <= last - first and rest in (0, 50):
            return f"{first + int(steps)}{'Y' if rest else 'X'}"
    raise _bad_frequency(
        f"{said} MHz is paired with no channel",
        "paired frequencies run from 108.00 to 117.95 in steps of 0.05",
    )


def frequency_for(channel: str) -> float | None:
    """The frequency in MHz paired with a channel such as `84X`; None for what is no channel."""
    digits, letter = channel[:-1], channel[-1:]
    if letter not in ("X", "Y") or not (digits.isascii() and digits.isdigit()) or len(digits) > 3:
        return None
    for first, last, first_khz in _PAIRINGS:
        if first <= int(digits) <= last:
            return (first_khz + 100 * (int(digits) - first) + 50 * (letter == "Y")) / 1000.0
    return None


def morse(ident: str) -> str:
    """An identifier in dots and dashes, letters apart by a space: `--.- .... -...` for QHB (ITU-R M.1677-1).

    Raises a `bad-ident` problem for anything but capital letters and digits.
    """
    if not ident or not all(character in _MORSE for character in ident):
        raise problem_error(
            "bad-ident", f"`{ident}` has no Morse code", hint="an identifier is capital letters and digits"
        )
    return " ".join(_MORSE[character] for character in ident)


def service_radius_nm(service_class: str, height_above_station_ft: float) -> float | None:
    """How far a station of a standard service volume may be used off airways, at a height above it.

    Classes T, L, H, VL, VH for the VOR, and T, L, H, DL, DH for the DME (FAA AIM 1-1-8); None for another
    class. 0 where the height is outside the volume. The DME classes reach to the horizon below 12,900 ft,
    130 NM at most (from memory).
    """
    bands = _VOLUMES.get(service_class)
    if bands is None:
        return None
    radius_nm = 0.0
    for low_ft, high_ft, band_nm in bands:
        if low_ft <= height_above_station_ft <= high_ft and band_nm > radius_nm:
            radius_nm = band_nm
    if height_above_station_ft < _LINE_OF_SIGHT_BELOW_FT.get(service_class, -inf):
        radius_nm = min(radius_nm, radio_horizon_nm(height_above_station_ft))
    return float(radius_nm)


def widest_radius_nm(service_class: str, most_above_ft: float) -> float | None:
    """How far a station of a class may be used at the most, of all heights up to one above it.

    For a station whose own elevation is not known: it stands somewhere between the lowest ground and the aeroplane.
    None for another class.
    """
    bands = _VOLUMES.get(service_class)
    if bands is None:
        return None
    edges = [edge for low, high, _ in bands for edge in (low, high) if edge <= most_above_ft]
    return max(service_radius_nm(service_class, height) or 0.0 for height in (*edges, most_above_ft))


def radio_horizon_nm(height_ft: float, station_height_ft: float = 0.0) -> float:
    """How far VHF reaches by the usual rule: 1.23 x (sqrt(h1) + sqrt(h2)), heights above the ground between.

    A height below that ground counts as 0. The factor is that of four thirds of the earth's radius.
    """
    # The horizon of a smooth earth is 1.06 x sqrt(h); VHF bends down as if the radius were 4/3: sqrt(4/3) x 1.06.
    above_ft = height_ft if height_ft > 0.0 else 0.0
    station_above_ft = station_height_ft if station_height_ft > 0.0 else 0.0
    return 1.23 * (sqrt(above_ft) + sqrt(station_above_ft))


def slant_nm(ground_nm: float, height_above_ft: float) -> float:
    """What a DME reads at a ground distance and a height above (or below) its station.

    The right-angled triangle of ICAO Doc 8168, Volume II, part I, section 4, chapter 3, appendix C.
    """
    return hypot(ground_nm, height_above_ft / FEET_PER_NM)


def ground_nm(slant_nm: float, height_above_ft: float) -> float:
    """The ground distance at which a DME reads `slant_nm`, at a height above (or below) its station.

    Raises an `impossible-dme` problem for a reading shorter than the height.
    """
    height_nm = abs(height_above_ft) / FEET_PER_NM
    if not (isfinite(slant_nm) and slant_nm >= height_nm):
        raise problem_error(
            "impossible-dme",
            f"a DME {abs(height_above_ft):.0f} ft below cannot read {slant_nm:g} NM",
            hint=f"right overhead it reads {height_nm:.1f} NM; give more, or a distance over the ground",
        )
    # The difference of squares as a product keeps its digits where the aeroplane is nearly overhead.
    return sqrt((slant_nm - height_nm) * (slant_nm + height_nm))


def cone_radius_nm(height_above_ft: float) -> float:
    """The radius of the cone over a VOR in which its indication is not to be trusted: h x tan 50 degrees."""
    # Below the antenna there is no cone: a field lower than its station asks for none.
    return max(height_above_ft, 0.0) / FEET_PER_NM * tan(radians(_CONE_DEG))


def deflection_deg(off_nm: float, along_nm: float) -> float:
    """The angle at the station, and so on the needle, of a place `off_nm` abeam a point `along_nm` out."""
    return degrees(atan2(off_nm, along_nm))


def off_course_nm(deflection_deg: float, along_nm: float) -> float:
    """How far abeam the radial a needle's deflection puts the aeroplane, `along_nm` from the station."""
    return along_nm * tan(radians(deflection_deg))


def dots(deflection_deg: float) -> float:
    """A deflection in dots of 2 degrees; a needle stops at 5 (FAA Instrument Flying Handbook, chapter 7)."""
    return deflection_deg / DOT_DEG


def _kilohertz(mhz: str | float) -> tuple[float, str]:
    """The frequency in kHz, whole where it is meant to be, and as it was said."""
    value = read_frequency(mhz) if isinstance(mhz, str) else mhz
    if not isfinite(value):
        raise _bad_frequency("a frequency is not a finite number", "write it in MHz, such as 113.70")
    khz = value * 1000.0
    # 113.70 x 1000 is not exactly whole in binary.
    whole = round(khz)
    return (float(whole) if abs(khz - whole) < 1e-3 else khz), mhz if isinstance(mhz, str) else f"{mhz:g}"


def _bad_frequency(message: str, hint: str) -> NavlogError:
    return problem_error("bad-frequency", message, hint=hint)
