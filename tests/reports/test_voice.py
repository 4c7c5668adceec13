"""Progress: one line that moves on a terminal, plain lines elsewhere."""

from __future__ import annotations

import pytest

from fitter.reports.voice import Progress, Voice
from tests.conftest import BookFolder
from tests.reports.terminal_seen import as_seen, on_a_terminal

SCRIPT = """
from fitter.reports.voice import Progress, Voice
say = Progress(Voice(), "draft")
say("pdflatex, run 1")
for page in range(1, 251):
    say("pdflatex, run 1", page)
Voice().warn("the end")
"""


def test_on_a_terminal_one_line_shows_the_run_and_the_page() -> None:
    said = on_a_terminal("-c", SCRIPT)
    assert "run 1, page 17\n" in said
    assert as_seen(said) == ["draft: pdflatex, run 1, page 250", "warning: the end"]


def test_a_build_shows_every_run_and_its_last_page(make_latex_book) -> None:
    book: BookFolder = make_latex_book()
    seen = as_seen(on_a_terminal("-m", "fitter", "build", cwd=book.folder))
    draft = next(line for line in reversed(seen) if line.startswith("draft: pdflatex, run"))
    final = next(line for line in reversed(seen) if line.startswith("final: pdflatex, run"))
    plan = book.fitter("plan", "--format", "json").report
    assert draft.endswith(f", page {plan['text_pages']}")
    assert final.endswith(f", page {plan['extent']}")
    assert seen[-1].startswith(f"{plan['extent']} pages, ")


@pytest.mark.parametrize("environment", [{"CI": "true"}, {"TERM": "dumb"}])
def test_in_ci_and_on_a_dumb_terminal_the_lines_are_plain(environment: dict[str, str]) -> None:
    said = on_a_terminal("-c", SCRIPT, **environment)
    assert said.split("\n") == [
        "draft: pdflatex, run 1",
        "draft: pdflatex, run 1, page 100",
        "draft: pdflatex, run 1, page 200",
        "warning: the end",
        "",
    ]


def test_a_line_never_wraps_on_a_narrow_terminal() -> None:
    lines = as_seen(on_a_terminal("-c", SCRIPT, COLUMNS="20"))
    assert lines == ["draft: pdflatex, ru", "warning: the end"]


def test_quiet_tells_faults_and_warnings_only(capsys: pytest.CaptureFixture[str]) -> None:
    voice = Voice(0)
    Progress(voice, "draft")("pdflatex, run 1")
    voice.step("a step")
    voice.warn("a warning")
    assert capsys.readouterr().err == "warning: a warning\n"
