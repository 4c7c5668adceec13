"""Drafts tried in scratch copies of the book, as many at once as there are cores."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from functools import partial
from typing import TypeVar

from fitter.book.loader import Book
from fitter.cores import cores
from fitter.engines.engine import Engine, silent
from fitter.errors import NotStarted, ProgramFailed
from fitter.inserts.chosen import Chosen
from fitter.inserts.content import Trial
from fitter.pdf.apart import read_side_by_side
from fitter.steps.draft import read_draft
from fitter.steps.insert import write_trial
from fitter.steps.scratch import another_copy, scratch_copy
from fitter.steps.text import read_text
from fitter.trade.plan import Draft
from fitter.trade.tighten.text import Text
from fitter.writing import write_whole

T = TypeVar("T")

MOST_AT_ONCE = 8
NOTHING = Draft(0, None, 1)
NO_TEXT = Text(0, (), ())


@dataclass(frozen=True, slots=True)
class Wish:
    """One draft to try: what is chosen, which paragraphs are cut, files of the book edited.

    `edits` has whole texts by path from where the engine runs.
    """

    chosen: Chosen = field(default_factory=Chosen)
    cuts: Mapping[int, float] = field(default_factory=dict)
    edits: Mapping[str, bytes] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Tried:
    """What a draft came to: its counts and its text, or why it failed."""

    counts: Draft = NOTHING
    takes: Mapping[str, int] = field(default_factory=dict)
    text: Text = NO_TEXT
    failed: ProgramFailed | None = None


@dataclass(slots=True)
class Bench:
    """Scratch copies to try drafts in; `drafts` counts the builds, `say` tells how it goes on."""

    engine: Engine
    copies: list[Book]
    at_once: int
    say: Callable[[str], None]
    drafts: int = 0

    def first(self, wish: Wish) -> Tried:
        """The first draft, whose copy then serves the others. Raises ProgramFailed."""
        tried = self.try_one(wish)
        more = range(len(self.copies), self.at_once)
        self.copies += [another_copy(self.copies[0], number) for number in more]
        return tried

    def try_all(self, wishes: Sequence[Wish]) -> list[Tried]:
        """Build every draft wished for; answers in the order of the wishes."""
        at_once = len(self.copies)
        rounds = (wishes[i : i + at_once] for i in range(0, len(wishes), at_once))
        return [tried for some in rounds for tried in self._try(some)]

    def try_one(self, wish: Wish) -> Tried:
        """Build one draft. Raises ProgramFailed."""
        (tried,) = self.try_all([wish])
        if tried.failed:
            raise tried.failed
        return tried

    def in_copy(self, ask: Callable[[Book], T]) -> T:
        """Ask something of a copy, with what the last draft left in it."""
        return ask(self.copies[0])

    def _try(self, wishes: Sequence[Wish]) -> list[Tried]:
        """A draft in each copy: built in threads, which wait for programs, and read in processes.

        The threads have ended by then: a process forked beside one may find a lock that nobody
        will ever open.
        """
        self.drafts += len(wishes)
        trials = list(zip(self.copies, wishes, strict=False))
        with ExitStack() as edits:
            for copy, wish in trials:
                edits.enter_context(_edited(copy, wish.edits))
                write_trial(copy, self.engine, wish.chosen, Trial(wish.cuts))
            with ThreadPoolExecutor(len(trials)) as pool:
                failed = list(pool.map(self._failure, trials))
            built = (copy for (copy, _), fault in zip(trials, failed, strict=True) if not fault)
            works = [(copy.output, partial(self._outcome, copy)) for copy in built]
            outcomes = iter(read_side_by_side(works))
            return [Tried(failed=fault) if fault else next(outcomes) for fault in failed]

    def _failure(self, trial: tuple[Book, Wish]) -> ProgramFailed | None:
        """Build a draft; returns why that failed."""
        copy, wish = trial
        build = self.engine.once if wish.cuts else self.engine.build
        try:
            build(copy, silent)
        except NotStarted:
            raise
        except ProgramFailed as failed:
            return failed
        return None

    def _outcome(self, copy: Book) -> Tried:
        draft = read_draft(copy, self.engine)
        return Tried(draft.counts, draft.takes, read_text(copy, self.engine, draft.record))


@contextmanager
def bench(
    book: Book, engine: Engine, say: Callable[[str], None], at_once: int | None = None
) -> Iterator[Bench]:
    """A bench that tries as many drafts at once as there are cores."""
    with scratch_copy(book) as copy:
        yield Bench(engine, [copy], min(at_once or cores(), MOST_AT_ONCE), say)


@contextmanager
def _edited(book: Book, edits: Mapping[str, bytes]) -> Iterator[None]:
    """Within, files of a copy hold other texts."""
    before = {name: (book.home / name).read_bytes() for name in edits}
    _write(book, edits)
    try:
        yield
    finally:
        _write(book, before)


def _write(book: Book, texts: Mapping[str, bytes]) -> None:
    for name, text in texts.items():
        write_whole(book.home / name, text)
