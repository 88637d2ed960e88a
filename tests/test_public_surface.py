"""The names that other programs may rely on."""

import toilewright


def test_every_public_name_is_there_and_documented():
    for name in toilewright.__all__:
        thing = getattr(toilewright, name)
        assert name == "__version__" or thing.__doc__


def test_the_public_names_are_these():
    assert sorted(toilewright.__all__) == [
        "Altered", "Body", "Garment", "Known", "Labels", "Order", "Origin", "Outcome", "Pattern", "Piece", "Reading",
        "Sized", "ToilewrightError", "__version__", "advise", "advise_size", "alter", "asked", "auto_amount", "blend",
        "make_result", "measure_ease", "parse_length", "read_labels", "read_make", "read_pattern", "read_tape",
        "reading_result", "run_make", "show_length", "size_result", "walk", "write_labels", "write_outcome"]
