"""Small tiled PDF files made by hand, byte by byte, from a drawing that is known."""

from __future__ import annotations

import random
import zlib
from dataclasses import dataclass

from toilewright.geometry.path import Path
from toilewright.intake.clipping import clip

POINT = 25.4 / 72
COLOURS = ((0.8, 0.1, 0.1), (0.1, 0.5, 0.1), (0.1, 0.1, 0.8))


def pdf_bytes(streams, size, resources="", extra=None, catalog="", page_extra="", pack=True):
    """A PDF of pages with the given content streams; `size` in mm, `extra` more objects by number (from 1000)."""
    objects = {1: f"<</Type/Catalog/Pages 2 0 R{catalog}>>"}
    kids = []
    box = f"[0 0 {size[0] / POINT:.6f} {size[1] / POINT:.6f}]"
    for k, stream in enumerate(streams):
        data = stream if isinstance(stream, bytes) else stream.encode("latin-1")
        packed = zlib.compress(data) if pack else data
        kids.append(f"{3 + 2 * k} 0 R")
        objects[3 + 2 * k] = (f"<</Type/Page/Parent 2 0 R/MediaBox{box}{page_extra}/Contents {4 + 2 * k} 0 R"
                              f"/Resources<</Font<</F1<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>{resources}>>>>")
        objects[4 + 2 * k] = (f"<<{'/Filter/FlateDecode' if pack else ''}/Length {len(packed)}>>", packed)
    objects[2] = f"<</Type/Pages/Count {len(kids)}/Kids[{' '.join(kids)}]>>"
    objects.update(extra or {})
    out, places = bytearray(b"%PDF-1.7\n"), {}
    for number, body in sorted(objects.items()):
        places[number] = len(out)
        head, data = body if isinstance(body, tuple) else (body, None)
        out += f"{number} 0 obj\n{head}\n".encode("latin-1")
        if data is not None:
            out += b"stream\n" + data + b"\nendstream\n"
        out += b"endobj\n"
    table = len(out)
    last = max(objects)
    out += f"xref\n0 {last + 1}\n0000000000 65535 f \n".encode()
    for number in range(1, last + 1):
        out += (f"{places[number]:010d} 00000 n \n" if number in places else "0000000000 00000 f \n").encode()
    return bytes(out + f"trailer\n<</Size {last + 1}/Root 1 0 R>>\nstartxref\n{table}\n%%EOF\n".encode())


def operators(path, place=lambda p: p, paint="S"):
    """A path as PDF operators; `place` maps it to mm on the page."""
    def at(p):
        p = place(p) / POINT
        return f"{p.real:.4f} {p.imag:.4f}"
    words = [f"{at(path.nodes[0])} m"]
    for handles, end in zip(path.handles, path.nodes[1:], strict=True):
        words.append(f"{at(end)} l" if handles is None else f"{at(handles[0])} {at(handles[1])} {at(end)} c")
    return "\n".join([*words, "h" if path.closed else "", paint])


def nest(seed=3, width=520.0, height=700.0):
    """Three rounded pieces in three sizes, over the whole sheet: (path, colour number)."""
    rng = random.Random(seed)
    drawn = []
    for middle, wide, high in ((complex(150, 330), 130, 280), (complex(390, 520), 110, 150),
                               (complex(400, 170), 100, 140)):
        bulge = [rng.uniform(0.85, 1.0) for _ in range(8)]
        for k in range(3):
            ring = [middle + complex(wide * c, high * s) * b * (1 - 0.06 * k)
                    for b, (c, s) in zip(bulge, _OCTAGON, strict=True)]
            drawn.append((_smooth(ring), k))
    return drawn


_OCTAGON = ((1, 0), (0.74, 0.68), (0.02, 1), (-0.7, 0.7), (-1, 0.03), (-0.72, -0.7), (0.01, -1), (0.7, -0.72))


def _smooth(ring):
    """A closed curve through points; its last two sides are straight."""
    n = len(ring)
    handles = []
    for k in range(n):
        a, b = ring[k], ring[(k + 1) % n]
        before, after = ring[k - 1], ring[(k + 2) % n]
        handles.append(None if k > n - 3 else (a + (b - before) / 6, b - (after - a) / 6))
    return Path((*ring, ring[0]), tuple(handles))


