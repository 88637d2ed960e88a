"""Reading a tiled, layered PDF of ten sizes, against taking its content streams apart with pikepdf alone."""

import math
import random
import tempfile
import time
import zlib
from pathlib import Path

import pikepdf

from toilewright.intake.pdf import read_pdf
from toilewright.intake.tiles import join_pages

SIZES, COLUMNS, ROWS, PER_SIZE, CURVES = 10, 5, 8, 12, 30
WIDE, HIGH = 540.0, 780.0  # points between the tile borders
MARGIN = 27.0


def write_tiled_pdf(path, seed=1):
    """Forty pages, ten size layers, 4,800 lines of 30 cubic curves, cut at the tile borders where they cross them."""
    rng = random.Random(seed)
    objects = {}
    layers = [f"<</Type/OCG/Name(Size {k + 1})>>" for k in range(SIZES)]
    first = 3
    objects.update({first + k: layer for k, layer in enumerate(layers)})
    refs = " ".join(f"{first + k} 0 R" for k in range(SIZES))
    names = " ".join(f"/S{k} {first + k} 0 R" for k in range(SIZES))
    page_no, kids = first + SIZES, []
    crossing = _crossings(rng)
    for page in range(COLUMNS * ROWS):
        stream = zlib.compress(_page(rng, page, crossing).encode())
        objects[page_no + 1] = (f"<</Filter/FlateDecode/Length {len(stream)}>>", stream)
        objects[page_no] = (f"<</Type/Page/Parent 2 0 R/MediaBox[0 0 {WIDE + 2 * MARGIN} {HIGH + 2 * MARGIN}]"
                            f"/Contents {page_no + 1} 0 R/Resources<</Properties<<{names}>>"
                            "/Font<</F1<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>>>>>")
        kids.append(f"{page_no} 0 R")
        page_no += 2
    objects[1] = f"<</Type/Catalog/Pages 2 0 R/OCProperties<</OCGs[{refs}]/D<</Order[{refs}]>>>>>>"
    objects[2] = f"<</Type/Pages/Count {len(kids)}/Kids[{' '.join(kids)}]>>"
    _write(path, objects)


def _crossings(rng):
    """Where lines of each size cross the joint to the right of a page, and the joint above it."""
    return {(page, k, side): rng.uniform(60, (HIGH if side == "x" else WIDE) - 60)
            for page in range(COLUMNS * ROWS) for k in range(SIZES) for side in "xy"}


def _page(rng, page, crossing):
    row, column = divmod(page, COLUMNS)
    out = []
    for k in range(SIZES):
        out.append(f"/OC /S{k} BDC\nq {0.5 + 0.1 * k:.2f} w {k / 10:.2f} 0 {1 - k / 10:.2f} RG [{2 + k} 2] 0 d")
        ends = []
        if column + 1 < COLUMNS:
            ends.append(((MARGIN + WIDE, MARGIN + crossing[page, k, "x"]), math.pi))
        if column:
            ends.append(((MARGIN, MARGIN + crossing[page - 1, k, "x"]), 0.0))
        if row:
            ends.append(((MARGIN + crossing[page, k, "y"], MARGIN + HIGH), -math.pi / 2))
        if row + 1 < ROWS:
            ends.append(((MARGIN + crossing[page + COLUMNS, k, "y"], MARGIN), math.pi / 2))
        for n in range(PER_SIZE):
            inner = (MARGIN + rng.uniform(100, WIDE - 100), MARGIN + rng.uniform(100, 600))
            out.append(_line(rng, *(ends[n] if n < len(ends) else (inner, None))))
        out.append("Q\nEMC")
    out.append(f"BT /F1 8 Tf {MARGIN + 6} {MARGIN + 6} Td ({'ABCDEFGH'[row]}{column + 1}) Tj ET")
    return "\n".join(out)


def _line(rng, start, angle):
    """A wandering line of cubic curves, heading away from its border or for the middle of the page."""
    x, y = start
    if angle is None:
        angle = math.atan2(MARGIN + HIGH / 2 - y, MARGIN + WIDE / 2 - x)
    words = [f"{x:.3f} {y:.3f} m"]
    for _ in range(CURVES):
        points = []
        for _ in range(3):
            x, y = x + 2.2 * math.cos(angle), y + 2.2 * math.sin(angle)
            points.append(f"{x:.3f} {y:.3f}")
            angle += rng.uniform(-0.1, 0.1)
        words.append(" ".join(points) + " c")
    return "\n".join(words) + "\nS"


def _write(path, objects):
    with open(path, "wb") as file:
        file.write(b"%PDF-1.7\n")
        places = {}
        for number in sorted(objects):
            places[number] = file.tell()
            body = objects[number]
            head, stream = body if isinstance(body, tuple) else (body, None)
            file.write(f"{number} 0 obj\n{head}\n".encode())
            if stream is not None:
                file.write(b"stream\n" + stream + b"\nendstream\n")
            file.write(b"endobj\n")
        table = file.tell()
        file.write(f"xref\n0 {len(objects) + 1}\n0000000000 65535 f \n".encode())
        file.write("".join(f"{places[n]:010d} 00000 n \n" for n in sorted(objects)).encode())
        file.write(f"trailer\n<</Size {len(objects) + 1}/Root 1 0 R>>\nstartxref\n{table}\n%%EOF\n".encode())


def _best(job, times=3):
    shortest, result = math.inf, None
    for _ in range(times):
        start = time.perf_counter()
        result = job()
        shortest = min(shortest, time.perf_counter() - start)
    return shortest, result


def _plain(path):
    with pikepdf.open(path) as pdf:
        return sum(len(pikepdf.parse_content_stream(page)) for page in pdf.pages)


def run():
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "tiled.pdf"
        write_tiled_pdf(path)
        plain, _ = _best(lambda: _plain(path))
        reading, drawing = _best(lambda: read_pdf(path))
        joining, joined = _best(lambda: join_pages(drawing))
    return {
        "name": "read a 40-page PDF in ten sizes",
        "paths": sum(len(p.strokes) for p in drawing.pages),
        "paths_joined": len(joined.pages[0].strokes),
        "pikepdf_parse_s": plain,
        "read_s": reading,
        "join_s": joining,
        "read_and_join_s": reading + joining,
        "read_ratio": reading / plain,
        "read_and_join_ratio": (reading + joining) / plain,
    }


if __name__ == "__main__":
    print(run())
