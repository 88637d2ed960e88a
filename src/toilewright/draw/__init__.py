"""Pictures made of pen marks and captions; knows nothing of pattern pieces."""

from toilewright.draw.figure import Caption, Figure, Mark, Pen

__all__ = ["Caption", "Figure", "Mark", "Pen"]
