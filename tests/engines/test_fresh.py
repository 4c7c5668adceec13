"""What counts as changed."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitter.engines.fresh import begin, is_fresh, keep, state_of


@pytest.fixture
def inputs(tmp_path: Path) -> list[Path]:
    (tmp_path / "a.md").write_text("one")
    return [tmp_path / "a.md", tmp_path / "missing.png"]


def test_the_same_inputs_are_fresh(tmp_path: Path, inputs: list[Path]) -> None:
    kept = tmp_path / "state.json"
    assert not is_fresh(kept, state_of(["x"], inputs))
    keep(kept, state_of(["x"], inputs))
    assert is_fresh(kept, state_of(["x"], inputs))


def test_other_content_other_words_and_a_file_that_came_are_not(
    tmp_path: Path, inputs: list[Path]
) -> None:
    kept = tmp_path / "state.json"
    keep(kept, state_of(["x"], inputs))
    assert not is_fresh(kept, state_of(["x", "y"], inputs))
    inputs[1].write_text("now here")
    assert not is_fresh(kept, state_of(["x"], inputs))
    inputs[1].unlink()
    inputs[0].write_text("two")
    assert not is_fresh(kept, state_of(["x"], inputs))


@pytest.mark.parametrize("nonsense", ["", "{", "[]", "\x00"])
def test_a_state_that_makes_no_sense_is_stale(
    tmp_path: Path, inputs: list[Path], nonsense: str
) -> None:
    kept = tmp_path / "state.json"
    kept.write_text(nonsense)
    assert not is_fresh(kept, state_of(["x"], inputs))


def test_a_run_that_was_stopped_half_way_is_stale(tmp_path: Path, inputs: list[Path]) -> None:
    kept = tmp_path / "state.json"
    keep(kept, state_of(["x"], inputs))
    begin(kept)
    assert not is_fresh(kept, state_of(["x"], inputs))
