"""Reads a PDF in a process of its own, so that a file that breaks the reader breaks no more.

A crafted or damaged PDF can make the PDF library crash, go round in circles or ask for all memory
there is. In a process of its own it only ends that one, and the caller gets a sentence.
"""

from __future__ import annotations

import faulthandler
import mmap
import os
import pickle
import resource
import signal
import traceback
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial, wraps
from pathlib import Path
from typing import Any, ParamSpec, TypeVar, cast

from fitter.cores import cores
from fitter.errors import BadInput, Fault
from fitter.pdf.document import StrPath, load_library

AT_ONCE = 2  # processes that read one PDF; more of them open it more often than they help
SMALL = 50_000  # bytes; such a file is read before a second process has started
SECONDS_A_PAGE = 8.0  # of the processor; so long may one page take
SECONDS_GAINED = 1.0  # each page begun adds to what is left, up to SECONDS_A_PAGE
MEMORY = 3 << 30  # bytes
LONGEST_WORDS = 200
_OUT_OF_MEMORY = ("malloc", "memory", "cannot allocate")

P = ParamSpec("P")
R = TypeVar("R")
_inside = False
_alone = False
_page_in_hand: mmap.mmap | None = None  # shared with the process apart, which notes it there
_NONE = bytes(4)


class GivenUp(BadInput):
    """Reading came to an end on a page; `page` is its sheet position from 1, or None."""

    def __init__(self, page: int | None, sentence: str) -> None:
        super().__init__(sentence)
        self.page = page


def apart(reader: Callable[P, R]) -> Callable[P, R]:
    """Have a function that reads a PDF, its first argument, work in a process of its own.

    What it returns must be picklable. Within such a process it is called as it stands. Raises
    what the function raises, and BadInput where the reader was stopped or broke.
    """

    @wraps(reader)
    def read(*args: P.args, **kwargs: P.kwargs) -> R:
        return read_apart(cast(Path, args[0]), lambda: reader(*args, **kwargs))

    return read


def around_bad_pages(
    read: Callable[[dict[int, str]], R], at_most: int, why: Callable[[GivenUp], str]
) -> R:
    """Read a PDF anew without each page that reading came to an end on, with a sentence why.

    Raises GivenUp where no page is to blame, or more than `at_most` are.
    """
    given_up: dict[int, str] = {}
    while True:
        try:
            return read(given_up)
        except GivenUp as fault:
            if fault.page is None or fault.page in given_up or len(given_up) >= at_most:
                raise
            given_up[fault.page] = why(fault)


def read_apart(pdf: StrPath, work: Callable[[], R]) -> R:
    """Do work that reads a PDF in a process of its own, unless we are in one already."""
    if _inside:
        return work()
    load_library()  # loaded before the fork, it is loaded once
    return _read([(pdf, work)])[0]


def read_side_by_side(works: Sequence[tuple[StrPath, Callable[[], R]]]) -> list[R]:
    """Do works, each of which reads the PDF named with it, at the same time and each apart."""
    if _inside:
        return [work() for _, work in works]
    load_library()
    return _read(works)


def read_in_parts(pdf: StrPath, work: Callable[[int, int], R]) -> list[R]:
    """Do `work(part, parts)` for each part from 0, at the same time, each in a process of its own.

    There is one part alone where there is no other core, or work enough for it.
    """
    if _inside:
        return [work(0, 1)]
    load_library()
    parts = 1 if _alone or _is_small(pdf) else min(AT_ONCE, cores())
    return _read([(pdf, partial(work, part, parts)) for part in range(parts)])


def read_alone() -> None:
    """Have this process read every PDF in one part: others beside it use the other cores."""
    global _alone  # noqa: PLW0603
    _alone = True


def _is_small(pdf: StrPath) -> bool:
    path = Path(pdf)
    return not path.is_file() or path.stat().st_size < SMALL


def _read(works: Sequence[tuple[StrPath, Callable[[], R]]]) -> list[R]:
    all_ended = _forked([work for _, work in works])
    return [
        cast(R, _answer(os.fspath(pdf), ended))
        for (pdf, _), ended in zip(works, all_ended, strict=True)
    ]


def page_begun(page: int = 0) -> None:
    """Within a reading loop: the next page may again take its time; `page` counts from 1."""
    if _inside:
        if _page_in_hand is not None:
            _page_in_hand[:] = page.to_bytes(4)
        left, _ = signal.getitimer(signal.ITIMER_PROF)
        signal.setitimer(signal.ITIMER_PROF, min(left + SECONDS_GAINED, SECONDS_A_PAGE))


@dataclass(slots=True)
class _Child:
    """A process at work: its number, where its answer comes from, the page it has in hand."""

    process: int
    out: int
    page: mmap.mmap


