"""The cloth of a make file: what she has or means to buy, and how it shall be laid.

Widths are as the shop sells them, selvedges included; what is left of them after washing and between the selvedges is
the width of the :class:`~toilewright.cutting.cloth.Cloth`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from toilewright.cutting.cloth import Cloth, Fold
from toilewright.cutting.requirement import SELVEDGE, SQUARING, SoldBy

