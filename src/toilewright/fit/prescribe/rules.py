"""Every rule, in the order in which a fitter goes through them."""

from __future__ import annotations

from toilewright.fit.prescribe import bust, lengths, neck_and_shoulder, waist_and_hip
from toilewright.fit.prescribe.case import Rule

RULES: tuple[Rule, ...] = (*lengths.RULES, *neck_and_shoulder.RULES, *bust.RULES, *waist_and_hip.RULES)

BY_NAME: dict[str, Rule] = {rule.alteration: rule for rule in RULES}

USES: dict[str, tuple[str, ...]] = {rule.alteration: rule.uses for rule in RULES}
"""By alteration, the measures that its amount is worked out from, on one piece or another."""
