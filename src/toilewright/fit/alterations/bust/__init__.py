"""Bust and chest: one module for each alteration."""

from __future__ import annotations

from toilewright.fit.alterations.bust import (
    armhole_gaping,
    bust_dart_height,
    bust_dart_point,
    bust_dart_split,
    bust_dart_swung,
    bust_dart_to_gathers,
    bust_dart_to_princess_seam,
    chest_hollow_or_full,
    full_bust,
    full_bust_dartless,
    full_bust_princess,
)
from toilewright.fit.alterations.kinds import Alteration

GROUP = "bust and chest"

ALTERATIONS: tuple[Alteration, ...] = tuple(m.ALTERATION for m in (
    full_bust, full_bust_princess, full_bust_dartless, bust_dart_height, bust_dart_point, bust_dart_swung,
    bust_dart_split, bust_dart_to_gathers, bust_dart_to_princess_seam, chest_hollow_or_full, armhole_gaping))
