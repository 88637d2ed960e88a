"""Moments as she reads them: by the clock on her wall, not by Greenwich's."""

from __future__ import annotations

import datetime


def day(moment: datetime.datetime) -> str:
    """The day of a moment (ISO 8601)."""
    return f"{moment.astimezone():%Y-%m-%d}"


def minute(moment: datetime.datetime) -> str:
    """Day and time of a moment, for reading."""
    return f"{moment.astimezone():%Y-%m-%d %H:%M}"
