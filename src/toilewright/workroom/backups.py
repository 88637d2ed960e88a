"""Dated back-ups of the store, made by themselves and thinned; putting one back."""

from __future__ import annotations
