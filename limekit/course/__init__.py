"""The course: explorers, answer checks, cards and printed sheets."""

from __future__ import annotations

from limekit.lazy import names_of

_HOMES = {
    "box": ("beside",),
    "cards": ("cautions", "machine_check", "mine", "my_plan", "say"),
    "checks": ("check",),
    "controls": ("Choice", "Slider"),
    "explorer": ("Explorer",),
    "grounds": ("rests_on",),
    "project": ("checklist", "whose"),
    "published": ("cases",),
}

__all__, __getattr__, __dir__ = names_of(__name__, _HOMES)
