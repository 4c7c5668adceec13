"""What a reader of the printed sheet sees on each page of a PDF."""

from __future__ import annotations

from fitter.pdf.document import StrPath, opened
from fitter.trade.verdicts import PageVerdict, Verdict, places


def read_verdicts(path: StrPath, mark: str) -> tuple[PageVerdict, ...]:
    """One verdict for each page, in one pass; `mark` is what the book's empty pages say."""
    wanted = "".join(mark.split()).casefold()
    with opened(path) as document:
        seen = [_verdict(page, wanted) for page in document]
        folios = [page.get_label() or None for page in document]
    return tuple(
        PageVerdict(number, folio, verdict, place)
        for number, (folio, verdict, place) in enumerate(
            zip(folios, seen, places(seen), strict=True), 1
        )
    )


def _verdict(page: object, wanted: str) -> Verdict:
    text = "".join(page.get_text().split()).casefold()  # type: ignore[attr-defined]
    if text == wanted:
        return "marked"
    return "printed" if text or page.get_bboxlog() else "blank"  # type: ignore[attr-defined]
