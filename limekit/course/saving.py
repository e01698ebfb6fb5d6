"""What JupyterLab leaves out when a learner saves: nothing they wrote, only what would not show again.

A saved explorer names a widget that dies with its kernel. Opened again, the
page would show an error in its place, while the plain picture and the
sentence lie beside it; so the name is left out. A picture already there as
data needs no second copy as an image.
"""

from __future__ import annotations

WIDGET, PLOTLY, IMAGE = "application/vnd.jupyter.widget-view+json", "application/vnd.plotly.v1+json", "image/png"


def leave_out_widgets(model: dict, **_) -> None:
    """Take widget names and images out of a notebook's outputs that also hold a plain picture.

    `model` is what is about to be saved, as Jupyter's ``pre_save_hook`` is given it; it is changed in place.
    """
    if model.get("type") != "notebook" or not model.get("content"):
        return
    for cell in model["content"].get("cells", []):
        for output in cell.get("outputs", []):
            data = output.get("data", {})
            if PLOTLY in data:
                data.pop(WIDGET, None)
                data.pop(IMAGE, None)
