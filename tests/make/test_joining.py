"""A join in a make: what is divided is cut, laid and told in parts, and stays whole where it is judged whole."""

from dataclasses import replace

import pytest

from toilewright.blocks.concert import concert_dress
from toilewright.body.tape import body_of
from toilewright.cutting.cloth import Cloth
from toilewright.errors import InputError
from toilewright.fit.toile.pieces import toile_of
from toilewright.make.cloth_wish import ClothWish
from toilewright.make.extra_cards import cards_of
from toilewright.make.finishing import own_of
from toilewright.make.joining import joined, way_out
from toilewright.make.laying import lay_outcomes, names_of, works_of
from toilewright.make.outcome import make_up, size_up
from toilewright.make.reading import Reading
from toilewright.make.recipe import Make
from toilewright.make.recipe_allowances import AllowanceWish
from toilewright.make.recipe_extra import read_extras
from toilewright.make.result import make_result
from toilewright.make.strips_result import extras_lines
from toilewright.output.before_after import overlays

MEASURES = {"bust": 955.0, "high_bust": 900.0, "waist": 785.0, "hip": 1020.0}
READING = Reading(None, None, concert_dress(), (), True)  # the pieces are at hand, no sheet is looked at


def made(*extras, **more):
    make = Make("Dress", size="5", standing=False, unit="cm",
                extras=read_extras({"extra": [dict(one) for one in extras]}, "cm", "a make"), **more)
    return make_up(size_up(make, body_of("an alto", MEASURES), READING))


JOIN = {"kind": "join", "piece": "skirt front", "at": "12 cm"}


def names(garment):
    return [piece.name for piece in garment.pieces]


def test_the_parts_stand_where_the_piece_was_and_everything_sews():
    plain, cut = made(), made(JOIN)
    at = names(plain.altered.garment).index("skirt front")
    assert names(cut.altered.garment)[at:at + 2] == ["skirt front 1", "skirt front 2"]
    assert "skirt front" not in names(cut.altered.garment)
    assert all(w.sews for w in cut.walks) and len(cut.walks) == len(plain.walks) + 1
    assert "skirt front 1" in str(make_result(cut)) and any("skirt front 2" in line for line in extras_lines(cut))
    card = cards_of(cut)[-1]
    assert card.title == "Join, skirt front" and len(card.steps) == 3
    assert any("skirt front join" in line for line in card.check)


def test_the_toile_the_overlay_and_the_allowances_have_it_whole():
    cut = made(JOIN, allowances=(AllowanceWish("skirt front/side seam", 25.0), AllowanceWish("skirt front", 20.0)))
    assert "skirt front" in names(toile_of(cut.whole)) and "skirt front 1" not in names(toile_of(cut.whole))
    assert "skirt front" in names(own_of(cut.whole, cut.extras))
    parts = [piece for piece in cut.altered.garment.pieces if piece.name.startswith("skirt front ")]
    assert {e.name: e.allowance for p in parts for e in p.edges if e.name in ("side seam", "waist", "join")} == {
        "side seam": 25.0, "waist": 20.0, "join": 15.0}
    assert not [f for f in cut.findings if f.code == "allowance-without-effect"]
    changed = replace(cut.altered.bought, pieces=tuple(p.moved(1.0) for p in cut.altered.bought.pieces))
    assert "skirt front" in [figure.title for figure in overlays(changed, cut.whole)]


def test_parts_are_cut_from_the_cloth_that_was_chosen_for_the_whole():
    wish = ClothWish(Cloth("contrast"), pieces=("skirt front",))
    cut = made(JOIN, cloths=(ClothWish(Cloth("self")), wish))
    contrast = next(work for work in works_of([cut]) if work.wish.use == "contrast")
    assert [piece.name for piece in contrast.pieces] == ["skirt front 1", "skirt front 2"]
    part = ClothWish(Cloth("contrast"), pieces=("skirt front 2",))
    only = next(work for work in works_of([made(JOIN, cloths=(part,))]) if work.wish.use == "contrast")
    assert [piece.name for piece in only.pieces] == ["skirt front 2"]


def test_what_is_sewn_on_can_still_be_named_by_the_part():
    frill = {"kind": "frill", "edge": "waistband 1 top", "depth": "5 cm"}
    cut = made({"kind": "join", "piece": "waistband"}, frill)
    assert any("waistband 1" in w.sides[0] + w.sides[1] and "frill" in w.seam for w in cut.walks)
    with pytest.raises(InputError, match='Extra 2, "join"'):
        made({"kind": "join", "piece": "waistband"}, {"kind": "join", "piece": "waistband"})


@pytest.mark.parametrize(("width", "joins"), [(1400.0, []), (1100.0, [("skirt tier", 2), ("waistband", 2)]),
                                              (700.0, [("skirt tier", 2), ("waistband", 2), ("waist tie", 2)])])
def test_the_fewest_parts_that_a_width_takes(width, joins):
    outcomes = [made(cloths=(ClothWish(Cloth("self", width=width)),))]
    (work,) = works_of(outcomes)
    garments = tuple(zip(names_of(outcomes), (o.altered.garment for o in outcomes), strict=True))
    found = joined(work, garments)
    assert ([] if found is None else [(j.piece, j.parts) for j in found[2]]) == joins
    if found is not None:
        divided, after, _ = found
        assert max(max(p.imag for p in piece.outline) - min(p.imag for p in piece.outline)
                   for piece in divided.pieces if not piece.on_fold) <= width
        assert {p.name for p in divided.pieces} == set(names(dict(after)[""]))


def test_two_of_a_make_are_divided_each_on_its_own():
    outcomes = [made(cloths=(ClothWish(Cloth("self", width=1100.0)),)), made()]
    (work,) = works_of(outcomes)
    garments = tuple(zip(names_of(outcomes), (o.altered.garment for o in outcomes), strict=True))
    joins = joined(work, garments)[2]
    assert {(j.make, j.piece) for j in joins} == {(make, piece) for make in names_of(outcomes)
                                                  for piece in ("skirt tier", "waistband")}
    assert joins[0].words == "skirt tier (Dress (1)) in 2 parts"


def test_a_lay_that_is_refused_says_what_to_write_and_that_does():
    narrow = (ClothWish(Cloth("self", width=1100.0), bought_width=1120.0),)
    with pytest.raises(InputError) as said:
        lay_outcomes([made(cloths=narrow)], seconds=0.0)
    assert 'kind = "join" and piece = "skirt tier", and another with piece = "waistband".' in str(said.value)
    cut = made({"kind": "join", "piece": "skirt tier"}, {"kind": "join", "piece": "waistband"}, cloths=narrow)
    assert lay_outcomes([cut], seconds=0.0).lays[0].certificate.passed


def test_three_parts_are_written_out():
    outcomes = [made(cloths=(ClothWish(Cloth("self", width=540.0)),))]
    garments = tuple(zip(names_of(outcomes), (o.altered.garment for o in outcomes), strict=True))
    assert 'piece = "skirt tier" and parts = 3' in way_out(joined(works_of(outcomes)[0], garments)[2])
