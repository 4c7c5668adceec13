"""`fitter build`: draft build, fit, final build, check."""

from __future__ import annotations

import time
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from fitter.book.loader import Book, find_book_file, load_book
from fitter.commands.output import put
from fitter.engines.engine import Engine, engine_of
from fitter.errors import DONE, NOT_PASSED, BadInput, CannotFit
from fitter.lock import held
from fitter.meanwhile import put_off
from fitter.reports.voice import Progress, Voice
from fitter.steps.insert import chosen_earlier, gone_in_words, write_for_draft, write_plan

if TYPE_CHECKING:
    from fitter.engines.record import Record
    from fitter.trade.gate.judged import Judged
    from fitter.trade.plan import Draft, Plan

ROUNDS = 3


@dataclass(slots=True)
class Clock:
    """Seconds spent in each step; `draft`, `fit`, `final` and `check` are always told."""

    seconds: dict[str, float] = field(
        default_factory=lambda: dict.fromkeys(("draft", "fit", "final", "check"), 0.0)
    )
    started: float = field(default_factory=time.monotonic)

    def lap(self, step: str) -> None:
        """Add what has passed since the last lap to a step."""
        now = time.monotonic()
        self.seconds[step] += now - self.started
        self.started = now


def build(where: Path, form: str, voice: Voice) -> int:
    """The whole job; 0 when the gate passes, 1 when it does not."""
    with held(find_book_file(where).parent, voice.warn):
        book, clock = load_book(where), Clock()
        _require_printer(book)
        put_off(lambda: _get_ready_to_judge(book))
        plan, runs = build_to_plan(book, engine_of(book, Progress(voice, "fillers")), voice, clock)
        from fitter.steps.judge import judge_book

        judged = judge_book(book)
    clock.lap("check")
    _report(plan, judged, runs, clock, form)
    return DONE if judged.passed else NOT_PASSED


def _require_printer(book: Book) -> None:
    """What the printer cannot do is told before anything is built."""
    if book.settings.printer:
        from fitter.steps.bindery import offer_said

        offer_said(book)


def _get_ready_to_judge(book: Book) -> None:
    """What only matters once TeX has run is loaded while it runs."""
    import fitter.reports.check_text
    import fitter.reports.plan_json  # noqa: F401
    from fitter.pdf.document import load_library
    from fitter.steps.judge import marks_of

    load_library()
    marks_of(book)  # a long pattern, which Python remembers


def build_to_plan(book: Book, engine: Engine, voice: Voice, clock: Clock) -> tuple[Plan, int]:
    """Build until the PDF is what the plan for it says; returns the plan and the engine runs.

    Raises CannotFit after three rounds in which the page count kept moving.
    """
    for sentence in chosen_earlier(book)[1]:
        voice.warn(sentence)
    changed = write_for_draft(book, engine)
    sketched = _sketch(book, engine, voice, clock)
    counts = [sketched.text_pages] if sketched else []
    runs = len(counts)
    step = "final" if sketched else "draft"
    runs += _run(book, engine, voice, step, clock, force=changed and not sketched)
    from fitter.steps.draft import read_draft
    from fitter.steps.fit import fit, warnings

    for round_ in range(ROUNDS + 1):
        draft = read_draft(book, engine)
        plan = fit(book, draft)
        changed = write_plan(book, engine, plan)
        clock.lap("fit")
        if not changed:
            _require_as_planned(plan, draft.record)
            for sentence in warnings(book, draft, plan):
                voice.warn(sentence)
            for what, file in draft.record.lost:
                voice.warn(gone_in_words(what, file))
            return plan, runs
        counts.append(plan.text_pages)
        if round_ < ROUNDS:
            runs += _run(book, engine, voice, "final", clock)
    raise CannotFit(
        f"After {ROUNDS} rounds the text is still moving: it took "
        f"{', then '.join(str(pages) for pages in counts)} pages. Something in the text depends on "
        "which fillers stand there (a contents line, a reference, a page count); make it fixed."
    )


def _sketch(book: Book, engine: Engine, voice: Voice, clock: Clock) -> Draft | None:
    """Choose by a first rough run, so that the next is likely to be the last.

    A choice that turns out wrong costs nothing: the references then move in the next run anyway,
    and the fillers are chosen anew.
    """
    record = engine.sketch(book, Progress(voice, "draft"))
    clock.lap("draft")
    if record is None:
        return None
    from fitter.steps.draft import counts_of, draft_of, without_record
    from fitter.steps.fit import fit

    if not record.finished:
        raise BadInput(without_record(book))
    with suppress(BadInput, CannotFit):
        write_plan(book, engine, fit(book, draft_of(book, record)))
    clock.lap("fit")
    return counts_of(record)


def _require_as_planned(plan: Plan, record: Record) -> None:
    """Every filler takes the pages it was measured with, or the plan is worth nothing."""
    from fitter.trade.words import count

    stands = {span.id: span for span in record.fillers}
    for placed in plan.chosen.placed:
        span = stands.get(placed.id)
        if span and span.pages != placed.pages:
            raise CannotFit(
                f"the filler '{placed.id}' was measured with {count(placed.pages, 'page')} and "
                f"takes {span.pages} where it stands: it is set otherwise there. Look for a "
                "command in a filler before it that changes the page or the columns for good."
            )


def _run(
    book: Book, engine: Engine, voice: Voice, step: str, clock: Clock, *, force: bool = False
) -> int:
    progress = Progress(voice, step)
    runs = engine.build(book, progress, force=force)
    if runs == 0:
        voice.detail(f"{step}: nothing has changed since the last run.")
    if not _has_record(book, engine):
        runs += engine.build(book, progress, force=True)
    clock.lap(step)
    return runs


def _has_record(book: Book, engine: Engine) -> bool:
    record = engine.record(book)
    return record is not None and record.finished


def _report(plan: Plan, judged: Judged, runs: int, clock: Clock, form: str) -> None:
    from fitter.reports.check_json import check_json
    from fitter.reports.check_text import check_text
    from fitter.reports.plan_json import plan_json
    from fitter.reports.words import plan_in_words

    put(
        form,
        lambda: {
            "plan": plan_json(plan),
            "check": check_json(judged),
            "engine_runs": runs,
            "seconds": {step: round(spent, 3) for step, spent in clock.seconds.items()},
        },
        lambda: "\n".join(
            [check_text(judged), plan_in_words(plan.text_pages, plan.folding, plan.chosen)]
        ),
    )
