from pathlib import Path

from fitter.book.shelf import is_pdf, on_shelf


def shelf(root: Path, *files: str) -> None:
    for name in files:
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch()


def found(root: Path, *named: str) -> list[str]:
    paths = on_shelf([root / name for name in named])
    return [path.relative_to(root).as_posix() for path in paths]


def test_a_folder_stands_for_its_books_and_loose_pdfs(tmp_path: Path) -> None:
    shelf(tmp_path, "a/book.yaml", "a/build/book.pdf", "b/one.PDF", "b/two.pdf", "notes.txt")
    assert found(tmp_path, ".") == ["a", "b/one.PDF", "b/two.pdf"]


def test_a_book_and_a_pdf_stand_for_themselves_and_once(tmp_path: Path) -> None:
    shelf(tmp_path, "a/book.yaml", "a/other/book.yaml", "x.pdf")
    assert found(tmp_path, "x.pdf", "a", "x.pdf") == ["x.pdf", "a"]


def test_what_is_neither_stays_as_named(tmp_path: Path) -> None:
    shelf(tmp_path, "empty/notes.txt")
    assert found(tmp_path, "empty", "missing.pdf") == ["empty", "missing.pdf"]


def test_a_folder_with_the_name_of_a_pdf_is_none(tmp_path: Path) -> None:
    (tmp_path / "odd.pdf").mkdir()
    assert not is_pdf(tmp_path / "odd.pdf")
