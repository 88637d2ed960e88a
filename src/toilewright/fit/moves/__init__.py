"""The six moves that every alteration is made of, on pieces with named edges; hinges lie on the seam line.

`slash_spread`, `slash_parallel`, `swing_dart`, `move_dart`, `shift_edge` (by one of its ends) and `redraw_edge`.
"""

from toilewright.fit.moves.darts import move_dart, swing_dart
from toilewright.fit.moves.edges import redraw_edge, shift_end
from toilewright.fit.moves.ring import Carried, Place, Region, carry
from toilewright.fit.moves.slash import slash_parallel, slash_spread

__all__ = ["Carried", "Place", "Region", "carry", "move_dart", "redraw_edge", "shift_end", "slash_parallel",
           "slash_spread", "swing_dart"]
