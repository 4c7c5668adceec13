from pathlib import Path

import pymupdf
import pytest

from fitter.errors import BadInput
from fitter.pdf.document import opened, said

NO_PAGES = (
    b"%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n"
    b"2 0 obj<</Type/Pages/Kids[]/Count 0>>endobj\ntrailer<</Root 1 0 R>>"
)


def one_page(**how: object) -> bytes:
    document = pymupdf.open()
    document.new_page().insert_text((72, 72), "One page")
    data: bytes = document.tobytes(**how)
    return data


def locked(user: str) -> bytes:
    return one_page(encryption=pymupdf.PDF_ENCRYPT_AES_256, owner_pw="owner", user_pw=user)


@pytest.mark.parametrize(
    ("data", "fault"),
    [
        (b"", "the file is empty"),
        (b"Plain words\n" * 20, "this is no PDF"),
        (one_page()[:200], "damaged beyond reading"),
        (NO_PAGES, "has no pages"),
        (locked("secret"), "asks for a password"),
    ],
    ids=["empty", "text", "cut", "no pages", "locked"],
)
def test_a_file_beyond_reading_is_told_in_one_sentence(
    tmp_path: Path, data: bytes, fault: str
) -> None:
    path = tmp_path / "a böok.pdf"
    path.write_bytes(data)
    with pytest.raises(BadInput, match=fault) as caught, opened(path):
        pass
    (sentence,) = caught.value.sentences
    assert sentence.startswith(f"{path}: ")
    fault_told, _, remedy = sentence.removeprefix(f"{path}: ").partition(". ")
    assert fault_told and remedy.endswith(".")


def test_a_missing_file_and_a_folder(tmp_path: Path) -> None:
    for path in (tmp_path / "none.pdf", tmp_path):
        with pytest.raises(BadInput, match="no such file"), opened(path):
            pass


@pytest.mark.parametrize(
    "data",
    [locked(""), one_page().replace(b"startxref\n", b"startxref\n9")],
    ids=["empty user password", "damaged cross-reference table"],
)
def test_what_can_be_read_is_read(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "a böok.pdf"
    path.write_bytes(data)
    with opened(path) as document:
        assert "One page" in document[0].get_text()


def test_what_the_library_says_of_bytes_that_are_no_text_can_be_written() -> None:
    # MuPDF quotes a damaged file in its warnings, and Python hands on half a character.
    told = said("unknown keyword: '\udcb9x'")
    assert told == "unknown keyword: '?x'"
    assert told.encode() == told.encode("utf-8", "strict")