@dataclass(frozen=True, slots=True)
class _Ended:
    """What a process said, pickled; the signal that ended it early, or 0; its last page, or 0."""

    said: bytes
    by: int
    page: int


def _forked(works: Sequence[Callable[[], object]]) -> list[_Ended]:
    """All works at the same time; when one of them cannot be heard to its end, all are stopped."""
    children: list[_Child] = []
    ended: list[_Ended] = []
    try:
        children += (_begun(work) for work in works)
        while children:
            ended.append(_heard(children[0]))
            del children[0]
    except BaseException:
        for child in children:
            os.kill(child.process, signal.SIGKILL)
            os.waitpid(child.process, 0)
        raise
    return ended


def _begun(work: Callable[[], object]) -> _Child:
    page = mmap.mmap(-1, len(_NONE))
    out, into = os.pipe()
    process = os.fork()
    if process == 0:
        os.close(out)
        _work(work, into, page)
    os.close(into)
    return _Child(process, out, page)


def _heard(child: _Child) -> _Ended:
    with os.fdopen(child.out, "rb") as pipe:
        said = pipe.read()
    _, status = os.waitpid(child.process, 0)
    by = os.WTERMSIG(status) if os.WIFSIGNALED(status) else 0
    return _Ended(said, by, int.from_bytes(child.page[:]))


def _work(work: Callable[[], object], into: int, page: mmap.mmap) -> None:
    """The whole life of the process apart; it never returns."""
    global _inside, _page_in_hand
    _inside, _page_in_hand = True, page
    status = 1
    try:
        said = _said(work)
        with os.fdopen(into, "wb") as pipe:
            pipe.write(said)
        status = 0
    finally:
        os._exit(status)


def _said(work: Callable[[], object]) -> bytes:
    """The outcome, pickled; what cannot be pickled is a bug of ours like any other."""
    try:
        _limit()
        return pickle.dumps(_outcome(work))
    except MemoryError:
        return pickle.dumps(("memory", None))
    except Exception:
        return pickle.dumps(("bug", traceback.format_exc()))
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)


def _limit() -> None:
    faulthandler.disable()
    _lower(resource.RLIMIT_CORE, 0)
    _lower(resource.RLIMIT_AS, MEMORY)
    for told in (signal.SIGPROF, signal.SIGTERM, signal.SIGHUP):
        signal.signal(told, signal.SIG_DFL)
    signal.setitimer(signal.ITIMER_PROF, SECONDS_A_PAGE)


def _lower(limit: int, to: int) -> None:
    soft, hard = resource.getrlimit(limit)
    if soft == resource.RLIM_INFINITY or soft > to:
        resource.setrlimit(limit, (to, hard))


def _outcome(work: Callable[[], object]) -> tuple[str, object]:
    try:
        return "result", work()
    except Fault as fault:
        return "fault", (type(fault), fault.sentences)
    except MemoryError:
        return "memory", None
    except Exception as error:
        words = " ".join(str(error).split())[:LONGEST_WORDS]
        if not _is_the_library_s(error):
            return "bug", traceback.format_exc()
        if any(word in words.lower() for word in _OUT_OF_MEMORY):
            return "memory", None
        return "damaged", words


def _is_the_library_s(error: Exception) -> bool:
    """Whether the fault arose in the PDF library, and so from the file and not from our code."""
    frames = traceback.extract_tb(error.__traceback__)
    return bool(frames) and "pymupdf" in Path(frames[-1].filename).parts


def _answer(name: str, ended: _Ended) -> object:
    page = ended.page or None
    where = f"page {page}" if page else "a page"
    kind: str
    value: Any
    if ended.by == signal.SIGPROF:
        raise GivenUp(
            page,
            f"{name}: {where} takes more than {SECONDS_A_PAGE:g} seconds to read and was given "
            "up. Save the PDF anew with another program, or simplify what is drawn there.",
        )
    if not (ended.said or ended.by):
        raise RuntimeError(f"{name}: reading it ended at {where} without an answer")
    kind, value = pickle.loads(ended.said) if not ended.by else ("broken", None)
    match kind:
        case "result":
            return value
        case "fault":
            made, sentences = value
            raise made(*sentences)
        case "memory":
            raise GivenUp(
                page,
                f"{name}: reading {(page and where) or 'it'} takes more than {MEMORY >> 30} GB of "
                "memory and was given up. Save the PDF anew with another program.",
            )
        case "damaged":
            raise BadInput(f"{name}: the PDF is damaged: {value}. Save it anew, or make it again.")
        case "bug":
            raise RuntimeError(f"while reading {name}:\n{value}")
    raise GivenUp(
        page,
        f"{name}: the PDF is so damaged that reading it broke off{(page and f' on {where}') or ''} "
        f"(signal {ended.by}). Save it anew, or make it again.",
    )
