"""`navlog schema`: what the JSON of every command is made of."""

from __future__ import annotations

import click

from navlog.cli.completion import schemas
from navlog.cli.output import print_lines, write


@click.command("schema", epilog="Example: navlog schema navlog/1 --keys")
@click.argument("name", required=False, shell_complete=schemas)
@click.option("--keys", is_flag=True, help="A line a key with its type and unit.")
def command(name: str | None, keys: bool) -> None:
    """Print the JSON Schema NAME, as the key `schema` of an output names it; without NAME list them all.

    Every line of JSON that a command prints is of one of them.
    """
    from navlog.studies.schemas import key_lines, schema_lines, schema_text

    if name is None:
        if keys:
            raise click.UsageError("--keys goes with a NAME.")
        print_lines(schema_lines())
    elif keys:
        print_lines(key_lines(name))
    else:
        write(schema_text(name), None)
