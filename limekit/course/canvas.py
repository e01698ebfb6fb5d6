"""Where a picture is drawn on the page, by plotly's page code, of which there is one for all pictures.

JupyterLab has that code as soon as it shows a stored picture; any other page asks the kernel for it, once, and waits
for it however long it takes. A picture comes to the page whole at every move: some kilobytes of JSON.
"""

from __future__ import annotations

import functools
import json
from importlib import resources

import anywidget
import traitlets
from plotly.utils import PlotlyJSONEncoder

CONFIG = {
    "displayModeBar": False,
    "responsive": True,
}  # its buttons would be nameless stops on the way, and one uploads
GREYED = 0.2


def shipped(*names: str) -> str:
    """Return files of the page's code that come with the kit, as one."""
    data = resources.files("limekit").joinpath("data")
    return "\n".join(data.joinpath(name).read_text(encoding="utf-8") for name in names)


class Library(anywidget.AnyWidget):
    """plotly's page code, some five megabytes, for a page that asks for it."""

    _esm = shipped("hear.js", "canvas.js")
    is_wanted = traitlets.Bool().tag(sync=True)
    code = traitlets.Unicode().tag(sync=True)

    @traitlets.observe("is_wanted")
    def _give(self, _) -> None:
        from plotly.offline import get_plotlyjs

        self.code = get_plotlyjs()


@functools.cache
def library() -> Library:
    """Return the one there is, the same for every picture."""
    return Library()


class Canvas(anywidget.AnyWidget):
    """A `limekit.pictures.picture.Picture` on the page, until the next is drawn."""

    _esm = shipped("hear.js", "canvas.js")
    library = traitlets.Unicode().tag(sync=True)
    drawn = traitlets.Unicode(help="data, layout and config, as JSON").tag(sync=True)

    def __init__(self, picture: dict) -> None:
        self.picture = picture
        super().__init__(library=library().model_id, drawn=self._told)

    @property
    def _told(self) -> str:
        return json.dumps({**self.picture, "config": CONFIG}, cls=PlotlyJSONEncoder)

    def draw(self, picture: dict) -> None:
        """Draw another picture where it stands."""
        self.picture = picture
        self.drawn = self._told

    def grey(self) -> None:
        """Grey every trace, until the next picture."""
        self.draw({**self.picture, "data": [{**trace, "opacity": GREYED} for trace in self.picture["data"]]})
