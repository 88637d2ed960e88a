"""What a change does further on is told before it is done."""

from dataclasses import replace

import pytest

from toilewright.body.tape import Wish
from toilewright.demo import run
from toilewright.make.compare import compare, compare_sizes
from toilewright.make.outcome import make_up, size_up


@pytest.fixture(scope="module")
def sized(tmp_path_factory):
    outcome, _ = run(tmp_path_factory.mktemp("dress"))
    return outcome.sized


def with_make(sized, body=None, reading=None, **more):
    return make_up(size_up(replace(sized.make, **more), body or sized.body, reading or sized.reading))


def kinds(found):
    return {d.kind for d in found}


def test_nothing_changed_is_nothing_to_tell(sized):
    assert compare(with_make(sized), with_make(sized)) == ()


def test_another_size_changes_ease_amounts_and_every_piece(sized):
    found = compare(with_make(sized), with_make(sized, size="6"))
    assert kinds(found) == {"size", "ease", "alteration", "pieces"}
    text = " ".join(d.text for d in found)
    assert "The size to cut is 6 instead of 5." in text
    assert "The ease at the waist, with the alterations, is 8.0 cm instead of 3.0 cm." in text
    # The bust point of size 6 lies 7 mm lower on the pattern (its chart: 275 against 268 mm).
    assert "Bust dart height is made by 1.6 cm instead of 2.3 cm, worked out anew." in text
    assert "The front length, beyond the body's, is 1.4 cm instead of 0.7 cm." in text and "shoulder" not in text
    assert "All 13 pieces change." in text
    assert not any(d.worse for d in found)


def test_too_small_a_size_is_worse_and_says_so(sized):
    found = {d.about: d for d in compare(with_make(sized), with_make(sized, size="4")) if d.kind == "ease"}
    assert found["bust",].worse and "less than the handbooks' least of 5.1 cm" in found["bust",].text
    # The waist is let out by its own alteration, worked out anew.
    assert not found["waist",].worse
    back = compare(with_make(sized, size="4"), with_make(sized))
    assert "that is enough now" in next(d.text for d in back if d.about == ("hip",))


def test_a_blend_changes_only_the_pieces_that_it_reaches(sized):
    found = compare(with_make(sized), with_make(sized, size="", sizes=(("bust", "5"), ("waist", "6"), ("hip", "6"))))
    assert found[0].text == "The size to cut is bust 5, waist 6, hip 6 instead of 5."
    pieces = next(d for d in found if d.kind == "pieces")
    assert {"bodice front", "skirt front"} <= set(pieces.about) and "sleeve" not in pieces.about
    assert "stay as before" in pieces.text


def test_amounts_taken_from_the_body_follow_the_body(sized):
    rounder = replace(sized.body, measures=tuple(
        (name, value + 6 if name == "back neck point to waist" else value) for name, value in sized.body.measures))
    found = compare(with_make(sized), with_make(sized, body=rounder))
    assert "High round back is made by 2.0 cm instead of 1.4 cm, worked out anew." in [d.text for d in found]
    assert next(d for d in found if d.kind == "pieces").about == ("bodice back", "back neck facing")


def test_what_is_asked_for_or_left_out(sized):
    plain = with_make(sized, alterations=())
    longer = with_make(sized, alterations=(Wish("lengthen or shorten", 30.0, {"piece": "skirt front"}),))
    assert "Lengthen or shorten on the skirt front is made, by 3.0 cm." in [d.text for d in compare(plain, longer)]
    assert "Lengthen or shorten on the skirt front is not made any more." in [
        d.text for d in compare(longer, plain)]
    wide = with_make(sized, ease=(("waist", 60.0),))
    assert "Waist in or out comes out too small to be worth doing." in [
        d.text for d in compare(wide, with_make(sized))]


def test_it_tells_in_her_unit(sized):
    inches = with_make(sized, size="6", body=replace(sized.body, unit="in"))
    text = " ".join(d.text for d in compare(with_make(sized), inches))
    assert "3 1/8 in instead of 1 1/8 in" in text and " cm" not in text


def test_a_seam_that_stops_sewing(sized):
    before = with_make(sized)
    after = replace(before, walks=tuple(
        replace(w, sews=False, note="the second side is 6.0 mm too long") if w.seam == "underarm" else w
        for w in before.walks))
    (one,) = compare(before, after)
    assert one.worse and one.text == "The seam underarm stops sewing: the second side is 6.0 mm too long."
    assert [d.text for d in compare(after, before)] == ["The seam underarm sews again."]


def test_names_that_changed_are_pieces_that_changed(sized):
    tie = sized.before.piece("waist tie")
    renamed = replace(tie, edges=(replace(tie.edges[0], name="long side"), *tie.edges[1:]), notches=())
    other = replace(sized, before=sized.before.with_piece(renamed))
    assert [d.about for d in compare_sizes(sized, other)] == [("waist tie",)]
    pieces = tuple(p for p in sized.before.pieces if p.name != "waistband")
    fewer = replace(sized, before=replace(sized.before, pieces=pieces))
    assert "Not there any more: waistband." in [d.text for d in compare_sizes(sized, fewer)]
    assert "New here: waistband." in [d.text for d in compare_sizes(fewer, sized)]
