"""The colour of hot stone: what four published tables make of it, and how far they disagree."""

from __future__ import annotations

COLOURS = ("just visible", "dark red", "dull cherry", "cherry", "bright cherry", "orange", "yellow", "white")
