"""`navlog notices`: what each notice of a briefing is taken to mean."""

from __future__ import annotations

from datetime import datetime

import click

from navlog.cli.flightfile import read_bytes
from navlog.cli.options import Value
from navlog.cli.output import write
from navlog.nav.notices import read_moment
from navlog.nav.problems import Span, problem_error


@click.command("notices", epilog="Example: navlog notices examples/briefing.txt")
@click.argument("file", type=click.Path(allow_dash=True))
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
@click.option(
    "--at",
    "moment",
    type=Value("moment", read_moment),
    help="Tell which count then: '2026-07-18 15:10Z', or 30 min off.",
)
def command(*, file: str, form: str, moment: datetime | None) -> int:
    """Tell what each notice in FILE (`-` for standard input) is taken to mean.

    FILE is a text as a briefer hands it out: notices in the FAA's domestic form, FDC notices on airways and the ICAO
    form, many in one text, with other text around them. What is not understood is printed whole; a text in which no
    notice is found is a problem.
    """
    from navlog.request.lexer import decode
    from navlog.request.notices import read_notices
    from navlog.request.references import NOTICES
    from navlog.studies.notices_text import notice_lines, notices_json

    notices = read_notices(decode(read_bytes(file), file, NOTICES), file)
    if not notices:
        hint = "hand in the briefing's own text, as the briefer has it"
        raise problem_error("no-notices", "no notice is found in this text", span=Span(file, 1), hint=hint)
    if form == "json":
        write(notices_json(notices, moment), None)
    else:
        write("".join(f"{line}\n" for line in notice_lines(notices, file, moment)), None)
    return 0
