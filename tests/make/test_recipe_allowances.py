"""Allowances and corners of a make file: what is read, what is cut, and one sentence for each slip."""

import tomllib

import pytest

from toilewright.blocks.chart import body_of
from toilewright.blocks.concert import dress_for
from toilewright.cutting.allowing import with_allowances
from toilewright.errors import InputError, ToilewrightError
from toilewright.make.recipe_allowances import read_allowances, read_corners, read_notches
from toilewright.pattern.parts import CornerCut, EdgeKind, NotchCut

WHERE = 'make file "choir.toml"'
DRESS = dress_for(body_of("5"))


def cut(text: str, unit: str = "cm"):
    sheet = tomllib.loads(text)
    return with_allowances(DRESS, read_allowances(sheet, unit, WHERE), read_corners(sheet, unit, WHERE),
                           read_notches(sheet, WHERE), unit)


def test_nothing_said_leaves_the_allowances_of_the_pattern():
    made = cut("")
    assert [[e.allowance for e in p.edges] for p in made.pieces] == \
        [[e.allowance for e in p.edges] for p in DRESS.pieces]


def test_what_is_said_more_closely_counts():
    made = cut('''[allowances]
        "bodice front/neck" = "6 mm"
        "Bodice Front" = 2
        "side seam" = "2,5 cm"
        seams = "1/2 in"
        hem = "4 cm"
        all = "1 cm"''')
    front, back = made.piece("bodice front"), made.piece("bodice back")
    assert front.edge("neck").allowance == 6.0
    assert front.edge("side seam").allowance == front.edge("shoulder").allowance == 20.0
    assert back.edge("side seam").allowance == 25.0
    assert back.edge("shoulder").allowance == pytest.approx(12.7)
    amounts = {e.kind: e.allowance for p in made.pieces for e in p.edges}
    assert amounts[EdgeKind.HEM] == 40.0
    assert amounts[EdgeKind.FOLD] == 0.0


def test_a_corner_and_the_balance_marks_are_cut_as_said():
    made = cut('''
        [allowances]
        notches = "Outward"
        [[corner]]
        piece = "bodice front"
        at = "neck / shoulder"
        cut = "squared  off"
        first = "shoulder"''')
    (corner,) = [c for c in made.piece("bodice front").corners if {c.before, c.after} == {"neck", "shoulder"}]
    assert (corner.cut, corner.first) == (CornerCut.SQUARE, "shoulder")
    assert all(n.cut is NotchCut.OUTWARD for p in made.pieces for n in p.notches)


BAD = {
    '[allowances]\nhem = "wide"': '"hem" in "allowances"',
    '[allowances]\nhem = "-1 cm"': "from 0 upwards",
    '[allowances]\nhem = "4 m"': "at most 30",
    '[allowances]\nseams = "2 m"': "at most 10",
    '[allowances]\nseams = "1 mm"': "too little to be sewn",
    "[allowances]\nseams = true": '"seams" in "allowances"',
    "[allowances]\nhem = nan": '"hem" in "allowances"',
    '[allowances]\n"side seem" = "1 cm"': 'did you mean "side seam"',
    '[allowances]\n"bodice frunt/neck" = "1 cm"': 'did you mean "bodice front"',
    '[allowances]\n"bodice front/nek" = "1 cm"': 'did you mean "neck"',
    '[allowances]\n"bodice front/centre front" = "1 cm"': "on the fold",
    '[allowances]\n[allowances.bodice]\nneck = "1 cm"': 'put an edge of one piece into quotation marks',
    '[allowances]\nnotches = "sideways"': "clipped",
    "[allowances]\nnotches = 3": "quotation marks",
    'allowances = "1 cm"': "allowances",
    '[[corner]]\nat = "neck/shoulder"\ncut = "square"': "on which piece",
    '[[corner]]\npiece = "bodice front"\nat = "neck"\ncut = "square"': "the two edges that meet there",
    '[[corner]]\npiece = "bodice front"\nat = "neck/neck"\ncut = "square"': "the two edges that meet there",
    '[[corner]]\npiece = "bodice front"\nat = "neck/shoulder"\ncut = "rounded"': 'called "rounded" in corner 1',
    '[[corner]]\npiece = "bodice front"\nat = "neck/shoulder"': "does not say how it is cut",
    '[[corner]]\npiece = "bodice front"\nat = "neck/waist"\ncut = "square"': "do not meet in a corner",
    '[[corner]]\npiece = "bodice front"\nat = "neck/shoulder"\ncut = "square"\nfirst = "waist"':
        "is no edge of the corner",
    '[[corner]]\npiece = "bodice front"\nat = "neck/shoulder"\ncut = "square"\ncolour = 1': "colour",
    'corner = "square"': "corner",
}


@pytest.mark.parametrize("text", BAD)
def test_every_slip_is_said_in_one_clear_sentence(text):
    with pytest.raises(ToilewrightError) as caught:
        cut(text)
    said = str(caught.value)
    assert isinstance(caught.value, InputError)
    assert BAD[text] in said
    assert "\n" not in said and said.endswith((".", "?"))
