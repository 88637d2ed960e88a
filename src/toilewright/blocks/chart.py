"""The demo pattern's body chart: ten sizes of our own invention.

Nobody's figures: the bust steps were chosen (40 mm among the small sizes, up to 70 mm among the large ones), the other
rows follow from how bodies usually go along with them (the waist grows a little faster than the bust, the hip a little
slower; heights hardly change) and were rounded by hand. Full minus upper bust is 45 to 74 mm, close to the difference
of 2 in that patterns are usually drafted for (common practice, no published source).
"""

from __future__ import annotations

from collections.abc import Iterable

from toilewright.pattern.nest import BodyChart

SIZES = ("1", "2", "3", "4", "5", "6", "7", "8", "9", "10")

# In mm, smallest size first; the shoulder slope is in degrees.
_ROWS: tuple[tuple[str, tuple[float, ...]], ...] = (
    ("stature", (1640, 1645, 1650, 1655, 1660, 1664, 1668, 1672, 1676, 1680)),
    ("bust girth", (780, 820, 860, 900, 945, 990, 1040, 1100, 1170, 1240)),
    ("upper bust girth", (735, 772, 809, 846, 888, 930, 977, 1034, 1100, 1166)),
    ("under-bust girth", (684, 719, 755, 791, 832, 874, 921, 978, 1044, 1111)),
    ("waist girth", (600, 640, 680, 722, 770, 820, 875, 940, 1015, 1090)),
    ("high hip girth", (776, 813, 850, 889, 933, 979, 1029, 1088, 1157, 1226)),
    ("hip girth", (850, 886, 922, 960, 1002, 1046, 1094, 1150, 1215, 1280)),
    ("neck base girth", (338, 344, 351, 358, 366, 374, 383, 394, 406, 418)),
    ("shoulder length", (119, 120.5, 122, 123.5, 125, 126.5, 128, 130, 132, 134)),
    ("shoulder slope", (21, 21, 21, 21, 21, 21, 21, 21, 21, 21)),
    ("across back width", (328, 335, 342, 350, 358, 366, 374, 382, 390, 398)),
    ("across front width", (306, 313, 320, 327, 334, 341, 349, 358, 367, 376)),
    ("back neck point to waist", (395, 399, 403, 407, 411, 415, 419, 424, 429, 434)),
    ("neck shoulder point to waist back", (413, 417, 421, 425, 429, 433, 437, 442, 447, 452)),
    ("neck shoulder point to waist", (421, 427, 433, 439, 446, 453, 461, 470, 479, 488)),
    ("neck shoulder point to bust point", (243, 249, 255, 261, 268, 275, 283, 292, 302, 312)),
    ("bust point width", (174, 180, 186, 192, 199, 206, 214, 224, 236, 248)),
    ("waist to hip", (200, 202, 204, 206, 208, 210, 212, 214, 216, 218)),
    ("armscye depth", (180, 185, 189, 194, 199, 204, 209, 215, 222, 229)),
    ("upper arm girth", (250, 260, 271, 282, 295, 308, 323, 341, 362, 383)),
    ("wrist girth", (148, 151, 154, 157, 161, 165, 169, 174, 180, 186)),
    ("arm length", (572, 575, 578, 581, 584, 586, 588, 590, 592, 594)),
    ("waist height", (1010, 1014, 1018, 1022, 1026, 1029, 1032, 1035, 1038, 1041)),
    ("crotch depth", (254, 258, 262, 267, 272, 277, 283, 290, 298, 306)),
)

_LEG_ROWS: tuple[tuple[str, tuple[float, ...]], ...] = (
    ("total crotch length", (628, 642, 660, 681, 703, 722, 743, 767, 794, 821)),
    ("thigh girth", (492, 516, 539, 563, 589, 616, 646, 680, 719, 758)),
    ("knee girth", (330, 340, 351, 362, 374, 387, 401, 416, 433, 450)),
    ("calf girth", (323, 333, 343, 353, 364, 376, 389, 403, 419, 435)),
)


def _chart(rows: Iterable[tuple[str, tuple[float, ...]]]) -> BodyChart:
    return BodyChart(SIZES, tuple((name, tuple(float(v) for v in values)) for name, values in rows))


CHART = _chart(_ROWS)
"""Ten bodies of our own invention, by ISO 8559-1 measure names (mm; slope in degrees)."""

_OF_TROUSERS = ("stature", "waist girth", "high hip girth", "hip girth", "waist to hip", "waist height", "crotch depth")

TROUSER_CHART = _chart((*(row for row in _ROWS if row[0] in _OF_TROUSERS), *_LEG_ROWS))
"""The same ten bodies from the waist down."""

WHOLE_CHART = _chart((*_ROWS, *_LEG_ROWS))
"""The same ten bodies with every measure that any block asks for."""


def body_of(size: str, chart: BodyChart = WHOLE_CHART) -> dict[str, float]:
    """All measures of one size of a chart (mm)."""
    at = chart.sizes.index(size)
    return {name: values[at] for name, values in chart.rows}
