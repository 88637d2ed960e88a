"""DXF files opened, repaired and refused."""

from __future__ import annotations

import io
import logging
import os
import re
from typing import TYPE_CHECKING

from toilewright.errors import FileError
from toilewright.intake.limits import MAX_OBJECTS
from toilewright.intake.whole_file import whole_file

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

BROKEN = (ArithmeticError, AttributeError, LookupError, OSError, TypeError, ValueError)
"""What ezdxf raises, besides its own errors, on damaged files and entities."""

_UNHEARD = logging.NullHandler()
"""Takes the log of ezdxf; one for all files, so that reading many does not heap them up."""

_ENTITY = re.compile(rb"\n[ \t]*0\r?\n")


def load(path: str | os.PathLike[str], name: str) -> tuple[Document, bool]:
    """The document, and whether it had to be repaired."""
    data = whole_file(path, name, "export fewer pieces or sizes at a time")
    if _entities(data) > MAX_OBJECTS:
        raise too_much(name)
    import ezdxf
    from ezdxf import recover
    logging.getLogger("ezdxf").addHandler(_UNHEARD)  # what it repairs is told by a finding
    if b"EOF" in data[-200:] or data.startswith(b"AutoCAD Binary DXF"):
        try:
            return ezdxf.readfile(path), False
        except (ezdxf.DXFError, *BROKEN):
            pass
    else:
        data = _ended(data)
    try:
        doc, _ = recover.read(io.BytesIO(data))
    except Exception:  # ezdxf raises anything from KeyError to AttributeError on files beyond repair
        raise FileError(f'"{name}" is damaged beyond repair or no DXF file; export it again as DXF R12 or later.') \
            from None
    return doc, True


def _ended(data: bytes) -> bytes:
    """A text DXF that was cut off, ended after its last whole entity."""
    last = max((m.start() for m in _ENTITY.finditer(data)), default=len(data))
    return data[:last] + b"\n  0\nENDSEC\n  0\nEOF\n"


def _entities(data: bytes) -> int:
    """About how many entities a text DXF holds: lines that are a single group code 0."""
    return sum(1 for _ in _ENTITY.finditer(data))


def too_much(name: str) -> FileError:
    """The error for a file that asks for too much work."""
    return FileError(f'"{name}" draws more than {MAX_OBJECTS} objects, more than a pattern needs; export fewer pieces '
                     "or sizes at a time.")
