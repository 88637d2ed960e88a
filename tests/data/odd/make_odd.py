"""Draws the files of this folder and truth.json (needs reportlab, pycairo and Shapely; not needed to run the tests).

skirt-turned.pdf: cairo; one framed sheet with a title box, pieces lying on their sides, sizes in colours named by
    numbers along the lines, the fold told by a dash-dot line.
skirt-mirrored.pdf: by hand; A4 in columns, the sheet behind a window on every page, fold at the right, CMYK hairlines,
    a legend; before it a page with a small map of all pages, after it one with instructions.
pinafore-cut.pdf: reportlab; children's sizes, lines cut at the margins, diamonds with labels at the joints, pages in
    columns, a pocket that has a page to itself.
bodice-windows.pdf: by hand; no seam allowance, each page a MediaBox somewhere on one large drawing, sizes written in
    their colours.
bodice-allowances.pdf: by hand; cutting lines 15 mm out (sleeve hem 30), legs of darts drawn on to them, layers
    "Gr. 36"... in a form that is shown with a matrix through overlapping windows.
"""

import json
import zlib
from math import ceil, cos, degrees, pi, sin
from pathlib import Path as File

from garments import bodice, flat, grown, pinafore, poly, reach, skirt
from marks import PT, Mark, Words, bracket, colour_of, legend, moved, piece_marks, square

HERE = File(__file__).parent
TRUTH = {}


def laid(pieces, places, **how):
    """Marks and words of pieces at (place, turn); their measures."""
    marks, words, truth = [], [], {}
    for piece, (by, turn) in zip(pieces, places, strict=True):
        m, w, truth[piece.name] = piece_marks(piece, by, turn, **how)
        marks, words = marks + m, words + w
    return marks, words, truth


# -- a PDF by hand ---------------------------------------------------------------------------------


def operators(marks, words, sizes, layers=None, cmyk=False, pen=0.3):
    """Drawing operators in points."""
    out = []
    for layer in (dict.fromkeys([*sizes, None]) if layers else [0]):
        if layers and layer:
            out.append(f"/OC /L{list(sizes).index(layer)} BDC")
        for m in (m for m in marks if not layers or m.size == layer):
            r, g, b = colour_of(m, sizes)
            ink = (f"{1 - r:.3f} {1 - g:.3f} {1 - b:.3f} 0 K {1 - r:.3f} {1 - g:.3f} {1 - b:.3f} 0 k" if cmyk
                   else f"{r} {g} {b} RG {r} {g} {b} rg")
            points = [f"{_at(m.stretches[0][0])} m"]
            points += [" ".join(map(_at, s[1:])) + (" l" if len(s) == 2 else " c") for s in m.stretches]
            out.append(f"{ink} {pen} w {' '.join(points)} {'f' if m.solid else 's' if m.closed else 'S'}")
        for w in (w for w in words if not layers or w.size == layer):
            r, g, b = colour_of(w, sizes)
            c, s = cos(w.angle), sin(w.angle)
            out.append(f"{r} {g} {b} rg BT /F {w.height * PT:.2f} Tf {c:.5f} {s:.5f} {-s:.5f} {c:.5f} {_at(w.at)} Tm "
                       f"({w.text.replace('(', chr(92) + '(').replace(')', chr(92) + ')')}) Tj ET")
        if layers and layer:
            out.append("EMC")
    return "\n".join(out)


def _at(z):
    return f"{z.real * PT:.4f} {z.imag * PT:.4f}"


