"""The house stands: imports go one way, without circles, and each library lives in one room."""

from __future__ import annotations

import ast
import graphlib
import sys
from collections.abc import Iterator
from pathlib import Path

PACKAGE = Path(__file__).parent.parent / "fitter"
FLOORS = {
    "errors": 0,
    "cores": 1,
    "help": 1,
    "lock": 1,
    "meanwhile": 1,
    "trade": 1,
    "writing": 1,
    "package": 1,
    "data": 2,
    "book": 2,
    "pdf": 2,
    "inserts": 3,
    "reports": 3,
    "engines": 4,
    "printings": 4,
    "steps": 5,
    "commands": 6,
    "options": 7,
    "printing_cli": 8,
    "cli": 9,
    "__main__": 10,
}
# each imports only from those before it
ROOMS_OF_TRADE = (
    *("words", "caution", "size", "paper"),
    *("printing", "key", "imprint", "gate"),
    *("fold", "fill", "facts", "tighten", "plan"),
)


def modules() -> dict[str, Path]:
    files = sorted(PACKAGE.rglob("*.py"))
    return {
        ".".join(file.relative_to(PACKAGE.parent).with_suffix("").parts).removesuffix(
            ".__init__"
        ): file
        for file in files
    }


def imported(file: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def floor(module: str) -> int:
    _, _, inside = module.partition(".")
    return FLOORS[inside.split(".")[0]] if inside else 0


def room_of_trade(module: str) -> str:
    """`fold` for `fitter.trade.fold.mix`; empty for what is no room of the trade."""
    inside = module.removeprefix("fitter.trade.")
    return inside.split(".")[0] if inside != module else ""


def test_every_room_is_listed() -> None:
    rooms = {name.split(".")[1] for name in modules() if "." in name}
    assert rooms - set(FLOORS) == set()
    assert {room for name in modules() if (room := room_of_trade(name))} == set(ROOMS_OF_TRADE)


def test_imports_never_go_up() -> None:
    ours = modules()
    up = [
        f"{module} imports {name}"
        for module, file in ours.items()
        for name in imported(file)
        if name in ours and module != "fitter" and floor(name) > floor(module)
    ]
    assert up == []


def test_there_are_no_circles() -> None:
    ours = modules()
    graph = {
        module: {name for name in imported(file) if name in ours and name != module}
        for module, file in ours.items()
    }
    for module, others in graph.items():
        others -= {other for other in others if module.startswith(f"{other}.")}
    graphlib.TopologicalSorter(graph).prepare()


def test_the_rooms_of_the_trade_have_no_circles() -> None:
    ours = modules()
    back = [
        f"{module} imports {name}"
        for module, file in ours.items()
        for name in imported(file)
        if name in ours
        if (here := room_of_trade(module)) and (there := room_of_trade(name))
        if ROOMS_OF_TRADE.index(there) > ROOMS_OF_TRADE.index(here)
    ]
    assert back == []


def test_the_trade_knows_only_the_standard_library() -> None:
    allowed = {*sys.stdlib_module_names} - {"pathlib", "os", "io", "datetime", "time", "tempfile"}
    strange = [
        f"{module} imports {name}"
        for module, file in modules().items()
        if module.startswith("fitter.trade")
        for name in imported(file)
        if name.split(".")[0] not in allowed
        and not name.startswith(("fitter.trade", "fitter.errors"))
    ]
    assert strange == []


def test_the_pdf_libraries_live_in_one_room() -> None:
    outside = [
        f"{module} imports {name}"
        for module, file in modules().items()
        if not module.startswith("fitter.pdf")
        for name in imported(file)
        if name.split(".")[0] in {"pymupdf", "pypdf", "fitz"}
    ]
    assert outside == []
