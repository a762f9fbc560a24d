"""An alternate is a flight of its own, which goes on from the clock and the fuel of the route where it is left.

The places lie on one meridian: by the WGS84 series for its length (111,132.954 - 559.822 cos 2x + 1.175 cos 4x m a
degree) XAA to QBB is 20.006 NM, QBB to XCC 20.007, QBB back to XDD 11.004. At 120 kt in no wind and 8 gal/h a mile
takes half a minute and 0.0667 gal.
"""

from __future__ import annotations

import csv
import io

import pytest
from helpers.drawn import reports
from helpers.flown import Json, changed
from helpers.folder import Folder

PLACES = (
    "airport XAA N46 00.00 W039 00.00 elev 100ft\nstation QBB 114.00 N46 20.00 W039 00.00 decl 0E class L\n"
    "airport XCC N46 40.00 W039 00.00 elev 100ft\nairport XDD N46 09.00 W039 00.00 elev 100ft\n"
    "airport XEE N46 20.00 W039 20.00 elev 100ft\n"
)
FLOWN = PLACES + "date 2026-07-18\noff 15:00Z\nwind calm\naltitude 3500\nburn 8gph\nrules vfr day\n"


def at(moment: str) -> float:
    """The minutes after 15:00Z of a moment in JSON."""
    hour, minute, second = moment.rstrip("Z").partition("T")[2].split(":")
    return (int(hour) - 15) * 60 + int(minute) + float(second) / 60


def way(found: Json) -> Json:
    (one,) = found["alternates"]
    assert isinstance(one, dict)
    return one


def test_the_clock_goes_on_where_the_route_is_left(folder: Folder) -> None:
    one = way(folder.fly(FLOWN + "tas 120kt\nfuel 20gal\nroute XAA QBB XCC\nalternate XDD from QBB\n"))
    (leg,) = one["legs"]
    assert at(one["off"]) == pytest.approx(10.003, abs=0.003)
    assert at(leg["eta"]) == pytest.approx(10.003 + 5.502, abs=0.004)
    assert (leg["elapsed_min"], leg["time_min"]) == (pytest.approx(5.502, abs=0.003), pytest.approx(5.502, abs=0.003))
    assert leg["unknown"] == []


def test_the_fuel_goes_on_where_the_route_is_left(folder: Folder) -> None:
    asked = "tas 120kt\nfuel 20gal\nextra 1gal\ncontingency 5%\nroute XAA QBB XCC\nalternate XDD from QBB\n"
    one = way(folder.fly(FLOWN + asked))
    (leg,) = one["legs"]
    # 20 - 20.006 x 0.06667 = 18.6663 there; 11.004 x 0.06667 = 0.7336 to XDD.
    assert one["fuel"]["on_board_gal"] == pytest.approx(18.6663, abs=5e-4)
    assert leg["fuel_remaining_gal"] == pytest.approx(17.9327, abs=5e-4)
    # Kept at XDD: 30 min x 8 / 60 = 4 gal (14 CFR 91.151), extra 1, and 5 % of the 1.3337 gal flown to QBB.
    assert leg["fuel_least_gal"] == pytest.approx(5.0667, abs=5e-4)
    assert one["fuel"]["required_gal"] == pytest.approx(5.0667 + 0.7336, abs=5e-4)
    assert one["fuel"]["margin_gal"] == pytest.approx(17.9327 - 5.0667, abs=5e-4)


def test_from_a_point_passed_twice_clock_and_fuel_are_those_of_the_last_passage(folder: Folder) -> None:
    text = FLOWN + "tas 120kt\nfuel 20gal\nroute XAA QBB XCC land 30min QBB XAA\nalternate XDD from QBB\n"
    one = way(folder.fly(text))
    # 10.003 min out, 10.004 to XCC, 30 on the ground, 10.004 back; 30.011 min in the air are 4.0014 gal.
    assert [at(each["at"]) for each in one["passages"]] == pytest.approx([10.003, 60.011], abs=0.005)
    assert [each["fuel_gal"] for each in one["passages"]] == pytest.approx([18.6663, 15.9986], abs=1e-3)
    assert at(one["off"]) == pytest.approx(60.011, abs=0.005)
    assert one["fuel"]["on_board_gal"] == pytest.approx(15.9986, abs=1e-3)
    assert "QBB is passed 2 times: clock and fuel by the last, height by the lowest" in folder.run(text).out


