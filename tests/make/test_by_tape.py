"""Tissue measured with a tape: the stand-in has its lengths, and what is worked out is as with drawn pieces."""

import json
from dataclasses import replace

import pytest

from toilewright.blocks.concert import concert_dress
from toilewright.body.tape import body_of as sheet_of
from toilewright.cli import main
from toilewright.errors import InputError
from toilewright.fit.alterations import alter
from toilewright.fit.ease import measure_ease
from toilewright.fit.flat import flat_of
from toilewright.fit.levels import upright
from toilewright.fit.prescribe import prescribe
from toilewright.make.by_tape import read_by_tape
from toilewright.make.flat_sheet import read_flat_sheet
from toilewright.make.keeping import pack_reading, unpack_reading
from toilewright.make.reading import read_pattern
from toilewright.make.stand_in import stand_in
from toilewright.make.takings import guide_of, takings_on
from toilewright.make.tissue_kinds import KINDS, find_kind
from toilewright.output.tape_on_tissue import tape_runs
from toilewright.pattern.walk import walk

KIND_NAMES = [k.name for k in KINDS]
ALTO = {"stature": 1660, "bust girth": 955, "upper bust girth": 900, "waist girth": 785, "hip girth": 1020,
        "back neck point to waist": 430, "neck shoulder point to bust point": 291, "neck shoulder point to waist": 450,
        "bust point width": 200, "across back width": 362, "shoulder length": 125, "upper arm girth": 295,
        "waist to hip": 208, "neck shoulder point to waist back": 434}


def taken_off(garment, kind, allowance=0.0, without=()):
    """What a patient woman would write down: every taking of the kind, off drawn pieces, in cm."""
    block, flat = kind.block(), flat_of(garment).lengths
    rows = {}
    for makes in dict.fromkeys(t.makes for t in takings_on(block)):
        parts = [t for t in takings_on(block) if t.makes == makes]
        if makes not in flat or makes in without:
            continue
        for part in parts:
            share = flat[makes].value / part.times / len(parts)
            rows[part.name] = round((share + part.cut_edges(block) * allowance) / 10, 3)
    return rows


