"""What to buy for a make: a checked lay for every width, beside the envelope's figure."""

import json
import tomllib
from dataclasses import replace

import pytest

from toilewright import demo
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.body.tape import body_of
from toilewright.cli import main
from toilewright.cutting.cloth import Fold
from toilewright.cutting.requirement import SoldBy, requirement
from toilewright.cutting.yardage import by_chart
from toilewright.errors import InputError, NameUnknown, UnitError
from toilewright.make.buying import buy_outcomes, widths_for
from toilewright.make.buying_result import buying_result
from toilewright.make.buying_tell import lines_of
from toilewright.make.cloth_wish import ClothWish
from toilewright.make.outcome import make_up, size_up
from toilewright.make.reading import Reading
from toilewright.make.recipe import Make
from toilewright.make.recipe_cloth import read_cloths
from toilewright.output.printed_pattern import print_pattern

MEASURES = {"bust": 955.0, "high_bust": 900.0, "waist": 785.0, "hip": 1020.0}
TAPE = 'name = "the alto"\n[measures]\nbust = 95.5\nhigh_bust = 90\nwaist = 78.5\nhip = 102\n'


def cloths(text, unit="cm"):
    return read_cloths(tomllib.loads(text), unit, "a make")


@pytest.fixture(scope="module")
def tunic():
    reading = Reading(None, None, choir_tunic(), (), True)  # the pieces are at hand, no sheet is looked at
    outcome = make_up(size_up(Make("Tunic", size="5", standing=False), body_of("an alto", MEASURES), reading))

    def with_cloth(text="", unit="cm", **more):
        made = replace(outcome.sized.make, cloths=cloths(text, unit), unit=unit, **more)
        return [replace(outcome, sized=replace(outcome.sized, make=made))]
    return with_cloth


ONE = '[[cloth]]\nfold = "lengthwise"\n'


def test_every_width_has_a_checked_lay_and_what_to_buy(tunic):
    told = []
    buying = buy_outcomes(tunic(ONE + 'shrinkage = ["4 %", "2 %"]\nmargin = "10 cm"\n'), ["90cm", "140 cm"], 0.0,
                          tell=lambda what, done: told.append((what, done)))
    (cloth,) = buying.cloths
    assert cloth.use == "self" and [o.width for o in cloth.offers] == [900, 1400]
    assert dict(cloth.pieces) == {"bodice front": 1, "bodice back": 2, "sleeve": 2, "collar": 2}
    for offer in cloth.offers:
        assert offer.lay.certificate.passed and offer.lay.cloth.fold is not Fold.OPEN and offer.quick
        assert offer.cloth.width == pytest.approx(offer.width * 0.98 - 20)
        assert offer.need == requirement(offer.lay.length, 0.04, 50.0, 100.0)
        assert offer.buy == offer.need.bought(SoldBy.METRE)
    assert [round(done, 2) for _, done in told] == [0.0, 0.5] and "self, 90.0 cm wide" in told[0][0]
    assert any("quick" in note for note in buying.notes)
    assert buying.notions[0].name == "thread" and buying.before


def test_a_width_too_narrow_is_laid_with_joins_and_told(tunic):
    buying = buy_outcomes(tunic(ONE), ["50 cm", "140 cm"], 0.0)
    narrow, wide = buying.cloths[0].offers
    assert narrow.lay.certificate.passed and narrow.lay.cloth.width == 480.0 and not wide.joins
    (front,) = narrow.joins
    assert (front.make, front.piece, front.parts) == ("", "bodice front", 2)
    laid = [one.piece for one in narrow.lay.laid if one.piece.name == "bodice front"]
    assert len(laid) == 2 and not any(piece.on_fold for piece in laid)
    row, other = buying_result(buying)["cloths"][0]["widths"]
    assert row["joins"] == [{"make": "", "piece": "bodice front", "parts": 2}] and other["joins"] == []
    assert any("50.0 cm is too narrow for all pieces" in line and "bodice front in 2 parts" in line
               for line in lines_of(buying.cloths[0], "cm"))


def test_a_width_for_which_no_join_helps_names_the_piece(tunic):
    buying = buy_outcomes(tunic(ONE + 'selvedge = "5 cm"\n'), ["20 cm", "140 cm"], 0.0)
    narrow, wide = buying.cloths[0].offers
    assert '"bodice front"' in narrow.refused and narrow.lay is None and narrow.buy is None
    assert buying.cloths[0].cheapest is wide
    row = buying_result(buying)["cloths"][0]["widths"][0]
    assert row["fits"] is False and row["refused"] == narrow.refused and "buy_mm" not in row


