"""Findings in text: one line a rule, the gravest first, the figures meant marked on the leg."""

from __future__ import annotations

import json

from helpers.flown import changed, navlog
from helpers.printed import MARKED

from navlog.nav.problems import Span
from navlog.nav.record import changed as changed_finding
from navlog.printed.findings import findings_lines, findings_summary, ranges
from navlog.rules.domains import every_rule
from navlog.rules.registry import Finding, Group, OnAlternate, Severity

LOW = changed("altitude 2300", "route XHAR QHB V801 QEL XOLD")
"""2,300 ft where 2,500 ft are stated on the first and last leg and the MOCA of V801 is 2,400 ft."""


def of(leg: int | None, message: str, by: float = 0.0, **more: object) -> Finding:
    return Finding("under-mea", Severity.WARNING, message, leg, Span("a.route", 1), "", by=by, **more)  # type: ignore[arg-type]


def test_runs_of_legs_are_short() -> None:
    assert ranges([2, 5, 6, 7, 9, 10]) == "2, 5-7, 9, 10"
    assert ranges([4]) == "4"


def test_the_worst_number_of_a_rule_is_told_and_every_leg_listed() -> None:
    found = (of(2, "2300 ft", 100.0), of(5, "2000 ft", 400.0), of(6, "2300 ft", 100.0), of(7, "2100 ft", 300.0))
    assert findings_lines(found) == ("WARNING legs 2, 5-7: 2000 ft (leg 5, the worst of 3) [under-mea]",)
    assert len(findings_lines(found, every=True)) == 4
    assert findings_summary(found) == "1 warning"
    assert findings_summary(found, every=True) == "4 warnings"


def test_what_is_alike_is_said_once_and_what_is_accepted_has_a_line_of_its_own() -> None:
    found = (of(2, "low"), of(3, "low"), of(4, "low", accepted="by day"))
    assert findings_lines(found) == (
        "WARNING legs 2, 3: low [under-mea]",
        "WARNING leg 4: low [under-mea] (accepted: by day)",
    )


def test_findings_apart_have_a_line_each_and_others_of_the_rule_share_one() -> None:
    found = (of(5, "Washington", 13.0), of(6, "a hillside", 115.0))
    apart = tuple(changed_finding(one, apart=True) for one in found)
    assert len(findings_lines(apart)) == 2
    assert findings_lines(found) == ("WARNING legs 5, 6: a hillside (leg 6, the worst of 2) [under-mea]",)


def test_rules_of_ground_that_is_met_and_of_notices_say_that_their_findings_are_told_apart() -> None:
    """A climb below a minimum, a note, is none of them."""
    grave, apart = (Severity.ERROR, Severity.WARNING), {one.ident: one.apart for one in every_rule() if one.apart}
    assert apart.pop("climb-under-terrain") == apart.pop("climb-low") == grave
    assert sorted(apart) == [
        "airport-closed", "fuel-not-available", "notice-counts", "notice-estimated", "notice-idle",
        "notice-not-understood", "obstacle-by-notice",
    ]  # fmt: skip
    assert all(one.severity in apart[one.ident] for one in every_rule() if one.ident in apart)


def test_legs_of_alternates_are_named() -> None:
    found = (of(2, "low"), of(None, "low", alternate=OnAlternate(1, "XOLD", 1)))
    assert findings_lines(found) == ("WARNING leg 2, alternate XOLD leg 1: low [under-mea]",)


def test_errors_come_first_and_inside_what_kills_first() -> None:
    text = changed("altitude 2300", "rules ifr", "fuel 8gal", "route XHAR QHB V801 QEL XOLD")
    told = json.loads(navlog("log", "-", "--format", "json", typed=text).out)["findings"]
    severities = [one["severity"] for one in told]
    assert severities == sorted(severities, key=["error", "warning", "note"].index)
    errors = list(dict.fromkeys(one["rule"] for one in told if one["severity"] == "error"))
    assert errors == ["reserve", "under-mea", "under-minimum"]
    assert sorted(Group) == [Group.FLYING, Group.HEIGHT, Group.GUIDANCE, Group.REST, Group.DATA]


def test_text_has_one_line_a_rule_and_all_has_every_finding() -> None:
    short = navlog("check", "-", typed=LOW).out.splitlines()
    every = navlog("check", "-", "--all", typed=LOW).out.splitlines()
    assert [line.rsplit(" ", 1)[1] for line in short] == ["[under-mea]", "[under-minimum]"]
    assert [line.rsplit(" ", 1)[1] for line in every] == ["[under-mea]"] * 2 + ["[under-minimum]"] * 2
    assert ", legs 2, 3: 2300 ft is below the MOCA of 2400 ft (MEA 3000)" in short[0]
    assert "FINDINGS  2 warnings\n  WARNING legs 2, 3:" in navlog("log", "-", typed=LOW).out
    assert "FINDINGS  4 warnings\n  WARNING leg 2:" in navlog("log", "-", "--all", typed=LOW).out


def test_every_sheet_marks_the_height_that_is_too_low_and_names_the_limits_missed() -> None:
    for form, marked in (
        ("text", "alt 2300! MEA 3000 MOCA 2400"),
        ("strip", "2300!  3000"),
        ("steps", "Fly at 2300! ft (MEA 3000 MOCA 2400)"),
        ("planning", "2300!  MEA 3000 MOCA 2400"),
        ("markdown", "| 2300! | MEA 3000 MOCA 2400 |"),
        ("html", '<div class="alt">2300!</div><div class="min">3000</div>'),
    ):
        told = navlog("log", "-", "--format", form, typed=LOW).out
        assert marked in told, form
    for form in ("csv", "json"):
        assert "2300!" not in navlog("log", "-", "--format", form, typed=LOW).out


def test_an_accepted_finding_and_a_note_mark_nothing() -> None:
    asked = changed("altitude 2300", 'accept under-mea "seen"\naccept under-minimum "seen"')
    assert not MARKED.search(navlog("log", "-", typed=asked).out.partition("TOTAL")[0])


def test_an_accepted_error_stays_on_the_knee_page_with_its_reason_and_an_accepted_warning_does_not() -> None:
    """A rule that is broken is known on board, too; for whatever reason it was accepted."""
    text = changed(
        "fuel 11gal", "rules ifr", 'accept reserve "a tank is filled on the way"', 'accept no-alternate "clear"'
    )
    told = " ".join(navlog("log", "-", "--format", "strip", typed=text).out.split())
    assert "[reserve]" not in told
    assert "(accepted: a tank is filled on the way)" in told
    assert "(accepted: clear)" not in told
