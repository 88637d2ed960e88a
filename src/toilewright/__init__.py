"""toilewright: from a bought multi-size sewing pattern to pieces that fit one body."""

__version__ = "0.1.0"
