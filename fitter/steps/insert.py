"""Third step: write the generated file that the package or the filter reads."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from fitter.book.loader import Book
from fitter.engines.engine import Engine
from fitter.errors import BadInput
from fitter.inserts import latex, typst
from fitter.inserts.chosen import Chosen, allowed_values
from fitter.inserts.content import Inserts, Placement, Trial, is_ours
from fitter.steps.identify import missing
from fitter.steps.imprint import imprint_of
from fitter.steps.pdf_fillers import count_pdf_fillers
from fitter.trade.imprint.order import history, lines_in_order
from fitter.writing import write_whole

if TYPE_CHECKING:
    from fitter.trade.plan import Plan

LANGUAGES = {".tex": latex, ".jsonl": typst}


def write_plan(book: Book, engine: Engine, plan: Plan) -> bool:
    """Write what was chosen; returns whether the file changed."""
    placement = Placement(plan.chosen.placed, plan.chosen.end_blanks)
    return _write(book, _text(engine.render, inserts_of(book, placement)))


def write_for_draft(book: Book, engine: Engine) -> bool:
    """Have the next build measure this catalogue; an earlier choice stays while it may hold."""
    wanted = _text(engine.before_choice, inserts_of(book))
    if book.inserts.is_file() and book.inserts.read_text("utf-8", "replace").startswith(wanted):
        return False
    return _write(book, wanted)


def _write(book: Book, text: str) -> bool:
    """Write the file for this engine; that of another engine would be out of date and goes."""
    files = [book.inserts.with_suffix(ending) for ending in LANGUAGES]
    for file in files:
        _require_ours(file)
    for file in files:
        if file != book.inserts:
            file.unlink(missing_ok=True)
    return write_whole(book.inserts, text)


def _require_ours(file: Path) -> None:
    """Never write over a file that somebody else wrote under this name."""
    if file.is_file() and not is_ours(file.read_text("utf-8", "replace")):
        raise BadInput(
            f"{file}: this is the name of the file that fitter writes, and this one is not of its "
            "making. Rename it; it was left as it is."
        )


def write_trial(book: Book, engine: Engine, chosen: Chosen, trial: Trial) -> None:
    """Have the next build, in a scratch copy, try a choice and record its running text."""
    inserts = replace(inserts_of(book, chosen=chosen), trial=trial)
    write_whole(book.inserts, _text(engine.before_choice, inserts))


def write_chosen(book: Book, engine: Engine, chosen: Chosen) -> bool:
    """Write what was chosen to win pages; the fillers are fitted anew at the next build."""
    return _write(book, _text(engine.before_choice, inserts_of(book, chosen=chosen)))


def chosen_earlier(book: Book) -> tuple[Chosen, tuple[str, ...]]:
    """What the generated file says was chosen to win pages, and a sentence for each thing lost."""
    if not book.inserts.is_file():
        return Chosen(), ()
    said = LANGUAGES[book.inserts.suffix].parse(book.inserts.read_text("utf-8", "replace"))
    values, lost = allowed_values(book.settings.allowed, said.settings)
    gone = missing(book, (*said.shorter, *said.longer))
    shorter = tuple(each for each in said.shorter if each not in gone)
    longer = tuple(each for each in said.longer if each not in gone)
    told = [gone_in_words("paragraph", each.file) for each in said.shorter if each in gone]
    told += [gone_in_words("chapter", each.file) for each in said.longer if each in gone]
    return Chosen(values, shorter, longer), (*lost, *told)


def gone_in_words(what: str, file: str) -> str:
    """What is told of a paragraph or a chapter that was to win a line and was not found."""
    return (
        f"a {what} of {file} that was tightened reads otherwise now: left as it is. "
        "'fitter tighten' finds another way."
    )


def inserts_of(
    book: Book, placement: Placement | None = None, chosen: Chosen | None = None
) -> Inserts:
    """Everything the generated file says; without `chosen`, what was chosen earlier stays."""
    imprint = imprint_of(book)
    return Inserts(
        book=book,
        key=imprint.key,
        history=history(imprint),
        isbn=imprint.isbn,
        imprint=lines_in_order(imprint, book.settings.imprint.order),
        pdf_pages=count_pdf_fillers(book),
        placement=placement or Placement(),
        chosen=chosen_earlier(book)[0] if chosen is None else chosen,
    )


def _text(render: Callable[[Inserts], str], inserts: Inserts) -> str:
    try:
        return render(inserts)
    except ValueError as error:
        raise BadInput(f"{inserts.book.file.name}: {error}.") from None
