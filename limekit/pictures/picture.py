"""A picture as plain dicts, traces and layout, which `limekit.course.canvas` sends to the page as they are.

A slider's every move draws anew, and plotly takes ten times as long to check
a figure as the kit to draw it.
"""

from __future__ import annotations

import numpy as np

from limekit.pictures import looks

BESIDE = {"xaxis": "x2", "yaxis": "y2"}  # on the second pair of axes
UNTOLD = {"showlegend": False, "hoverinfo": "skip"}  # of what neither legend nor pointer names


class Picture(dict):
    """What `plotly.graph_objects.Figure` takes: ``data``, a list of traces, and ``layout``, in the kit's looks.

    The title is one short line; `across` and `upward` are axis labels with their units, as
    ``glossary.entry(name).axis``.
    """

    def __init__(self, title: str = "", across: str = "", upward: str = "") -> None:
        axes = {name: {"title": {"text": words}} for name, words in (("xaxis", across), ("yaxis", upward))}
        super().__init__(data=[], layout={"template": looks.TEMPLATE, "title": {"text": title}, **axes})

    def add(self, kind: str, name: str | None, x, y, **look) -> None:
        """Add a trace of one of plotly's kinds."""
        self["data"].append({"type": kind, "name": name, "x": x, "y": y, **look})

    def line(self, name, x, y, colour: str, dash="solid", width=None, *, shape=None, mode="lines", **look) -> None:
        """Add a line; what is None of it is as in the template."""
        stroke = {"color": colour, "dash": dash, "width": width, "shape": shape}
        self.add("scatter", name, x, y, mode=mode, line=stroke, **look)

    def marks(self, name, x, y, mode: str = "markers", **look) -> None:
        """Add markers."""
        self.add("scatter", name, x, y, mode=mode, **look)

    def bars(self, name, x, y, **look) -> None:
        """Add bars."""
        self.add("bar", name, x, y, **look)

    def rows(self, name, lengths, places, **look) -> None:
        """Add bars that lie."""
        self.bars(name, lengths, places, orientation="h", **look)

    def named_rows(self, rows, name: str | None = None, opacity: float = 1.0, **look) -> None:
        """Add a bar a row, each named at its own place in place of a legend.

        A row is name, length, words at the bar's end, colour and hatch; the first is at the top of an axis that is
        reversed. `name` is of all of them, for a legend that tells several such traces apart; `opacity` is of bars, not
        of their words.
        """
        told_by, lengths, words, colours, hatches = (list(column) for column in zip(*rows, strict=True))
        told = {"text": words, "textposition": "outside", "cliponaxis": False, "textangle": 0}
        marker = looks.hatched([looks.veil(colour, opacity) for colour in colours], hatches)
        own = {"showlegend": bool(name), "marker": marker, "hoverinfo": "skip", **told}
        self.rows(name, lengths, told_by, **own, **look)

    def band(self, name: str, across: np.ndarray, low: np.ndarray, high: np.ndarray, colour: str, **look) -> None:
        """Fill the range between two lines."""
        around, ends = np.concatenate([across, across[::-1]]), np.concatenate([high, low[::-1]])
        fill = {"fill": "toself", "fillcolor": looks.veil(colour), "hoverinfo": "skip"}
        self.add("scatter", name, around, ends, mode="lines", line={"width": 0, "color": colour}, **fill, **look)

    def note(self, text: str, x, y, **look) -> None:
        """Write words at a place."""
        self["layout"].setdefault("annotations", []).append({"text": text, "x": x, "y": y, "showarrow": False, **look})

    def mark_at(self, across: float, colour: str) -> None:
        """Draw a dashed line from top to bottom."""
        ends = {"type": "line", "x0": across, "x1": across, "y0": 0.0, "y1": 1.0, "yref": "paper"}
        line = {"color": colour, "width": 2, "dash": "dash"}
        self["layout"].setdefault("shapes", []).append({**ends, "line": line})

    def block(self, left: float, right: float, low: float, high: float, colour: str, **look) -> None:
        """Fill a rectangle under the traces."""
        place = {"x0": left, "x1": right, "y0": low, "y1": high, "layer": "below"}
        block = {"type": "rect", **place, "fillcolor": colour, "line": {"color": looks.INK, "width": 1}, **look}
        self["layout"].setdefault("shapes", []).append(block)

    def panes(self, left: float, right: float) -> Picture:
        """Set the two pairs of axes side by side: where the first ends and the second begins, of the width."""
        first, second = {"domain": [0.0, left]}, {"domain": [right, 1.0], "anchor": "y2"}
        return self.laid(xaxis=first, xaxis2=second, yaxis2={"anchor": "x2"})

    def laid(self, **layout) -> Picture:
        """Return the picture with this added to its layout; an axis keeps what it has, and its title is words."""
        for key, value in layout.items():
            if isinstance(value, dict):
                value = {**self["layout"].get(key, {}), **value}
                if isinstance(value.get("title"), str):
                    value["title"] = {"text": value["title"]}
            self["layout"][key] = value
        return self
