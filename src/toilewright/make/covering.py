"""Whether a wrap skirt covers her, said beside everything else about a make."""

from __future__ import annotations

from toilewright.body.tape import Body
from toilewright.errors import Finding, Severity
from toilewright.fit.wrap import cover, legs_of, wrap_of
from toilewright.pattern.garment import Garment


def wrap_findings(garment: Garment, body: Body, unit: str) -> tuple[Finding, ...]:
    """Is she covered standing, sitting and stepping? Nothing for a garment without a wrap."""
    wrap = wrap_of(garment, body)
    if wrap is None:
        return ()
    return tuple(Finding("wrap-covers" if one.covered else "wrap-opens", f"Wrap skirt. {one.text}",
                         Severity.NOTE if one.covered else Severity.LOOK) for one in cover(wrap, legs_of(body), unit))
