"""`fitter fit`: the middle step alone, between the author's own draft and final builds."""

from __future__ import annotations

from pathlib import Path

from fitter.book.loader import Book, find_book_file, load_book
from fitter.commands.output import put
from fitter.engines.engine import Engine, engine_of
from fitter.errors import DONE
from fitter.lock import held
from fitter.reports.voice import Progress, Voice
from fitter.steps.bindery import offer_said
from fitter.steps.draft import DraftBuild, read_draft
from fitter.steps.fit import fit as choose
from fitter.steps.fit import warnings
from fitter.steps.insert import chosen_earlier, write_for_draft, write_plan
from fitter.trade.plan import Plan


def fit(where: Path, form: str, voice: Voice) -> int:
    """Read the draft, choose, write the inserts."""
    with held(find_book_file(where).parent, voice.warn):
        book = load_book(where)
        offer_said(book)
        engine = engine_of(book, Progress(voice, "fillers"))
        for sentence in chosen_earlier(book)[1]:
            voice.warn(sentence)
        draft = _measured(book, engine, voice)
        made = choose(book, draft)
        for sentence in warnings(book, draft, made):
            voice.warn(sentence)
        changed = write_plan(book, engine, made)
    _report(made, form)
    name = book.inserts.name
    voice.step(f"{name} is written: build again." if changed else f"{name} says so already.")
    return DONE


def _measured(book: Book, engine: Engine, voice: Voice) -> DraftBuild:
    """The draft; a draft that knew nothing of the catalogue is built once more to measure it."""
    draft = read_draft(book, engine)
    if not draft.unmeasured:
        return draft
    voice.step(f"The draft has not measured {', '.join(draft.unmeasured)}: building it once more.")
    write_for_draft(book, engine)
    engine.build(book, Progress(voice, "draft"), force=True)
    return read_draft(book, engine)


def _report(made: Plan, form: str) -> None:
    from fitter.reports.plan_json import plan_json
    from fitter.reports.plan_text import plan_text

    put(form, lambda: plan_json(made), lambda: plan_text(made))
