"""What is printed runs nothing in a terminal, and says the same."""

from __future__ import annotations

import json
import os

import pytest

from fitter.reports.harmless import as_json, harmless, harmless_but_styled
from tests.conftest import BookFolder
from tests.drawn import drawn, text

# Source: ECMA-48, 5th ed., 5.6 and 8.3.16: ESC and CSI begin what a terminal acts on.
ACTING = ["\x1b[2J", "\x1b]0;title\x07", "\x9b31m", "\r", "\x7f", "\u202egnp.exe", "\udcff"]


@pytest.mark.parametrize("sign", ACTING)
def test_what_acts_is_spelt_out(sign: str) -> None:
    for shown in (harmless(f"a{sign}b"), harmless_but_styled(f"a{sign}b")):
        assert shown.startswith("a\\")
        assert shown.isprintable()
        assert shown.endswith("b")


@pytest.mark.parametrize("sign", ACTING)
def test_json_stays_what_it_was(sign: str) -> None:
    said = as_json({"folio": sign})
    assert json.loads(said) == {"folio": sign}
    assert all(char.isprintable() or char == "\n" for char in said)


def test_tables_keep_their_weights_and_hide_nothing() -> None:
    assert harmless_but_styled("\x1b[1mbold\x1b[0m\x1b[8mhidden") == (
        "\x1b[1mbold\x1b[0m\\x1b[8mhidden"
    )


def test_plain_text_stays_as_it_is() -> None:
    plain = "Köln\u00a0— 3\u2009mm\n\tЖ 文 👩"
    assert harmless(plain) == plain


def test_a_name_with_a_line_end_is_refused(book_folder: BookFolder) -> None:
    ran = book_folder.fitter("check", "a\nfitter: all is well\x1b[2K.pdf")
    assert ran.status == 2
    assert "\\nfitter: all is well\\x1b[2K.pdf" in ran.err


def test_a_name_that_is_not_utf_8_can_be_told(book_folder: BookFolder) -> None:
    path = drawn(book_folder.folder / "a.pdf", *[text] * 4)
    name = os.fsdecode(b"M\xfcller.pdf")
    path.rename(book_folder.folder / name)
    ran = book_folder.fitter("check", name, "--gathering", "4")
    assert ran.status == 0, ran.err
    assert ran.out.startswith("M\\udcfcller.pdf: 4 pages")


def test_a_full_disk_on_standard_output_is_told(book_folder: BookFolder) -> None:
    import subprocess
    import sys

    with open("/dev/full", "w", encoding="utf-8") as full:  # noqa: PTH123
        ended = subprocess.run(
            [sys.executable, "-m", "fitter", "key", "make", "--length", "5"],
            cwd=book_folder.folder,
            env={**os.environ, "PYTHONPATH": os.getcwd()},  # noqa: PTH109
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert ended.returncode == 2
    assert ended.stderr == ("fitter: No space left on device. Your own files are as they were.\n")
