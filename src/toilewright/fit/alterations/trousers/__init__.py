"""Trousers: one module for each alteration. Their length is changed by "lengthen or shorten", as that of any piece."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration
from toilewright.fit.alterations.trousers import (
    calf,
    crotch_depth,
    crotch_length_back,
    crotch_length_front,
    knees,
    thigh,
)

GROUP = "trousers"

ALTERATIONS: tuple[Alteration, ...] = tuple(
    room.ALTERATION for room in (crotch_depth, crotch_length_front, crotch_length_back, thigh, knees, calf))
