"""The designated mountainous areas of 14 CFR part 95, subpart B, and the clearance of 14 CFR 91.177 that they ask for.

Corners are those of the law, in whole minutes. 95.15 (West): the text, read as far as the twelfth corner of its
second exception. 95.13 (East): the corners as a public map of part 95 draws them (`part95MountainousEastern`),
whose western half has every corner of the text of 95.15 and which has the one corner that 73 FR 63885 (28 October
2008) names, 42 13 N 72 44 W. 95.19 (Hawaii): the islands it names, as boxes around them. The texts of 95.17
(Alaska) and 95.21 (Puerto Rico) could not be had: there nothing is decided.

Where an area runs along a border or a coast its corners lie on or just beyond it, by 10 NM at most. The law does
not say how its corners are joined; here by lines that are straight in latitude and longitude, within 2 NM of both
geodesics and lines of constant bearing.
"""

from __future__ import annotations

from functools import cache
from typing import TypeAlias

from navlog.nav.chart import Position

_HIGHER_CLEARANCE_FT = 2000.0
_LOWER_CLEARANCE_FT = 1000.0

_Corners: TypeAlias = tuple[tuple[float, float], ...]

_ALLEGHENIES = """
    4050N08000W 4026N07954W 3825N08146W 3600N08600W 3337N08645W 3230N08625W 3322N08500W 3635N07920W 4011N07624W
    4124N07430W 4129N07400W 4137N07358W 4241N07355W 4302N07615W 4252N07842W 4226N07913W 4205N08000W
"""
_NEW_ENGLAND = """
    4131N07346W 4143N07240W 4213N07244W 4312N07130W 4345N07030W 4500N06930W 4710N06755W 4722N06822W 4727N06913W
    4642N07000W 4625N07005W 4618N07013W 4558N07019W 4547N07025W 4540N07033W 4531N07043W 4524N07049W 4521N07101W
    4518N07117W 4514N07126W 4501N07130W 4500N07326W 4432N07304W 4251N07341W
"""
_ADIRONDACKS = "4500N07339W 4500N07415W 4420N07530W 4314N07530W 4317N07521W 4259N07443W 4252N07353W 4430N07318W"
_WEST = """
    4900N10800W 4645N10400W 4406N10315W 4300N10315W 4152N10339W 3511N10339W 3317N10427W 3217N10414W 2948N10200W
    2945N10240W 2911N10254W 2858N10314W 2901N10322W 2915N10348W 2919N10404W 2936N10428W 3006N10443W 3036N10459W
    3041N10505W 3104N10537W 3123N10602W 3145N10630W 3147N10632W 3147N10813W 3120N10813W 3120N11105W 3230N11449W
    3243N11443W 3232N11708W 3300N11720W 3342N11825W 3400N11850W 3423N12030W 3435N12041W 3509N12056W 3636N12202W
    3706N12224W 3748N12234W 3800N12304W 3857N12346W 3951N12357W 4026N12426W 4145N12418W 4250N12436W 4612N12408W
    4752N12444W 4823N12447W 4823N12439W 4811N12403W 4810N12342W 4807N12318W 4811N12309W
    4803N12248W 4741N12254W 4715N12317W 4635N12317W 4635N12248W 4650N12240W 4652N12216W 4659N12213W 4712N12200W
    4808N12200W 4834N12221W 4900N12221W
"""
"""The last twelve corners are those of the second exception, about Puget Sound, which the area goes round."""

_CENTRAL_VALLEY = """
    3525N11909W 3529N11858W 3649N11937W 3830N12124W 3930N12132W 4008N12208W 4006N12220W 3905N12212W 3801N12151W
    3737N12112W 3700N12058W 3614N12011W
"""
_PUGET_SOUND = """
    4803N12248W 4741N12254W 4715N12317W 4635N12317W 4635N12248W 4650N12240W 4652N12216W 4659N12213W 4712N12200W
    4808N12200W 4834N12221W 4900N12221W
"""
"""Closed by a straight line, short of its last corner, whose longitude could not be read."""

_HAWAII = (
    "2214N15948W 2214N15917W 2152N15917W 2152N15948W",  # Kauai
    "2144N15818W 2144N15738W 2114N15738W 2114N15818W",  # Oahu
    "2114N15720W 2114N15642W 2102N15642W 2102N15720W",  # Molokai
    "2056N15705W 2056N15648W 2043N15648W 2043N15705W",  # Lanai
    "2037N15643W 2037N15631W 2029N15631W 2029N15643W",  # Kahoolawe
    "2103N15643W 2103N15558W 2034N15558W 2034N15643W",  # Maui
    "2017N15605W 2017N15448W 1854N15448W 1854N15605W",  # Hawaii
)

