"""`navlog practice`: exercises of a flight for a class, and their key apart."""

from __future__ import annotations

import click

from navlog.cli.catalogue_option import catalogue_option, opened_catalogue
from navlog.cli.completion import flights_of_file
from navlog.cli.flightfile import (
    flight_overrides,
    named_file,
    only_flight,
    overrides_from,
    quotes_outside,
    read_bytes,
    sole_answer,
)
from navlog.cli.options import is_given
from navlog.cli.output import print_lines


@click.command("practice", epilog="Example: navlog practice examples/round_robin.route --seed 7 --count 12")
@click.argument("file", required=False, type=click.Path(allow_dash=True))
@click.option("--seed", type=click.IntRange(0, 999_999), default=1, show_default=True, help="Another seed, others.")
@click.option("--count", type=click.IntRange(1, 99), default=1, show_default=True, help="How many.")
@click.option("--keys", is_flag=True, help="The figures, and how to mark, in place of the sheets.")
@click.option("--flight", metavar="NAME", shell_complete=flights_of_file, help="The flight, where FILE has several.")
@catalogue_option
@flight_overrides
def command(
    *, file: str | None, seed: int, count: int, keys: bool, flight: str | None, catalogue: str, **options: object
) -> None:
    """Make exercises of the flight of FILE: the same route in drawn winds and at drawn levels, with an answer sheet.

    Each can be flown by the rules, and the same seed gives the same ones. --keys prints their figures instead, each
    with the command that marks answers to it. --wind or --altitude keeps that as it is given.
    """
    from navlog.request.references import References
    from navlog.request.typed import Overrides
    from navlog.rules.answers import Answer, text_plans
    from navlog.studies.practice import exercises, key_lines, sheet_lines

    quote_outside = quotes_outside(options)
    references = References(quote_outside=quote_outside)
    overrides = overrides_from(options)
    name = named_file(file, overrides)
    data = read_bytes(name)
    with opened_catalogue(catalogue) as published:

        def ask(asked: Overrides) -> Answer:
            return sole_answer(only_flight(text_plans(data, name, asked), flight), published, references)

        found = exercises(ask, overrides, seed, count)
    more: tuple[str, ...] = () if flight is None else ("--flight", flight)
    if is_given("catalogue"):
        more = (*more, "--catalogue", catalogue)
    if quote_outside:
        more = (*more, "--quote-outside")
    for number, one in enumerate(found):
        lines = key_lines(one, count, seed, overrides, more) if keys else sheet_lines(one, count, seed)
        print_lines([*([""] if number else []), *lines])
