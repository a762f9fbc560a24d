"""What holds for a route file of several flights and each flight in it."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from random import Random

from helpers.flown import Json
from helpers.grammar_files import Several
from helpers.invariants import every_sheet_is_written
from helpers.invariants_of_commands import check_says_what_the_log_does, commands_answer
from helpers.invariants_of_gates import a_baseline_knows_what_it_was_written_of, shared_out_work_says_the_same
from helpers.made import Made, json_of

from navlog.request.parser import parse
from navlog.request.writer import to_text


def said(flight: Json) -> Json:
    """A flight's JSON without the lines where things are written; only its own acceptances are told as unused."""
    findings = [one for one in flight["findings"] if one["rule"] != "accept-unused"]
    told = sorted((one["rule"], one["leg"] or 0, one["message"]) for one in findings)
    status = flight["status"] if len(findings) == len(flight["findings"]) else None
    problems = [(one["code"], one["message"]) for one in flight["problems"]]
    return {**flight, "source": None, "findings": told, "status": status, "problems": problems}


def each_flight_is_what_it_is_alone(several: Several, made: Made) -> Iterator[str]:
    """Every flight is as in a file of its own, merged here by what `routefile.md` says."""
    together = made.flights
    if len(together) != len(several.flights):
        yield f"{len(together)} flights of {len(several.flights)}"
        return
    for number, flight in enumerate(together):
        alone = json_of(made.answers(several.alone(number)))
        one, other = said(flight), said(alone)
        status = {"status": None} if None in (one["status"], other["status"]) else {}
        if one | status != other | status:
            differing = next(key for key in one if one[key] != other[key])
            yield f"{flight['flight']}: {differing} is {other[differing]} alone, {one[differing]} among others"


def one_flight_is_asked_for_by_its_name(several: Several, made: Made) -> Iterator[str]:
    """`--flight` gives the flight that the whole file's JSON has."""
    del several
    one = Random(made.text).choice(made.flights)
    told = made.run("log", "--flight", one["flight"], "--format", "json")
    if json.loads(told.out) != one:
        yield f"{one['flight']} is another when it is asked for by its name"


def the_summary_counts_flights(several: Several, made: Made) -> Iterator[str]:
    """`check` counts each flight once, by the gravest of its findings, and its status goes by them."""
    counts = Counter(one["status"] for one in made.flights)
    told = made.run("check")
    words = [
        f"{len(several.flights)} flights: {counts['ok']} ok",
        f"{counts['warning']} warning{'s' * (counts['warning'] != 1)}",
        f"{counts['error']} error{'s' * (counts['error'] != 1)}",
    ]
    if counts["problem"]:
        words.append(f"{counts['problem']} problem{'s' * (counts['problem'] != 1)}")
    status = 2 if counts["problem"] else int(counts["error"] > 0)
    if f"{', '.join(words)}\n" not in told.err or told.status != status:
        yield f"{', '.join(words)}: status {told.status}, {told.err}"


def a_flight_with_a_problem_leaves_the_others(several: Several, made: Made) -> Iterator[str]:
    """A route that leads to nowhere stops its own flight alone."""
    lost = Random(made.text).randrange(len(several.flights))
    blocks = [[*block[:-1], f"{block[-1]} NOWHR"] if n == lost else block for n, block in enumerate(several.flights)]
    broken = Made([line for block in (several.common, *blocks) for line in block], made.folder, made.references)
    made.ran["check"] += 1
    for number, (one, other) in enumerate(zip(made.flights, broken.flights, strict=True)):
        if number == lost and (other["status"] != "problem" or other["legs"]):
            yield f"{one['flight']} is computed without a way"
        if number != lost and said(one) | {"status": None} != said(other) | {"status": None}:
            yield f"{one['flight']} is another where a flight beside it has a problem"


def tidied_files_say_the_same(several: Several, made: Made) -> Iterator[str]:
    """The tidied file gives the same legs, and is tidy."""
    tidy = to_text(parse(made.text, made.file))
    again = Made([tidy], made.folder, made.references)
    made.ran["check"] += 1
    if [one["legs"] for one in again.flights] != [one["legs"] for one in made.flights]:
        yield "the tidy text gives other legs"
    if to_text(parse(tidy, made.file)) != tidy or len(several.flights) != tidy.count("\nflight "):
        yield "tidy text changes when it is tidied"


def of_one(invariant: Callable[[Made], Iterator[str]]) -> Callable[[Several, Made], Iterator[str]]:
    """What holds for a flight, of a file."""

    def asked(several: Several, made: Made) -> Iterator[str]:
        del several
        return invariant(made)

    asked.__name__ = f"{invariant.__name__}_of_files"
    return asked


INVARIANTS_OF_FILES: Mapping[str, Callable[[Several, Made], Iterator[str]]] = {
    one.__name__: one
    for one in (
        each_flight_is_what_it_is_alone,
        one_flight_is_asked_for_by_its_name,
        the_summary_counts_flights,
        a_flight_with_a_problem_leaves_the_others,
        tidied_files_say_the_same,
        of_one(every_sheet_is_written),
        of_one(commands_answer),
        of_one(check_says_what_the_log_does),
        of_one(a_baseline_knows_what_it_was_written_of),
        of_one(shared_out_work_says_the_same),
    )
}
