"""Makes laid on their cloths: from the make file to lay.json, and one sentence for each slip."""

import json
import subprocess
import sys
from dataclasses import replace

import pytest
from shapely.geometry import Polygon

from toilewright import demo
from toilewright.cutting.lay.plan import Layer
from toilewright.errors import InputError, NameUnknown, SewError
from toilewright.make.lay_files import FILES, write_laying
from toilewright.make.lay_result import laying_result, used_area
from toilewright.make.lay_tell import lines_of
from toilewright.make.laying import lay_make, lay_outcomes, works_of
from toilewright.make.outcome import run_make
from toilewright.packing.first_fit import first_fit


def quick(problem, seconds=1.0, seed=0, tell=None, stop=None):
    return first_fit(problem)


@pytest.fixture(scope="module")
def outcome(table):
    return run_make(table / demo.MAKE)


@pytest.fixture(scope="module")
def laying(outcome):
    return lay_outcomes([outcome], width="140cm", fold="lengthwise", seconds=1.0, pack=quick)


def small(outcome):
    """The bodice alone: enough for most questions."""
    garment = outcome.altered.garment
    names = ("bodice front", "bodice back", "sleeve", "waist tie")
    return replace(outcome, altered=replace(outcome.altered, garment=replace(
        garment, pieces=tuple(p for p in garment.pieces if p.name in names), seams=())))


def with_cloth(outcome, **changes):
    """The outcome with one cloth said in its make file."""
    from toilewright.make.recipe_cloth import read_cloths

    rows = [{"use": "self", "width": "142 cm", **changes}]
    make = replace(outcome.sized.make, cloths=read_cloths({"cloth": rows}, "cm", "a test"))
    return replace(outcome, sized=replace(outcome.sized, make=make))


def test_what_stands_in_lay_json(laying, outcome):
    plain = json.loads(json.dumps(laying_result(laying)))
    assert plain["cloth"]["width_mm"] == 1400.0 and plain["cloth"]["layers"] == "folded"
    assert plain["cloth"]["direction"] == "two way" and plain["cloth"]["fold_depth_mm"] == 700.0
    assert plain["certificate"]["passed"] and all(c["passed"] for c in plain["certificate"]["checks"])
    assert plain["length_mm"] == pytest.approx(max(x for p in plain["pieces"] for x, _ in p["outline"]), abs=1e-3)
    counts = {}
    for piece in plain["pieces"]:
        assert piece["copy"] == counts.get(piece["name"], 0) + 1
        counts[piece["name"]] = piece["copy"]
    assert counts == {p.name: p.cut.count for p in outcome.altered.garment.pieces}


def test_fold_edges_stand_exactly_on_the_fold_and_layers_on_each_other(laying):
    plain = laying_result(laying)
    folds = [p for p in plain["pieces"] if p["on_fold"]]
    assert len(folds) == 6
    for piece in folds:
        assert piece["cloth_layer"] == "both"
        assert sum(y == 0.0 for _, y in piece["outline"]) == 2 and min(y for _, y in piece["outline"]) == 0.0
    upper = {(p["name"], str(p["outline"])): p for p in plain["pieces"] if p["cloth_layer"] == "upper"}
    lower = {(p["name"], str(p["outline"])): p for p in plain["pieces"] if p["cloth_layer"] == "lower"}
    assert upper.keys() == lower.keys() and upper
    pairs = {p.name for p in works_names(laying) if p.mirrored}
    for key, one in upper.items():
        assert one["mirrored"] != lower[key]["mirrored"] or key[0] not in pairs
        assert one["order"] == lower[key]["order"]


def works_names(laying):
    return {one.piece for lay in laying.lays for one in lay.laid}


