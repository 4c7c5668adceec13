"""Rules about the imprint page: the printer's key and the ISBN."""

from __future__ import annotations

from collections.abc import Iterator

from fitter.errors import BadInput
from fitter.trade.gate.evidence import Evidence, ImprintSeen
from fitter.trade.gate.rule import Remark, rule
from fitter.trade.imprint.find import BACK, FRONT, texts_of
from fitter.trade.key.read import read


@rule("key-missing")
def key_missing(evidence: Evidence) -> Iterator[Remark]:
    """The imprint page carries no printer's key, and book.yaml asks for one.

    Set it with \\imprintkey, or in Markdown with ::: {.imprint-key}.
    """
    seen = evidence.imprint
    if seen and seen.key_wanted and not seen.keys_found:
        yield Remark(
            seen.page, f"{_where(seen)}, so the key '{_shown(seen.key_wanted)}' is missing"
        )


@rule("key-stale")
def key_stale(evidence: Evidence) -> Iterator[Remark]:
    """The printer's key tells another printing than the record. Build the book again.

    With a house rule, words over the line of a first printing must be gone from the second on.
    """
    seen = evidence.imprint
    if not seen or not seen.key_wanted or not seen.keys_found:
        return
    if all(texts_of(key) != texts_of(seen.key_wanted) for key in seen.keys_found):
        says, due = _printing(seen.keys_found[0]), _printing(seen.key_wanted)
        yield Remark(
            seen.page,
            f"the key '{_shown(seen.keys_found[0])}' says {says}, "
            f"and the record {due}: '{_shown(seen.key_wanted)}'",
        )
    elif seen.words_wanted is not None and seen.words_wanted != seen.words_found:
        fault = "are missing over" if seen.words_wanted else "still stand over"
        yield Remark(seen.page, f"the words of a first printing {fault} the key")


@rule("isbn-missing")
def isbn_missing(evidence: Evidence) -> Iterator[Remark]:
    """The imprint page does not carry the ISBN of book.yaml.

    It should stand on the verso of the title page (U.S. ISBN Agency, "major" page), and a reprint
    must carry it too (ISBN Users' Manual 5.6, older text).
    """
    seen = evidence.imprint
    if seen and seen.isbn_wanted and not seen.isbn_stands:
        others = f" but {', '.join(seen.isbns_found)}" if seen.isbns_found else ""
        yield Remark(seen.page, f"the ISBN {seen.isbn_wanted} is not on the imprint page{others}")


@rule("isbn-invalid")
def isbn_invalid(evidence: Evidence) -> Iterator[Remark]:
    """A number after the word ISBN is none: its check digit or its length is wrong."""
    seen = evidence.imprint
    if seen and seen.isbn_fault:
        yield Remark(None, seen.isbn_fault, seen.isbn_at)
    for wrong in seen.isbns_wrong if seen else ():
        yield Remark(seen.page if seen else None, wrong)


@rule("isbn-old", "warning")
def isbn_old(evidence: Evidence) -> Iterator[Remark]:
    """The edition statement is a new one, and the ISBN still that of the edition before.

    A revised edition needs its own (ISBN Users' Manual 5.1, older text).
    """
    seen = evidence.imprint
    if seen and seen.old_edition:
        yield Remark(
            seen.page,
            f"the ISBN {seen.isbn_wanted} is the one that '{seen.old_edition}' had; "
            "a new edition takes a new one",
        )


def _where(seen: ImprintSeen) -> str:
    if seen.page is None:
        return f"no imprint page was found among the first {FRONT} and the last {BACK} pages"
    return "no printer's key stands on the imprint page"


def _printing(key: str) -> str:
    try:
        return f"printing {read(key)[0].printing}"
    except BadInput:
        return "no printing"


def _shown(key: str) -> str:
    return " ".join(key.split())