def written(path, kind, rows, more="", allowances="none", size="5"):
    lines = "".join(f'"{name}" = {value}\n' for name, value in rows.items())
    path.write_text(f'garment = "{kind}"\nsize = "{size}"\nallowances = "{allowances}"\n[lengths]\n{lines}{more}',
                    encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def dress():
    """The choir's dress in size 5, as far as a dress goes."""
    garment = concert_dress().at("5")
    names = {p.name for p in find_kind("dress", "").block().pieces}
    return replace(garment, pieces=tuple(p for p in garment.pieces if p.name in names), seams=())


@pytest.fixture
def flat_sheet(dress, tmp_path):
    return written(tmp_path / "envelope.toml", "dress", taken_off(dress, find_kind("dress", "")))


# -- the round trip ----------------------------------------------------------------------------------


def test_the_stand_in_has_every_length_that_was_taken(dress, flat_sheet):
    found = stand_in(read_flat_sheet(flat_sheet))
    drawn, bare = flat_of(dress).lengths, flat_of(replace(found.garment, taken=None)).lengths
    assert len(read_flat_sheet(flat_sheet).lengths) >= 22 and not found.apart
    for name in read_flat_sheet(flat_sheet).lengths:
        assert bare[name].value == pytest.approx(drawn[name].value, abs=1.0), name
        assert flat_of(found.garment).lengths[name].value == pytest.approx(drawn[name].value, abs=0.06), name
    assert all(w.sews for w in walk(found.garment))


def test_ease_and_amounts_are_those_of_the_drawn_pattern(dress, flat_sheet):
    body = sheet_of("the alto", ALTO)
    by_tape = read_by_tape(flat_sheet).pattern.garments[0]
    drawn = {e.place: e for e in measure_ease(dress, body)}
    for row in measure_ease(by_tape, body):
        assert row.ease.value == pytest.approx(drawn[row.place].ease.value, abs=0.1), row.place
        assert row.garment.spread >= 2.0 > drawn[row.place].garment.spread or row.place == "bust"
    asked, told = ({(p.name, *sorted(p.options.items())): p for p in prescribe(g, body) if p.worth_doing}
                   for g in (dress, by_tape))
    assert set(told) == set(asked) and len(told) >= 2
    for name, one in told.items():
        assert one.amount.value == pytest.approx(asked[name].amount.value, abs=one.amount.spread), name


def test_allowances_are_taken_off_where_the_tape_runs_over_them(dress, tmp_path):
    kind = find_kind("dress", "")
    plain = read_flat_sheet(written(tmp_path / "a.toml", "dress", taken_off(dress, kind)))
    wide = read_flat_sheet(written(tmp_path / "b.toml", "dress", taken_off(dress, kind, 15.0), allowances="15 mm"))
    for name, known in plain.lengths.items():
        assert wide.lengths[name].value == pytest.approx(known.value), name
    assert taken_off(dress, kind, 15.0)["bust front"] == pytest.approx(taken_off(dress, kind)["bust front"] + 1.5)
    assert taken_off(dress, kind, 15.0)["upper arm"] == pytest.approx(taken_off(dress, kind)["upper arm"] + 3.0)


@pytest.mark.parametrize("kind", KIND_NAMES)
@pytest.mark.parametrize("size", ["1", "10"])
def test_every_kind_goes_there_and_back(kind, size, tmp_path):
    block = find_kind(kind, "").block(size)
    path = written(tmp_path / "x.toml", kind, taken_off(block, find_kind(kind, "")))
    found = stand_in(read_flat_sheet(path))
    drawn, bare = flat_of(block).lengths, flat_of(replace(found.garment, taken=None)).lengths
    assert not found.apart
    for name in read_flat_sheet(path).lengths:
        assert bare[name].value == pytest.approx(drawn[name].value, abs=1.0), name


def test_tissue_shaped_otherwise_than_our_block_is_counted_as_it_is(dress, tmp_path):
    rows = taken_off(dress, find_kind("dress", ""))
    rows["armhole front"] += 1.2
    rows["armhole back"] -= 1.0
    reading = read_by_tape(written(tmp_path / "x.toml", "dress", rows))
    flat = flat_of(reading.pattern.garments[0]).lengths
    assert flat["armhole front"].value == pytest.approx(10 * rows["armhole front"], abs=0.01)
    assert flat["armhole back"].value == pytest.approx(10 * rows["armhole back"], abs=0.01)
    assert {"shaped-otherwise"} <= {f.code for f in reading.findings}


def test_what_an_alteration_changes_is_read_on_top(flat_sheet):
    garment = read_by_tape(flat_sheet).pattern.garments[0]
    body = sheet_of("the alto", ALTO)
    order = next(p.order for p in prescribe(garment, body) if p.name == "bust dart height" and p.worth_doing)
    was, now = (flat_of(g).lengths["neck point to dart point"] for g in (garment, alter(garment, [order]).garment))
    assert now.value - was.value == pytest.approx(order.amount.value, abs=3.0) and now.spread == was.spread == 2.0


# -- what was not taken ------------------------------------------------------------------------------

FEW = {"bust front": 26.2, "bust back": 25.2, "waist front": 20.9, "waist back": 19.9, "neck point to dart point": 27.7,
       "dart point to centre": 12.4, "centre back length": 41.6}


def test_what_was_not_taken_is_said_and_nothing_is_read_off_it(tmp_path):
    reading = read_by_tape(written(tmp_path / "x.toml", "dress", FEW))
    garment = reading.pattern.garments[0]
    lengths = flat_of(garment).lengths
    assert set(lengths) == {"bust", "waist", "neck point to dart point", "dart point to centre", "centre back length",
                            "neck point to bust point", "bust point to centre"}
    # The bust point is told by its dart alone, so it is less sure.
    assert lengths["neck point to bust point"].spread > 5.0 > lengths["neck point to dart point"].spread
    said = {f.code: f.text for f in reading.findings}
    assert "across back width" in said["by-block"] and "one-size" in said
    assert "pieces are not printed" in said["stand-in"]
    assert not garment.has("sleeve")


def test_the_envelopes_chart_gives_its_sizes_and_what_was_not_taken(tmp_path):
    chart = '[chart]\nsizes = [4, 5, 6]\nbust = [90, 94.5, 99]\nwaist = [72, 77, 82]\nhip = ["96", "100,2", "104.6"]\n'
    reading = read_by_tape(written(tmp_path / "x.toml", "dress", FEW, chart))
    pattern = reading.pattern
    assert pattern.sizes == ("4", "5", "6") and pattern.chart.value("hip girth", "5") == 1002
    small, own, large = (flat_of(g).lengths for g in pattern.garments)
    assert own["bust"].value == pytest.approx(1028, abs=0.1)
    assert small["bust"].value == pytest.approx(1028 - 45, abs=1.5)
    assert large["bust"].value == pytest.approx(1028 + 45, abs=1.5)
    assert small["centre back length"].value < own["centre back length"].value < large["centre back length"].value
    assert "hip girth" in next(f.text for f in reading.findings if f.code == "by-chart")
    assert unpack_reading(pack_reading(reading)) == reading and read_pattern(tmp_path / "x.toml").by_tape


def test_of_a_wrap_its_overlap_is_what_was_taken(tmp_path):
    block = find_kind("wrap skirt", "").block()
    rows = taken_off(block, find_kind("wrap skirt", ""))
    rows |= {"beyond the centre at waist": 12.0, "beyond the centre at hip": 9.0, "beyond the centre at knee": 2.0}
    garment = read_by_tape(written(tmp_path / "x.toml", "wrap skirt", rows)).pattern.garments[0]
    bare = flat_of(replace(garment, taken=None)).lengths
    assert [bare[f"overlap at {w}"].value for w in ("waist", "hip", "knee")] == pytest.approx([240, 180, 40], abs=0.5)


# -- the commands ------------------------------------------------------------------------------------


def run(capsys, *words):
    with pytest.raises(SystemExit) as left:
        main([str(w) for w in words])
    return left.value.code, capsys.readouterr().out


def test_size_fit_and_make_work_and_no_piece_is_printed(flat_sheet, tmp_path, capsys):
    lines = "".join(f'"{n}" = "{v} mm"\n' for n, v in ALTO.items())
    (tmp_path / "alto.toml").write_text(f'waist_place = "natural"\n[measures]\n{lines}', encoding="utf-8")
    (tmp_path / "make.toml").write_text('pattern = "envelope.toml"\ntape = "alto.toml"\n[[alteration]]\n'
                                        'name = "bust dart height"\n', encoding="utf-8")
    code, said = run(capsys, "size", tmp_path / "make.toml", "--json")
    assert not code and json.loads(said)["sizes"]["chosen"] == {"all": "5"}
    code, said = run(capsys, "fit", tmp_path / "make.toml", "--json")
    assert not code and any(p["worth_doing"] for p in json.loads(said)["prescriptions"])
    code, _ = run(capsys, "make", tmp_path / "make.toml", "--out", tmp_path / "out")
    assert not code and {p.name for p in (tmp_path / "out").iterdir()} == {"result.json", "cards.pdf", "summary.pdf"}
    told = json.loads((tmp_path / "out" / "result.json").read_text(encoding="utf-8"))
    assert "stand-in" in {f["code"] for f in told["findings"]} and told["alterations"][0]["amount_mm"] > 5
    code, said = run(capsys, "read", flat_sheet)
    assert not code and "pieces are not printed" in " ".join(said.split())


@pytest.mark.parametrize("kind", KIND_NAMES)
def test_the_guide_and_an_empty_sheet_that_is_never_written_over(kind, tmp_path, capsys):
    code, said = run(capsys, "tissue", kind, "--out", tmp_path / "t", "--json")
    told = json.loads(said)
    assert not code and (tmp_path / "t" / "tissue-guide.pdf").read_bytes().startswith(b"%PDF")
    assert [r["number"] for r in told["lengths"]] == list(range(1, len(told["lengths"]) + 1))
    sheet = tmp_path / "t" / "flat-sheet.toml"
    empty = sheet.read_text(encoding="utf-8")
    block = find_kind(kind, "").block()
    rows = taken_off(block, find_kind(kind, ""))
    filled = empty.replace('"?"', '"14"').replace("15 mm", "none")
    for name, value in rows.items():
        assert f'# "{name}" =' in filled
        filled = filled.replace(f'# "{name}" =', f'"{name}" = {value}')
    sheet.write_text(filled, encoding="utf-8")
    assert len(read_flat_sheet(sheet).lengths) == len({r.makes for r in takings_on(block)})
    code, said = run(capsys, "tissue", kind, "--out", tmp_path / "t")
    assert not code and sheet.read_text(encoding="utf-8") == filled and "left alone" in said


@pytest.mark.parametrize("kind", KIND_NAMES)
def test_the_tape_is_drawn_where_it_reads_what_is_counted(kind):
    block = find_kind(kind, "").block("4")
    flat, drawn = flat_of(block).lengths, {}
    for taking in takings_on(block):
        for piece in taking.on(block):
            long = sum(run.length for run in tape_runs(upright(piece), taking.run))
            drawn[taking.makes] = drawn.get(taking.makes, 0.0) + taking.times * long
    for name, value in drawn.items():
        # An open bust dart is crossed by the tape and pinned shut for the sum.
        pinned = 20.0 if name == "bust" and any(p.darts_on("side seam") for p in block.pieces) else 1.0
        assert 0 <= value - flat[name].value + 0.01 <= pinned, name
    assert all(page.rows for page in guide_of(block))


# -- slips of the pen --------------------------------------------------------------------------------


@pytest.mark.parametrize(("change", "said"), [
    ({"garment": '"coat"'}, 'no kind of garment called "coat"'),
    ({"garment": '""'}, "does not say what it is of"),
    ({"size": '""'}, "does not say along the lines of which size"),
    ({"size": '"?"'}, "does not say along the lines of which size"),
    ({"allowances": '"15 cm"'}, "tissue has 0 to"),
    ({"allowances": '"wide"'}, 'or "none"'),
    ({"rows": {"bust frnt": 26.0}}, 'did you mean "bust front"'),
    ({"rows": {"bust front": 26.0, "waist front": 20.0}}, '"bust front" but not "bust back"'),
    ({"rows": {"waist front": 20.0, "waist back": 19.0}}, 'lacks "bust front"'),
    ({"rows": {"bust front": 262.0, "bust back": 252.0}}, '"bust" of flat sheet "x.toml" comes to 1028.0 cm'),
    ({"rows": {"bust front": "wide", "bust back": 25.0}}, '"bust front" of flat sheet "x.toml"'),
    ({"rows": {**FEW, "bust": 102.0}}, 'gives "bust" and also "bust front"'),
    ({"rows": {**FEW, "centre back length": 12.0}}, "do not go together"),
    ({"more": "[chart]\nbust = [90]\n"}, "should begin with its sizes"),
    ({"more": "[chart]\nsizes = [3, 4]\nbust = [86, 90]\n"}, "the tape lay on size 5"),
    ({"more": "[chart]\nsizes = [4, 5]\nbust = [90]\n"}, "one value for each of the 2 sizes"),
    ({"more": "[chart]\nsizes = [4, 5]\nbust = [94, 90]\n"}, "smallest size first"),
    ({"more": "[chart]\nsizes = [4, 5]\nbust = [9, 10]\n"}, "which no body has"),
    ({"more": "[chart]\nsizes = [4, 5]\nbost = [90, 94]\n"}, 'no measure called "bost"'),
])
def test_slips_are_told_in_one_sentence(change, said, tmp_path):
    given = {"garment": '"dress"', "size": '"5"', "allowances": '"none"', "rows": FEW, "more": ""} | change
    rows = "".join(f'"{n}" = {json.dumps(v)}\n' for n, v in given["rows"].items())
    head = "".join(f"{key} = {given[key]}\n" for key in ("garment", "size", "allowances"))
    (tmp_path / "x.toml").write_text(f"{head}[lengths]\n{rows}{given['more']}", encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_by_tape(tmp_path / "x.toml")
    assert said in str(caught.value) and "\n" not in str(caught.value) and str(caught.value).endswith((".", "?"))
