"""Neck and shoulder: one module for each alteration."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration
from toilewright.fit.alterations.neck_and_shoulder import (
    erect_back,
    forward_neck,
    forward_shoulder,
    high_round_back,
    neckline_gaping_back,
    neckline_gaping_front,
    neckline_height,
    neckline_width,
    rounded_upper_back,
    shoulder_slope,
    shoulder_width,
)

GROUP = "neck and shoulder"

ALTERATIONS: tuple[Alteration, ...] = tuple(m.ALTERATION for m in (
    high_round_back, rounded_upper_back, erect_back, forward_neck, forward_shoulder, shoulder_slope, shoulder_width,
    neckline_height, neckline_width, neckline_gaping_front, neckline_gaping_back,))
