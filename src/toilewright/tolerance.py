"""Every tolerance of the program, with its unit and its reason."""

ARC_LENGTH = 1e-4
"""mm; error allowed in one curve's length, so that a path of ten stays within 0.001 mm."""

JOINT = 1e-6
"""mm; two points nearer than this are the same point (float noise at garment size is 1e-12)."""

FLATTEN = 0.02
"""mm; how far a chord may leave its curve when a polygon stands in for a path (a pen line is 0.3 mm)."""

OFFSET = 0.01
"""mm; how far an offset curve may be from its true distance (a printer dot is 0.04 mm)."""

READ_JOIN = 0.6
"""mm; line ends nearer than this on a printed sheet were meant to meet (a wide pen line)."""

SEWS = 1.0
"""mm; two plain edges that differ by less than this are sewn without anybody noticing
(common practice, no published source)."""

WORTH_DOING = 5.0
"""mm; an alteration smaller than cloth, tape and hand can show (common practice, no published source)."""

CORNER = 0.20944
"""radians (12 degrees); a sharper turn than this between two curves is a corner, not a smooth run."""

CORNER_LIMIT = 2.5
"""times the allowance; how far a mitred corner may run out before it is cut off square."""
