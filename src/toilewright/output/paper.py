"""Drawing figures on a PDF canvas: curves stay curves, pens keep their width on paper."""

from __future__ import annotations

from cmath import rect
from collections.abc import Callable
from math import degrees, pi

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from toilewright.draw.figure import Caption, Figure, Mark, Pen
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.pens import INK, PENS

MM = 72 / 25.4
"""PDF points in one mm."""

FONT = "Helvetica"
BOLD = "Helvetica-Bold"
CAP_HEIGHT = 0.718
"""Height of Helvetica's capitals as a share of its size (its published font metrics)."""

_PLAIN = str.maketrans({"→": ">", "≥": "at least ", "≤": "at most ", "−": "-", "\u202f": " ", "\u2009": " "})


def canvas(path: str, width: float, height: float, title: str) -> Canvas:
    """A canvas with a page of the given size in mm; the same drawing gives the same bytes."""
    pdf = Canvas(path, pagesize=(width * MM, height * MM), invariant=1, pageCompression=1)
    pdf.setTitle(title)
    pdf.setCreator("toilewright")
    return pdf


def plain(text: str) -> str:
    """Text in the letters that every PDF reader carries."""
    return text.translate(_PLAIN).encode("cp1252", "replace").decode("cp1252")


def size_for(height: float) -> float:
    """Font size in points whose capitals stand `height` mm tall."""
    return height * MM / CAP_HEIGHT


def width_of(text: str, height: float, bold: bool = False) -> float:
    """Length of a line of text in mm, at a letter height in mm."""
    return stringWidth(plain(text), BOLD if bold else FONT, size_for(height)) / MM


def wrap(text: str, height: float, width: float, bold: bool = False) -> list[str]:
    """Text broken into lines no longer than `width` mm."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}".strip()
        if line and width_of(longer, height, bold) > width:
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line] if line else lines


def write(pdf: Canvas, text: str, at: Point, height: float, *, bold: bool = False, colour: str = INK,
          angle: float = 0.0, anchor: str = "start") -> None:
    """One line of text: `at` in mm is where its baseline starts, has its middle, or ends."""
    pdf.saveState()
    pdf.setFillColor(colour)
    pdf.setFont(BOLD if bold else FONT, size_for(height))
    pdf.translate(at.real * MM, at.imag * MM)
    pdf.rotate(degrees(angle))
    put: Callable[..., None] = {"start": pdf.drawString, "middle": pdf.drawCentredString,
                                "end": pdf.drawRightString}[anchor]
    put(0, 0, plain(text))
    pdf.restoreState()


def trace(pdf: Canvas, path: Path, place: Callable[[Point], Point] = lambda p: p):
    """A PDF path object along a path, in points, after `place` (mm to mm)."""
    line = pdf.beginPath()
    start = place(path.start) * MM
    line.moveTo(start.real, start.imag)
    for end, handles in zip(path.nodes[1:], path.handles, strict=True):
        e = place(end) * MM
        if handles is None:
            line.lineTo(e.real, e.imag)
        else:
            a, b = place(handles[0]) * MM, place(handles[1]) * MM
            line.curveTo(a.real, a.imag, b.real, b.imag, e.real, e.imag)
    if path.closed:
        line.close()
    return line


def draw_mark(pdf: Canvas, mark: Mark, place: Callable[[Point], Point] = lambda p: p, weight: float = 1.0) -> None:
    """One pen mark; `weight` thickens or thins the pen."""
    pen = PENS[mark.pen]
    pdf.setStrokeColor(pen.colour)
    pdf.setLineWidth(pen.width * weight * MM)
    pdf.setDash([d * MM * weight for d in pen.dash] or [])
    if pen.fill:
        pdf.setFillColor(pen.fill)
    pdf.drawPath(trace(pdf, mark.path, place), stroke=1, fill=1 if pen.fill else 0)


def draw_figure(pdf: Canvas, figure: Figure, place: Callable[[Point], Point] = lambda p: p,
                weight: float = 1.0, letters: float = 1.0) -> None:
    """A whole figure, tints first so that no line is hidden; `letters` scales caption heights."""
    pdf.saveState()
    pdf.setLineCap(1)
    pdf.setLineJoin(1)
    for mark in sorted(figure.marks, key=lambda m: m.pen is not Pen.FILL):
        draw_mark(pdf, mark, place, weight)
    pdf.restoreState()
    for caption in figure.captions:
        draw_caption(pdf, caption, place, letters)


def draw_caption(pdf: Canvas, caption: Caption, place: Callable[[Point], Point] = lambda p: p,
                 letters: float = 1.0) -> None:
    """One caption of a figure."""
    write(pdf, caption.text, place(caption.at), caption.height * letters, angle=caption.angle, anchor=caption.anchor)


def ground(caption: Caption) -> Path:
    """The line that a caption stands on, and its last letter's height: enough to know where it shows (mm)."""
    wide = width_of(caption.text, caption.height)
    start = caption.at - rect({"start": 0.0, "middle": 0.5, "end": 1.0}[caption.anchor] * wide, caption.angle)
    return Path.polyline((start, start + rect(wide, caption.angle),
                          start + rect(wide, caption.angle) + rect(caption.height, caption.angle + pi / 2)))


def draw_fitted(pdf: Canvas, figure: Figure, box: tuple[float, float, float, float], weight: float = 1.0,
                letters: float | None = None) -> float:
    """A figure scaled down to fit a box (x min, y min, x max, y max in mm) and centred; the scale used."""
    x0, y0, x1, y1 = figure.bounds()
    scale = min((box[2] - box[0]) / max(x1 - x0, 1e-6), (box[3] - box[1]) / max(y1 - y0, 1e-6), 1.0)
    shift = complex(box[0] + box[2], box[1] + box[3]) / 2 - complex(x0 + x1, y0 + y1) / 2 * scale
    draw_figure(pdf, figure, lambda p: p * scale + shift, weight, scale if letters is None else letters)
    return scale