_PLAINS = """
    4900N10800W 4900N09510W 4842N09436W 4836N09330W 4818N09230W 4806N09100W 4800N09006W 4757N08936W 4718N08600W
    4645N08512W 4624N08436W 4624N08415W 4603N08400W 4554N08336W 4536N08312W 4500N08236W 4336N08218W 4303N08227W
    4236N08233W 4227N08252W 4221N08259W 4218N08305W 4212N08308W 4200N08309W 4145N08300W 4137N08241W 4142N08224W
    4206N08118W 4227N08012W 4251N07857W 4257N07854W 4305N07900W 4316N07900W 4333N07842W 4336N07648W 4403N07624W
    4417N07557W 4433N07536W 4454N07506W 4459N07445W 4500N07436W 4500N07130W 4703N06749W 4545N06750W 4536N06730W
    4517N06730W 4508N06718W 4451N06701W 4442N06700W 4424N06724W 4354N06824W 4330N06948W 4300N07018W 4242N07024W
    4206N06954W 4112N06942W 4106N07048W 4054N07200W 4024N07336W 3936N07400W 3848N07442W 3748N07506W 3654N07542W
    3512N07518W 3424N07624W 3342N07742W 3236N07924W 3130N08054W 3024N08112W 2830N08018W 2700N07954W 2542N08000W
    2454N08024W 2424N08130W 2427N08206W 2506N08124W 2600N08200W 2718N08254W 2848N08300W 2948N08400W 2930N08512W
    3012N08630W 3006N08812W 2900N08854W 2854N08930W 2900N09048W 2915N09230W 2927N09348W 2905N09442W 2818N09612W
    2736N09706W 2600N09700W 2558N09709W 2554N09724W 2604N09800W 2606N09815W 2615N09842W 2625N09900W 2654N09918W
    2718N09929W 2733N09929W 2748N09948W 2812N10012W 2842N10029W 2906N10039W 2923N10051W 2936N10112W 2948N10130W
    2948N10200W 3217N10414W 3317N10427W 3511N10339W 4152N10339W 4300N10315W 4406N10315W 4645N10400W
"""
"""The contiguous States east of the western area, inside their borders and up to 12 NM off their coasts.

The law has no such line; it is drawn from memory, and tests hold it against published airports of both sides.
"""


def mountainous(position: Position) -> bool | None:
    """Whether a place lies in a designated mountainous area; None where that is not decided.

    Not decided are Alaska, Puerto Rico, places outside the United States and its coastal waters, and a strip
    about the San Juan Islands.
    """
    here = (position.latitude_deg, position.longitude_deg)
    inside = [name for name, corners in _areas() if _holds(corners, here)]
    # First: the exceptions of 95.15 lie inside the area that they are taken from.
    if "exception" in inside:
        return False
    if "area" in inside:
        return True
    return False if "plain" in inside else None


def clearance_ft(in_mountains: bool | None) -> float:
    """Feet above the highest obstacle that 14 CFR 91.177(a)(2) asks for; the higher where nothing is decided."""
    # Nothing decided must not lower a minimum: the higher is safe on both sides of the line.
    return _LOWER_CLEARANCE_FT if in_mountains is False else _HIGHER_CLEARANCE_FT


@cache
def _areas() -> tuple[tuple[str, _Corners], ...]:
    """Every outline with what it means."""
    drawn = (
        *(("area", text) for text in (_ALLEGHENIES, _NEW_ENGLAND, _ADIRONDACKS, _WEST, *_HAWAII)),
        *(("exception", text) for text in (_CENTRAL_VALLEY, _PUGET_SOUND)),
        ("plain", _PLAINS),
    )
    return tuple((name, tuple(map(_corner, text.split()))) for name, text in drawn)


def _corner(text: str) -> tuple[float, float]:
    """Latitude and longitude of `4213N07244W`."""
    return int(text[:2]) + int(text[2:4]) / 60.0, -(int(text[5:8]) + int(text[8:10]) / 60.0)


def _holds(corners: _Corners, here: tuple[float, float]) -> bool:
    """Whether a place lies within an outline: how often a line to the east crosses it."""
    latitude, longitude = here
    crossings = 0
    for (lat, lon), (next_lat, next_lon) in zip(corners, (*corners[1:], corners[0]), strict=True):
        # One side counts its own end and the other does not, so that a corner on the line is crossed once.
        if (lat > latitude) != (next_lat > latitude):
            crossings += longitude < lon + (latitude - lat) / (next_lat - lat) * (next_lon - lon)
    return crossings % 2 == 1
