"""By which a row that the disk has changed is told from the one that was saved."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from typing import Any

import msgspec

SEALED = ("thing", "number", "digest", "way", "words", "at", "device", "removed", "state", "before", "tip", "undo",
          "redo")
"""columns of a revision under its seal; the document is there by its digest, so that a history is read without it."""


class Unsound(Exception):
    """What the store gave back is not what was put in."""


def digest(text: str) -> str:
    """Of a document."""
    if not isinstance(text, str):  # one flipped bit makes other bytes of a text
        raise Unsound
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def seal(kind: str, row: Mapping[str, Any]) -> str:
    """Of a revision of a thing of some kind."""
    values = [int(v) if isinstance(v, bool) else v for v in (row.get(name) for name in SEALED)]
    return hashlib.sha256(msgspec.json.encode([kind, *values])).hexdigest()[:16]


def check(row: Mapping[str, Any]) -> None:
    """Raise Unsound for a row (with its `kind`, and its `document` where that was asked for) that is not as saved."""
    if seal(row["kind"], row) != row["seal"] or ("document" in row and digest(row["document"]) != row["digest"]):
        raise Unsound
