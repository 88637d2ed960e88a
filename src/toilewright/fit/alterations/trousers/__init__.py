"""Trousers: one module for each alteration."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration

GROUP = "trousers"

ALTERATIONS: tuple[Alteration, ...] = ()
