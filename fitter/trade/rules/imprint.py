"""Rules about the imprint page: the printer's key and the ISBN."""

from __future__ import annotations
