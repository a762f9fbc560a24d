"""`navlog notices`: what each notice of a briefing is taken to mean."""

from __future__ import annotations

import click

from navlog.cli.flightfile import read_bytes
from navlog.cli.output import write


@click.command("notices", epilog="Example: navlog notices examples/briefing.txt")
@click.argument("file", type=click.Path(allow_dash=True))
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
def command(*, file: str, form: str) -> int:
    """Tell what each notice in FILE (`-` for standard input) is taken to mean.

    FILE is a text as a briefer hands it out: notices in the FAA's domestic form, FDC notices on airways and the ICAO
    form, many in one text, with other text around them. What is not understood is printed whole.
    """
    from navlog.request.lexer import decode
    from navlog.request.notices import read_notices
    from navlog.studies.notices_text import notice_lines, notices_json

    notices = read_notices(decode(read_bytes(file), file), file)
    write(
        notices_json(notices) if form == "json" else "".join(f"{line}\n" for line in notice_lines(notices, file)), None
    )
    return 0
