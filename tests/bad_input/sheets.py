"""Small pattern sheets with one thing wrong: a bodice of two pieces in three sizes, as SVG; and hostile files."""

from functools import cache

from intake_pdf.tiled_pages import pdf_bytes
from intake_recognise.nest_builders import bodice

from toilewright.blocks.concert import concert_dress
from toilewright.geometry import Path
from toilewright.pattern.garment import Garment
from toilewright.pattern.nest import BodyChart, Pattern

WIDE, HIGH = 1000, 600
FRONT, BACK = 200 + 60j, 600 + 60j
SIZES = ("8", "10", "12")


@cache
def small_dress(names=("bodice front", "bodice back"), sizes=("4", "5", "6")):
    """A few pieces of the concert dress in a few sizes."""
    dress = concert_dress()
    at = [dress.sizes.index(s) for s in sizes]
    garments = tuple(Garment(tuple(p for p in dress.garments[i].pieces if p.name in names),
                             tuple(s for s in dress.garments[i].seams if all(r.piece in names for r in (*s.a, *s.b))))
                     for i in at)
    chart = BodyChart(sizes, tuple((n, tuple(v[i] for i in at)) for n, v in dress.chart.rows))
    return Pattern(dress.name, sizes, garments, chart, dress.cloth)


# -- SVG -----------------------------------------------------------------------------------------------


def svg_path(path):
    def at(p):
        return f"{p.real:.4f} {HIGH - p.imag:.4f}"
    words = [f"M{at(path.nodes[0])}"]
    for handles, end in zip(path.handles, path.nodes[1:], strict=True):
        words.append(f"L{at(end)}" if handles is None else f"C{at(handles[0])} {at(handles[1])} {at(end)}")
    return f'<path d="{"".join(words)}{"Z" if path.closed else ""}"/>'


def svg_text(text, at, height=5.0):
    return f'<text x="{at.real}" y="{HIGH - at.imag}" font-size="{height}" fill="black" stroke="none">{text}</text>'


def layer(name, *items):
    return (f'<g inkscape:groupmode="layer" inkscape:label="{name}" fill="none" stroke="black">{"".join(items)}</g>')


def sheet(front=None, dart=lambda k: 2, sizes=SIZES, square=100.0, back_at=BACK, transform=""):
    """The sheet; `front` draws the front's outline from (model, number of the size), `dart` counts its dart legs."""
    layers = []
    for k, size in enumerate(sizes):
        model, back = bodice(k, FRONT), bodice(k, back_at)
        a, b, apex = model.dart
        legs = [Path.polyline((a, apex)), Path.polyline((apex, b))][:dart(k)]
        ticks = [Path.polyline((p, p - 5 * n)) for m in (model, back) for p, n in m.notches]
        outlines = front(model, k) if front else (model.outline,)
        layers.append(layer(f"Size {size}", *map(svg_path, (*outlines, back.outline, *legs, *ticks))))
    common = [svg_text("Concert top. Seam allowance 1.5 cm included.", 20 + 460j),
              *(svg_text(name, at + 80 + 250j, 6) for name, at in (("bodice front", FRONT), ("bodice back", back_at)))]
    if square:
        common += [f'<rect x="20" y="20" width="{square}" height="{square}"/>',
                   svg_text("Test square 10 cm x 10 cm", 25 + 530j)]
    return (f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
            f'width="{WIDE}mm" height="{HIGH}mm" viewBox="0 0 {WIDE} {HIGH}"><g transform="{transform}">'
            f'{layer("All sizes", *common)}{"".join(layers)}</g></svg>')


def gap(width):
    """An outline that is open by `width` mm in its waist, in every size."""
    def draw(model, k):
        before, _, after = model.outline.cut_at([100, 100 + width])
        return before, after
    return draw


def bow_tie(model, k):
    """An outline whose centre front runs out over the side and back."""
    *others, front = model.edges
    return (Path.joined((*others, Path.polyline((front.start, front.end + 290 + 160j, front.end)))),)


# -- hostile files -------------------------------------------------------------------------------------

LINE = "1 1 m 99 99 l S"
PICTURE = ("<</Type/XObject/Subtype/Image/Width 2/Height 2/BitsPerComponent 8/ColorSpace/DeviceGray/Length 4>>",
           b"\0\1\2\3")
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="500mm" height="500mm" viewBox="0 0 500 500">'
BOX = '<path d="M10 10H300V400H10Z" stroke="red" fill="none"/>'


def scanned():
    pages = [f"q 500 0 0 700 0 0 cm /Scan Do Q 20 20 550 800 re S BT /F1 8 Tf 30 30 Td (page {k} of 3) Tj ET"
             for k in (1, 2, 3)]
    return pdf_bytes(pages, (210, 297), "/XObject<</Scan 1000 0 R>>", {1000: PICTURE})


def forms(deep, times, last):
    """Forms that draw forms: `deep` levels, each drawn `times` times; the last one draws `last`."""
    made = {}
    for k in range(deep):
        body = (b"/X Do " * times) if k < deep - 1 else last
        made[1000 + k] = ("<</Type/XObject/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</X "
                          f"{1000 + (k + 1) % deep} 0 R>>>>/Length {len(body)}>>", body)
    return pdf_bytes(["/X Do"], (100, 100), "/XObject<</X 1000 0 R>>", made)


def laughs():
    lines = "".join(f'<!ENTITY l{i} "{f"&l{i - 1};" * 10}">' for i in range(1, 10))
    return f'<!DOCTYPE svg [<!ENTITY l0 "lol">{lines}]>{SVG}{BOX}<text>&l9;</text></svg>'


def dxf(blocks, entities):
    return (f"0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n")


def block(name, inside):
    return f"0\nBLOCK\n8\n0\n2\n{name}\n70\n0\n10\n0\n20\n0\n{inside}0\nENDBLK\n8\n0\n"


def insert(name, more=""):
    return f"0\nINSERT\n8\n0\n2\n{name}\n10\n0\n20\n0\n{more}"


def dxf_line(x0, y0, x1, y1):
    return f"0\nLINE\n8\n0\n10\n{x0}\n20\n{y0}\n11\n{x1}\n21\n{y1}\n"
