"""From sheets in many conventions back to the pieces they were drawn from."""

import pytest
from nest_builders import layered

from toilewright.intake.recognise import recognise


@pytest.mark.parametrize("cut_up", [True, False])
def test_layers_give_sizes_and_outlines(cut_up):
    drawing, models = layered(4, cut_up=cut_up)
    raw = recognise(drawing)
    assert raw.sizes == ("8", "10", "12", "14")
    assert [[p.name for p in piece] for piece in raw.pieces] == [["bodice front"] * 4]
    for piece, model in zip(raw.pieces[0], models, strict=True):
        assert piece.outline.area() == pytest.approx(model.outline.area(), rel=1e-9)
        assert piece.outline.length == pytest.approx(model.outline.length, abs=1e-3)
    assert (raw.allowance, raw.line) == (15.0, "cutting")
    assert raw.pieces[0][0].cut_count == 1 and raw.pieces[0][0].mirrored is False
