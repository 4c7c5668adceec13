"""The command line: what may be said, and the one place where a fault becomes an exit status."""

from __future__ import annotations

import contextlib
import os
import platform
import sys
import traceback
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from fitter import __version__
from fitter.errors import DONE, INPUT_TO_MEND, INTERRUPTED, OUR_FAULT, Fault
from fitter.help import Group, completion
from fitter.options import BOOK, PAGES, FilePath, ordering, reporting, sizes, voiced
from fitter.printing_cli import key, printing
from fitter.reports import voice
from fitter.reports.voice import Voice


def run(args: Sequence[str]) -> int:
    """Run one command and return its exit status; only a bug of ours shows a traceback."""
    try:
        status = fitter.main(list(args), prog_name="fitter", standalone_mode=False)
        sys.stdout.flush()
    except Exception as error:
        status = _told(error)
    except KeyboardInterrupt:
        status = _told(click.Abort())
    return status if isinstance(status, int) else DONE


def _told(error: Exception) -> int:
    """Tell a person what went wrong; the exit status it leads to."""
    match error:
        case Fault():
            voice.fault(error.sentences)
            return error.status
        case click.exceptions.Exit():
            return error.exit_code
        case click.ClickException():
            voice.usage(error.show)
            return INPUT_TO_MEND
        case click.Abort():
            voice.fault(("interrupted. Your files are as they were.",))
            return INTERRUPTED
        case BrokenPipeError():
            _close_output()
            return DONE
        case OSError():
            _close_output()
            place = f"{error.filename}: " if error.filename else ""
            voice.fault((f"{place}{error.strerror}. Your own files are as they were.",))
            return INPUT_TO_MEND
    about = f"fitter {__version__}, Python {platform.python_version()}"
    voice.fault((f"this is a fault of fitter's own. Please report it ({about}):",))
    traceback.print_exception(error)
    return OUR_FAULT


