"""Drawings and whole printed pages shown in a lesson, each with one computed sentence."""

from __future__ import annotations

from html import escape

from limekit.records import files

FRAME = "width:100%;max-width:900px;height:640px;border:1px solid #625d55;background:#ffffff"


class Sketch:
    """An SVG drawing with its caption.

    Parameters
    ----------
    svg : str
    sentence : str
        What the drawing shows, for those who cannot see it and for a page where nothing runs.
    """

    def __init__(self, svg: str, sentence: str) -> None:
        self.svg, self.sentence = svg, sentence

    def __repr__(self) -> str:
        return self.sentence

    def _repr_html_(self) -> str:
        return (
            f'<figure style="margin:0;max-width:900px">{self.svg}'
            f'<figcaption style="font-size:16px">{escape(self.sentence)}</figcaption></figure>'
        )


class Page:
    """A whole HTML page, shown in a frame of its own so that its looks stay inside it.

    Parameters
    ----------
    html : str
        A page that fetches nothing.
    sentence : str
        What is on it.
    """

    def __init__(self, html: str, sentence: str) -> None:
        self.html, self.sentence = html, sentence

    def __repr__(self) -> str:
        return self.sentence

    def _repr_html_(self) -> str:
        title = escape(self.sentence, quote=True)
        return (
            f'<p style="font-size:16px">{title}</p>'
            f'<iframe title="{title}" style="{FRAME}" srcdoc="{escape(self.html, quote=True)}"></iframe>'
        )

    def save(self, path="my_kiln_design.html"):
        """Write the page to a file to print from a browser; the file it replaces is kept beside it.

        Parameters
        ----------
        path : str or path-like

        Returns
        -------
        pathlib.Path
        """
        path = files.as_path(path)
        files.write_whole(path, self.html.encode())
        return path
