"""`navlog morse`: identifiers in Morse."""

from __future__ import annotations

import click

from navlog.cli.options import IDENT, Computation, answer_options, show


@click.command("morse", cls=Computation, epilog="Example: navlog morse QHB QEL")
@click.argument("idents", nargs=-1, type=IDENT, required=True, metavar="IDENT...")
@answer_options
def command(*, idents: tuple[str, ...], form: str, workings: bool) -> None:
    """Give the Morse code of each IDENT, letters and digits; small letters count as capitals."""
    from navlog.computations.morse import answer

    show("morse", tuple(answer(ident) for ident in idents), form=form, workings=workings)
