"""What to alter, by how much and why: the tape sheet against the flat pieces, one rule for each alteration."""

from __future__ import annotations

from toilewright.fit.prescribe.case import MeasureMissing
from toilewright.fit.prescribe.held import HELD, chart_ease, drafted_ease
from toilewright.fit.prescribe.prescribing import Prescription, prescribe
from toilewright.fit.prescribe.rules import RULES, USES

__all__ = ["HELD", "RULES", "USES", "MeasureMissing", "Prescription", "chart_ease", "drafted_ease", "prescribe"]
