"""Back: one module for each alteration."""

from __future__ import annotations

from toilewright.fit.alterations.back import back_length, back_width, sway_back
from toilewright.fit.alterations.kinds import Alteration

GROUP = "back"

ALTERATIONS: tuple[Alteration, ...] = tuple(m.ALTERATION for m in (back_width, back_length, sway_back))
