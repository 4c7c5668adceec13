"""What commands share on the command line: BOOK, -q and -v, --format."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from fitter.reports.harmless import harmless
from fitter.reports.voice import Voice


class FilePath(click.Path):
    """A path on the command line; a name with control characters is refused."""

    def __init__(self, **asked: Any) -> None:
        super().__init__(path_type=Path, **asked)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The path. Names are told in messages, where a line end in one would fake a line."""
        name = str(value)
        if any(unicodedata.category(sign) == "Cc" for sign in name):
            shown = harmless(name).replace("\n", "\\n").replace("\t", "\\t")
            self.fail(f"'{shown}' has control characters in its name; rename it.", param, ctx)
        return super().convert(value, param, ctx)


BOOK = click.argument("book", type=FilePath(), default=".", required=False)
PAGES = click.option(
    "--pages", type=click.IntRange(1, 100_000), help="Text pages, without any PDF."
)


def voiced(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command -q and -v, and hand it the Voice they make."""

    @click.option("-q", "--quiet", is_flag=True, help="Say nothing but faults and warnings.")
    @click.option("-v", "--verbose", is_flag=True, help="Say more.")
    def speaking(quiet: bool, verbose: bool, **rest: Any) -> Any:
        return command(voice=Voice(0 if quiet else 2 if verbose else 1), **rest)

    speaking.__name__, speaking.__doc__ = command.__name__, command.__doc__
    speaking.__click_params__ = [  # type: ignore[attr-defined]
        *getattr(command, "__click_params__", []),
        *speaking.__click_params__,  # type: ignore[attr-defined]
    ]
    return speaking


def reporting(*more: str) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Give a command --format text|json and whatever else it can write."""
    return click.option(
        "--format",
        "form",
        type=click.Choice(["text", "json", *more]),
        default="text",
        show_default=True,
        help="What to write on standard output.",
    )


def ordering(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command what an order at the printer says: --copies, --paper, --printer, --trim."""
    file = FilePath(dir_okay=False)
    for option in (
        click.option("--trim", help="The trimmed page instead of the book's: 129 x 198 mm."),
        click.option("--printer", type=file, help="A printer.yaml instead of the book's."),
        click.option("--paper", help="The id of a paper of the printer."),
        click.option("--copies", type=click.IntRange(1, 10_000_000), help="Copies to be printed."),
    ):
        command = option(command)
    return command


def sizes(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command --gathering and --short."""
    short = click.option("--short", help="Short gatherings instead of the book's, like 8,4.")
    return click.option(
        "--gathering", help="Gathering sizes instead of the book's, like 16 or 32,16."
    )(short(command))
