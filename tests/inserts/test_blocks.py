"""The source as blocks between blank lines, known by their text."""

from __future__ import annotations

import hashlib

from fitter.inserts.blocks import blocks


def test_blocks_lie_between_blank_lines() -> None:
    source = b"one\n  two  \n\n\nthree\r\n \nfour"
    assert [(each.first, each.last, each.text) for each in blocks(source)] == [
        (1, 2, b"one two"),
        (5, 5, b"three"),
        (7, 7, b"four"),
    ]


def test_a_block_is_known_by_its_text_however_the_lines_are_broken() -> None:
    (one,), (other,) = blocks(b"a b\nc\n"), blocks(b"\n\na\n   b\nc")
    assert one.digest == other.digest == hashlib.md5(b"a b c").hexdigest().upper()
    (edited,) = blocks(b"a b\nd\n")
    assert edited.digest != one.digest


def test_what_tex_would_read_otherwise_is_not_readable() -> None:
    assert [each.readable for each in blocks("één\n\na\tb\n\nx\x0cy".encode())] == [
        True, False, False,
    ]  # fmt: skip
