"""Compares a pattern that was read with the one that was printed."""

import pytest

from toilewright.geometry import Affine

PLAIN = Affine()


def same(pattern, original, f=PLAIN, tolerance=0.1, but=()):
    """Every edge, dart, notch and landmark of `original` is in `pattern`, where `f` puts it."""
    mirrored = f.determinant < 0
    assert pattern.sizes == original.sizes
    for size in original.sizes:
        made = {p.name: p for p in pattern.at(size).pieces}
        for was in original.at(size).pieces:
            now = made.pop(was.name)
            if was.name in but:
                continue
            assert {e.name for e in now.edges} == {e.name for e in was.edges}
            for edge in was.edges:
                got = now.edge(edge.name)
                assert (got.kind, got.allowance) == (edge.kind, pytest.approx(edge.allowance))
                assert got.path.length == pytest.approx(edge.path.length, abs=tolerance)
                assert max(got.path.nearest(f(p))[1] for p in edge.path.flatten(1.0)) < tolerance

            def placed(edge, at, was=was):
                return was.edge(edge).path.length - at if mirrored else at
            for dart in was.darts:
                got = now.dart(dart.name)
                ends = sorted((placed(dart.edge, dart.start), placed(dart.edge, dart.end)))
                assert (got.edge, got.start, got.end) == (dart.edge, *(pytest.approx(s, abs=tolerance) for s in ends))
                assert abs(got.apex - f(dart.apex)) < tolerance
                assert (got.press == dart.press) is not mirrored
            notches = {n.name: n for n in now.notches}
            assert set(notches) == {n.name for n in was.notches}
            for notch in was.notches:
                got = notches[notch.name]
                assert (got.edge, got.count) == (notch.edge, notch.count)
                assert got.at == pytest.approx(placed(notch.edge, notch.at), abs=tolerance)
            for mark in was.landmarks:
                assert abs(now.landmark(mark.name) - f(mark.at)) < 2 * tolerance, mark
            for line in was.lines:
                assert abs(now.line(line.name).start - f(line.path.start)) < 2 * tolerance
            assert now.cut == was.cut
        assert not made
