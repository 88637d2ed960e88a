"""Allowances and corners of a make file: what she wants to be cut beyond the seam lines."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class AllowanceWish:
    """One allowance asked for."""


@dataclass(frozen=True, slots=True)
class CornerWish:
    """How one corner is to be cut."""


def read_allowances(sheet: Mapping[str, Any], unit: str, where: str) -> tuple[AllowanceWish, ...]:
    """The table ``[allowances]`` of a make file."""
    return ()


def read_corners(sheet: Mapping[str, Any], unit: str, where: str) -> tuple[CornerWish, ...]:
    """The rows ``[[corner]]`` of a make file."""
    return ()
