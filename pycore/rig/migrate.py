"""Old rig files become new ones step by step; a file from a newer version is refused, not guessed at."""

from collections.abc import Callable
from typing import Any

from pycore.base.problem import refuse
from pycore.rig.model import FORMAT, SCHEMA

STEPS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}  # schema n → function that gives schema n + 1


def newest(document: Any) -> dict[str, Any]:
    """The document in the newest schema. Raises `Refused` when it is no rig or too new."""
    if not isinstance(document, dict) or document.get("format") != FORMAT:
        raise refuse("not-a-rig", "This is not a rig file", "Open the file that this tool saved")
    schema = document.get("schema")
    if not isinstance(schema, int) or isinstance(schema, bool) or schema < 1:
        raise refuse("schema-unknown", "The file does not say its schema number", "Open the file that this tool saved", "schema")
    if schema > SCHEMA:
        raise refuse("file-too-new", f"This file was made with a newer version (schema {schema}; this one reads up to {SCHEMA})",
                     "Update the app, then open the file again", "schema")
    while schema < SCHEMA:
        document = STEPS[schema](document)
        schema += 1
    return {**document, "schema": SCHEMA}
