"""Cards and the summary page, read back."""

import re

import pytest
from pdf_reading import page_sizes, words

from toilewright.blocks.concert import concert_dress
from toilewright.draw import Caption, Figure, Mark, Pen
from toilewright.fit.alterations import alter
from toilewright.fit.result import Card, Order
from toilewright.geometry import Path
from toilewright.known import Known, Origin
from toilewright.output.cards import in_her_unit, write_cards
from toilewright.output.summary import Summary, Table, write_summary

FIGURE = Figure((Mark(Path.polyline((0j, 300 + 0j, 300 + 400j, 0j)), Pen.OLD),
                 Mark(Path.line(20 + 20j, 200 + 20j), Pen.SLASH)), (Caption("cut", 30 + 24j, 6.0),), "bodice back")


def card(steps: int = 4) -> Card:
    return Card("High round back, {15 mm}", ("tissue", "a ruler"),
                tuple(f"Step {k}: raise the neck part of Åse’s “back” by {{15.875 mm}}." for k in range(1, steps + 1)),
                ("Centre back is {15 mm} longer", "the armhole is as long as before"), "C-228", (FIGURE,))


def test_amounts_stand_in_her_unit(tmp_path):
    write_cards([card()], tmp_path / "cm.pdf", "cm")
    write_cards([card()], tmp_path / "in.pdf", "in")
    cm, inch = words(tmp_path / "cm.pdf")[0], words(tmp_path / "in.pdf")[0]
    assert "High round back, 1.5 cm" in cm and "by 1.6 cm" in cm
    assert "High round back, 5/8 in" in inch and "by 5/8 in" in inch
    assert "{" not in cm + inch and " mm" not in cm + inch
    assert "Åse’s “back”" in cm


def test_cards_are_a5_one_after_the_other(tmp_path):
    write_cards([card(), card(40)], tmp_path / "c.pdf", "cm")
    sizes = page_sizes(tmp_path / "c.pdf")
    assert len(sizes) >= 3
    assert all(s == pytest.approx((148.0, 210.0), abs=0.001) for s in sizes)
    everything = " ".join(words(tmp_path / "c.pdf"))
    assert all(f"Step {k}:" in everything for k in range(1, 41))
    assert "C-228" in everything and "tissue, a ruler" in everything


ORDERS = (("lengthen or shorten", (20.0, -25.0), {"piece": "bodice front"}), ("high round back", (14.0,), {}),
          ("forward shoulder", (12.0, -8.0), {}), ("bust dart height", (22.2, -12.0), {}),
          ("bust dart point", (9.5, -22.2), {}), ("full bust", (22.2, -7.9), {}),
          ("waist in or out", (30.2, -33.3), {}), ("hip in or out", (41.3, -38.1), {}),
          ("forward shoulder", (12.0, -8.0), {"neck": "parallel"}), ("hip in or out", (41.3, -38.1), {"hem": "follow"}),
          ("lengthen or shorten", (62.5, -25.0), {"piece": "skirt front", "hem": "follow"}),
          ("lengthen or shorten", (41.3, -25.4), {"piece": "skirt front", "line": "hem", "hem": "follow"}),
          ("sleeve length", (22.2, -9.5), {}), ("upper arm", (22.2, -15.9), {}),
          ("upper arm", (22.2,), {"head": "let fall"}), ("armhole depth", (9.5, -12.7), {}),
          ("armhole in or out", (7.9, -9.5), {}), ("sleeve head height", (9.5, -7.9), {}),
          ("sleeve pitch", (12.7, -9.5), {}), ("high hip in or out", (30.2, -22.2), {}),
          ("full seat", (15.9, -6.4), {}), ("full abdomen", (12.7, -4.8), {}), ("hip higher", (12.7, -9.5), {}),
          ("hem level", (15.9, -12.7), {}), ("hem level", (15.9, -12.7), {"at": "side"}),
          ("rounded upper back", (12.7,), {}), ("rounded upper back", (12.7,), {"takes up": "neck dart"}),
          ("erect back", (9.5,), {}), ("forward neck", (9.5, -6.4), {}), ("shoulder slope", (9.5, -12.7), {}),
          ("shoulder width", (12.7, -9.5), {}), ("neckline height", (12.7, -19.1), {"where": "both"}),
          ("neckline width", (15.9, -6.4), {}), ("neckline gaping front", (9.5,), {}),
          ("neckline gaping back", (7.9,), {}), ("back width", (9.5, -7.9), {}), ("back length", (12.7, -9.5), {}),
          ("sway back", (12.7,), {}), ("sway back", (12.7,), {"piece": "skirt back"}))


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_every_alteration_has_its_card_on_one_page(tmp_path, unit):
    garment = concert_dress().at("5")
    cards = [alter(garment, [Order(name, Known(amount, Origin.ASKED), options)]).done[0].card
             for name, amounts, options in ORDERS for amount in amounts]
    write_cards(cards, tmp_path / "c.pdf", unit)
    pages = words(tmp_path / "c.pdf")
    assert len(pages) == len(cards)
    for number, (page, one) in enumerate(zip(pages, cards, strict=True), start=1):
        assert f"card {number} of {len(cards)}" in page
        assert in_her_unit(one.title, unit) in page
        assert "{" not in page and " mm" not in page
        assert one.figures[-1].title in page


def test_cards_name_what_was_lapped_and_what_the_point_moves_from():
    def said(name, amount, options=None):
        one = alter(concert_dress().at("5"), [Order(name, Known(amount, Origin.ASKED), options or {})]).done[0].card
        return one.title, " ".join(one.steps), [f.title for f in one.figures]
    assert "middle of the lap" in said("small bust", 8.0)[1] and "opening" in said("full bust", 8.0)[1]
    title, steps, _ = said("bust dart point", -9.5)
    assert title.startswith("Bust dart point farther,") and "farther from the bust point." in steps
    assert said("bust dart point", 9.5, {"way": "in"})[0].startswith("Bust dart point in,")
    # Of a dress with a wrap skirt the dress is shown.
    assert said("hip in or out", 30.0)[2] == ["skirt front", "skirt back"]
    assert said("waist in or out", 30.0)[2] == ["bodice front", "skirt front"]


def test_no_cards_is_said(tmp_path):
    write_cards([], tmp_path / "c.pdf")
    assert words(tmp_path / "c.pdf") == ["No alterations were asked for."]


def test_summary_is_one_page_whatever_there_is_to_say(tmp_path):
    rows = tuple((f"seam {k}", "43.1 cm", "43.0 cm", "-0.1 cm", "sews") for k in range(60))
    table = Table("Walk of the seams", ("seam", "a", "b", "diff", "verdict"), rows, (0.36, 0.16, 0.16, 0.14, 0.18))
    summary = Summary("Åse’s concert dress", ("Bust 4, hip 6.",), (table, table), ("Look at the waist.",) * 3,
                      (FIGURE,) * 4)
    write_summary(summary, tmp_path / "s.pdf")
    assert [pytest.approx((210.0, 297.0), abs=0.001)] == page_sizes(tmp_path / "s.pdf")
    (text,) = words(tmp_path / "s.pdf")
    assert "Åse’s concert dress" in text and "Bust 4, hip 6." in text
    said = re.findall(r"seam \d+", text)
    left_out = [int(n) for n in re.findall(r"and (\d+) more in result.json", text)]
    # What does not fit is counted, never dropped silently.
    assert len(said) + sum(left_out[:2]) == 120


def test_same_bytes_twice(tmp_path):
    for name in ("a", "b"):
        write_cards([card()], tmp_path / name)
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()