def test_the_envelope_stands_beside_by_its_own_figure_or_by_the_chart(tunic):
    text = ONE + 'envelope = { "140 cm" = "2.2 m" }\nprices = { "140 cm" = 10, "90 cm" = 8 }\nweight = 150\n'
    buying = buy_outcomes(tunic(text), (), 0.0)
    narrow, wide = buying.cloths[0].offers  # the widths that have a price are those on sale
    assert wide.envelope.length == 2200 and wide.envelope.width is None
    assert wide.saved == 2200 - wide.buy and wide.money_saved == pytest.approx(wide.saved / 100)
    assert narrow.envelope.width == 1400 and narrow.envelope.length == by_chart(2200, 1400, 900)
    assert any("chart" in note for note in buying.notes) and buying.cloths[0].by_price
    result = buying_result(buying)["cloths"][0]
    assert result["compared_by"] == "price" and result["widths"][0]["envelope_by_chart_from_mm"] == 1400
    assert result["cheapest_width_mm"] == min((narrow, wide), key=lambda o: o.cost).width
    assert result["widths"][1]["weight_g"] == pytest.approx(wide.buy / 1000 * 1.4 * 150, abs=0.1)


def test_the_lay_of_the_lay_command_is_as_long_as_what_is_bought_holds(tunic):
    """Read back from the result: washed and squared, what is bought is no shorter than the lay."""
    buying = buy_outcomes(tunic(ONE + 'shrinkage = ["7 %", "0"]\n'), ["150 cm"], 0.0)
    row = buying_result(buying)["cloths"][0]["widths"][0]
    assert row["buy_mm"] * 0.93 - 50 >= row["lay_mm"] and row["buy_mm"] % 100 == 0
    assert row["buy_by_yard_mm"] * 0.93 - 50 >= row["lay_mm"]
    assert json.dumps(row)


def test_matched_stripes_take_a_repeat_more(tunic):
    text = ONE + 'repeat = { along = "5 cm" }\n'
    plain = buy_outcomes(tunic(text), ["140 cm"], 0.0).cloths[0]
    assert plain.offers[0].need.start == 0 and any("where it shall meet" in n for n in plain.notes)
    met = buy_outcomes(tunic(text + 'match = ["side seam"]\n'), ["140 cm"], 0.0).cloths[0]
    assert met.offers[0].need.start == 50 and any("one repeat is added" in n for n in met.notes)


@pytest.mark.parametrize(("length", "said"), [("5 m", "that is enough"), ("1 m", "are missing")])
def test_cloth_that_is_there_is_compared(tunic, length, said):
    buying = buy_outcomes(tunic(ONE + f'width = "140 cm"\nlength = "{length}"\n'), ["140 cm"], 0.0)
    assert any(said in note and length.replace(" m", ".0 m") in note for note in buying.cloths[0].notes)
    assert buying.cloths[0].offers[0].lay is not None  # a short piece does not stop the sum


def test_a_strip_over_the_edge_of_the_table_says_how_stiff_it_is(tunic):
    buying = buy_outcomes(tunic(ONE + 'overhang = "4 cm"\nweight = 150\n'), ["140 cm"], 0.0)
    assert any("bending length of 2.0 cm and 12.4 micronewton metres. It is neither" in note
               for note in buying.cloths[0].notes), buying.cloths[0].notes


def test_a_remnant_is_told_to_be_laid(tunic):
    text = ONE + 'outline = [["0", "0"], ["2 m", "0"], ["2 m", "1 m"], ["0", "1.2 m"]]\n'
    buying = buy_outcomes(tunic(text), ["140 cm"], 0.0)
    assert any("toilewright lay" in note for note in buying.cloths[0].notes)
    assert buying.cloths[0].offers[0].cloth.outline is None


def test_each_cloth_has_its_own_rows_and_pieces(tunic):
    text = ONE + '[[cloth]]\nuse = "contrast"\nfold = "open"\npieces = ["collar"]\n'
    buying = buy_outcomes(tunic(text), ["90cm"], 0.0)
    assert [(c.use, dict(c.pieces)) for c in buying.cloths] == [
        ("self", {"bodice front": 1, "bodice back": 2, "sleeve": 2}), ("contrast", {"collar": 2})]


def test_two_makes_in_one_lay(tunic):
    buying = buy_outcomes([*tunic(ONE), *tunic()], ["140cm"], 0.0)
    assert dict(buying.cloths[0].pieces)["collar (Tunic (1))"] == 2 and len(buying.cloths[0].pieces) == 8
    alone = buy_outcomes(tunic(ONE), ["140cm"], 0.0)
    assert alone.cloths[0].offers[0].need.lay < buying.cloths[0].offers[0].need.lay


def test_in_inches_it_is_sold_by_the_yard(tunic):
    buying = buy_outcomes(tunic('[[cloth]]\nfold = "lengthwise"\nprice = 9\n', "in"), ["45"], 0.0)
    offer = buying.cloths[0].offers[0]
    assert offer.width == pytest.approx(45 * 25.4) and offer.buy % 114.3 == pytest.approx(0, abs=1e-6)
    assert offer.cost == pytest.approx(offer.buy / 914.4 * 9)
    assert buying_result(buying)["cloths"][0]["widths"][0]["buy"].endswith(" yd")