@dataclass(frozen=True)
class Printed:
    """How a drawing is divided over pages (mm)."""

    paper: tuple[float, float] = (210.0, 297.0)
    margin: float = 10.0
    overlap: float = 0.0
    columns: int = 3
    rows: int = 3
    borders: str = "cut"
    frame: bool = False
    labels: str = ""
    order: str = "rows"
    marks: bool = False
    title: bool = False
    missing: tuple[int, ...] = ()
    mirrored: int | None = None
    shrunk: int | None = None
    swapped: tuple[int, int] | None = None

    @property
    def window(self):
        return self.paper[0] - 2 * self.margin, self.paper[1] - 2 * self.margin

    def pages(self, drawn):
        """The content streams."""
        cells = [(r, c) for r in range(self.rows) for c in range(self.columns)]
        if self.order == "columns":
            cells.sort(key=lambda cell: (cell[1], cell[0]))
        streams = [self._page(drawn, k, *cell) for k, cell in enumerate(cells)]
        if self.swapped:
            a, b = self.swapped
            streams[a], streams[b] = streams[b], streams[a]
        streams = [s for k, s in enumerate(streams) if k not in self.missing]
        return ([_TITLE] if self.title else []) + streams

    def _page(self, drawn, k, row, column):
        wide, high = self.window
        corner = complex(column * (wide - self.overlap), (self.rows - 1 - row) * (high - self.overlap))
        window = (corner.real, corner.imag, corner.real + wide, corner.imag + high)
        shift = complex(self.margin, self.margin) - corner
        words = ["q", _rectangle(self.margin, wide, high) + " W n"]
        for path, size in drawn:
            words.append("{} {} {} RG 0.8 w".format(*COLOURS[size]))
            parts = clip(path, window) if self.borders == "cut" else (path,)
            words += [operators(part, lambda p: p + shift) for part in parts]
        words += ["Q", *self._furniture(k, row, column)]
        body = "\n".join(words)
        if k == self.mirrored:
            body = f"q -1 0 0 1 {self.paper[0] / POINT:.4f} 0 cm\n{body}\nQ"
        if k == self.shrunk:
            x, y = (0.015 * side / POINT for side in self.paper)
            body = f"q 0.97 0 0 0.97 {x:.4f} {y:.4f} cm\n{body}\nQ"
        return body

    def _furniture(self, k, row, column):
        m, (wide, high) = self.margin, self.window
        words = ["0.5 G 0.3 w"]
        if self.frame:
            words.append(_rectangle(m, wide, high) + " S")
        if self.marks:
            half = self.overlap / 2
            for x in [m + half] * (column > 0) + [m + wide - half] * (column < self.columns - 1):
                for y in (m + 0.3 * high, m + 0.7 * high):
                    words += [operators(Path.line(complex(x, y) - d, complex(x, y) + d)) for d in (4, 4j)]
        text = {"cell": f"{'ABCDEFG'[row]}{column + 1}", "rc": f"row {row + 1}, column {column + 1}",
                "count": f"page {k + 1} of {self.rows * self.columns}"}.get(self.labels)
        if text:
            words.append(f"BT /F1 8 Tf {(m + 2) / POINT:.3f} {(m + 2) / POINT:.3f} Td ({text}) Tj ET")
        return words


def _rectangle(margin, wide, high):
    return " ".join(f"{v / POINT:.4f}" for v in (margin, margin, wide, high)) + " re"


_TITLE = ("BT /F1 24 Tf 80 700 Td (Choir dress) Tj ET BT /F1 10 Tf 80 560 Td (Test square 5 cm x 5 cm) Tj ET "
          "72 400 141.7323 141.7323 re S 300 400 m 350 450 400 450 450 400 c S")


def write_tiled(path, printed=None, drawn=None):
    """Write a tiled PDF; returns the drawing."""
    printed, drawn = printed or Printed(), drawn or nest()
    path.write_bytes(pdf_bytes(printed.pages(drawn), printed.paper))
    return drawn