def test_a_hold_or_a_fuelling_is_no_second_passage(folder: Folder) -> None:
    text = FLOWN + "tas 120kt\nfuel 20gal\n{way}\nalternate XDD from {left}\n"
    held = folder.run(text.format(way="route XAA QBB XCC\nhold QBB 6min", left="QBB")).out
    assert "  clock and fuel as after the hold at QBB\n" in held
    fuelled = folder.run(text.format(way="route XAA QBB XCC land 30min fuel 15gal QBB XAA", left="XCC")).out
    assert "  clock and fuel as at the take-off from XCC\n" in fuelled
    assert "is passed" not in held + fuelled


def test_the_sheet_goes_on_from_its_own_printed_figures(folder: Folder) -> None:
    # At 112 kt: 10.717 min to QBB print as 0:11, 15:11Z, and 5.895 from there as 0:06. The exact sum, 16.61, is after
    # 15:16Z; a pilot who adds the printed minutes gets 15:17Z. Fuel: 1.429 and 0.786 gal print as 1.5 and 0.8.
    text = FLOWN + "tas 112kt\nfuel 20gal\nroute XAA QBB XCC\nalternate XDD from QBB\n"
    sheet, page = folder.run(text).out, folder.run(text, "--format", "strip").out
    block = sheet.partition("ALTERNATE XDD from QBB\n")[2].partition("\n\n")[0]
    assert "QBB XDD, leaves QBB 15:11Z with 18.5 gal" in block
    (flown,) = [line for line in block.splitlines() if line.startswith(" 1 QBB")]
    assert flown.split()[:7] == ["1", "QBB", "XDD", "QBB", "114.00", "180", "FROM"]
    assert flown.split()[8:] == ["0:06", "15:17Z", "0.8", "17.7"]
    assert "TOTAL  11.0 NM   0:06 in the air   fuel 0.8 gal   landing 15:17Z" in block
    knee = page.partition("ALTERNATE XDD from QBB\n")[2].splitlines()
    assert [line.split()[:2] for line in knee if line.startswith(("QBB", "XDD"))] == [["QBB", "1511"], ["XDD", "1517"]]


def test_after_fuelling_the_sheet_goes_on_from_what_was_taken(folder: Folder) -> None:
    text = FLOWN + "tas 120kt\nfuel 20gal\nroute XAA QBB XCC land 30min fuel 12gal QBB XAA\nalternate XDD from XCC\n"
    # Lands at 20.007 min, printed 15:20Z, and takes off again at 15:50Z with 12 gal.
    assert "XCC XDD, leaves XCC 15:50Z with 12.0 gal" in folder.run(text).out


@pytest.mark.parametrize("spelt", ["alternate XDD from QBB", "alternate QBB via XDD", "alternate XDD from QBB via XDD"])
def test_both_forms_say_the_same(folder: Folder, spelt: str) -> None:
    one = way(folder.fly(FLOWN + f"tas 120kt\nfuel 20gal\nroute XAA QBB XCC\n{spelt}\n"))
    assert ([leg["to"]["ident"] for leg in one["legs"]], one["from"], one["to"]) == (["XDD"], "QBB", "XDD")


def test_tanks_that_run_dry_on_the_way_are_the_error_of_any_flight(folder: Folder) -> None:
    # 1.9 gal less 1.334 leave 0.566 at QBB, and 0.734 are needed.
    text = FLOWN + "tas 120kt\nfuel 1.9gal\nroute XAA QBB\nalternate XDD from QBB\n"
    found = folder.fly(text)
    (dry,) = [one for one in found["findings"] if one["rule"] == "fuel-below-zero"]
    assert (dry["severity"], dry["leg"]) == ("error", None)
    assert dry["message"] == "alternate XDD leg 1: the fuel runs out before XDD"
    assert dry["alternate"] == {"number": 1, "name": "XDD", "leg": 1}


def test_unknown_where_the_route_is_left_is_said_so(folder: Folder) -> None:
    # 150 kt across the way north cannot be flown at 120 kt; west from QBB it blows from behind.
    text = FLOWN.replace("calm", "090/150") + "tas 120kt\nfuel 20gal\nroute XAA QBB XCC\nalternate XEE from QBB\n"
    (leg,) = way(folder.fly(text))["legs"]
    assert leg["time_min"] is not None
    assert (leg["eta"], leg["fuel_remaining_gal"]) == (None, None)
    reasons = {one["key"]: one["reason"] for one in leg["unknown"]}
    assert reasons["eta"] == "it is not known when the route is left at QBB"
    assert reasons["fuel_remaining_gal"] == "it is not known what is left at QBB"