def test_an_outside_reader_finds_no_overlap_in_the_json(laying):
    """Read the file as a stranger would: by section and layer, with outlines alone."""
    plain = laying_result(laying)
    for layer in ("upper", "lower", "single"):
        for section in range(len(plain["sections"])):
            shapes = [Polygon(p["outline"]) for p in plain["pieces"] if p["section"] == section
                      and (p["cloth_layer"] == layer or (p["cloth_layer"] == "both" and layer != "single"))]
            for i, one in enumerate(shapes):
                assert one.is_valid
                for other in shapes[:i]:
                    assert one.intersection(other).area < 0.5


def test_the_percentage_is_area_over_area(laying):
    plain = laying_result(laying)
    area = sum(Polygon(p["outline"]).area * (2 if p["on_fold"] else 1) for p in plain["pieces"])
    assert plain["used_percent"] == pytest.approx(100 * area / (1400 * plain["length_mm"]), abs=0.01)
    assert used_area(laying.lays[0]) == pytest.approx(area, rel=1e-6)


def test_files_are_written_whole(laying, tmp_path):
    written = write_laying(laying, tmp_path / "out")
    assert {p.name for p in written} == set(FILES) == {p.name for p in (tmp_path / "out").iterdir()}
    assert json.loads((tmp_path / "out" / "lay.json").read_text(encoding="utf-8")) == json.loads(
        json.dumps(laying_result(laying)))


def test_a_lay_in_words_names_its_length_its_sections_and_its_checks(laying):
    said = "\n".join(lines_of(laying.lays[0], "cm"))
    assert "140.0 cm wide" in said and "folded 70.0 cm deep" in said and "opened out" in said
    assert said.count("checked:") == 8


def test_without_a_width_the_usual_one_is_taken_and_said(outcome):
    outcome = small(outcome)
    (lay,) = lay_outcomes([outcome], fold="open", seconds=0.0, pack=quick).lays
    assert any("was not said" in note for note in lay.notes)
    (said,) = lay_outcomes([outcome], width="150", fold="open", seconds=0.0, pack=quick).lays
    assert said.cloth.width == 1500.0 and not any("was not said" in note for note in said.notes)


def test_each_cloth_has_a_lay_of_its_own(outcome):
    from toilewright.make.recipe_cloth import read_cloths

    rows = [{"use": "self", "width": "142 cm", "fold": "lengthwise"},
            {"use": "contrast", "width": "160 cm", "one_way": True, "fold": "open", "pieces": ["waist tie", "sleeve"]}]
    make = replace(outcome.sized.make, cloths=read_cloths({"cloth": rows}, "cm", "a test"))
    two = lay_outcomes([replace(outcome, sized=replace(outcome.sized, make=make))], seconds=0.0, pack=quick)
    assert [lay.cloth.name for lay in two.lays] == ["self", "contrast"]
    assert {one.piece.name for one in two.lays[1].laid} == {"waist tie", "sleeve"}
    assert {one.pose.turn for one in two.lays[1].laid} == {0.0}
    plain = laying_result(two)
    assert plain["cloth"]["name"] == "self" and plain["other_cloths"][0]["cloth"]["direction"] == "one way"


def test_several_makes_share_one_lay(outcome):
    outcome = small(outcome)
    title = replace(outcome.sized.make, title="Concert dress for the soprano")
    other = replace(outcome, sized=replace(outcome.sized, make=title))
    both = lay_outcomes([outcome, other], fold="open", width="150cm", seconds=0.0, pack=quick)
    (lay,) = both.lays
    one = lay_outcomes([outcome], fold="open", width="150cm", seconds=0.0, pack=quick).lays[0]
    assert {p.piece.make for p in lay.laid} == {outcome.sized.make.title, title.title}
    assert len(lay.laid) == 2 * len(one.laid) and lay.length < 2 * one.length
    assert lay.certificate.passed


def test_two_makes_of_one_title_are_told_apart(outcome):
    work = works_of([outcome, outcome])[0]
    assert len({p.make for p in work.pieces}) == 2


