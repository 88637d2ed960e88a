"""Sentences of the core, as they are right on a page."""

from toilewright.app.words import on_page


def test_a_page_speaks_of_names_and_not_of_a_file():
    assert on_page('"skirt" has no edge "hem"; correct the names in the labels file.', "cm") == (
        '"skirt" has no edge "hem"; correct the names on the pattern\'s page.')
    assert on_page("name another one, or correct the labels (known here: ...).", "cm") == (
        "name another one, or correct the names on the pattern's page (known here: ...).")


def test_lengths_are_in_her_unit():
    sentence = "the second side is 2.7 mm too long at a corner of 223°"
    assert on_page(sentence, "in") == "the second side is 1/8 in too long at a corner of 223°"
    assert on_page(sentence, "cm") == sentence
    assert on_page("0.6 mm too short", "in") == "less than 1/8 in too short"
