"""What a lesson shows as HTML: in the colours of the page, and with no sign in it taken for mathematics.

Words have no colour of their own, so that they have the page's. Pictures
and printed sheets bring their own white paper, on a dark page too: a glow's
colour and a hatch look the same on either.
"""

from __future__ import annotations

from abc import ABC, abstractmethod

from limekit.pictures.looks import GRID, INK, PAPER

COLOURS = {  # JupyterLab's name for it, and what a page of ours has in its place: by day and by night
    "content-font-color1": (INK, "#ece8e1"),
    "layout-color0": (PAPER, "#16140f"),
    "layout-color2": ("#f5f3ef", "#2b2822"),
    "border-color1": (GRID, "#57524a"),
    "content-link-color": ("#00507c", "#7cc0ee"),
    "brand-color1": ("#0072b2", "#56b4e9"),
    "warn-color0": ("#8a2f00", "#ff9b66"),
    "success-color0": ("#00664a", "#5ec9a0"),
}


def colour(name: str) -> str:
    """Return the CSS of one of the theme's colours, by JupyterLab's name for it."""
    return f"var(--jp-{name}, {COLOURS[name][0]})"


def own_colours() -> str:
    """Return the CSS that gives a page without a theme its colours, on a screen that asks for it the dark ones."""
    day, night = (" ".join(f"--jp-{name}: {pair[hour]};" for name, pair in COLOURS.items()) for hour in (0, 1))
    return (
        f":root {{ {day} }}\n"
        f"@media screen and (prefers-color-scheme: dark) {{ :root {{ color-scheme: dark; {night} }} }}\n"
    )


class Shown(ABC):
    """Something shown in a lesson. What makes `_html` escapes every word that it is given."""

    @abstractmethod
    def _html(self) -> str: ...

    def _repr_html_(self) -> str:
        """Return the HTML, marked so that a page with mathematics lets dollars and backslashes stand."""
        shown = self._html()
        return shown and f'<div class="mathjax_ignore">{shown}</div>'