def test_stopped_it_tells_what_was_laid(tunic):
    asked = iter([False, True])
    buying = buy_outcomes(tunic(ONE), ["90cm", "140cm"], 0.0, stop=lambda: next(asked, True))
    assert [o.width for o in buying.cloths[0].offers] == [900]
    with pytest.raises(InputError, match="stopped before"):
        buy_outcomes(tunic(ONE), ["90cm"], 0.0, stop=lambda: True)


@pytest.mark.parametrize(("widths", "seconds", "error", "said"), [
    (["5 cm"], 0, InputError, "5 cm"), (["wide"], 0, UnitError, "cannot be read"),
    (["90cm"], -1, InputError, "seconds"), (["90cm"], float("nan"), InputError, "seconds")])
def test_slips(tunic, widths, seconds, error, said):
    with pytest.raises(error, match=said):
        buy_outcomes(tunic(ONE), widths, seconds)


def test_a_piece_that_is_not_there(tunic):
    with pytest.raises(NameUnknown, match='did you mean "collar"'):
        buy_outcomes(tunic(ONE + 'pieces = ["colar"]\n'), ["90cm"], 0.0)


def test_the_widths_that_are_looked_at():
    assert widths_for(ClothWish(), (), "cm") == (900, 1100, 1150, 1400, 1500, 1600)
    assert [round(w / 25.4) for w in widths_for(ClothWish(), (), "in")] == [36, 45, 54, 60]
    assert widths_for(ClothWish(), ["140", "55 in", "90"], "cm") == (900, 1400)  # 55 in is 139.7 cm
    (own,) = cloths('[[cloth]]\nwidth = "112 cm"\nenvelope = { "120 cm" = "2 m" }\n')
    assert widths_for(own, (), "cm") == (900, 1120, 1150, 1200, 1400, 1500, 1600)
    (priced,) = cloths('[[cloth]]\nwidth = "112 cm"\nprices = { "140 cm" = 3 }\n')
    assert widths_for(priced, (), "cm") == (1120, 1400)


# -- from a shell ------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    place = tmp_path_factory.mktemp("buying")
    print_pattern(choir_tunic(), place / "tunic.pdf", "sheet")
    (place / "alto.toml").write_text(TAPE, encoding="utf-8")
    (place / "tunic.toml").write_text(
        'pattern = "tunic.pdf"\ntape = "alto.toml"\nsize = "5"\n' + ONE
        + 'price = 12\nenvelope = { "140 cm" = "2,5 m" }\n', encoding="utf-8")
    return place


def test_the_command_tells_writes_and_answers(folder, capsys):
    words = ["cloth", str(folder / "tunic.toml"), "--widths", "140cm", "40 cm", "--seconds", "0", "--out",
             str(folder / "out")]
    with pytest.raises(SystemExit) as end:
        main([*words, "--json"])
    assert not end.value.code
    result = json.loads(capsys.readouterr().out)
    assert [(row["fits"], bool(row["joins"])) for row in result["cloths"][0]["widths"]] == [(True, True), (True, False)]
    assert json.loads((folder / "out" / "cloth.json").read_text(encoding="utf-8")) == result
    with pytest.raises(SystemExit):
        main(words)
    said = capsys.readouterr().out
    for part in ("140.0 cm *", "2.5 m", "costs least", "is too narrow", "thread", "Press it", "How sure"):
        assert part in said, part


def test_tissue_has_the_envelopes_figure_in_other_widths(tmp_path, capsys):
    (tmp_path / "alto.toml").write_text(demo.TAPE_SHEET, encoding="utf-8")
    (tmp_path / "flat.toml").write_text(
        'garment = "dress"\nsize = "5"\nallowances = "none"\n[lengths]\n"bust front" = 26\n"bust back" = 27\n',
        encoding="utf-8")
    make = tmp_path / "dress.toml"
    make.write_text('pattern = "flat.toml"\ntape = "alto.toml"\nsize = "5"\n[[cloth]]\n'
                    'envelope = { "115 cm" = "2.3 m" }\n', encoding="utf-8")
    with pytest.raises(SystemExit):
        main(["cloth", str(make), "--widths", "115cm", "150cm", "--json"])
    result = json.loads(capsys.readouterr().out)
    own, wider = result["cloths"][0]["widths"]
    assert (own["envelope_mm"], own["envelope_by_chart_from_mm"], own["fits"]) == (2300, None, False)
    assert wider["envelope_mm"] == pytest.approx(by_chart(2300, 1150, 1500), abs=1e-3) and wider["envelope_mm"] < 2300
    assert "chart" in result["notes"][0]
    make.write_text(make.read_text(encoding="utf-8").split("[[cloth]]")[0], encoding="utf-8")
    with pytest.raises(SystemExit) as end:
        main(["cloth", str(make)])
    assert end.value.code == 2 and "write what the envelope asks for" in capsys.readouterr().err
