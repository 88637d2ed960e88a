"""Layers of a PDF that a reader can switch on and off (optional content, ISO 32000-1, 8.11; from memory)."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas


@dataclass(frozen=True, slots=True)
class PdfLayers:
    """Names the layers while pages are drawn, and writes them into the finished file."""

    names: tuple[str, ...]

    @contextmanager
    def on(self, pdf: Canvas, name: str | None) -> Iterator[None]:
        """What is drawn inside belongs to a layer; to none when the name is unknown or None."""
        if name not in self.names:
            yield
            return
        # The drawing library has no word for marked content; it takes operators as they are.
        pdf._code.append(f"/OC /L{self.names.index(name)} BDC")
        yield
        pdf._code.append("EMC")

    def save(self, data: bytes, path: str) -> None:
        """Write the finished PDF with its layers; the same data gives the same bytes."""
        import pikepdf
        from pikepdf import Array, Dictionary, Name, String

        with pikepdf.open(io.BytesIO(data)) as pdf:
            if self.names:
                groups = [pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(n))) for n in self.names]
                shown = Dictionary(Order=Array(groups), ON=Array(groups))
                pdf.Root.OCProperties = Dictionary(OCGs=Array(groups), D=shown)
                used = pdf.make_indirect(Dictionary({f"/L{i}": g for i, g in enumerate(groups)}))
                for page in pdf.pages:
                    page.Resources.Properties = used
            done = io.BytesIO()
            pdf.save(done, deterministic_id=True)
        # Not written by pikepdf itself: on a full disk it ends the whole program.
        with open(path, "wb") as file:
            file.write(done.getvalue())
