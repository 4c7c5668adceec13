"""A PDF that breaks the reader breaks no more than a process of its own."""

from __future__ import annotations

import os
import signal
import time
from dataclasses import dataclass
from pathlib import Path

import pytest

from fitter.cores import cores
from fitter.errors import BadInput, CannotFit
from fitter.pdf import apart as module
from fitter.pdf.apart import apart, page_begun, read_in_parts


@dataclass(frozen=True, slots=True)
class Found:
    path: Path
    process: int


@apart
def where(path: Path) -> Found:
    return Found(path, os.getpid())


@apart
def crashes(path: Path) -> None:
    os.kill(os.getpid(), signal.SIGSEGV)


@apart
def never_ends(path: Path) -> None:
    while True:
        pass


@apart
def many_pages(path: Path, pages: int) -> int:
    for _ in range(pages):
        page_begun()
        end = time.process_time() + 0.1
        while time.process_time() < end:
            pass
    return pages


@apart
def takes_all_memory(path: Path) -> int:
    return len(bytearray(module.MEMORY))


@apart
def does_not_pass(path: Path) -> None:
    raise CannotFit("one", "two")


@apart
def has_a_bug(path: Path) -> int:
    return len(5)  # type: ignore[arg-type]


@apart
def cannot_be_pickled(path: Path) -> object:
    return lambda: path


@apart
def ends_without_a_word(path: Path) -> None:
    os._exit(0)


@apart
def within(path: Path) -> bool:
    return where(path).process == os.getpid()


def test_the_result_comes_back_from_another_process() -> None:
    found = where(Path("a.pdf"))
    assert found.path == Path("a.pdf")
    assert found.process != os.getpid()


def test_one_process_does_for_all_that_is_read_within() -> None:
    assert within(Path("a.pdf"))


def test_a_crash_becomes_a_sentence() -> None:
    with pytest.raises(BadInput, match=r"a\.pdf: the PDF is so damaged"):
        crashes(Path("a.pdf"))


def test_a_page_that_never_ends_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "SECONDS_A_PAGE", 0.5)
    with pytest.raises(BadInput, match=r"a\.pdf: a page takes more than 0\.5 seconds"):
        never_ends(Path("a.pdf"))


def test_each_page_has_its_own_time(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "SECONDS_A_PAGE", 0.5)
    assert many_pages(Path("a.pdf"), 10) == 10


def test_memory_is_bounded() -> None:
    with pytest.raises(BadInput, match="more than 3 GB of memory"):
        takes_all_memory(Path("a.pdf"))


def test_a_fault_comes_back_as_it_is() -> None:
    with pytest.raises(CannotFit) as fault:
        does_not_pass(Path("a.pdf"))
    assert fault.value.sentences == ("one", "two")


def test_a_bug_of_ours_stays_one() -> None:
    with pytest.raises(RuntimeError, match="has no len"):
        has_a_bug(Path("a.pdf"))


def test_an_answer_that_cannot_be_handed_over_is_a_bug_of_ours() -> None:
    with pytest.raises(RuntimeError, match=r"(?s)while reading a\.pdf:.*pickle"):
        cannot_be_pickled(Path("a.pdf"))


def test_a_limit_that_cannot_be_set_is_a_bug_of_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "MEMORY", "3 GB")
    with pytest.raises(RuntimeError, match=r"(?s)while reading a\.pdf:.*TypeError"):
        where(Path("a.pdf"))


def test_no_answer_and_no_signal_is_no_damage_to_the_pdf() -> None:
    with pytest.raises(RuntimeError, match=r"a\.pdf: reading it ended at a page without an answer"):
        ends_without_a_word(Path("a.pdf"))


def in_parts(path: Path) -> list[tuple[int, int, int]]:
    return read_in_parts(path, lambda part, parts: (part, parts, os.getpid()))


def test_a_large_file_is_read_in_parts_each_in_a_process_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "large.pdf"
    path.write_bytes(bytes(module.SMALL))
    found = in_parts(path)
    parts = min(module.AT_ONCE, cores())
    assert [(part, of) for part, of, _ in found] == [(part, parts) for part in range(parts)]
    assert len({process for *_, process in found} - {os.getpid()}) == parts


def test_a_small_file_is_read_in_one_part(tmp_path: Path) -> None:
    path = tmp_path / "small.pdf"
    path.write_bytes(b"%PDF-1.7")
    assert [(part, of) for part, of, _ in in_parts(path)] == [(0, 1)]


def test_a_part_that_crashes_is_told_with_its_page(tmp_path: Path) -> None:
    path = tmp_path / "large.pdf"
    path.write_bytes(bytes(module.SMALL))

    def work(part: int, parts: int) -> int:
        page_begun(part + 1)
        if part == parts - 1:
            os.kill(os.getpid(), signal.SIGSEGV)
        return part

    with pytest.raises(module.GivenUp, match="broke off on page") as told:
        read_in_parts(path, work)
    assert told.value.page == min(module.AT_ONCE, cores())
