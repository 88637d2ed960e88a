"""Writes the Inkscape files of this folder (needs Inkscape 1.x; not needed to run the tests).

inkscape-layers.svg  5/8 in, a layer for each size, sheet in inches, coordinates in 96ths; pieces turned and mirrored
inkscape-plain.svg   metric, plain SVG: layer names gone, sizes by colour and dash only
inkscape-sheet.pdf   metric, the same page as PDF
"""

import subprocess
import tempfile
from pathlib import Path as File

from sheet import COLOURS, DASHES, HEIGHT, HERE, SIZES, WIDTH, captions, marks

PX = 96 / 25.4


def data(curves, f):
    out = []
    for c in curves:
        points = [f(c[i], c[i + 1]) for i in range(0, len(c), 2)]
        out.append(("C" if len(points) == 3 else "L" if out else "M")
                   + " ".join(f"{x:.5f},{y:.5f}" for x, y in points))
    return "".join(out) + ("Z" if curves[0] == curves[-1][-2:] else "")


def style(mark, unit):
    r, g, b = (round(v * 255) for v in COLOURS.get(mark.size, (0, 0, 0)))
    ink = f"#{r:02x}{g:02x}{b:02x}"
    if mark.solid:
        return f"fill:{ink};stroke:none"
    dash = DASHES[mark.size] if mark.size and mark.kind in ("cut", "key") else ()
    return (f"fill:none;stroke:{ink};stroke-width:{0.35 * unit:.4f};stroke-dasharray:"
            + (",".join(f"{d * unit:.3f}" for d in dash) or "none"))


def text(word, x, y, unit):
    return (f'<text transform="rotate({-word.angle} {x:.3f} {y:.3f})" x="{x:.3f}" y="{y:.3f}" '
            f'style="font-family:sans-serif;font-size:{word.height * unit:.3f}px">'
            f"<tspan>{word.text}</tspan></text>")


HEAD = ('<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
        'width="{}" height="{}" viewBox="0 0 {} {}">\n')


def metric():
    """User unit 1 mm."""
    body = [HEAD.format(f"{WIDTH}mm", f"{HEIGHT}mm", WIDTH, HEIGHT)]
    for size in ("", *SIZES):
        body.append(f'<g inkscape:groupmode="layer" inkscape:label="{size or "all"}">')
        body += [f'<path style="{style(m, 1)}" d="{data(m.curves, lambda x, y: (x, HEIGHT - y))}"/>'
                 for m in marks("metric") if m.size == size]
        body += [text(w, w.x, HEIGHT - w.y, 1) for w in captions("metric") if w.size == size]
        body.append("</g>")
    return "\n".join([*body, "</svg>"])


def inches():
    """96ths of an inch; back mirrored, sleeve turned by a right angle and doubled in size by their groups' matrices."""
    ways = {"": ("", lambda x, y: (x * PX, (HEIGHT - y) * PX), 1.0),
            "Bodice front": ("", lambda x, y: (x * PX, (HEIGHT - y) * PX), 1.0),
            "Bodice back": (f"matrix(-1,0,0,1,{WIDTH * PX},0)",
                            lambda x, y: ((WIDTH - x) * PX, (HEIGHT - y) * PX), 1.0),
            "Sleeve": (f"translate({WIDTH * PX},0) rotate(90) scale(0.5)",
                       lambda x, y: ((HEIGHT - y) * PX * 2, (WIDTH - x) * PX * 2), 2.0)}
    body = [HEAD.format(f"{WIDTH / 25.4:.7f}in", f"{HEIGHT / 25.4:.7f}in", WIDTH * PX, HEIGHT * PX)]
    for size in ("", *SIZES):
        body.append(f'<g inkscape:groupmode="layer" inkscape:label="{f"Size {size}" if size else "All sizes"}">')
        for piece, (matrix, f, unit) in ways.items():
            body.append(f'<g transform="{matrix}">' if matrix else "<g>")
            body += [f'<path style="{style(m, PX * unit)}" d="{data(m.curves, f)}"/>'
                     for m in marks("inch") if m.size == size and m.piece == piece]
            body.append("</g>")
        body += [text(w, w.x * PX, (HEIGHT - w.y) * PX, PX) for w in captions("inch") if w.size == size]
        body.append("</g>")
    return "\n".join([*body, "</svg>"])


def run(source, *wanted):
    with tempfile.TemporaryDirectory() as folder:
        file = File(folder) / "source.svg"
        file.write_text(source)
        for name, *how in wanted:
            subprocess.run(["inkscape", str(file), *how, "-o", str(HERE / name)], check=True, capture_output=True)


if __name__ == "__main__":
    run(metric(), ("inkscape-plain.svg", "--export-plain-svg"), ("inkscape-sheet.pdf", "--export-type=pdf"))
    run(inches(), ("inkscape-layers.svg", "--export-type=svg"))