def _close_output() -> None:
    """What could not be written shall not be tried again at the very end."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


@click.group(
    cls=Group, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80}
)
@click.version_option(__version__, prog_name="fitter")
@click.option(
    "--completion",
    type=click.Choice(["bash", "zsh", "fish"]),
    is_eager=True,
    expose_value=False,
    callback=completion,
    help="Print what a shell reads to complete commands and options.",
)
def fitter() -> None:
    """Fit a typeset book to whole gatherings.

    BOOK is a book.yaml or the folder that holds one; without it, the current folder.

    \b
    fitter build sample_book
    eval "$(fitter --completion bash)"
    """


@fitter.command()
@click.argument("folder", type=FilePath(), default=".", required=False)
@voiced
def init(folder: Path, voice: Voice) -> int:
    """Write the YAML files for the book found in FOLDER.

    What is there already stays as it is.

    FOLDER may also be the book's main file, where a folder holds several.

    \b
    fitter init
    fitter init manuscripts/the-ferry
    """
    from fitter.commands.init import init as command

    return command(folder, voice)


@fitter.command()
@BOOK
@reporting()
@voiced
def build(book: Path, form: str, voice: Voice) -> int:
    """Draft build, fit, final build, check: the whole job.

    \b
    fitter build
    fitter build sample_book --format json
    """
    from fitter.commands.build import build as command

    return command(book, form, voice)


@fitter.command()
@BOOK
@reporting()
@voiced
def fit(book: Path, form: str, voice: Voice) -> int:
    """Read the draft PDF, choose the fillers, write the inserts.

    For people whose own build runs before and after it.

    \b
    fitter fit
    make draft && fitter fit && make final && fitter check
    """
    from fitter.commands.fit import fit as command

    return command(book, form, voice)


@fitter.command()
@BOOK
@PAGES
@sizes
@ordering
@reporting()
@voiced
def plan(book: Path, voice: Voice, **wishes: Any) -> int:
    """Show what fit would do, and the alternatives; write nothing.

    With --copies and a printer that has prices: what each costs, the cheapest first.

    \b
    fitter plan --copies 2000 --paper cream-80
    fitter plan --pages 299 --gathering 16 --short 8,4
    """
    from fitter.commands.plan import plan as command

    return command(book, voice, **wishes)


@fitter.command()
@click.argument("books", type=FilePath(), nargs=-1)
@sizes
@click.option(
    "--resume",
    type=FilePath(dir_okay=False),
    metavar="FILE",
    help="Add JSON lines to FILE; leave out what stands there unchanged.",
)
@reporting("jsonl", "github", "junit", "sarif")
@voiced
def check(
    *,
    books: Sequence[Path],
    gathering: str | None,
    short: str | None,
    resume: Path | None,
    form: str,
    voice: Voice,
) -> int:
    """The gate: judge built books, or any PDF at all.

    BOOKS are books, PDFs, or folders full of either; without any, the book in the current folder.
    Several are judged on all cores, and one that cannot be read does not stop the rest.

    \b
    fitter check
    fitter check proofs/final.pdf --gathering 16
    fitter check --format junit backlist > report.xml
    fitter check --resume report.jsonl backlist
    """
    from fitter.commands.check import check as command
    from fitter.commands.check_lines import check_on

    if resume or form == "jsonl":
        return check_on(books or [Path()], gathering, short, resume, voice)
    return command(books or [Path()], gathering, short, form, voice)


@fitter.command()
@BOOK
@click.option("--try", "try_settings", is_flag=True, help="Search the settings of book.yaml.")
@click.option("--apply", is_flag=True, help="Write what was found into the inserts.")
@click.option("--long-pages", is_flag=True, help="Let the pages of a chapter run a line longer.")
@click.option("--take-back", is_flag=True, help="Take every earlier choice out of the inserts.")
@click.option("--chapter", help="List the edits of one chapter, by its number or title.")
@click.option("--extent", type=click.IntRange(1, 100_000), help="The extent aimed at, in pages.")
@click.option(
    "--last-page",
    type=click.IntRange(1, 1000),
    default=5,
    show_default=True,
    help="Fewest lines a chapter's last page may have.",
)
@click.option("--quick", is_flag=True, help="Build one draft, and prove no figure by others.")
@reporting()
@voiced
def tighten(book: Path, form: str, voice: Voice, **options: Any) -> int:
    """Where pages can be saved, and what it takes.

    Drafts are built in copies; the author's files stay as they are.

    \b
    fitter tighten
    fitter tighten --try --apply && fitter build
    fitter tighten --chapter "The Ferry"
    """
    from fitter.commands.tighten import Options
    from fitter.commands.tighten import tighten as command

    return command(book, Options(**options), form, voice)


@fitter.command()
@BOOK
@PAGES
@sizes
@ordering
@click.option("--formes", "sheets", is_flag=True, help="Which pages lie on which side of a sheet.")
@click.option("--front", type=click.IntRange(0), help="Front matter pages, if not by roman folios.")
@click.option("--back", type=click.IntRange(0), default=0, help="Back matter pages of the text.")
@click.option("--inserts", type=click.IntRange(0), default=0, help="Unnumbered inserted pages.")
@click.option("--fixed-pages", type=click.IntRange(1), help="Pages of a digital edition, if fixed.")
@reporting("onix", "markdown")
@voiced
def facts(book: Path, voice: Voice, **wishes: Any) -> int:
    """Extent, gatherings, spine width, weight, ONIX extents.

    What the cover designer, the printer and the metadata need. --format onix gives a fragment of
    ONIX 3.0, --format markdown a one-page specification for the printer.

    \b
    fitter facts --paper cream-80
    fitter facts --pages 299 --gathering 16 --format json
    """
    from fitter.commands.facts import facts_of as command

    return command(book, voice, **wishes)


@fitter.command()
@BOOK
@sizes
@click.option(
    "--output",
    "to",
    type=FilePath(dir_okay=False),
    help="The file to write.",
)
@reporting()
@voiced
def dummy(book: Path, voice: Voice, **wishes: Any) -> int:
    """The folding dummy: one HTML page to look at.

    Every page of the book stands in its gathering. The file is written beside
    the PDF, opens in any browser and prints on A4.

    \b
    fitter dummy
    fitter dummy proofs/final.pdf --gathering 16 --output dummy.html
    """
    from fitter.commands.dummy import dummy as command

    return command(book, voice=voice, **wishes)


@fitter.command()
@click.argument("name", type=click.Choice(["book", "fillers", "printer", "printings"]))
def schema(name: str) -> int:
    """Print the JSON Schema of one of the YAML files, for editors.

    \b
    fitter schema book > book.schema.json
    fitter schema fillers
    """
    from fitter.commands.schema import schema as command

    return command(name)


@fitter.command()
@click.argument("name", type=click.Choice(["latex", "pandoc"]))
def path(name: str) -> int:
    """Print where the LaTeX package or the pandoc filter lies.

    \b
    TEXINPUTS=$(fitter path latex): latexmk book.tex
    pandoc --lua-filter "$(fitter path pandoc)" book.md -o book.epub
    """
    from fitter.commands.path import path as command

    return command(name)


fitter.add_command(key)
fitter.add_command(printing)
