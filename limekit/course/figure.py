"""A picture that a busy page does not give up on.

plotly's own widget sends its page code, some five megabytes, with every
picture, and the page waits two seconds for each to load before it leaves the
picture blank. Here the code is sent once, and a picture asks for it when it
is drawn, however long that takes. It comes to the page whole, not empty and
filled by a later message, which a busy page may drop. And a picture that is
drawn anew is held against the last one: only what differs is checked by
plotly and sent.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping
from importlib import resources

import anywidget
import numpy as np
import plotly.graph_objects as go
import traitlets

CONFIG = {
    "displayModeBar": False,
    "responsive": True,
}  # its buttons would be nameless stops on the way, and one uploads
GREYED = 0.2
IN_PLACE = ("annotations", "shapes")  # changed one by one where there are as many as before
MOVED = object()


def shipped(*names: str) -> str:
    """Return files of the page's code that come with the kit, as one."""
    data = resources.files("limekit").joinpath("data")
    return "\n".join(data.joinpath(name).read_text(encoding="utf-8") for name in names)


class Library(anywidget.AnyWidget):
    """plotly's page code, to be sent to the page once."""

    _esm = "export default {}"
    code = traitlets.Unicode().tag(sync=True)


@functools.cache
def library() -> Library:
    """Return the page code, the same for every picture."""
    return Library(code=str(go.FigureWidget._esm))


def _differ(one, other) -> bool:
    if isinstance(one, np.ndarray) or isinstance(other, np.ndarray):
        return not np.array_equal(one, other)
    return one is not other and one != other


def changes(known: Mapping, wanted: Mapping, way: str = "") -> Iterator[tuple[str, object]]:
    """Give what differs between two nested dicts: its dotted path, and what is wanted there or None."""
    for key in {**known, **wanted}:
        one, other = known.get(key), wanted.get(key)
        if isinstance(one, dict) or isinstance(other, dict):
            yield from changes(one or {}, other or {}, f"{way}{key}.")
        elif key in IN_PLACE and one and other and len(one) == len(other):
            for place, (old, new) in enumerate(zip(one, other, strict=True)):
                yield from changes(old, new, f"{way}{key}[{place}].")
        elif _differ(one, other):
            yield way + key, other


class Figure(go.FigureWidget):
    """A `limekit.pictures.picture.Picture` as plotly's `FigureWidget`, that can be changed where it stands."""

    _esm = shipped("hear.js", "picture.js")
    library = traitlets.Unicode().tag(sync=True)
    _is_whole = False

    def __init__(self, drawn: dict) -> None:
        super().__init__({**drawn, "layout": {**drawn["layout"], "autosize": True}})
        self._config = CONFIG
        self._drawn = self._known = drawn
        self.observe(self._moved, "_js2py_relayout")
        self._is_whole = True
        self.open()

    def open(self) -> None:
        """Show it to the page, once it is whole."""
        if self._is_whole:
            super().open()

    @traitlets.default("library")
    def _by_default(self) -> str:
        return library().model_id

    def redraw(self, drawn: dict) -> None:
        """Look like another picture where it stands; traces of other kinds are put up anew, which is slower."""
        known, self._known, self._drawn = self._known, drawn, drawn
        if [trace["type"] for trace in known["data"]] != [trace["type"] for trace in drawn["data"]]:
            self.data = ()
            self.add_traces(drawn["data"])
            known = {**known, "data": drawn["data"]}
        with self.batch_update():
            for place, *both in zip(
                (*self.data, self.layout),
                (*known["data"], known["layout"]),
                (*drawn["data"], drawn["layout"]),
                strict=True,
            ):
                for way, wanted in changes(*both):
                    place[way] = wanted

    def _moved(self, change) -> None:
        """Forget where the axes stood that the reader moved, so that the next picture puts them back."""
        layout = {**self._known["layout"]}
        for way in (change["new"] or {}).get("relayout_data", ()):
            axis, _, key = way.partition("[")[0].partition(".")
            if key in ("range", "autorange"):
                layout[axis] = {**layout.get(axis, {}), key: MOVED}
        self._known = {**self._known, "layout": layout}

    def grey(self) -> None:
        """Grey every trace, until the next picture."""
        data = [
            {**known, "opacity": GREYED} if "opacity" in trace else known
            for trace, known in zip(self.data, self._drawn["data"], strict=True)
        ]
        self.redraw({**self._drawn, "data": data})
