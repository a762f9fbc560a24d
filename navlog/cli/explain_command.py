"""`navlog explain`: the workings of each leg, or what a rule says."""

from __future__ import annotations

import click

from navlog.cli.catalogue_option import catalogue_option, opened_catalogue
from navlog.cli.completion import flights_of_file, rules
from navlog.cli.flightfile import (
    flight_overrides,
    named_file,
    only_flight,
    overrides_from,
    quotes_outside,
    read_route_file,
    tell_understood,
)
from navlog.cli.output import print_problems, write


@click.command("explain", epilog="Example: navlog explain examples/round_robin.route --leg 2")
@click.argument("file", type=click.Path(allow_dash=True), required=False)
@click.option(
    "--rule", shell_complete=rules, metavar="ID", help="Instead of a flight: what this rule says, and its source."
)
@click.option("--leg", type=click.INT, metavar="N", help="Only the leg of that number.")
@click.option("--alternate", metavar="AIRPORT", help="The way to that alternate: XOLD, or 'XOLD from QEL'.")
@click.option("--flight", metavar="NAME", shell_complete=flights_of_file, help="Only the flight of that name.")
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
@catalogue_option
@flight_overrides
def command(
    *,
    file: str | None,
    rule: str | None,
    leg: int | None,
    alternate: str | None,
    flight: str | None,
    form: str,
    catalogue: str,
    **options: object,
) -> int:
    """Show how each figure of the log of FILE came about: formula, values put in, result and source.

    Or, with --rule, what a rule of the findings says.
    """
    flies = file is not None or options["route"] is not None
    if flies and rule is not None:
        raise click.UsageError("Give a route file, a --route, or --rule: a rule is told without a flight.")
    if not flies and rule is None:
        raise click.UsageError("Give a route file, a --route, or --rule with the id of a rule.")
    if rule is not None:
        from navlog.studies.rule_text import known_rule, rule_json, rule_text

        found = known_rule(rule)
        write(rule_json(found) if form == "json" else rule_text(found), None)
        return 0
    from navlog.request.references import References
    from navlog.rules.answers import answers
    from navlog.sheets.text import SHEET_BREAK
    from navlog.studies.explain_text import explained, explanation_json, explanation_text

    references = References(quote_outside=quotes_outside(options))
    overrides = overrides_from(options)
    plans = only_flight(read_route_file(named_file(file, overrides), overrides), flight)
    with opened_catalogue(catalogue) as published:
        answered = tuple(answers(plans, published, references))
        flights = [explained(one, leg, alternate) for one in answered]
    for one in answered:
        if one.report is not None:
            tell_understood(one.report.log.route.request.route, overrides)
    for one, _ in flights:
        print_problems(one.problems)
    if form == "json":
        write("".join(explanation_json(one, workings) for one, workings in flights), None)
    else:
        texts = [explanation_text(workings) for _, workings in flights if workings is not None]
        write(SHEET_BREAK.join(texts), None)
    return 2 if any(one.problems for one, _ in flights) else 0
