"""`fitter dummy`: the folding dummy, one HTML page to look at."""

from __future__ import annotations

from pathlib import Path

from fitter.book.loader import load_book
from fitter.book.shelf import is_pdf
from fitter.commands.output import put
from fitter.commands.sizes import asked_for
from fitter.errors import DONE, BadInput
from fitter.reports.dummy.html import Sheets, dummy_html, is_dummy
from fitter.reports.voice import Progress, Voice
from fitter.reports.words import folding_in_words
from fitter.steps.dummy import OnPage, dummy_of_book, dummy_of_pdf
from fitter.trade.fold.gatherings import Binding
from fitter.trade.words import count
from fitter.writing import write_whole

PAGES_A_STEP = 10


def dummy(
    where: Path,
    voice: Voice,
    *,
    gathering: str | None,
    short: str | None,
    to: Path | None,
    form: str,
) -> int:
    """Write the dummy beside the PDF, or to a file named; 0 when it is written."""
    if to and to.suffix.lower() not in {".html", ".htm"}:
        raise BadInput(f"--output: the dummy is an HTML file, so name it like {to.stem}.html.")
    if to and not to.parent.is_dir():
        raise BadInput(f"--output: there is no folder {to.parent}. Make it, or name another.")
    pdf, sheets = _laid_out(where, gathering, short, _telling(voice))
    file = to or _beside(pdf)
    write_whole(file, dummy_html(sheets))
    _report(file, sheets, form)
    return DONE


def _beside(pdf: Path) -> Path:
    """Where the dummy goes if no file is named. Raises BadInput where another page lies there."""
    file = pdf.with_name(f"{pdf.stem}-dummy.html")
    if file.is_file() and not is_dummy(file.read_bytes()):
        raise BadInput(
            f"{file}: this is the name of the folding dummy, and this file is none. Rename it, or "
            "name a file with --output; it was left as it is."
        )
    return file


def _laid_out(
    where: Path, gathering: str | None, short: str | None, on_page: OnPage
) -> tuple[Path, Sheets]:
    if is_pdf(where):
        return where, dummy_of_pdf(where, asked_for(Binding(), gathering, short), on_page)
    book = load_book(where)
    binding = asked_for(book.settings.binding.binding, gathering, short)
    return book.output, dummy_of_book(book, binding, on_page)


def _telling(voice: Voice) -> OnPage:
    progress, text = Progress(voice, "dummy"), "drawing the pages"
    progress(text)

    def on_page(page: int) -> None:
        if page % PAGES_A_STEP == 0:
            progress(text, page)

    return on_page


def _report(file: Path, sheets: Sheets, form: str) -> None:
    pages = len(sheets.drawn)
    put(
        form,
        lambda: {
            "file": str(file),
            "pages": pages,
            "gatherings": list(sheets.plan.folding.gatherings),
            "findings": len(sheets.findings),
        },
        lambda: (
            f"{file}: {count(pages, 'page')}, {folding_in_words(sheets.plan.folding)}, "
            f"{count(len(sheets.findings), 'finding')}. Open it in a browser."
        ),
    )
