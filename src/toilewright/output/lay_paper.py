"""A stretch of a lay drawn on a sheet of paper, and the ruler that shows its scale."""

from __future__ import annotations

from reportlab.pdfgen.canvas import Canvas

from toilewright.geometry.point import Point
from toilewright.output.lay_looks import LOOKS, QUIET, Look, Scene
from toilewright.output.paper import MM, trace, write
from toilewright.units import MM_PER_INCH

_CLIPPED = frozenset({Look.SINGLE, Look.DOUBLE, Look.OFF, Look.PIECE, Look.STRIPE, Look.FLAW, Look.SELVEDGE, Look.END,
                      Look.FOLD, Look.CUT, Look.FOLD_EDGE, Look.GRAIN, Look.NOTCH, Look.DART, Look.DRILL})
"""What is cut off at the ends of the stretch."""


def draw_scene(pdf: Canvas, scene: Scene, corner: Point) -> None:
    """A scene with the lower left corner of its box at a place on the sheet (mm)."""
    def place(p: Point) -> Point:
        return (p - complex(scene.box[0], scene.box[1])) / scene.scale + corner

    low, high = place(complex(scene.window[0], scene.box[1])), place(complex(scene.window[1], scene.box[3]))
    pdf.saveState()
    pdf.setLineJoin(1)
    pdf.saveState()
    edge = pdf.beginPath()
    size = high - low
    edge.rect((low.real - 0.5) * MM, (low.imag - 1) * MM, (size.real + 1) * MM, (size.imag + 2) * MM)
    pdf.clipPath(edge, stroke=0, fill=0)
    _shapes(pdf, scene, place, True)
    pdf.restoreState()
    _shapes(pdf, scene, place, False)
    pdf.restoreState()
    for words in scene.words:
        caption = words.caption
        write(pdf, caption.text, place(caption.at), caption.height / scene.scale, bold=words.bold, colour=words.colour,
              angle=caption.angle, anchor=caption.anchor)


def _shapes(pdf: Canvas, scene: Scene, place, clipped: bool) -> None:
    for shape in scene.shapes:
        if (shape.look in _CLIPPED) is not clipped:
            continue
        pen = LOOKS[shape.look]
        if pen.width:
            pdf.setStrokeColor(pen.colour)
            pdf.setLineWidth(pen.width * MM)
            pdf.setDash([d * MM for d in pen.dash] or [])
        if pen.fill:
            pdf.setFillColor(pen.fill)
        pdf.drawPath(trace(pdf, shape.path, place), stroke=1 if pen.width else 0, fill=1 if pen.fill else 0)


def draw_scale(pdf: Canvas, at: Point, scale: float, unit: str) -> None:
    """A ruler of the cloth, and a length to measure on the paper, from a place to the right (mm)."""
    one, words = (100.0, "10 cm") if unit == "cm" else (4 * MM_PER_INCH, "4 in")
    pdf.saveState()
    pdf.setStrokeColor(QUIET)
    pdf.setLineWidth(0.3 * MM)
    pdf.line(at.real * MM, at.imag * MM, (at.real + one) * MM, at.imag * MM)
    for k in range(11 if unit == "cm" else 17):
        x = at.real + one * k / (10 if unit == "cm" else 16)
        main = k % (5 if unit == "cm" else 4) == 0
        pdf.line(x * MM, at.imag * MM, x * MM, (at.imag + (1.8 if main else 1.0)) * MM)
    pdf.restoreState()
    cloth = f"{scale * 10:g} cm" if unit == "cm" else f"{scale * 4:g} in"
    write(pdf, f"{words} on the paper must measure {words}; on the cloth it is {cloth} (scale 1:{scale:g})",
          at - 3.4j, 1.7, colour=QUIET)
