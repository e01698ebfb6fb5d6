"""A drawing to scale in SVG: metres in, with texts, leaders and dimension lines in page units."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from limekit.pictures.looks import FONT, INK, PAPER

PAGE = 760
PRINTED = 190
TEXT = 13


def number(value: float) -> str:
    """Return a coordinate with one decimal, as short as it goes."""
    return f"{value:.1f}".removesuffix(".0")


class Drawing:
    """A page 760 units wide, printed 190 mm wide, on which metres are drawn to scale, so many units to one.

    The metres' origin lies at `left` and `floor`; the name begins every id, so that several drawings may stand on one
    page.
    """

    def __init__(self, scale: float, left: float, floor: float, name: str) -> None:
        self.scale, self.left, self.floor, self.name = scale, left, floor, name
        self.parts: list[str] = []

    def x(self, across: float) -> float:
        """Return the page's x of metres to the right of the origin."""
        return self.left + self.scale * across

    def y(self, up: float) -> float:
        """Return the page's y of metres above the origin."""
        return self.floor - self.scale * up

    def at(self, across: float, up: float) -> str:
        """Return a point given in metres as path data."""
        return f"{number(self.x(across))} {number(self.y(up))}"

    def add(self, tag: str, words: str | None = None, **attributes) -> None:
        """Add an element; underscores in attribute names stand for hyphens, floats get one decimal."""
        given = "".join(
            f" {name.replace('_', '-')}={quoteattr(number(value) if isinstance(value, float) else str(value))}"
            for name, value in attributes.items()
        )
        self.parts.append(f"<{tag}{given}" + ("/>" if words is None else f">{escape(words)}</{tag}>"))

    def box(self, left: float, right: float, low: float, high: float, **look) -> None:
        """Add a rectangle given in metres."""
        place = {"x": self.x(left), "y": self.y(high)}
        self.add("rect", **place, width=self.scale * (right - left), height=self.scale * (high - low), **look)

    def data(self, outlines) -> str:
        """Return closed outlines given in metres as path data."""
        return "".join("M" + "L".join(self.at(*corner) for corner in outline) + "Z" for outline in outlines)

    def area(self, outlines, **look) -> None:
        """Add closed outlines given in metres, as one path."""
        self.add("path", d=self.data(outlines), **look)

    def shape(self, path: str, across: float, up: float, width: float, height: float, **look) -> None:
        """Add a path drawn one unit wide and high, foot on (0, 0), at a place and size in metres."""
        wide, high = self.scale * width, self.scale * height
        move = f"translate({self.at(across, up)}) scale({wide:.2f} {-high:.2f})"
        self.add("path", d=path, transform=move, **look)

    def line(self, points, **look) -> None:
        """Add an open line through points of the page."""
        data = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
        self.add("path", d=data, **{"fill": "none", "stroke": INK, "stroke_width": "0.8"} | look)

    def text(self, x: float, y: float, words: str, size: int = TEXT, anchor: str = "start", **look) -> None:
        """Add a line of text at a place of the page; its foot stands on y."""
        self.add("text", words, x=x, y=y, font_size=size, text_anchor=anchor, **look)

    def measure_across(self, left: float, right: float, y: float, words: str) -> None:
        """Add a dimension line from left to right, in metres, at the page's y below the floor; its text below."""
        start, end = self.x(left), self.x(right)
        for place in (start, end):
            self.line([(place, self.floor), (place, y + 5)], stroke_width="0.5")
        self.line([(start, y), (end, y)], marker_start="url(#tick)", marker_end="url(#tick)")
        self.text((start + end) / 2, y + 16, words, anchor="middle")

    def measure_up(self, low: float, high: float, x: float, reach: float, words: str) -> None:
        """Add a dimension line from low to high, in metres, at the page's x; its text to the right."""
        bottom, top = self.y(low), self.y(high)
        for place in (bottom, top):
            self.line([(reach, place), (x + 5, place)], stroke_width="0.5")
        self.line([(x, bottom), (x, top)], marker_start="url(#tick)", marker_end="url(#tick)")
        self.text(x + 8, (bottom + top) / 2 + 5, words)

    def page(self, height: float, title: str, description: str, defs: str) -> str:
        """Return the whole SVG text; `defs` are its patterns and markers. Every id begins with the drawing's name."""
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {PAGE} {height:.0f}" width="{PRINTED}mm" '
            f'height="{height * PRINTED / PAGE:.1f}mm" role="img" '
            f'aria-labelledby="{self.name}-title {self.name}-description" font-family="{FONT}" fill="{INK}">'
        )
        words = f'<title id="title">{escape(title)}</title><desc id="description">{escape(description)}</desc>'
        paper = f'<rect width="{PAGE}" height="{height:.0f}" fill="{PAPER}"/>'
        drawn = "\n".join([words, f"<defs>{defs}</defs>", paper, *self.parts, "</svg>"])
        for before in (' id="', "url(#", ' href="#'):
            drawn = drawn.replace(before, f"{before}{self.name}-")
        return f"{head}\n{drawn}"
