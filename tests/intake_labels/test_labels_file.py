"""The labels file: round trip, and one clear sentence for every slip."""

import re

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from raw_builders import raw_pattern

from toilewright.blocks.chart import CHART
from toilewright.blocks.concert import concert_dress
from toilewright.errors import FileError, InputError, NameUnknown
from toilewright.intake.label_types import EdgeLabel, Labels, PieceLabel, SeamLabel
from toilewright.intake.labels import guess_labels, read_labels, write_labels
from toilewright.pattern import BodyChart, Cut, EdgeKind, EdgeRef, Pattern, Seam

DRESS = concert_dress()
SMALL = raw_pattern(Pattern(DRESS.name, ("3",), (DRESS.at("3"),)))


def text_of(tmp_path):
    file = tmp_path / "labels.toml"
    write_labels(guess_labels(SMALL), file)
    return file, file.read_text(encoding="utf-8")


def test_guesses_come_back_as_written(tmp_path):
    labels = guess_labels(raw_pattern(DRESS))
    write_labels(labels, tmp_path / "labels.toml")
    assert read_labels(tmp_path / "labels.toml") == labels
    assert [p.name for p in tmp_path.iterdir()] == ["labels.toml"]


words = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=12).filter(
    lambda t: not set(t) & set(":,"))
lengths = st.integers(0, 200_000).map(lambda n: n / 1000)
widths = st.integers(0, 100_000).map(lambda n: n / 1000)


@st.composite
def any_labels(draw):
    sizes = draw(st.lists(words, min_size=1, max_size=4, unique=True))
    names = draw(st.lists(words, min_size=1, max_size=3, unique=True))
    pieces = tuple(PieceLabel(
        draw(words) + str(i), name,
        tuple(EdgeLabel(e, kind := draw(st.sampled_from(EdgeKind)), 0.0 if kind is EdgeKind.FOLD else draw(widths),
                        draw(words)) for e in draw(st.lists(words, min_size=2, max_size=5, unique=True))),
        tuple(draw(st.lists(words, max_size=2))), tuple(draw(st.lists(words, max_size=3))), (),
        draw(st.none() | lengths), Cut(draw(st.integers(1, 4)), draw(st.booleans()), draw(words)))
        for i, name in enumerate(names))
    refs = st.builds(lambda p, r, n: EdgeRef(p.name, p.edges[0].name, r, n),
                     st.sampled_from(pieces), st.booleans(), st.integers(1, 3))
    side = st.lists(refs, min_size=1, max_size=3).map(tuple)
    ease = sorted(draw(st.tuples(lengths, lengths)))
    seams = (SeamLabel(Seam(draw(words), draw(side), draw(side), tuple(ease), draw(st.none() | st.just(1.8))),
                       draw(st.booleans())),)
    rows = (("bust girth", tuple(draw(lengths) for _ in sizes)), ("shoulder slope", tuple(21.5 for _ in sizes)))
    return Labels(draw(words), draw(widths), draw(st.sampled_from(("cutting", "seam"))),
                  tuple((s, s + "x") for s in sizes), pieces, seams,
                  draw(st.none() | st.just(BodyChart(tuple(s + "x" for s in sizes), rows))),
                  draw(st.just("") | words))


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(any_labels())
def test_any_labels_come_back_as_written(tmp_path, labels):
    write_labels(labels, tmp_path / "labels.toml")
    assert read_labels(tmp_path / "labels.toml") == labels


def test_the_concert_chart_survives(tmp_path):
    labels = Labels("x", 15.0, "cutting", tuple((s, s) for s in CHART.sizes), guess_labels(SMALL).pieces, (), CHART)
    write_labels(labels, tmp_path / "labels.toml")
    assert read_labels(tmp_path / "labels.toml").chart == CHART


def test_it_is_written_for_a_dressmaker(tmp_path):
    _, text = text_of(tmp_path)
    assert text.startswith("# Labels")
    assert '{name = "side seam", kind = "seam", allowance = "1.5 cm", from = "' in text
    assert 'sew = ["bodice back: armhole", "bodice front: armhole, backwards"]' in text


@pytest.mark.parametrize(("old", "new", "error", "says"), [
    ('allowance = "1.5 cm" #', 'allowence = "1.5 cm" #', NameUnknown, 'did you mean "allowance"'),
    ('kind = "fold"', 'kind = "folded"', NameUnknown, 'did you mean "fold"'),
    ('allowance = "1.5 cm", from', 'allowance = "1.5 kg", from', InputError,
     '"allowance" in edge 1 of piece "bodice front"'),
    ('to = ["bodice back: shoulder"]', 'to = ["bodice bck: shoulder"]', NameUnknown, 'did you mean "bodice back"'),
    ('to = ["bodice back: shoulder"]', 'to = ["bodice back: sholder"]', NameUnknown, 'did you mean "shoulder"'),
    ('to = ["bodice back: shoulder"]', 'to = ["bodice back"]', InputError, "is no edge"),
    ('to = ["bodice back: shoulder"]', "to = []", InputError, "names no edge"),
    ('name = "bodice back"', 'name = "bodice front"', InputError, 'Two pieces'),
    ('3 = "3"', '3 = 3', InputError, "a name in quotes"),
    ('printed_line = "cutting"', 'printed_line = "sewing"', InputError, '"cutting" or "seam"'),
    ('name = "Concert dress"', 'nme = "Concert dress"', NameUnknown, 'did you mean "name"'),
    ('name = "Concert dress"', "name = Concert", FileError, "line"),
    ('cut = 2', "cut = 0", InputError, "1 or more"),
    ('{name = "waist"', '{name = "shoulder"', InputError, "two separate edges"),
    ("gather = 1.8", "gather = 0.5", InputError, "1 or more"),
    ('ease = ["0 cm", "4 cm"]', 'ease = ["4 cm", "0 cm"]', InputError, "smaller one first"),
    ('kind = "fold", allowance = "0 cm"', 'kind = "fold", allowance = "1 cm"', InputError, "lies on the fold"),
])
def test_each_slip_gets_one_clear_sentence(tmp_path, old, new, error, says):
    file, text = text_of(tmp_path)
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(error, match=re.escape(says)) as told:
        read_labels(file)
    assert "\n" not in str(told.value)


def test_files_that_are_none(tmp_path):
    with pytest.raises(FileError, match="could not be read"):
        read_labels(tmp_path / "nothing.toml")
    (tmp_path / "bad.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(FileError, match="no text file"):
        read_labels(tmp_path / "bad.toml")
    (tmp_path / "deep.toml").write_text("a = " + "[" * 5000, encoding="utf-8")
    with pytest.raises(FileError, match="cannot be read"):
        read_labels(tmp_path / "deep.toml")
    with pytest.raises(FileError, match="could not be written"):
        write_labels(guess_labels(SMALL), tmp_path / "no folder" / "labels.toml")