def write_pdf(name, pages, form=None, layers=()):
    """pages: (box in points, operators); a form is called /Sheet."""
    objects = [b"", b"", b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica/Encoding/WinAnsiEncoding>>"]

    def add(body):
        objects.append(body)
        return len(objects)

    def stream(body, extra=b""):
        packed = zlib.compress(body.encode("latin1"), 9)
        return add(b"<</Length %d/Filter/FlateDecode%s>>stream\n%s\nendstream" % (len(packed), extra, packed))

    groups = [add(f"<</Type/OCG/Name({n})>>".encode()) for n in layers]
    known = b"".join(b"/L%d %d 0 R" % (i, g) for i, g in enumerate(groups))
    fonts = b"/Resources<</Font<</F 3 0 R>>/Properties<<%s>>%%s>>" % known
    sheet = b""
    if form:
        box, body = form
        n = stream(body, b"/Type/XObject/Subtype/Form/BBox[%s]%s" % (_box(box), fonts % b""))
        sheet = b"/XObject<</Sheet %d 0 R>>" % n
    contents = {}
    kids = []
    for box, body in pages:
        contents[body] = contents.get(body) or stream(body)
        kids.append(add(b"<</Type/Page/Parent 2 0 R/MediaBox[%s]/Contents %d 0 R%s>>" % (
            _box(box), contents[body], fonts % sheet)))
    listed = b" ".join(b"%d 0 R" % g for g in groups)
    objects[0] = b"<</Type/Catalog/Pages 2 0 R/OCProperties<</OCGs[%s]/D<</Order[%s]>>>>>>" % (listed, listed)
    objects[1] = b"<</Type/Pages/Count %d/Kids[%s]>>" % (len(kids), b" ".join(b"%d 0 R" % k for k in kids))
    out, at = b"%PDF-1.6\n", []
    for i, body in enumerate(objects, 1):
        at.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (i, body)
    table = b"".join(b"%010d 00000 n \n" % a for a in at)
    out += b"xref\n0 %d\n0000000000 65535 f \n%strailer<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n" % (
        len(at) + 1, table, len(at) + 1, len(out))
    (HERE / name).write_bytes(out)


def _box(box):
    return " ".join(f"{v * PT:.4f}" for v in box).encode()


# -- the files -------------------------------------------------------------------------------------


def skirt_turned():
    import cairo
    sizes = ("8", "10", "12", "14", "16")
    pieces = skirt(sizes, 10)
    marks, words, TRUTH["skirt-turned.pdf"] = laid(
        pieces, ((640 + 120j, pi / 2), (1150 + 1080j, pi), (720 + 20j, 0)), notch="T", numbers=True)
    fold = Mark(moved(poly(pieces[0].forms["8"].edges["centre"][0][0], 0j), 640 + 120j, pi / 2))
    words.append(Words(350 + 125j, 5, "FOLD"))
    for box in ((5, 5, 1895, 1155), (1500, 900, 1885, 1100)):
        x, y, u, v = box
        marks.append(Mark(poly(x + 1j * y, u + 1j * y, u + 1j * v, x + 1j * v, x + 1j * y), closed=True))
    words += [Words(1510 + 1060j, 20, "CHOIR SKIRT"), Words(1510 + 1040j, 8, "Sizes 8 - 16"),
              Words(1510 + 1020j, 8, "1.5cm seam allowance, 4cm hem allowance included")]
    surface = cairo.PDFSurface(str(HERE / "skirt-turned.pdf"), 1900 * PT, 1160 * PT)
    ctx = cairo.Context(surface)
    ctx.scale(PT, PT)
    ctx.transform(cairo.Matrix(1, 0, 0, -1, 0, 1160))
    for m in (*marks, fold):
        ctx.set_source_rgb(*colour_of(m, sizes))
        ctx.set_line_width(0.4)
        ctx.set_dash((10, 3, 2, 3) if m is fold else ())
        ctx.move_to(m.stretches[0][0].real, m.stretches[0][0].imag)
        for s in m.stretches:
            numbers = [v for z in s[1:] for v in (z.real, z.imag)]
            ctx.line_to(*numbers) if len(s) == 2 else ctx.curve_to(*numbers)
        if m.closed:
            ctx.close_path()
        ctx.fill() if m.solid else ctx.stroke()
    ctx.select_font_face("sans")
    for w in words:
        ctx.save()
        ctx.set_source_rgb(*colour_of(w, sizes))
        ctx.translate(w.at.real, w.at.imag)
        ctx.rotate(w.angle)
        ctx.scale(1, -1)
        ctx.set_font_size(w.height)
        ctx.move_to(0, 0)
        ctx.show_text(w.text)
        ctx.restore()
    surface.finish()


def skirt_mirrored():
    sizes = ("40", "42", "44")
    marks, words, truth = [], [], {}
    for piece, x in zip(skirt(sizes, 12)[:2], (350, 710), strict=True):
        m, _, truth[piece.name] = piece_marks(piece, x + 20j, mirror=True, notch="out")
        marks += m
        words += [Words(x - 200 + 270j, 7, piece.captions[0])]
    words.append(Words(336 + 250j, 5, "PLACE ON FOLD", pi / 2))
    more, said = legend(730 + 580j, sizes)
    marks, words = marks + more, [*words, *said, Words(650 + 500j, 4, '5/8" seam allowances included')]
    drawn = operators(marks, words, sizes, cmyk=True, pen=0)
    pages = [((0, 0, 210, 297),
              f"q 0.18 0 0 0.18 60 300 cm {drawn} Q BT /F 18 Tf 60 700 Td (Layout of the pages) Tj ET")]
    for x0 in range(0, 820, 190):
        for row in range(3):
            y0 = 620 - 277 * (row + 1)
            corners = " ".join(f"{_at(z - 4)} m {_at(z + 4)} l S {_at(z - 4j)} m {_at(z + 4j)} l S"
                               for z in (10 + 10j, 200 + 10j, 10 + 287j, 200 + 287j))
            pages.append(((0, 0, 210, 297), f"q {_at(10 + 10j)} {_at(190 + 277j)} re W n 1 0 0 1 "
                          f"{_at(10 - x0 + 1j * (10 - y0))} cm {drawn} Q 0 G 0.3 w {corners} "
                          f"BT /F 9 Tf 280 12 Td ({row + 1}-{x0 // 190 + 1}) Tj ET"))
    pages.append(((0, 0, 210, 297), "BT /F 14 Tf 60 760 Td (How to sew) Tj ET 100 300 200 150 re S"))
    # Every page has its own copy of the drawing, as printing programs make them; shared here to keep the file small.
    form = ((0, 0, 840, 640), drawn)
    pages = [(box, body.replace(drawn, "/Sheet Do")) for box, body in pages]
    write_pdf("skirt-mirrored.pdf", pages, form)
    TRUTH["skirt-mirrored.pdf"] = truth


def pinafore_cut():
    from reportlab.pdfgen.canvas import Canvas
    from shapely import LineString, Point, box
    sizes = ("2Y", "4Y", "6Y")
    pieces = pinafore(sizes)
    marks, words, TRUTH["pinafore-cut.pdf"] = laid(
        pieces, ((20 + 25j, 0), (290 + 25j, 0), (560 + 40j, 0)), notch="across", numbers=True)
    for piece, by in zip(pieces[:2], (20 + 25j, 290 + 25j), strict=True):
        more, said = bracket(piece, by)
        marks, words = marks + more, words + said
    words.append(Words(560 + 370j, 4, "SA: 3/8 in"))
    canvas = Canvas(str(HERE / "pinafore-cut.pdf"), (210 * PT, 297 * PT), invariant=True)
    for column in range(4):
        for row in range(3):
            x0, y0 = 186 * column, 560 - 273 * (row + 1)
            window = box(x0, y0, x0 + 186, y0 + 273)
            canvas.scale(PT, PT)
            canvas.saveState()
            canvas.translate(12 - x0, 12 - y0)
            canvas.setLineWidth(0.3)
            for m in marks:
                points = flat(m.stretches, 50)
                line = LineString([(z.real, z.imag) for z in points]).intersection(window)
                canvas.setStrokeColorRGB(*colour_of(m, sizes))
                for part in getattr(line, "geoms", [line]):
                    if part.geom_type == "LineString" and not part.is_empty and (not m.solid or part.is_ring):
                        _reportlab(canvas, list(part.coords), m.solid)
            for w in words:
                if window.contains(Point(w.at.real, w.at.imag)):
                    canvas.saveState()
                    canvas.translate(w.at.real, w.at.imag)
                    canvas.rotate(degrees(w.angle))
                    canvas.setFont("Helvetica", w.height)
                    canvas.drawString(0, 0, w.text)
                    canvas.restoreState()
            canvas.restoreState()
            canvas.setLineWidth(0.2)
            canvas.rect(12, 12, 186, 273)
            _diamonds(canvas, row, column)
            canvas.drawString(100, 5, f"Page {3 * column + row + 1} of 12")
            canvas.showPage()
    canvas.save()


def _reportlab(canvas, points, solid):
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for p in points[1:]:
        path.lineTo(*p)
    canvas.drawPath(path, fill=solid)


def _diamonds(canvas, row, column):
    """Half a diamond with a letter at the middle of each side that has a neighbour."""
    canvas.setFont("Helvetica", 4)
    for at, way, there, text in ((12 + 148.5j, 1, column > 0, f"{row}{column}"), (198 + 148.5j, -1, column < 3,
                                 f"{row}{column + 1}"), (105 + 12j, 1j, row < 2, "ABCD"[column] + f"{row + 1}"),
                                 (105 + 285j, -1j, row > 0, "ABCD"[column] + f"{row}")):
        if there:
            corners = (at + 5j * way, at + 6 * way, at - 5j * way, at + 5j * way)
            _reportlab(canvas, [(z.real, z.imag) for z in corners], 0)
            canvas.drawString((at + 9 * way).real, (at + 9 * way).imag, text)


def bodice_windows():
    sizes = ("2", "4", "6", "8")
    pieces = bodice(sizes)
    marks, words, TRUTH["bodice-windows.pdf"] = laid(pieces, ((30 + 30j, 0), (360 + 30j, 0), (850 + 30j, 0)))
    more, said = bracket(pieces[0], 30 + 30j)
    box, caption = square(620 + 350j, 101.6, "4 in x 4 in")
    words += [*said, *caption, Words(620 + 480j, 5, "No seam allowance is included.")]
    words += [Words(400 + 1j * (540 - 10 * k), 5.6, f"Size {s}", size=s) for k, s in enumerate(sizes)]
    drawn = operators([*marks, *more, *box], words, sizes)
    w, h = 215.9, 279.4
    write_pdf("bodice-windows.pdf", [((w * c, 620 - h * (r + 1), w * (c + 1), 620 - h * r), drawn)
                                     for r in range(ceil(620 / h)) for c in range(ceil(1100 / w))])


def _drawn_on(ring, apex, foot):
    """Where a dart's leg meets the cutting line."""
    way = (foot - apex) / abs(foot - apex)
    return foot + way * reach(ring, foot, way)


def bodice_allowances():
    sizes = ("36", "38", "40", "42", "44")
    marks, words, truth = [], [], {}
    for piece, by in zip(bodice(sizes), (50 + 50j, 400 + 50j, 900 + 40j), strict=True):
        around = {e: 0.0 if e == piece.fold else 30.0 if (piece.name, e) == ("sleeve", "hem") else 15.0
                  for e in next(iter(piece.forms.values())).edges}
        for form in piece.forms.values():
            ring = grown(form, around)
            form.darts = [(_drawn_on(ring, apex, a), apex, _drawn_on(ring, apex, b)) for a, apex, b in form.darts]
        m, w, truth[piece.name] = piece_marks(piece, by, notch="margin", outline=lambda f, a=around: grown(f, a))
        marks, words = marks + m, words + w
        if piece.fold:
            m, w = bracket(piece, by)
            marks, words = marks + m, words + w
    more, said = square(640 + 480j, 50, "5 cm")
    words += [*said, Words(50 + 560j, 5, "1.5 cm seam allowance is included, sleeve hem 3 cm")]
    drawn = operators([*marks, *more], words, sizes, layers=True)
    pages = []
    for row in range(3):
        for column in range(7):
            by = complex(8 - 184 * column, 8 - 640 + 271 * row + 281)
            pages.append(((0, 0, 210, 297), f"q {_at(8 + 8j)} {_at(194 + 281j)} re W n 1 0 0 1 {_at(by)} cm "
                          f"/Sheet Do Q [3 3] 0 d 0.2 w {_at(8 + 8j)} {_at(194 + 281j)} re S "
                          f"BT /F 8 Tf 300 8 Td ({'ABC'[row]}{column + 1}) Tj ET"))
    write_pdf("bodice-allowances.pdf", pages, ((0, 0, 1200, 640), drawn), [f"Gr. {s}" for s in sizes])
    TRUTH["bodice-allowances.pdf"] = truth


if __name__ == "__main__":
    for draw in (skirt_turned, skirt_mirrored, pinafore_cut, bodice_windows, bodice_allowances):
        draw()
    (HERE / "truth.json").write_text(json.dumps(
        {file: {piece: {size: {k: round(v, 4) for k, v in m.items()} for size, m in forms.items()}
                for piece, forms in truth.items()} for file, truth in TRUTH.items()}, indent=1) + "\n")
