"""What to alter, by how much and why: the tape sheet against the flat pieces, one rule for each alteration."""

from __future__ import annotations

from toilewright.fit.prescribe.case import MeasureMissing
from toilewright.fit.prescribe.held import HELD, Drafted, drafted_for, drafted_size
from toilewright.fit.prescribe.prescribing import Prescription, prescribe
from toilewright.fit.prescribe.rules import RULES, USES

__all__ = ["HELD", "RULES", "USES", "Drafted", "MeasureMissing", "Prescription", "drafted_for", "drafted_size",
           "prescribe"]
