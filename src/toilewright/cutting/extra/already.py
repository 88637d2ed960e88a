"""What is sewn along a line before an extra piece comes to it."""

from __future__ import annotations

from toilewright.cutting.extra.places import Run
from toilewright.errors import Finding, Severity
from toilewright.pattern.garment import Garment, Seam


def seams_on(garment: Garment, run: Run) -> tuple[Seam, ...]:
    """The seams in which edges of a line are sewn, those of a lining that lies on it left out."""
    return tuple(s for s in garment.seams if any((r.piece, r.edge) in run.edges for r in (*s.a, *s.b))
                 and not _of_lining(garment, s))


def sewn_already(garment: Garment, run: Run, code: str, so: str, piece: str, severity: Severity = Severity.LOOK
                 ) -> tuple[Finding, ...]:
    """One word about all that is sewn along a line already; none where nothing is.

    Args:
        so: what follows from it, to be read after a semicolon.
    """
    names = [f'"{s.name}"' for s in seams_on(garment, run)]
    if not names:
        return ()
    seams = f"the seam {names[0]}" if len(names) == 1 else f"the seams {', '.join(names[:-1])} and {names[-1]}"
    return (Finding(code, f'"{run.name}" is sewn in {seams} already; {so}.', severity, piece),)


def lined_first(garment: Garment, run: Run, piece: str) -> tuple[Finding, ...]:
    """A word where a lining was cut before the facing that it should end at."""
    linings = [s for s in garment.seams if _of_lining(garment, s)
               and any((r.piece, r.edge) in run.edges for r in (*s.a, *s.b))]
    if not linings:
        return ()
    return (Finding("lining-before-facing", f'The lining reaches to "{run.name}", because it stands above "{piece}" in '
                    "the make file; put the lining below, and it is cut without what the facing covers.",
                    Severity.LOOK, piece),)


def _of_lining(garment: Garment, seam: Seam) -> bool:
    return any("lining" in (garment.piece(r.piece).cut.cloth, *r.piece.split()) for r in (*seam.a, *seam.b)
               if garment.has(r.piece))
