"""Before anything is sewn: what a toile of this pattern will show on her."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.body.tape import Body
from toilewright.fit.flat import Flat, flat_of
from toilewright.fit.flat.laid import Laid
from toilewright.fit.toile.aim import Aim, Held, dart_aims, line_aims
from toilewright.fit.toile.observations import Observation
from toilewright.fit.toile.round_body import eases
from toilewright.fit.wrap import Covered, cover, legs_of, wrap_of
from toilewright.pattern.garment import Garment


@dataclass(frozen=True)
class Prediction:
    """What a toile will show.

    Attributes:
        aims: dart, armhole seam, waist and hip lines, lengths.
        eases: ease round the body, level by level, from above down.
        wrap: does a wrap skirt cover her standing, sitting and stepping? Empty without one.
    """

    aims: tuple[Aim, ...]
    eases: tuple[Aim, ...]
    wrap: tuple[Covered, ...] = ()

    @property
    def rows(self) -> tuple[Aim, ...]:
        """Everything, aims first."""
        return (*self.aims, *self.eases)

    def at(self, place: str) -> Aim | None:
        """The row of one place, or None where pattern or sheet do not show it."""
        return next((row for row in self.rows if row.place == place), None)

    @property
    def observations(self) -> tuple[Observation, ...]:
        """What she would see, were the pattern sewn as it is."""
        return tuple(row.observation for row in self.aims if row.observation is not None)


def predict(garment: Garment, body: Body, flat: Flat | None = None) -> Prediction:
    """What a toile of these pieces will show on a body.

    Args:
        garment: the pieces, their alterations made.
        flat: their flat lengths, where they are known already (off tissue, with a tape).

    >>> from toilewright.blocks.chart import body_of as chart
    >>> from toilewright.blocks.concert import concert_dress
    >>> from toilewright.body.tape import body_of
    >>> low = dict(chart("4")) | {"neck shoulder point to bust point": 290.0}
    >>> told = predict(concert_dress().at("4"), body_of("an alto", low, waist_place="natural"))
    >>> told.at("dart height").sentence
    'The bust dart aims 2.9 cm above the bust point, give or take 0.5 cm.'
    """
    held = Held(flat or flat_of(garment, body), body)
    depth = body.get("waist to hip")
    wrap = wrap_of(garment, body)
    return Prediction((*dart_aims(held), *line_aims(held)), tuple(eases(Laid(garment, depth and depth.value), held)),
                      cover(wrap, legs_of(body), body.unit) if wrap else ())
