"""How many things this machine does at once for us."""

from __future__ import annotations

import os


def cores() -> int:
    """The cores that this process may use; not every system tells, and then it is all there are."""
    allowed = getattr(os, "sched_getaffinity", None)
    return len(allowed(0)) if allowed else os.cpu_count() or 1
