"""The sheet at true scale, by its test square."""

from __future__ import annotations

from dataclasses import dataclass, replace

from toilewright.errors import Finding, Severity
from toilewright.intake.drawing import Drawing, Stroke, Word
from toilewright.intake.pencil import without_standstill
from toilewright.intake.raw import TestSquare
from toilewright.intake.squares import find_test_square, scale_finding, square_strokes

SCALED_FROM = 0.001
"""Share by which the test square may be off before the sheet is scaled (0.1 mm in 100, a printer's dot or two)."""

UNEVEN = 0.005
"""Share by which width and height of a square may differ before the sheet counts as stretched."""


@dataclass(frozen=True, slots=True)
class TrueSheet:
    """Strokes and words at true scale, without the test square's own lines; the factor that was applied."""

    strokes: tuple[Stroke, ...]
    words: tuple[Word, ...]
    square: TestSquare | None
    scale: float
    findings: tuple[Finding, ...]


def to_true_scale(joined: Drawing) -> TrueSheet:
    """Scale a joined sheet by its test square."""
    strokes = tuple(_seen(s) for page in joined.pages for s in page.strokes)
    words = tuple(w for page in joined.pages for w in page.words)
    square = find_test_square(joined)
    if square is None:
        return TrueSheet(strokes, words, None, 1.0, (Finding(
            "no-test-square", "No test square was found, so the scale of the sheet could not be checked; measure a "
            "line of known length on it.", Severity.NOTE),))
    drawn = {id(s) for s in square_strokes(strokes, words)}
    strokes = tuple(s for s in strokes if id(s) not in drawn)
    size = (square.width + square.height) / 2
    factor, findings = square.nominal / size, []
    if abs(square.width - square.height) > UNEVEN * square.nominal:
        findings.append(Finding(
            "scale-uneven", f"The test square is {square.width:.1f} mm wide but {square.height:.1f} mm high; the sheet "
            "was stretched in one direction: get it again at its true size.", Severity.STOP,
            asked=square.nominal, possible=round(size, 2)))
    if abs(factor - 1) <= SCALED_FROM:
        return TrueSheet(strokes, words, square, 1.0, tuple(findings))
    findings.append(scale_finding(square) or Finding(
        "scale", f"The test square measures {size:.2f} mm instead of {square.nominal:g} mm; all lines were brought to "
        f"true size (factor {factor:.4f}).", Severity.NOTE, asked=square.nominal, possible=round(size, 3)))
    return TrueSheet(tuple(replace(s, path=s.path.mapped(lambda p: p * factor)) for s in strokes),
                     tuple(replace(w, at=w.at * factor, height=w.height * factor) for w in words),
                     square, factor, tuple(findings))


def _seen(stroke: Stroke) -> Stroke:
    path = without_standstill(stroke.path)
    return stroke if path is stroke.path else replace(stroke, path=path)
