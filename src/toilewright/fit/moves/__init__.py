"""The six moves that every alteration is made of, on pieces with named edges; hinges lie on the seam line.

`slash_spread`, `slash_parallel`, `swing_dart`, `move_dart`, `shift_edge` (by one of its ends) and `redraw_edge`.
What is often made of them together has a module of its own: a cut opened and healed, a wedge folded out, a centre ruled
on, an edge bowed, the cuts of a full bust, part of a dart swung, a piece parted in two.
"""

from toilewright.fit.moves.darts import move_dart, swing_dart
from toilewright.fit.moves.edges import redraw_edge, shift_end
from toilewright.fit.moves.ring import Carried, Place, Region, carry
from toilewright.fit.moves.slash import slash_parallel, slash_spread

__all__ = ["Carried", "Place", "Region", "carry", "move_dart", "redraw_edge", "shift_end", "slash_parallel",
           "slash_spread", "swing_dart"]
