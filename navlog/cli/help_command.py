"""`navlog help`: the topics, which are Markdown files of the package, one a topic."""

from __future__ import annotations

from pathlib import Path

import click

from navlog.cli.output import write

_FOLDER = Path(__file__).parents[1] / "help"


def topics() -> dict[str, str]:
    """What each topic tells, by its name: the first heading of its file."""
    found = {}
    for path in sorted(_FOLDER.glob("*.md")):
        with path.open(encoding="utf-8") as file:
            found[path.stem] = file.readline().removeprefix("# ").strip()
    return found


@click.command("help", epilog="Example: navlog help route-file")
@click.argument("topic", required=False, type=click.Choice(list(topics())))
def command(*, topic: str | None) -> int:
    """Print what there is to know about TOPIC; without one, the topics."""
    if topic is not None:
        write((_FOLDER / f"{topic}.md").read_text("utf-8"), None)
        return 0
    told = topics()
    width = max(len(name) for name in told)
    write("".join(f"{name:<{width}}  {says}\n" for name, says in told.items()), None)
    return 0
