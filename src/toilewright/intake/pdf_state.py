"""What is kept while a PDF is interpreted: the pen of a page, and the budget of the file."""

from __future__ import annotations

import time
from collections.abc import Callable

from toilewright.errors import FileError
from toilewright.geometry.affine import Affine
from toilewright.intake.clipping import Box
from toilewright.intake.drawing import Look
from toilewright.intake.limits import MAX_OBJECTS
from toilewright.intake.pdf_colour import BLACK, Colour


class Pen:
    """The graphics state that matters for lines."""

    __slots__ = ("clip", "dash", "fill", "fill_space", "map", "stroke", "stroke_space", "width")

    def __init__(self, to_mm: Affine, clip: Box) -> None:
        """Start black, one unit wide."""
        self.map, self.clip = to_mm, clip
        self.stroke: Colour = BLACK
        self.fill: Colour = BLACK
        self.stroke_space: object = None
        self.fill_space: object = None
        self.width, self.dash = 1.0, ()


class Drawn:
    """What one file has drawn so far, and the budget that is left; shared by its pages."""

    def __init__(self, name: str, layer_of: Callable[[object], str | None], deadline: float) -> None:
        """Start a file; `layer_of` names the layer of an optional-content dictionary; `deadline` is in
        seconds of the process clock.
        """
        self.name, self.layer_of, self.deadline = name, layer_of, deadline
        self.looks: dict[tuple, Look] = {}
        self.parsed: dict[tuple[int, int], list[bytes]] = {}
        self.objects = self.pictures = 0

    def check(self) -> None:
        """Raise when the file asks for too much.

        Raises:
            FileError: too many objects, or too much time.
        """
        if self.objects > MAX_OBJECTS:
            raise FileError(f'"{self.name}" draws more than {MAX_OBJECTS:,} objects, more than a pattern needs; remove '
                            "hatching and pictures made of lines and save it again.")
        if time.process_time() > self.deadline:
            raise FileError(f'"{self.name}" takes too long to read; it repeats its drawings too often or holds far '
                            "more than a pattern: print it to a new PDF.")