def test_the_search_is_told_and_can_be_stopped(outcome):
    outcome = small(outcome)
    told = []

    def slow(problem, seconds=1.0, seed=0, tell=None, stop=None):
        found = first_fit(problem)
        if tell:
            tell(found.length + 50.0, 0.0)
            tell(found.length, seconds)
        assert stop() is False
        return found

    lay_outcomes([outcome], width="140cm", seconds=8.0, pack=slow, tell=lambda *at: told.append(at), stop=lambda: False)
    assert told and [gone for _, gone in told] == sorted(gone for _, gone in told)
    assert told[-1][1] <= 8.0 + 1e-6


@pytest.mark.parametrize(("words", "said"), [
    ({"width": "5 cm"}, "wide"), ({"width": "a lot"}, "length"), ({"fold": "sideways"}, "sideways"),
    ({"fold": "90 cm"}, "half"), ({"seconds": -1.0}, "seconds"), ({"cloth_name": "velvet"}, "velvet")])
def test_what_cannot_be_is_said_in_one_sentence(outcome, words, said):
    with pytest.raises(InputError, match=said) as told:
        lay_outcomes([outcome], **{"width": "140cm", "seconds": 0.0, "pack": quick, **words})
    assert "\n" not in str(told.value)


def test_a_remnant_that_is_too_small_is_told_by_how_much(outcome):
    short = with_cloth(outcome, length="2 m", washed=True)
    with pytest.raises(InputError, match=r"too short for these pieces; .* stays? over"):
        lay_outcomes([short], fold="open", seconds=0.0, pack=quick)


def test_a_cloth_that_names_a_piece_that_is_not_there(outcome):
    with pytest.raises(NameUnknown, match="sleeve"):
        lay_outcomes([with_cloth(outcome, pieces=["sleve"])], seconds=0.0, pack=quick)


def test_pieces_that_do_not_sew_are_not_laid(outcome):
    from toilewright.errors import Finding, Severity

    bad = replace(outcome, findings=(Finding("seam", "The side seam does not sew.", Severity.STOP),))
    with pytest.raises(SewError, match="not laid"):
        lay_outcomes([bad], seconds=0.0, pack=quick)


def test_no_make_file_at_all():
    with pytest.raises(InputError):
        lay_make([])


def test_the_command_writes_what_it_prints(table, tmp_path):
    done = subprocess.run([sys.executable, "-m", "toilewright", "lay", str(table / demo.MAKE), "--width", "140cm",
                           "--fold", "lengthwise", "--out", str(tmp_path / "out"), "--seconds", "0", "--json"],
                          capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert {p.name for p in (tmp_path / "out").iterdir()} == set(FILES)
    assert json.loads(done.stdout) == json.loads((tmp_path / "out" / "lay.json").read_text(encoding="utf-8"))


def test_a_slip_at_the_command_is_one_sentence_and_writes_nothing(table, tmp_path):
    done = subprocess.run([sys.executable, "-m", "toilewright", "lay", str(table / demo.MAKE), "--width", "5cm",
                           "--out", str(tmp_path / "out")], capture_output=True, text=True, check=False)
    assert done.returncode == 2 and len(done.stderr.strip().splitlines()) == 1
    assert not (tmp_path / "out").exists()


def test_upper_layers_come_before_lower_ones(laying):
    for lay in laying.lays:
        for before, after in zip(lay.laid, lay.laid[1:], strict=False):
            if after.layer is Layer.LOWER:
                assert before.layer is Layer.UPPER and before.at == after.at


def test_a_piece_too_wide_for_the_last_cloth_is_told_before_the_first_is_searched(outcome):
    from toilewright.make.recipe_cloth import read_cloths

    rows = [{"use": "self", "width": "142 cm"}, {"use": "contrast", "width": "20 cm", "pieces": ["bodice front"]}]
    make = replace(outcome.sized.make, cloths=read_cloths({"cloth": rows}, "cm", "a test"))
    asked = replace(small(outcome), sized=replace(outcome.sized, make=make))
    with pytest.raises(InputError, match=r'"bodice front".*wide'):
        lay_outcomes([asked], seconds=1.0, pack=lambda *_, **__: pytest.fail("a cloth was searched"))
