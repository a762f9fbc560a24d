"""What holds of the options of `check` that choose findings or share out the work."""

from __future__ import annotations

import json
from collections.abc import Iterator
from random import Random

from helpers.flown import Json
from helpers.invariants_of_commands import EDITS
from helpers.made import Made

from navlog.rules.domains import every_rule

SHARED = 0.02
"""How seldom the work is shared out: to start the processes takes a second."""


ACCEPTABLE = {one.ident: one.acceptable for one in every_rule()}
"""Of every rule, whether its findings may be accepted."""


def findings_of(made: Made, *options: str) -> list[Json]:
    """The findings of every flight in its file as `check` tells them, each with its flight."""
    told = made.run("check", "--format", "json", *options)
    flights = [json.loads(line) for line in told.out.splitlines()]
    return [one | {"flight": number} for number, flight in enumerate(flights) for one in flight["findings"]]


def a_baseline_knows_what_it_was_written_of(made: Made) -> Iterator[str]:
    """Of the same file nothing open is left but what can never be accepted, an edited one has nothing more by it."""
    if any(flight["problems"] for flight in made.flights):
        return  # a baseline needs every flight without a problem
    path = str(made.folder / "known.json")
    made.run("check", "--write-baseline", path)
    left = [one for one in findings_of(made, "--baseline", path) if one["accepted"] is None]
    never = [one for one in findings_of(made) if one["accepted"] is None and not ACCEPTABLE[one["rule"]]]
    if left != never:
        yield f"the baseline leaves {left}, and {never} can never be accepted"
    edit = Random(made.text).choice([one for one in EDITS if one[0] in ("--set", "--wind", "--altitude", "--date")])
    whole, rest = findings_of(made, *edit), findings_of(made, "--baseline", path, *edit)
    if any(one not in whole for one in rest):
        yield f"with {' '.join(edit)} the baseline adds a finding"
    again = made.run("check", "--baseline", path, "--write-baseline", path)
    if "error: " in again.err:
        yield f"the baseline is not written anew: {again.err[:200]}"


def chosen_and_ignored_make_all(made: Made) -> Iterator[str]:
    """The findings of one rule and those of all others are all."""
    whole = findings_of(made)
    rules = sorted({one["rule"] for one in whole})
    if not rules:
        return
    rule = Random(made.text).choice(rules)
    chosen = findings_of(made, "--select", rule)
    if chosen != [one for one in whole if one["rule"] == rule]:
        yield f"--select {rule} gives others"
    told = made.run("check", "--format", "json", "--ignore", rule)
    if "[not-acceptable]" not in told.err and findings_of(made, "--ignore", rule) != [
        one for one in whole if one["rule"] != rule
    ]:
        yield f"--ignore {rule} leaves others"


def shared_out_work_says_the_same(made: Made) -> Iterator[str]:
    """Two processes say of the file and its copy what one does, byte for byte."""
    if Random(made.text).random() < SHARED:
        copy = made.folder / "copy.route"
        copy.write_text(made.text, "utf-8")
        one, two = (made.run("check", "FILE", str(copy), "--all", "--jobs", jobs) for jobs in "12")
        if one != two:
            yield f"two processes say {two}, one {one}"
