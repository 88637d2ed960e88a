"""How much one alteration needs, from the tape against the pieces: the door to its rule.

Every amount is signed as its alteration says: high round back, longer, out, full bust (on each half), bust dart down,
dart point nearer to the bust point (or in) and shoulder forward are positive. Where flat pieces and a tape cannot tell,
the error says how to find out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from toilewright.body.tape import Body
from toilewright.errors import AlterationError, NameUnknown
from toilewright.fit.alterations import ALTERATIONS
from toilewright.fit.handbook import DRAFTED_CUP
from toilewright.fit.prescribe.case import Case
from toilewright.fit.prescribe.held import Drafted
from toilewright.fit.prescribe.rules import BY_NAME, USES
from toilewright.known import Known
from toilewright.pattern.garment import Garment


def auto_amount(alteration_name: str, garment: Garment, body: Body, wanted: Mapping[str, float] | None = None,
                options: Mapping[str, str] | None = None, drafted_cup: float = DRAFTED_CUP,
                drafted: Drafted | None = None) -> Known:
    """The amount of an alteration (mm, signed), with its spread and one reason with numbers.

    Args:
        alteration_name: an alteration that has a rule (:data:`USES` names them).
        wanted: by place, the ease she wants (mm), instead of what the handbooks ask.
        options: the alteration's further words: ``piece`` tells which piece is lengthened, ``way`` how the dart point
            goes, ``side`` which side of her is looked at.
        drafted_cup: for which full minus upper bust the pattern is drafted (mm), where its chart tells.
        drafted: what else the pattern was drafted for, as far as its chart tells.

    Raises:
        AlterationError: a measure or a mark is missing, or a tape cannot tell; the sentence says what to do.
        NameUnknown: no amount can be taken for that name.
    """
    rule = BY_NAME.get(alteration_name)
    if rule is None:
        if any(one.name == alteration_name for one in ALTERATIONS):
            raise AlterationError(f'The amount of "{alteration_name}" cannot be taken from the body: it is a matter of '
                                  "taste, or shows on the toile alone; write the amount yourself.")
        raise NameUnknown.among("alteration with an automatic amount", alteration_name, BY_NAME)
    said = dict(options or {})
    side = said.pop("side", "")
    amount = rule.work(Case(alteration_name, garment, body, wanted or {}, drafted or Drafted(), said, drafted_cup,
                            side if side in ("left", "right") else ""))
    return _one_way(amount, alteration_name == rule.opposite) if rule.opposite else amount


def _one_way(amount: Known, opposite: bool) -> Known:
    """Of a rule that goes both ways under two names, what falls to one of them; nothing where it is the other's."""
    value = -amount.value if opposite else amount.value
    if value < 0:
        return replace(amount, value=0.0, reason=f"{amount.reason} The piece is long enough there." if not opposite else
                       f"{amount.reason} The piece is not too long there.")
    return replace(amount, value=value)


__all__ = ["USES", "auto_amount"]
