"""Extra pieces of a make file: ties, bindings, frills, pockets and whatever else is cut beside the pattern."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class ExtraWish:
    """One extra piece asked for."""


def read_extras(sheet: Mapping[str, Any], unit: str, where: str) -> tuple[ExtraWish, ...]:
    """The rows ``[[extra]]`` of a make file."""
    return ()
