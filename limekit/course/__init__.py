"""The course: explorers, answer checks, cards and printed sheets."""

from __future__ import annotations

from importlib import import_module

_HOMES = {
    "cards": ("cautions", "machine_check", "mine", "say"),
    "checks": ("check",),
    "controls": ("Choice", "Slider"),
    "explorer": ("Explorer",),
    "published": ("cases",),
    "recorded": ("design_of", "trial_of", "whose"),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = sorted(_HOME_OF)


def __getattr__(name: str):
    """Import a name of the course from its module when it is first asked for."""
    if name not in _HOME_OF:
        raise AttributeError(f"limekit.course has no {name!r}; it has {', '.join(__all__)}")
    return getattr(import_module(f"limekit.course.{_HOME_OF[name]}"), name)


def __dir__() -> list[str]:
    return __all__
