"""Lengths: one module for each alteration."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration
from toilewright.fit.alterations.lengths import lengthen

GROUP = "lengths"

ALTERATIONS: tuple[Alteration, ...] = tuple(m.ALTERATION for m in (
    lengthen,))
