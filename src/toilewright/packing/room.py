"""Where a single item may lie by itself: its rows, its columns, its repeats; and why it cannot lie at all."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, inf, isfinite

import numpy as np

from toilewright.errors import GeometryError
from toilewright.packing.nofit import Shape, item_shape
from toilewright.packing.problem import Beat, Pose, Problem

SLACK = 1e-6
"""A row or a column is met within this (mm)."""


@dataclass(frozen=True, slots=True)
class Room:
    """Where the origin of an item may lie in one pose, as long as nothing else is there.

    Attributes:
        left, right: least and greatest x; `right` is inf where the strip has no end.
        low, high: least and greatest y; the same for a pinned item.
        beat_x, beat_y: phase and pitch of the origin's x and y where a repeat is to be met.
    """

    item: int
    pose: Pose
    shape: Shape
    left: float
    right: float
    low: float
    high: float
    beat_x: tuple[float, float] | None = None
    beat_y: tuple[float, float] | None = None

    def up(self, y: np.ndarray) -> np.ndarray:
        """The least y allowed by the repeat that is not below y."""
        return y if self.beat_y is None else _up(y, *self.beat_y)

    def along(self, x: float) -> float:
        """The least x allowed by the repeat that is not below x."""
        return x if self.beat_x is None else float(_up(np.array(x), *self.beat_x))

    def columns(self, last: float, step: float, extra: np.ndarray) -> np.ndarray:
        """The x to look at, rising: every line of its repeat, or every `step` and the `extra` ones, up to `last`."""
        last = min(last, self.right)
        if self.beat_x is not None:
            phase, pitch = self.beat_x
            first = _up(np.array(self.left), phase, pitch)
            return first + pitch * np.arange(max(0, floor((last + pitch - first + SLACK) / pitch) + 1))
        found = np.concatenate([np.arange(self.left, last, step), extra])
        return np.unique(found[(found >= self.left) & (found <= last + SLACK)])


def rooms(problem: Problem, item: int) -> tuple[Room, ...]:
    """One room for each pose in which the item fits the strip at all.

    Raises:
        GeometryError: there is none; the sentence names the item.
    """
    one = problem.items[item]
    found = [room for pose in one.poses if (room := _room(problem, item, pose)) is not None]
    if found:
        return tuple(found)
    low, high = _band(problem, item)
    shapes = [item_shape(problem, item, pose) for pose in one.poses]
    tall, long = min(s.high - s.low for s in shapes), min(s.right - s.left for s in shapes)
    if tall > high - low + SLACK:
        why = f"it is {tall / 10:.1f} cm across, and there are only {max(high - low, 0.0) / 10:.1f} cm for it"
    elif problem.longest is not None and long > problem.longest + SLACK:
        why = f"it is {long / 10:.1f} cm long, and there are only {problem.longest / 10:.1f} cm"
    elif one.origin_y is not None:
        why = "with its edge on the fold it reaches past what there is for it across"
    else:
        why = "no line of the repeat suits it within what there is"
    raise GeometryError(f'"{one.key}" cannot be laid: {why}; a wider or longer cloth, or another fold, may take it.')


def _room(problem: Problem, item: int, pose: Pose) -> Room | None:
    one, shape = problem.items[item], item_shape(problem, item, pose)
    low, high = _band(problem, item)
    low, high = low - shape.low, high - shape.high
    if low > high + SLACK:
        return None
    high = max(low, high)
    if one.origin_y is not None:
        if not low - SLACK <= one.origin_y <= high + SLACK:
            return None
        low = high = one.origin_y
    left, right = -shape.left, inf if problem.longest is None else problem.longest - shape.right
    room = Room(item, pose, shape, left, right, low, high, _beat(one.beat_x, pose, "real"),
                _beat(one.beat_y, pose, "imag"))
    if one.origin_y is None:
        return room if _any(low, high, room.beat_y) and _any(left, right, room.beat_x) else None
    on_beat = room.beat_y is None or abs((low - room.beat_y[0] + 0.005) % room.beat_y[1]) <= 0.01
    if not on_beat or not _any(left, right, room.beat_x):
        return None
    return Room(item, pose, shape, left, right, low, high, room.beat_x)  # its row is settled


def _band(problem: Problem, item: int) -> tuple[float, float]:
    low, high = problem.items[item].band or (0.0, problem.height)
    return max(low, 0.0), min(high, problem.height)


def _beat(beat: Beat | None, pose: Pose, part: str) -> tuple[float, float] | None:
    return None if beat is None else (beat.phase - getattr(pose.of(beat.point), part), beat.pitch)


def _any(low: float, high: float, beat: tuple[float, float] | None) -> bool:
    """Is there a line of the repeat between the two?"""
    if beat is None or not isfinite(high):
        return low <= high + SLACK
    phase, pitch = beat
    return phase + ceil((low - phase - SLACK) / pitch) * pitch <= high + SLACK


def _up(x: np.ndarray, phase: float, pitch: float) -> np.ndarray:
    return phase + np.ceil((x - phase - SLACK) / pitch) * pitch
