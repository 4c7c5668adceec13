import os
from pathlib import Path

from fitter.errors import BadInput, CannotFit
from fitter.steps.judge_all import judge_all
from fitter.trade.gate.judged import Judged, Refused


def judged(path: Path) -> Judged:
    if path.name == "bad":
        raise BadInput("one", "two")
    if path.name == "worse":
        raise CannotFit("no")
    if path.name == "locked":
        raise PermissionError(13, "Permission denied", "locked/book.yaml")
    return Judged(f"{path}, process {os.getpid()}", (), ())


def test_a_bad_one_does_not_stop_the_rest() -> None:
    shelf = [Path(name) for name in ("a", "bad", "b", "worse", "c", "locked")]
    found = list(judge_all(shelf, judged))
    assert [one.pdf.partition(",")[0] for one in found if isinstance(one, Judged)] == [
        "a",
        "b",
        "c",
    ]
    assert found[1] == Refused("bad", ("one", "two"), 2)
    assert found[3] == Refused("worse", ("no",), 1)
    assert found[5] == Refused("locked", ("locked/book.yaml: Permission denied.",), 2)


def test_one_alone_is_judged_here() -> None:
    (found,) = judge_all([Path("a")], judged)
    assert isinstance(found, Judged)
    assert found.pdf.endswith(f" {os.getpid()}")
