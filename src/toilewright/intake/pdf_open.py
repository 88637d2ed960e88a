"""PDF files opened with care: strangers, locks, damage and streams that swell are told, not suffered."""

from __future__ import annotations

import os
import re

import pikepdf

from toilewright.errors import FileError
from toilewright.intake.limits import MAX_PAGES, MAX_STREAM_BYTES
from toilewright.intake.whole_file import whole_file

_WANTED = "A PDF, SVG or DXF file of the pattern would work."
_STRANGERS = (
    (rb"\x89PNG|\xff\xd8\xff|GIF8|BM|II\*\0|MM\0\*|RIFF", "a picture, and photographs and scans cannot be read yet"),
    (rb"PK", "a packed folder (zip) or an office document"),
    (rb"\s*(?:\xef\xbb\xbf)?\s*<(?:\?xml|!--|!DOCTYPE svg|svg)", "an SVG or another XML file under the wrong name"),
    (rb"%!PS", "PostScript, which has to be converted first"),
    (rb"\s*0\r?\n\s*SECTION", "a DXF file under the wrong name"),
)
_LZW_SWELLS = 1500
"""times; LZW packs at most 4,096 bytes into one code of 12 bits, some 1,400 on the whole."""

# QPDF's own guards, for the whole process: no stream may unpack without end.
pikepdf.settings.set_qpdf_limits(flate_max_memory=MAX_STREAM_BYTES, run_length_max_memory=MAX_STREAM_BYTES,
                                 png_max_memory=MAX_STREAM_BYTES, max_stream_filters=5)


def open_pdf(path: str | os.PathLike[str]) -> pikepdf.Pdf:
    """Open a PDF file.

    Raises:
        FileError: it is missing, no PDF, locked with a password, damaged beyond repair, or absurdly large.
    """
    name = os.path.basename(os.fspath(path))
    _check_kind(whole_file(path, name, "save it without pictures"), name)
    try:
        pdf = pikepdf.open(path)
    except pikepdf.PasswordError:
        raise FileError(f'"{name}" is locked with a password; open it with the password and save or print it as a '
                        "PDF without one.") from None
    except (pikepdf.PdfError, ValueError, RuntimeError, MemoryError):
        raise _damaged(name) from None
    try:
        count = len(pdf.pages)
    except (pikepdf.PdfError, ValueError, TypeError, KeyError, AttributeError, RuntimeError):
        raise _damaged(name) from None
    if count == 0:
        raise FileError(f'"{name}" has no pages; it may have been cut off while it was saved, so fetch it again.')
    if count > MAX_PAGES:
        raise FileError(f'"{name}" has {count} pages, more than a pattern needs ({MAX_PAGES} at most); take out the '
                        "pages of the pattern itself.")
    return pdf


def _damaged(name: str) -> FileError:
    return FileError(f'"{name}" is a PDF that is damaged beyond repair; fetch it again or save it anew.')


def _check_kind(data: bytes, name: str) -> None:
    if b"%PDF-" in data[:1024]:
        return
    kind = next((what for mark, what in _STRANGERS if re.match(mark, data)), None)
    if kind is None:
        kind = "empty" if not data.strip() else "of a kind that is not known here"
    raise FileError(f'"{name}" is not a PDF but {kind}. {_WANTED}' if kind != "empty" else f'"{name}" is empty.')


def content(stream: pikepdf.Stream, name: str) -> bytes:
    """The bytes of a content stream; empty where it cannot be unpacked.

    Raises:
        FileError: it unpacks to more than a pattern needs.
    """
    try:
        packing = str(stream.get("/Filter", ""))
        if "LZW" in packing and len(stream.read_raw_bytes()) * _LZW_SWELLS > MAX_STREAM_BYTES:
            raise FileError(f'"{name}" packs a page in an old way (LZW) that may swell without limit; save it again '
                            "as a plain PDF.")
        return stream.read_bytes() if packing else stream.read_raw_bytes()
    except (pikepdf.PdfError, ValueError, RuntimeError, NotImplementedError) as error:
        if "limit" in str(error) or "memory" in str(error):
            raise FileError(f'"{name}" unpacks to more than {MAX_STREAM_BYTES // 1_000_000} MB a page, which no honest '
                            "pattern does; it may be damaged or meant to do harm.") from None
        return b""
