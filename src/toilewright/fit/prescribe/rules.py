"""Every rule, in the order in which they are asked: those first whose measure no other alteration changes.

A waist let out widens the bust above it, so waist and hip are asked before the bust, although they are altered after
it.
"""

from __future__ import annotations

from toilewright.fit.prescribe import back, bust, lengths, neck_and_shoulder, sleeve, trousers, waist_and_hip
from toilewright.fit.prescribe.case import Rule

RULES: tuple[Rule, ...] = (*waist_and_hip.RULES, *trousers.DEPTH, *lengths.RULES, *back.RULES, *bust.ROOM,
                           *neck_and_shoulder.RULES, *bust.RULES, *sleeve.RULES, *trousers.RULES)

BY_NAME: dict[str, Rule] = {name: rule for rule in RULES for name in (rule.alteration, rule.opposite) if name}

USES: dict[str, tuple[str, ...]] = {name: rule.uses for name, rule in BY_NAME.items()}
"""By alteration, the measures that its amount is worked out from, on one piece or another."""
