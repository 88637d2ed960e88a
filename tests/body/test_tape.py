"""The tape sheet: what is read, and one clear sentence for each slip."""

import pytest

from toilewright.body import body_of, read_tape
from toilewright.errors import FileError, InputError, NameUnknown, UnitError
from toilewright.known import Origin

SHEET = """
name = "Alto, second row"
date = 2025-03-01
unit = "cm"
waist_place = "natural"
posture = ["rounded just under the neck", "shoulders forward"]

[measures]
bust = "96,5 cm"
upper_bust = 91
"round the hips" = '41 1/2"'
waist = 78.5
"nape to waist" = "42.5"
"shoulder slope" = 21

[left]
"upper arm" = 30.5
[right]
"upper arm" = 31.5

[[alteration]]
name = "high round back"
amount = "auto"
[[alteration]]
name = "forward shoulder"
amount = "3/8 in"
piece = "bodice back"
takes_up = "ease"
"""


def sheet(tmp_path, text, name="alto.toml"):
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return path


def test_a_whole_sheet(tmp_path):
    body = read_tape(sheet(tmp_path, SHEET))
    assert (body.name, body.date, body.unit, body.waist_place) == ("Alto, second row", "2025-03-01", "cm", "natural")
    bust = body.get("bust girth")
    assert (bust.value, bust.origin, bust.spread) == (965.0, Origin.MEASURED, 9.0)
    assert body.get("hips").value == pytest.approx(41.5 * 25.4)
    assert body.get("shoulder slope").value == 21.0
    assert body.get("upper arm girth").value == 310.0
    assert body.on_side("upper arm", "left").value == 305.0 and body.on_side("bust", "left").value == 965.0
    assert body.get("stature") is None
    back, shoulder = body.alterations
    assert (back.name, back.amount) == ("high round back", None)
    assert shoulder.amount == pytest.approx(9.525) and shoulder.options == {
        "piece": "bodice back", "takes up": "ease"}
    assert body.posture[1] == "shoulders forward" and body.findings == ()


def test_inches_by_default(tmp_path):
    body = read_tape(sheet(tmp_path, 'unit = "in"\nwaist_place="navel"\n[measures]\nbust = 36.5\nwaist = "28 1/2"\n'))
    assert body.get("bust").value == pytest.approx(36.5 * 25.4)
    assert body.get("waist").value == pytest.approx(28.5 * 25.4)
    assert body.name == "alto"


def test_which_waist_is_asked(tmp_path):
    (finding,) = read_tape(sheet(tmp_path, "[measures]\nwaist = 78\n")).findings
    assert finding.code == "which-waist"
    assert all(place in finding.text for place in ("natural", "half-way", "navel"))


@pytest.mark.parametrize(("text", "kind", "words"), [
    ("[measures]\nwaste = 78\n", NameUnknown, 'did you mean "waist"'),
    ('[measures]\nwaist = "720 cm"\n', InputError, "probably 720 mm = 72.0 cm"),
    ('[measures]\nwaist = "78 ells"\n', UnitError, '"ells" is not a unit'),
    ('unit = "ell"\n[measures]\nwaist = 78\n', UnitError, '"ell" is not a unit'),
    ("[measures]\nbust = 90\nwaist = 78 cm\n", FileError, "line 3"),
    ("[measures]\nbust = \n", FileError, "line 2"),
    ("[measures]\nbust = [", FileError, "line 2"),
    ("[measures]\nbust = 80\nunderbust = 90\n", InputError, "under-bust girth"),
    ("[measures]\nbust = 80\nchest = 82\n", InputError, "twice"),
    ("[measures]\n'neck to bust' = 44\n'front length' = 42\n", InputError, "above the waist"),
    ("[mesures]\nbust = 80\n", NameUnknown, 'did you mean "measures"'),
    ("measures = 5\n", InputError, "should be a table"),
    ("name = 5\n[measures]\nbust=80\n", InputError, "quotation marks"),
    ("waist_place = 'belly'\n[measures]\nbust=80\n", InputError, "three waists"),
    ("posture = [1]\n[measures]\nbust=80\n", InputError, "list of notes"),
    ("date = 5\n[measures]\nbust=80\n", InputError, "should be a day"),
    ("name = 'x'\n", InputError, "no measures"),
    ("[measures]\nbust = 1" + "0" * 400 + "\n", UnitError, "bust girth"),
    ("[measures]\n'shoulder slope' = 1" + "0" * 400 + "\n", InputError, "not an angle"),
    ("[measures]\n'shoulder slope' = nan\n", InputError, "shoulder slope"),
    ("[measures]\nbust = true\n", UnitError, "bust girth"),
    ("[measures]\nbust = [80]\n", UnitError, "bust girth"),
    ("[measures]\nbust=80\n[[alteration]]\namount = 1\n", InputError, "no name"),
    ("[measures]\nbust=80\n[[alteration]]\nname='x'\namount = 'much'\n", UnitError, 'alteration "x"'),
    ("alteration = 3\n[measures]\nbust=80\n", InputError, "[[alteration]]"),
])
def test_each_slip_gets_one_sentence(tmp_path, text, kind, words):
    with pytest.raises(kind) as caught:
        read_tape(sheet(tmp_path, text))
    assert words in str(caught.value) and "\n" not in str(caught.value)


def test_a_file_that_is_no_sheet(tmp_path):
    with pytest.raises(FileError, match="There is no tape sheet"):
        read_tape(tmp_path / "nobody.toml")
    (tmp_path / "picture.toml").write_bytes(b"\xff\xd8\xff\xe0")
    with pytest.raises(FileError, match="not plain text"):
        read_tape(tmp_path / "picture.toml")
    with pytest.raises(FileError, match="larger than one megabyte"):
        read_tape(sheet(tmp_path, "#" * 1_000_001))
    with pytest.raises(FileError):
        read_tape(sheet(tmp_path, "a = " + "[" * 100_000))
    with pytest.raises(FileError, match="no file"):
        read_tape(tmp_path)
    with pytest.raises(FileError, match="far too long"):
        read_tape(sheet(tmp_path, "[measures]\nwaist = " + "9" * 5000))


def test_odd_but_possible_bodies_are_read_and_told():
    body = body_of("x", {"waist": 1100, "hip": 1050, "bust": 1000, "upper bust": 1005}, waist_place="natural")
    assert [f.code for f in body.findings] == ["measures-odd"] * 2
    assert "waist girth" in body.findings[0].text


def test_a_difference_within_the_tape_is_no_contradiction():
    assert body_of("x", {"bust": 800, "under bust": 805}).findings == ()
