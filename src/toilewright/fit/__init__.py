"""Fitting: real ease, size advice, blends, amounts, and the alterations that they ask for."""
