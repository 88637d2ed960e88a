"""Bust and chest: one module for each alteration."""

from __future__ import annotations

from toilewright.fit.alterations.bust import bust_dart_height, bust_dart_point, full_bust
from toilewright.fit.alterations.kinds import Alteration

GROUP = "bust and chest"

ALTERATIONS: tuple[Alteration, ...] = tuple(m.ALTERATION for m in (
    full_bust, bust_dart_height, bust_dart_point,))
