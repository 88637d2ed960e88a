"""Arm and sleeve: one module for each alteration."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration
from toilewright.fit.alterations.sleeve import (
    armhole_across,
    armhole_depth,
    elbow,
    head_height,
    pitch,
    sleeve_length,
    upper_arm,
)

GROUP = "arm and sleeve"

ALTERATIONS: tuple[Alteration, ...] = tuple(m.ALTERATION for m in (
    sleeve_length, upper_arm, elbow, armhole_depth, armhole_across, head_height, pitch))
