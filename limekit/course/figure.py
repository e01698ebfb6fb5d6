"""A picture that a busy page does not give up on.

plotly's own widget sends its page code, some five megabytes, with every
picture, and the page waits two seconds for each to load before it leaves the
picture blank. Here the code is sent once, and a picture asks for it when it
is drawn, however long that takes.
"""

from __future__ import annotations

import functools

import anywidget
import plotly.graph_objects as go
import traitlets

DRAW = """
async function load(model) {
  const library = await model.widget_manager.get_model(model.get("library"));
  const code = URL.createObjectURL(new Blob([library.get("code")], { type: "text/javascript" }));
  return (await import(code)).default;
}

export default () => {
  let drawing;
  return {
    initialize({ model }) {
      drawing = (globalThis.limekitDrawing ??= load(model)).then((make) => {
        const made = make();
        made.initialize({ model });
        return made;
      });
    },
    async render(given) {
      return (await drawing).render(given);
    },
  };
};
"""


class Library(anywidget.AnyWidget):
    """plotly's page code, to be sent to the page once."""

    _esm = "export default {}"
    code = traitlets.Unicode().tag(sync=True)


@functools.cache
def library() -> Library:
    """Return the page code, the same for every picture."""
    return Library(code=str(go.FigureWidget._esm))


class Figure(go.FigureWidget):
    """A plotly figure that can be changed where it stands, as `plotly.graph_objects.FigureWidget`."""

    _esm = DRAW
    library = traitlets.Unicode().tag(sync=True)

    @traitlets.default("library")
    def _by_default(self) -> str:
        return library().model_id
