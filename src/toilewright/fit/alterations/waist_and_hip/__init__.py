"""Waist, hip and seat: one module for each alteration."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration
from toilewright.fit.alterations.waist_and_hip import (
    full_abdomen,
    full_seat,
    hem_level,
    high_hip,
    hip,
    hip_higher,
    waist,
)

GROUP = "waist, hip and seat"

ALTERATIONS: tuple[Alteration, ...] = tuple(m.ALTERATION for m in (
    waist, high_hip, hip, full_seat, full_abdomen, hip_higher, hem_level))
