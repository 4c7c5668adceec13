"""What is wrong with a YAML value, as a sentence with its line."""

from __future__ import annotations

import difflib
from typing import Any

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from fitter.book.yaml_lines import Document, Place

_WANTED = {
    "int_parsing": "a whole number",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "float_parsing": "a number",
    "float_type": "a number",
    "bool_parsing": "true or false",
    "bool_type": "true or false",
    "string_type": "text (in quotes if YAML takes it for something else)",
    "tuple_type": "a list",
    "list_type": "a list",
    "dict_type": "a mapping of keys to values",
    "model_type": "a mapping of keys to values",
    "model_attributes_type": "a mapping of keys to values",
}


def sentence(document: Document, model: type[BaseModel], start: Place, fault: ErrorDetails) -> str:
    """One fault that pydantic found in the mapping at `start`."""
    place: Place = (*start, *fault["loc"])
    at, key = document.at(place), _name(place, document)
    given, context = _shown(fault["input"]), fault.get("ctx", {})
    match fault["type"]:
        case "extra_forbidden":
            known = _keys_at(model, fault["loc"][:-1])
            hint = suggestion(key, known) or f"Known here: {', '.join(known)}."
            return f"{at}: unknown key '{key}'. {hint}"
        case "missing":
            return f"{at}: the key '{key}' is missing. Add it."
        case "invalid_key":
            return f"{at}: {given} is no key: a key is a word. Take it out."
        case _ if fault["input"] is None:
            return f"{at}: '{key}' has no value. Write one."
        case "value_error":
            return f"{at}: {context['error']}."
        case "literal_error":
            return f"{at}: '{key}' is one of {context['expected']}, not {given}."
        case "string_pattern_mismatch":
            return f"{at}: {given} cannot be an id: use letters, digits, '-', '_' and '.'."
        case "too_short":
            return f"{at}: '{key}' needs at least one entry."
        case "greater_than_equal":
            return f"{at}: '{key}' is {context['ge']:g} or more, not {given}."
        case "less_than_equal":
            return f"{at}: '{key}' is {context['le']:g} or less, not {given}."
        case kind:
            wanted = _WANTED.get(kind) or fault["msg"].removeprefix("Input should be ")
            return f"{at}: '{key}' should be {wanted}, not {given}."


def _name(place: Place, document: Document) -> str:
    if not place:
        return document.name
    if isinstance(place[-1], int):
        around = _name(place[:-1], document)
        return f"{around}, entry {place[-1] + 1}" if place[:-1] else f"entry {place[-1] + 1}"
    return place[-1]


def suggestion(word: object, known: list[str]) -> str:
    """`Did you mean 'priority'?`, or nothing when no known word is near."""
    near = difflib.get_close_matches(str(word), known, n=1, cutoff=0.6)
    return f"Did you mean '{near[0]}'?" if near else ""


_YAML = (str, int, float, list, dict)


def _shown(value: Any) -> str:
    words = {True: "true", False: "false"}
    plain = repr(value if isinstance(value, _YAML) else str(value))
    text = words[value] if isinstance(value, bool) else plain
    return text if len(text) <= 60 else text[:57] + "…"


def _keys_at(model: type[BaseModel], place: Place) -> list[str]:
    """The keys a model knows at a place, found in its JSON schema."""
    schema = model.model_json_schema()
    node = schema
    for step in place:
        inner = _resolved(node, schema)
        children = inner.get("properties", {})
        node = children.get(step, inner.get("items", _any_key(inner)))
    return list(_resolved(node, schema).get("properties", {}))


def _any_key(node: dict[str, Any]) -> Any:
    """What a mapping whose keys are the author's own has under each of them."""
    patterns = node.get("patternProperties", {})
    return next(iter(patterns.values()), node.get("additionalProperties", {}))


def _resolved(node: dict[str, Any], schema: dict[str, Any]) -> dict[str, Any]:
    branches = [branch for branch in node.get("anyOf", []) if branch.get("type") != "null"]
    if branches:
        return _resolved(branches[0], schema)
    if "$ref" in node:
        return _resolved(schema["$defs"][node["$ref"].rsplit("/", 1)[-1]], schema)
    return node
