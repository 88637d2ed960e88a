"""The true lines of tests/data/foreign, and how far a drawing that was read is from them."""

from __future__ import annotations

import importlib.util
import itertools
from collections.abc import Callable, Iterable
from pathlib import Path as File

import shapely

from toilewright.geometry import Path
from toilewright.intake.drawing import Stroke

FOREIGN = File(__file__).parent.parent / "data" / "foreign"
_spec = importlib.util.spec_from_file_location("foreign_sheet", FOREIGN / "sheet.py")
sheet = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(sheet)

SIZES = tuple(sheet.SIZES)


def path_of(curves: list[list[float]], f: Callable[[complex], complex] = lambda z: z) -> Path:
    """A path of the master as ours, mapped."""
    nodes, handles = [f(complex(*curves[0]))], []
    for c in curves[1:]:
        points = [f(complex(c[i], c[i + 1])) for i in range(0, len(c), 2)]
        handles.append((points[0], points[1]) if len(points) == 3 else None)
        nodes.append(points[-1])
    return Path(tuple(nodes), tuple(handles))


def true_lines(system: str, size: str, seam: bool = False, kinds: tuple[str, ...] = ()) -> list[Path]:
    """All lines that the sheet shows for a size ("" for those of all sizes), in mm."""
    return [path_of(m.curves) for m in sheet.marks(system, seam)
            if m.size == size and (not kinds or m.kind in kinds)]


def farthest(paths: Iterable[Path], from_paths: Iterable[Path]) -> float:
    """How far the first lines stray from the second (mm): points 2 mm apart, against polylines within 0.001 mm."""
    lines = shapely.STRtree([shapely.LineString(list(pairs)) for p in from_paths for pairs in _segments(p)])
    points = shapely.points([(q.real, q.imag) for p in paths for q in _along(p)])
    _, gaps = lines.query_nearest(points, all_matches=False, return_distance=True)
    return float(gaps.max())


def apart(read: Iterable[Stroke], true: Iterable[Path]) -> float:
    """How far lines that were read and true lines are apart, both ways (mm)."""
    paths, lines = [s.path for s in read], list(true)
    return max(farthest(paths, lines), farthest(lines, paths))


def _along(path: Path) -> list[complex]:
    return [c.point(k / n) for c in path.curves for n in (max(1, round(c.length / 2)),) for k in range(n + 1)]


def _segments(path: Path) -> Iterable[tuple[tuple[float, float], tuple[float, float]]]:
    points = [(p.real, p.imag) for p in path.flatten(0.001)]
    return itertools.pairwise(points)
