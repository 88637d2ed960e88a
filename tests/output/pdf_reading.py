"""Our PDFs read back: paths by layer through pikepdf's operators, boxes through PDFium."""

from __future__ import annotations

from dataclasses import dataclass

import pikepdf
import pypdfium2

from toilewright.geometry import Affine, Path

MM = 25.4 / 72


@dataclass(frozen=True)
class Drawn:
    """A painted path in mm on its page, its layer, dash (mm) and line width (mm)."""

    path: Path
    layer: str | None
    dash: tuple[float, ...]
    width: float
    rectangle: bool = False


def page_sizes(path) -> list[tuple[float, float]]:
    with pikepdf.open(path) as pdf:
        boxes = [[float(v) for v in page.mediabox] for page in pdf.pages]
    assert all(b[:2] == [0, 0] for b in boxes)
    return [(b[2] * MM, b[3] * MM) for b in boxes]


def drawn(path) -> list[list[Drawn]]:
    """What every page paints with a stroke."""
    with pikepdf.open(path) as pdf:
        return [_page(page) for page in pdf.pages]


def _page(page) -> list[Drawn]:
    names = {str(k): str(v.Name) for k, v in page.Resources.get("/Properties", {}).items()}
    out, stack, layers = [], [], []
    state = (Affine(), (), 1.0)
    runs, run, rectangle = [], None, False
    for operands, operator in pikepdf.parse_content_stream(page):
        op, ctm = str(operator), state[0]
        if op in ("m", "l", "c", "re", "cm", "w"):
            v = [float(x) for x in operands]
            pts = [ctm(complex(v[k], v[k + 1])) * MM for k in range(0, len(v) - 1, 2)] if op in "mlc" else []
        if op == "q":
            stack.append(state)
        elif op == "Q":
            state = stack.pop()
        elif op == "cm":
            state = (Affine.from_matrix(*v).then(ctm), *state[1:])
        elif op == "w":
            state = (ctm, state[1], v[0] * MM)
        elif op == "d":
            state = (ctm, tuple(float(x) * MM for x in operands[0]), state[2])
        elif op == "m":
            run = [[pts[0]], []]
            runs.append(run)
        elif op == "l":
            run[0].append(pts[0])
            run[1].append(None)
        elif op == "c":
            run[0].append(pts[2])
            run[1].append((pts[0], pts[1]))
        elif op == "h":
            if run and abs(run[0][-1] - run[0][0]) > 1e-9:
                run[0].append(run[0][0])
                run[1].append(None)
        elif op == "re":
            x, y, w, h = v
            box = (complex(x, y), complex(x + w, y), complex(x + w, y + h), complex(x, y + h))
            corners = [ctm(p) * MM for p in box]
            runs.append([[*corners, corners[0]], [None] * 4])
            rectangle = True
        elif op == "BDC":
            layers.append(names[str(operands[1])])
        elif op == "EMC":
            layers.pop()
        elif op in ("S", "s", "B", "f", "F", "n", "f*", "B*"):
            if op in ("S", "s", "B", "B*"):
                layer = layers[-1] if layers else None
                out += [Drawn(Path(tuple(r[0]), tuple(r[1])), layer, state[1], state[2], rectangle)
                        for r in runs if r[1]]
            runs, run, rectangle = [], None, False
    assert not stack and not layers
    return out


def layer_names(path) -> list[str]:
    with pikepdf.open(path) as pdf:
        if "/OCProperties" not in pdf.Root:
            return []
        return [str(g.Name) for g in pdf.Root.OCProperties.OCGs]


def words(path) -> list[str]:
    """The text of every page, as PDFium reads it."""
    pdf = pypdfium2.PdfDocument(path)
    try:
        return [page.get_textpage().get_text_bounded() for page in pdf]
    finally:
        pdf.close()


def squares_by_pdfium(path, page: int = 0) -> list[tuple[float, float]]:
    """Width and height (mm) between the pen's middle lines of every stroked object that PDFium finds on a page."""
    import ctypes

    raw = pypdfium2.raw
    pdf = pypdfium2.PdfDocument(path)
    found = []
    try:
        for item in pdf[page].get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
            points = []
            for k in range(raw.FPDFPath_CountSegments(item.raw)):
                segment = raw.FPDFPath_GetPathSegment(item.raw, k)
                x, y = ctypes.c_float(), ctypes.c_float()
                raw.FPDFPathSegment_GetPoint(segment, x, y)
                points.append((x.value, y.value))
            m = item.get_matrix()
            xs = [m.a * x + m.c * y + m.e for x, y in points]
            ys = [m.b * x + m.d * y + m.f for x, y in points]
            found.append(((max(xs) - min(xs)) * MM, (max(ys) - min(ys)) * MM))
    finally:
        pdf.close()
    return found
