"""Words of a PDF with their places, by PDFium."""

from __future__ import annotations

import cmath
import ctypes
import os
from collections.abc import Iterator

import pypdfium2
import pypdfium2.raw as pdfium

from toilewright.geometry.affine import Affine
from toilewright.intake.drawing import Look, Word
from toilewright.intake.limits import MAX_OBJECTS

_DEEP = 12
"""levels of forms inside each other in which words are looked for."""


def read_words(source: str | os.PathLike[str] | bytes,
               frames: dict[int, Affine]) -> tuple[dict[int, tuple[Word, ...]], list[int]]:
    """Words by page number, and the pages on which most words run backwards.

    Args:
        source: the file, or its bytes.
        frames: for each page with text, counted from 1, the map from its user units to mm.
    """
    found: dict[int, tuple[Word, ...]] = {}
    mirrored: list[int] = []
    if not frames:
        return found, mirrored
    try:
        document = pypdfium2.PdfDocument(source if isinstance(source, bytes) else os.fspath(source))
    except pypdfium2.PdfiumError:
        return found, mirrored
    try:
        for number, to_mm in frames.items():
            page = document[number - 1]
            text = page.get_textpage()
            runs = list(_runs(page.raw, text.raw, to_mm, number))
            if 2 * sum(backwards for _, backwards in runs) > len(runs):
                mirrored.append(number)
            found[number] = tuple(_merged([word for word, _ in runs]))
            text.close()
            page.close()
    except pypdfium2.PdfiumError:
        pass
    finally:
        document.close()
    return found, mirrored


def _runs(page: object, text: object, to_mm: Affine, number: int) -> Iterator[tuple[Word, bool]]:
    """The text objects of a page, those in forms too; and whether each is mirrored."""
    count = pdfium.FPDFPage_CountObjects(page)
    stack = [(pdfium.FPDFPage_GetObject(page, k), to_mm, None, 0) for k in range(count)][::-1]
    seen = 0
    while stack and seen < MAX_OBJECTS:
        item, here, layer, depth = stack.pop()
        seen += 1
        kind = pdfium.FPDFPageObj_GetType(item)
        if kind == pdfium.FPDF_PAGEOBJ_TEXT:
            word = _word(item, text, here, layer, number)
            if word:
                yield word, _matrix(item).then(here).determinant < 0
        elif kind == pdfium.FPDF_PAGEOBJ_FORM and depth < _DEEP:
            inside = _matrix(item).then(here)
            layer = _layer(item) or layer
            stack.extend([(pdfium.FPDFFormObj_GetObject(item, k), inside, layer, depth + 1)
                          for k in range(pdfium.FPDFFormObj_CountObjects(item))][::-1])


def _word(item: object, text: object, here: Affine, layer: str | None, number: int) -> Word | None:
    size = pdfium.FPDFTextObj_GetText(item, text, None, 0)
    buffer = ctypes.create_string_buffer(size + 2)
    pdfium.FPDFTextObj_GetText(item, text, ctypes.cast(buffer, ctypes.POINTER(ctypes.c_ushort)), size)
    content = buffer.raw[:size].decode("utf-16-le", "replace").replace("\0", "")
    if not content.strip():
        return None
    height = ctypes.c_float()
    pdfium.FPDFTextObj_GetFontSize(item, height)
    place = _matrix(item).then(here)
    lead = len(content) - len(content.lstrip())
    origin = place(0j)
    along, up = place(1 + 0j) - origin, place(1j) - origin
    if abs(along) < 1e-9:
        return None
    # A leading blank is not part of the word: about half as wide as the letters are high... a quarter of the size.
    at = origin + along * (0.28 * height.value * lead)
    look = Look(_layer(item) or layer, _colour(item), (), 0.0)
    return Word(" ".join(content.split()), at, height.value * abs(up), cmath.phase(along), look, number)


def _matrix(item: object) -> Affine:
    m = pdfium.FS_MATRIX()
    pdfium.FPDFPageObj_GetMatrix(item, m)
    return Affine.from_matrix(m.a, m.b, m.c, m.d, m.e, m.f)


def _colour(item: object) -> tuple[float, float, float]:
    r, g, b, a = (ctypes.c_uint() for _ in range(4))
    pdfium.FPDFPageObj_GetFillColor(item, r, g, b, a)
    return (round(r.value / 255, 4), round(g.value / 255, 4), round(b.value / 255, 4))


def _layer(item: object) -> str | None:
    """Name of the innermost layer that a text object is marked with."""
    for k in range(pdfium.FPDFPageObj_CountMarks(item) - 1, -1, -1):
        mark = pdfium.FPDFPageObj_GetMark(item, k)
        name = _string(lambda buf, n, out, mark=mark: pdfium.FPDFPageObjMark_GetParamStringValue(
            mark, b"Name", buf, n, out))
        if name:
            return name.strip()
    return None


def _string(call) -> str:
    size = ctypes.c_ulong()
    if not call(None, 0, size) or size.value < 2:
        return ""
    buffer = ctypes.create_string_buffer(size.value)
    call(ctypes.cast(buffer, ctypes.POINTER(ctypes.c_ushort)), size.value, size)
    return buffer.raw[:size.value].decode("utf-16-le", "replace").rstrip("\0")


def _merged(words: list[Word]) -> list[Word]:
    """Runs that belong together, as letters set one by one: same line, size and look, no gap."""
    out: list[Word] = []
    for word in words:
        last = out[-1] if out else None
        if last and _continues(last, word):
            gap = ((word.at - last.at) * cmath.rect(1, -last.angle)).real - _width(last)
            between = " " if gap > 0.22 * last.height else ""
            out[-1] = Word(last.text + between + word.text, last.at, last.height, last.angle, last.look, last.page)
        else:
            out.append(word)
    return out


def _width(word: Word) -> float:
    return 0.5 * word.height * len(word.text)


def _continues(last: Word, word: Word) -> bool:
    if len(word.text) > 2 and len(last.text) > 2:
        return False
    step = (word.at - last.at) * cmath.rect(1, -last.angle)
    return (last.look == word.look and abs(last.height - word.height) < 0.02 * last.height
            and abs(last.angle - word.angle) < 0.01 and abs(step.imag) < 0.05 * last.height
            and 0 < step.real < _width(last) + 0.6 * last.height)
