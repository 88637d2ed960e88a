"""Uneven pieces on paper: each half of an opened-out piece says whose side it is."""

from fit.alter_kit import altered, dress

from toilewright.output.piece_figure import piece_figure


def test_an_opened_out_front_names_her_left_and_her_right_on_their_halves():
    garment = altered(dress(), "bust dart height", 20.0, side="left").garment
    front = garment.piece("bodice front")
    figure = piece_figure(front)
    at = {c.text: c.at for c in figure.captions}
    fold = front.line("centre front").start.real
    for side in ("left", "right"):
        bust = front.landmark(f"bust point {side}")
        assert (at[f"her {side}"].real - fold) * (bust.real - fold) > 0
    assert [c.text for c in figure.captions].count("bust point") == 2
    assert at["her left"].real > fold, "seen from before her, her left is on the right hand"


def test_an_even_piece_says_nothing_of_sides():
    assert not any(c.text.startswith("her ") for c in piece_figure(dress().piece("bodice front")).captions)
