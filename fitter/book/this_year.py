"""The year that a date left out stands for."""

from __future__ import annotations

import datetime as dt
import os
import re

from fitter.errors import BadInput

_SECONDS = re.compile(r"[0-9]{1,11}")  # up to the year 5138


def this_year() -> int:
    """This year, or that of the moment which SOURCE_DATE_EPOCH gives, for builds that must repeat.

    Raises BadInput where that is no whole number of seconds since 1970.
    Source: the SOURCE_DATE_EPOCH specification, reproducible-builds.org, version 1.1.
    """
    epoch = os.environ.get("SOURCE_DATE_EPOCH")
    if not epoch:
        return dt.date.today().year
    if not _SECONDS.fullmatch(epoch):
        raise BadInput(
            f"SOURCE_DATE_EPOCH: '{epoch[:40]}' is no moment in whole seconds since the beginning "
            "of 1970. Set it to such a number, like 1767225600, or unset it."
        )
    return dt.datetime.fromtimestamp(int(epoch), dt.UTC).year
