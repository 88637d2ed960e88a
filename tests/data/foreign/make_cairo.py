"""Writes the cairo files of this folder (needs pycairo; not needed to run the tests).

cairo-a4.pdf      metric, colours and dashes, whole curves clipped to A4 tiles without overlap, framed and numbered
cairo-letter.pdf  5/8 in, dashes only, curves as about 1,000 points, cut at the borders of overlapping Letter tiles
cairo-sheet.pdf   metric, one sheet, seam line drawn too, a mirrored matrix
cairo-sheet.svg   5/8 in, one sheet, colours only; letters become shapes
"""

from itertools import pairwise
from math import radians

import cairo
from sheet import COLOURS, DASHES, HEIGHT, HERE, SIZES, WIDTH, captions, flat, marks

PT = 72 / 25.4


def pen(ctx, mark, colours=True, dashes=True):
    size = mark.size
    ctx.set_source_rgb(*(COLOURS[size] if size and colours else (0, 0, 0)))
    ctx.set_dash(DASHES[size] if size and dashes and mark.kind in ("cut", "key") else ())
    if mark.kind == "seam":
        ctx.set_dash((1.0, 1.5))
    ctx.set_line_width(0.35 if mark.kind in ("cut", "square", "key") else 0.2)


def trace(ctx, curves):
    ctx.move_to(*curves[0])
    for c in curves[1:]:
        ctx.line_to(*c) if len(c) == 2 else ctx.curve_to(*c)
    if curves[0] == curves[-1][-2:]:
        ctx.close_path()


def paint(ctx, mark, **how):
    pen(ctx, mark, **how)
    trace(ctx, mark.curves)
    ctx.fill() if mark.solid else ctx.stroke()


def write(ctx, word):
    ctx.save()
    ctx.set_source_rgb(0, 0, 0)
    ctx.translate(word.x, word.y)
    ctx.rotate(radians(word.angle))
    ctx.scale(1, -1)
    ctx.select_font_face("sans")
    ctx.set_font_size(word.height)
    ctx.move_to(0, 0)
    ctx.show_text(word.text)
    ctx.restore()


def up(ctx, height):
    """Millimetres, y up."""
    ctx.scale(PT, PT)
    ctx.transform(cairo.Matrix(1, 0, 0, -1, 0, height))


def a4():
    surface = cairo.PDFSurface(str(HERE / "cairo-a4.pdf"), 210 * PT, 297 * PT)
    ctx = cairo.Context(surface)
    w, h = 190.0, 277.0
    for row in range(3):
        for column in range(6):
            ctx.save()
            up(ctx, 297)
            tag(ctx, column, row, 289)
            x, y = column * w, HEIGHT - (row + 1) * h
            ctx.rectangle(10, 10, w, h)
            ctx.set_source_rgb(0.6, 0.6, 0.6)
            ctx.set_line_width(0.1)
            ctx.stroke_preserve()
            ctx.clip()
            ctx.translate(10 - x, 10 - y)
            for mark in marks("metric"):
                if touches(mark.curves, x, y, w, h):
                    paint(ctx, mark)
            for word in captions("metric"):
                if touches([[word.x - 10, word.y - 60], [word.x + 110, word.y + 60]], x, y, w, h):
                    write(ctx, word)
            ctx.restore()
            ctx.show_page()
    surface.finish()


def tag(ctx, column, row, y):
    ctx.set_source_rgb(0, 0, 0)
    ctx.save()
    ctx.translate(14, y)
    ctx.scale(1, -1)
    ctx.select_font_face("sans")
    ctx.set_font_size(4)
    ctx.move_to(0, 0)
    ctx.show_text(f"{'ABCDEF'[row]}{column + 1}")
    ctx.restore()
    ctx.new_path()


def touches(curves, x, y, w, h):
    xs = [v for c in curves for v in c[::2]]
    ys = [v for c in curves for v in c[1::2]]
    return min(xs) < x + w and max(xs) > x and min(ys) < y + h and max(ys) > y


def letter():
    """Tiles of 7 1/2 x 10 in whose left and lower 10 mm repeat the neighbour's, with crosses at the corners."""
    surface = cairo.PDFSurface(str(HERE / "cairo-letter.pdf"), 612, 792)
    ctx = cairo.Context(surface)
    w, h, lap = 190.5, 254.0, 10.0
    drawn = list(marks("inch"))
    columns, rows = int((WIDTH - lap) // (w - lap)) + 1, int((HEIGHT - lap) // (h - lap)) + 1
    for row in range(rows):
        for column in range(columns):
            ctx.save()
            up(ctx, 279.4)
            left, low = 12.7, 12.7
            tag(ctx, column, row, 270)
            x, y = column * (w - lap), HEIGHT - h - row * (h - lap)
            ctx.set_line_width(0.2)
            for cx in (left, left + w - lap):
                for cy in (low + lap, low + h):
                    for dx, dy in ((3, 0), (0, 3)):
                        ctx.move_to(cx - dx, cy - dy)
                        ctx.line_to(cx + dx, cy + dy)
                        ctx.stroke()
            ctx.translate(left - x, low - y)
            for mark in drawn:
                for part in cut(flat(mark.curves, 1000 if mark.kind == "cut" else 1), x, y, w, h):
                    paint(ctx, type(mark)(mark.kind, mark.size, [list(p) for p in part], solid=mark.solid),
                          colours=False)
            for word in captions("inch"):
                if x < word.x < x + w - lap and y + lap < word.y < y + h:
                    write(ctx, word)
            ctx.restore()
            ctx.show_page()
    surface.finish()


def cut(points, x, y, w, h):
    """The parts of a polyline inside a box (Liang and Barsky's clipping, segment by segment)."""
    run = []
    for (ax, ay), (bx, by) in pairwise(points):
        t0, t1 = 0.0, 1.0
        for p, q in ((ax - bx, ax - x), (bx - ax, x + w - ax), (ay - by, ay - y), (by - ay, y + h - ay)):
            if p < 0:
                t0 = max(t0, q / p)
            elif p > 0:
                t1 = min(t1, q / p)
            elif q < 0:
                t0 = 2.0
        if t0 >= t1:
            if run:
                yield run
            run = []
            continue
        start, end = ((ax + (bx - ax) * t, ay + (by - ay) * t) for t in (t0, t1))
        if not run or t0 > 0:
            if run:
                yield run
            run = [start]
        run.append(end)
        if t1 < 1:
            yield run
            run = []
    if run:
        yield run


def sheets():
    surface = cairo.PDFSurface(str(HERE / "cairo-sheet.pdf"), WIDTH * PT, HEIGHT * PT)
    ctx = cairo.Context(surface)
    up(ctx, HEIGHT)
    ctx.save()
    ctx.transform(cairo.Matrix(-1, 0, 0, 1, WIDTH, 0))
    for mark in marks("metric", seam=True):
        turned = [[WIDTH - v if i % 2 == 0 else v for i, v in enumerate(c)] for c in mark.curves]
        paint(ctx, type(mark)(mark.kind, mark.size, turned, solid=mark.solid))
    ctx.restore()
    for word in captions("metric"):
        write(ctx, word)
    surface.finish()
    surface = cairo.SVGSurface(str(HERE / "cairo-sheet.svg"), WIDTH * PT, HEIGHT * PT)
    ctx = cairo.Context(surface)
    up(ctx, HEIGHT)
    for mark in marks("inch"):
        paint(ctx, mark, dashes=False)
    for word in captions("inch"):
        if word.text not in SIZES:
            write(ctx, word)
    surface.finish()


if __name__ == "__main__":
    a4()
    letter()
    sheets()
