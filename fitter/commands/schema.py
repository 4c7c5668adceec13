"""`fitter schema`: the JSON Schema of a YAML file."""

from __future__ import annotations

import json
from typing import Any

from pydantic import TypeAdapter

from fitter.book.models import BookFile, FillersFile, PrintingsFile
from fitter.book.printer import PrinterFile
from fitter.errors import DONE

_MODELS: dict[str, Any] = {
    "book": BookFile,
    "fillers": FillersFile,
    "printer": PrinterFile,
    "printings": PrintingsFile,
}


def schema(name: str) -> int:
    """Print the schema on standard output."""
    print(json.dumps(TypeAdapter(_MODELS[name]).json_schema(), indent=2, ensure_ascii=False))
    return DONE
