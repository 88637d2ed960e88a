"""How much work a file may ask for, so that a hostile or broken one ends in a sentence and not in a frozen machine."""

MAX_FILE_BYTES = 100_000_000
"""bytes; tiled patterns of forty pages are 1 to 20 MB."""

MAX_OBJECTS = 300_000
"""drawn objects in one file, repeats counted; a forty-page sheet in ten sizes draws about 5,000 lines."""

MAX_NESTING = 100
"""levels of groups, forms, symbols or blocks inside each other; drawing programs rarely pass ten."""

MAX_SECONDS = 20.0
"""seconds of computing (not of waiting: a busy machine makes no difference) on reading one file; the largest honest
sheet takes two or three."""

MAX_REACH = 1_000_000.0
"""mm; a kilometre: a coordinate beyond it (or one that is no number) is a slip of the file."""

MAX_PAGES = 400
"""pages of one file; the largest tiled patterns have about a hundred."""

MAX_STREAM_BYTES = 150_000_000
"""bytes to which one page's drawing may unpack; forty pages of curves together take about 10 MB."""
