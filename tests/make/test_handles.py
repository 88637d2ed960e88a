"""Handles: every alteration has some, and pulling one lands where the pieces really go."""

from dataclasses import replace
from functools import cache

import pytest

from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.concert import concert_dress
from toilewright.blocks.princess_dress import princess_dress
from toilewright.fit.alterations import ALTERATIONS, alter
from toilewright.fit.result import Order
from toilewright.known import asked
from toilewright.make.handles import handles, named_points

PIECES = {"lengthen or shorten": "bodice front"}
AMOUNTS = {"bust dart to princess seam": 60.0}
STILL = ("bust dart to gathers", "high hip in or out")  # no point with a name moves: a mouth, a stretch of side seam
ROW = ("high round back", "forward shoulder", "bust dart height", "full bust", "waist in or out")


@pytest.fixture(scope="module")
def dress():
    return concert_dress().at("4")


@cache
def garment_for(name):
    """The first drafted pattern that has place for an alteration."""
    one = next(a for a in ALTERATIONS if a.name == name)
    drafted = (p().at("4") for p in (concert_dress, princess_dress, choir_tunic, choir_trousers))
    return next(g for g in drafted if one.has_place(g, {}))


def order(name, amount=None):
    amount = AMOUNTS.get(name, 10.0) if amount is None else amount
    return Order(name, asked(amount), {"piece": PIECES[name]} if name in PIECES else {})


def points(garment, piece):
    found = {}
    for _, name, at in named_points(garment.piece(piece)):
        found.setdefault(name, []).append(at)
    return found


@pytest.mark.parametrize("name", [one.name for one in ALTERATIONS])
@pytest.mark.parametrize("pull", [-2.0, 3.0])
def test_pulling_a_handle_lands_on_the_altered_point(name, pull):
    row, garment = (order(name),), garment_for(name)
    found = handles(garment, row, 0)
    assert found or name in STILL
    there = alter(garment, (replace(row[0], amount=asked(row[0].amount.value + pull)),)).garment
    for handle in found:
        wanted = handle.at + pull * handle.along
        assert min(abs(at - wanted) for at in points(there, handle.piece)[handle.name]) < 0.5, handle


@pytest.mark.parametrize("index", range(len(ROW)))
def test_in_a_row_each_handle_is_the_pull_of_its_own_alteration(dress, index):
    row = tuple(order(name) for name in ROW)
    more = tuple(order(name, 12.0 if i == index else 10.0) for i, name in enumerate(ROW))
    there = alter(dress, more).garment
    found = handles(dress, row, index)
    assert found
    for handle in found:
        wanted = handle.at + 2.0 * handle.along
        assert min(abs(at - wanted) for at in points(there, handle.piece)[handle.name]) < 0.5, handle


def test_a_handle_lies_on_the_piece_that_was_asked_for(dress):
    row = (Order("lengthen or shorten", asked(20.0), {"piece": "sleeve"}),)
    assert handles(dress, row, 0)[0].piece == "sleeve"


def test_pieces_at_hand_give_the_same_handles(dress):
    row = tuple(order(name) for name in ROW)
    assert handles(dress, row, 2, alter(dress, row).garment) == handles(dress, row, 2)


def test_one_that_cannot_be_made_has_none(dress):
    assert handles(dress, (order("bust dart height", 900.0),), 0) == ()


@pytest.mark.parametrize("name", [one.name for one in ALTERATIONS])
def test_on_pieces_of_the_other_hand_handles_are_the_mirror_image(name):
    dress = garment_for(name)

    def turned(refs):
        return tuple(replace(ref, reverse=not ref.reverse) for ref in refs)

    other = replace(dress, pieces=tuple(piece.mirrored(0j, 1j) for piece in dress.pieces),
                    seams=tuple(replace(s, a=turned(s.a), b=turned(s.b)) for s in dress.seams))
    here, there = (handles(garment, (order(name),), 0) for garment in (dress, other))
    assert {h.piece for h in there} == {h.piece for h in here}
    for handle in there:
        if handle.piece == "waistband":  # it grows at its right end, of whichever hand it is
            continue
        # The start of an edge is where its mirror image ends, so that another point may be the clearest there.
        usual = order(name).amount.value
        moved = alter(dress, (order(name, usual + 1.0),)).garment, alter(dress, (order(name),)).garment
        images = [(old, new) for new, old in zip(*(
            [at for _, _, at in every_point(garment.piece(handle.piece))] for garment in moved), strict=True)]
        near = min(images, key=lambda pair: abs(-pair[0].conjugate() - handle.at))
        assert abs(-near[0].conjugate() - handle.at) < 0.05
        assert abs(-(near[1] - near[0]).conjugate() - handle.along) < 0.05


def every_point(piece):
    yield from named_points(piece)
    for edge in piece.edges:
        yield "corner", f"end of {edge.name}", edge.path.end