def test_without_a_time_of_take_off_only_that_is_missing(folder: Folder) -> None:
    text = FLOWN.replace("off 15:00Z\n", "") + "tas 120kt\nfuel 20gal\nroute XAA QBB XCC\nalternate XDD from QBB\n"
    (leg,) = way(folder.fly(text))["legs"]
    assert leg["unknown"] == [{"key": "eta", "reason": "no `off` given"}]


BY_QSK = (
    "airway V803 QEL 095 - 273 QSK 39.3nm mea 2500",
    "airport XSKE N45 56.00 W038 45.00 elev 120ft",
    "alternate XSKE from QEL via V803 QSK",
)
"""A way to an alternate by an airway and a station that the route does not use."""


def test_its_legs_have_airway_course_and_morse_and_its_stations_stand_with_the_others(folder: Folder) -> None:
    sheet = folder.run(changed(*BY_QSK)).out
    stations, block = (sheet.partition(title)[2].partition("\n\n")[0] for title in ("STATIONS", "ALTERNATE XSKE"))
    idents = [line.split()[0] for line in stations.splitlines()[1:]]
    assert idents == ["QHB", "QEL", "QSK"]
    assert "QSK      112.40  71X  --.- ... -.-" in stations  # 112.40 MHz pairs with channel 71X (ICAO Annex 10)
    assert " 1 QEL         COP         QEL 110.20 095 FROM" in block
    assert " 2 COP         QSK         QSK 112.40 093 TO" in block
    assert "V803" in block
    assert "MEA 2500" in block
    assert "COP 19.7 NM from QEL (midpoint)" in block  # half of 39.3 NM
    assert "set 093 TO" in block


def test_the_rows_of_csv_say_of_which_way_they_are(folder: Folder) -> None:
    written = folder.run(changed(*BY_QSK), "--format", "csv").out
    rows = list(csv.DictReader(io.StringIO(written, newline="")))
    ways = [row["alternate"] for row in rows]
    assert ways == [""] * (len(ways) - 3) + ["XSKE from QEL"] * 3
    there = rows[-3:]
    assert [(row["leg"], row["via"], row["set_course"]) for row in there[:2]] == [
        ("1", "V803", "095 FROM"),
        ("2", "V803", "093 TO"),
    ]
    assert all("alternate XSKE" not in row["findings"] for row in rows[:-3])


def test_an_alternate_over_a_point_is_reached_after_all_of_its_way(folder: Folder) -> None:
    text = FLOWN + "tas 120kt\nfuel 20gal\nfix MIDDY QBB 180 10nm\nroute XAA QBB XCC\n"
    found = folder.fly(text + "alternate XAA from XCC via QBB MIDDY\n")
    (there,) = [one for one in found["airports"] if one["role"] == "alternate"]
    # 40.013 NM out and 40.013 back at half a minute each.
    assert at(there["eta"]) == pytest.approx(40.013, abs=0.005)


# Each passage of the point from which an alternate is flown: in the air or not, after fuelling or not, and its fuel.
@pytest.mark.parametrize(
    ("route", "start", "passed", "entry_ft"),
    [
        # 20.006 x 0.0667 = 1.334 gal to QBB.
        ("XAA QBB XCC", "QBB", [(True, False, 18.666)], 3500.0),
        # On the ground before take-off, in the air on the way over it: 40.012 x 0.0667 = 2.667 gal are used there.
        ("XAA QBB XAA over QBB XCC", "XAA", [(False, False, 20.0), (True, False, 17.333)], None),
        ("XAA QBB XCC land 20min fuel 15gal QBB XAA", "XCC", [(False, False, 17.332), (False, True, 15.0)], None),
        ("XAA QBB XCC", "XCC", [(False, False, 17.332)], None),
    ],
)
def test_where_an_alternate_is_begun_in_the_air_on_the_ground_or_after_fuelling(
    route: str, start: str, passed: list[tuple[bool, bool, float]], entry_ft: float | None
) -> None:
    (report,) = reports(FLOWN + f"tas 120kt\nfuel 20gal\nroute {route}\nalternate XDD from {start}\n")
    (one,) = report.log.alternates
    assert [(point.airborne, point.fuelled) for point in one.begun] == [known[:2] for known in passed]
    assert [point.left for point in one.begun] == pytest.approx([left for _, _, left in passed], abs=2e-3)
    assert one.conditions.entry_ft == entry_ft
