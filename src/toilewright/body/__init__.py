"""The body by tape: measures by ISO 8559-1 name, read from a tape sheet."""

from toilewright.body.measures import Measure, all_measures, find_measure
from toilewright.body.tape import Body, Wish, body_of, read_tape

__all__ = ["Body", "Measure", "Wish", "all_measures", "body_of", "find_measure", "read_tape"]
