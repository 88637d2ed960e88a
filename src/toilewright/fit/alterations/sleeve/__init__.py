"""Arm and sleeve: one module for each alteration."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration

GROUP = "arm and sleeve"

ALTERATIONS: tuple[Alteration, ...] = ()
