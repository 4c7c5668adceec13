"""The command line of the printer's key and of the record of printings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from fitter.help import Group
from fitter.options import BOOK, FilePath, reporting, voiced
from fitter.reports.voice import Voice
from fitter.trade.key.key import SCHEMES, SINCE
from fitter.trade.printing.printings import FIRST_YEAR, LAST_YEAR, MOST_PRINTINGS

YEAR = click.IntRange(FIRST_YEAR, LAST_YEAR)
PRINTING = click.IntRange(1, MOST_PRINTINGS)
PDF = FilePath(dir_okay=False)
LINE = click.argument("line", nargs=-1, required=True)
WORDS = click.option("--words", help='Words over the line, like "First edition"; "" for none.')
WINDOW = click.option(
    "--since",
    type=click.IntRange(FIRST_YEAR, LAST_YEAR - 99),
    default=SINCE,
    show_default=True,
    help="Years of two digits lie in the hundred years from this one.",
)


@click.group(cls=Group)
def key() -> None:
    """Decode, strike or compose a printer's key.

    \b
    fitter key read 3 4 5 6 7 8 9 10
    fitter key next 3 4 5 6 7 8 9 10
    """


@key.command()
@LINE
@WORDS
@WINDOW
@click.option("--published", type=YEAR, help="The copyright year: no printing is older.")
@reporting()
@voiced
def read(line: tuple[str, ...], voice: Voice, **wishes: Any) -> int:
    """Tell printing, year and printer from LINE, and every reading it allows.

    \b
    fitter key read 3 4 5 6 7 8 9 10 QX 30 29 28
    fitter key read "9 8 7 6 5 4 3 2" --words "First edition"
    """
    from fitter.commands.key import read as command

    return command(" ".join(line), **wishes)


@key.command(name="next")
@LINE
@click.option("--year", type=YEAR, help="The year of the next printing.")
@click.option("--printer", default="", help="The code of its printer.")
@click.option("--printing", type=PRINTING, help="The printing that LINE tells now, if in doubt.")
@WORDS
@WINDOW
@reporting()
@voiced
def next_(line: tuple[str, ...], voice: Voice, **wishes: Any) -> int:
    """Strike LINE for the next printing; nothing is ever added to it.

    \b
    fitter key next 1 2 3 4 5 QX 30 29 28 27 26 --year 2028
    fitter key next "10 9 8 7 6 5 4 3"
    """
    from fitter.commands.key import next_ as command

    return command(" ".join(line), voice=voice, **wishes)


@key.command()
@click.option(
    "--scheme", type=click.Choice(SCHEMES), metavar="NAME", help=f"One of {', '.join(SCHEMES)}."
)
@click.option("--length", type=click.IntRange(1, 50), help="How many printings the line can tell.")
@click.option("--years", type=click.IntRange(0, 30), help="How many years stand in it.")
@click.option("--years-order", type=click.Choice(["ascending", "descending"]))
@click.option("--digits", type=click.Choice(["2", "4"]), help="Digits of a year.")
@click.option("--side", type=click.Choice(["before", "after"]), help="Where the years stand.")
@click.option("--printer", help="The printer's code.")
@click.option("--separator", help="Between numbers.")
@click.option("--gap", help="Between numbers, code and years.")
@click.option("--words", help="Words over the line of a first printing, which then begins at 2.")
@click.option("--printing", type=PRINTING, default=1, show_default=True)
@click.option("--year", type=YEAR, help="The year of this printing.")
@click.option("--set-in", type=YEAR, help="The year in which the line was first set.")
@click.option("--book", type=FilePath(), help="Take all of it from this book.")
@reporting()
@voiced
def make(voice: Voice, **wishes: Any) -> int:
    """Compose a key, from options or from a book and its record.

    \b
    fitter key make --scheme centred --length 10
    fitter key make --years 5 --printer QX --year 2026
    fitter key make --book .
    """
    from fitter.commands.key import make as command

    return command(voice=voice, **wishes)


@click.group(cls=Group)
def printing() -> None:
    """The record of printings; new printing or new edition?

    \b
    fitter printing add --copies 1500
    fitter printing compare first.pdf second.pdf
    """


@printing.command()
@BOOK
@click.option("--printing", type=PRINTING, help="Its number; default: the next one.")
@click.option("--year", type=YEAR, help="Its year; default: that of the date, or this year.")
@click.option("--date", help="Its date, like 2028-03-01.")
@click.option("--printer", help="The code of its printer.")
@click.option("--copies", type=click.IntRange(1, 100_000_000), help="How many copies.")
@click.option("--note", help="What changed.")
@click.option("--pdf", type=PDF, help="The PDF that is printed; default: the book's output.")
@click.option("--without-pdf", is_flag=True, help="Enter an old printing whose PDF is gone.")
@click.option("--was", type=PDF, help="The PDF of the printing before, if no fingerprint is kept.")
@reporting()
@voiced
def add(book: Path, voice: Voice, **wishes: Any) -> int:
    """Enter the printing that is made now, keep its fingerprint, compare it with the last.

    Then build the book. --printing N, where N stands last in the record, only keeps its pages.

    \b
    fitter printing add --copies 1500 --note "two misprints corrected"
    fitter printing add books/ferry --year 2028 --printer QX
    """
    from fitter.commands.printing import add as command

    return command(book, voice, **wishes)


@printing.command(name="list")
@BOOK
@reporting()
@voiced
def list_(book: Path, form: str, voice: Voice) -> int:
    """Show the record, with the key of each printing.

    \b
    fitter printing list
    fitter printing list books/ferry --format json
    """
    from fitter.commands.printing import list_ as command

    return command(book, form)


@printing.command()
@click.argument("old", type=PDF)
@click.argument("new", type=PDF)
@click.option("--book", type=FilePath(), help="Take the limits from this book.")
@reporting()
@voiced
def compare(old: Path, new: Path, book: Path | None, form: str, voice: Voice) -> int:
    """Compare two PDFs by what their pages say: new printing or new edition?

    \b
    fitter printing compare first.pdf second.pdf
    fitter printing compare first.pdf second.pdf --book . --format json
    """
    from fitter.commands.printing import compare as command

    return command(old, new, book, form)
