"""Any pattern file as a drawing: what it is shows in its first bytes, whatever its name ends with."""

from __future__ import annotations

import os
import re
from dataclasses import replace

from toilewright.errors import FileError
from toilewright.intake.drawing import Drawing

_HEAD = 4096
"""bytes that are looked at."""

_WANTED = "A PDF, SVG or DXF file of the pattern would work."
_PICTURE = "is a picture, and photographs and scans of paper cannot be read yet. " + _WANTED
_STRANGERS = (
    (re.compile(rb"\x89PNG|\xff\xd8\xff|GIF8|BM.{4}\0\0\0\0|II\*\0|MM\0\*|RIFF....WEBP|....ftyp(?:hei|mif|avif)",
                re.S), _PICTURE),
    (re.compile(rb"PK(?:\x03\x04|\x05\x06)"),
     "is a packed folder (zip) or an office document; unpack it, or export the drawing in it. " + _WANTED),
    (re.compile(rb"\x1f\x8b"), "is packed (gzip, as .svgz files are); save it as plain SVG."),
    (re.compile(rb"Rar!|7z\xbc\xaf"), "is a packed folder; unpack it and give one file of it. " + _WANTED),
    (re.compile(rb"AC10\d\d"), "is a DWG drawing, whose format is not open; save it as DXF R12 or later."),
    (re.compile(rb"\xd0\xcf\x11\xe0"), "is an old office document; export the drawing in it as PDF."),
    (re.compile(rb"%!PS|\xc5\xd0\xd3\xc6"), "is PostScript; convert it to PDF."),
    (re.compile(rb"(?:\x1b%-?\d+B)?\s*(?:IN|DF|SP\d?|PU|PA)\s*;"),
     "is a plotter file (HPGL), which does not say what its lines are. " + _WANTED),
)
_DXF = re.compile(rb"(?:\xef\xbb\xbf)?(?:\s*999\r?\n[^\n]*\n)*\s*0\s*\r?\n\s*SECTION\b|AutoCAD Binary DXF")
_ROOT = re.compile(rb"<(?![?!])(?:[\w.-]+:)?([\w.-]+)")


def open_drawing(path: str | os.PathLike[str]) -> Drawing:
    """Read a pattern file of any kind that can be read.

    Signs in its words and layer names that no page can show are left out.

    Raises:
        FileError: there is no such file, or it is none of PDF, SVG and DXF, or its reader cannot make sense of it.
    """
    return _legible(_read(path))


def _read(path: str | os.PathLike[str]) -> Drawing:
    name = os.path.basename(os.path.normpath(os.fspath(path)))
    head = _head(path, name)
    if b"%PDF-" in head[:1024]:
        from toilewright.intake.pdf import read_pdf
        return read_pdf(path)
    if _DXF.match(head):
        from toilewright.intake.dxf import read_dxf
        return read_dxf(path)
    for mark, sentence in _STRANGERS:
        if mark.match(head):
            raise FileError(f'"{name}" {sentence}')
    if _is_xml(head):
        from toilewright.intake.svg import read_svg
        return read_svg(path)
    raise FileError(f'"{name}" is {_guess(head)}. {_WANTED}')


_UNSEEN = re.compile("[\x00-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e\ud800-\udfff\ufeff\ufffe\uffff]")


def _legible(drawing: Drawing) -> Drawing:
    """The drawing without signs that no page can show; such signs break files written from it."""
    words = [w for page in drawing.pages for w in page.words]
    looks = {s.look for page in drawing.pages for s in page.strokes} | {w.look for w in words}
    if not _UNSEEN.search("".join([*(w.text for w in words), *drawing.layers, *(k.layer or "" for k in looks)])):
        return drawing

    def plain(text: str) -> str:
        return _UNSEEN.sub("", text)
    seen = {k: replace(k, layer=plain(k.layer)) if k.layer else k for k in looks}
    pages = tuple(replace(
        page, strokes=tuple(replace(s, look=seen[s.look]) for s in page.strokes),
        words=tuple(replace(w, text=plain(w.text), look=seen[w.look]) for w in page.words)) for page in drawing.pages)
    return replace(drawing, pages=pages, layers=tuple(map(plain, drawing.layers)))


def _head(path: str | os.PathLike[str], name: str) -> bytes:
    """The first bytes of a plain file."""
    if os.path.isdir(path):
        raise FileError(f'"{name}" is a folder; name the pattern file in it.')
    if not os.path.exists(path):
        raise FileError(f'There is no file "{os.fspath(path)}"; check its name and folder.')
    if not os.path.isfile(path):
        raise FileError(f'"{name}" is a device or a pipe, not a file; save the pattern to a file first.')
    try:
        with open(path, "rb") as file:
            head = file.read(_HEAD)
    except OSError as error:
        raise FileError(f'"{name}" cannot be opened ({error.strerror or error}); check who may read it.') from None
    if not head.strip(b"\0 \t\r\n"):
        raise FileError(f'"{name}" is empty; it may have been cut off while it was saved, so fetch it again.')
    return head


def _is_xml(head: bytes) -> bool:
    if head.startswith((b"\xff\xfe<\0", b"\xfe\xff\0<")):
        return True
    text = head.removeprefix(b"\xef\xbb\xbf").lstrip()
    if not text.startswith(b"<"):
        return False
    # A long comment or document type may hide the root; the SVG reader then says what the file is.
    root = _ROOT.search(re.sub(rb"<!--.*?(?:-->|\Z)", b"", text, flags=re.S))
    return root is None or root.group(1).lower() not in (b"html", b"head", b"body")


def _guess(head: bytes) -> str:
    if re.match(rb"\s*<(?:!doctype\s+html|html|head|body)", head, re.I):
        return "a web page; save the pattern itself from the page"
    if b"\0" in head:
        return "of a kind that is not known here"
    return "a text, not a drawing"
