import itertools
import re
from importlib import resources
from pathlib import Path

import numpy as np
import plotly.graph_objects as go
import pytest
from colours import DEFICIENCY, PICTURE, drawn

from limekit.pictures import looks
from limekit.pictures.picture import Picture

COLOURS = {name: colour for name, (colour, _) in looks.MEANS.items()}
PICTURES = Path(looks.__file__).parent
COLOUR = re.compile(r"(?<!')#[0-9a-fA-F]{6}\b")  # a docstring's answer is quoted otherwise


def lab(colour, matrix):
    light = np.clip(np.array(matrix) @ np.array(looks._light(colour)), 0, 1)
    to_xyz = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    x, y, z = np.cbrt(np.array(to_xyz) @ light / np.array([0.9505, 1.0, 1.089]))
    return np.array([116 * y - 16, 500 * (x - y), 200 * (y - z)])


def test_black_on_white_has_the_full_contrast():
    assert looks.contrast("#000000", "#ffffff") == pytest.approx(21)


@pytest.mark.parametrize("name", COLOURS)
def test_every_colour_stands_out_on_paper(name):
    assert looks.contrast(COLOURS[name], looks.PAPER) >= looks.LEAST_CONTRAST


def test_text_is_readable_on_paper():
    texts = (looks.INK, looks.MUTED, looks.FIRE_WORDS)
    assert min(looks.contrast(text, looks.PAPER) for text in texts) >= looks.LEAST_OF_TEXT


@pytest.mark.parametrize("name", COLOURS)
def test_text_on_a_bar_of_any_colour_is_readable(name):
    assert looks.contrast(looks.on(COLOURS[name]), COLOURS[name]) >= looks.LEAST_OF_TEXT


@pytest.mark.parametrize("eye", DEFICIENCY)
def test_no_two_colours_look_alike_to_any_eye(eye):
    seen = {name: lab(colour, DEFICIENCY[eye]) for name, colour in {**COLOURS, "ink": looks.INK}.items()}
    apart = {(a, b): np.linalg.norm(seen[a] - seen[b]) for a, b in itertools.combinations(seen, 2)}
    assert min(apart.values()) > 12, sorted(apart.items(), key=lambda pair: pair[1])[:4]


def test_the_heat_scale_darkens_all_the_way():
    brightness = [looks.luminance(colour) for _, colour in looks.HEAT]
    assert brightness == sorted(brightness, reverse=True)


def test_lines_differ_in_dash_and_marker_as_well():
    assert len(set(looks.DASHES)) == len(looks.DASHES) == len(set(looks.MARKERS)) == len(looks.MARKERS)


def test_the_page_of_colours_shows_them_as_they_are():
    assert PICTURE.read_text(encoding="utf-8") == drawn(), "python tests/looks/colours.py draws it anew"


def test_raw_and_dead_are_told_by_pattern_as_well():
    assert len({looks.RAW, looks.DEAD, (looks.LIME, "")}) == len({looks.RAW[1], looks.DEAD[1], ""}) == 3


def test_no_colour_is_written_but_in_looks():
    own = {"looks.py", "shown.py", "night_page.py"}  # besides the theme's colours, and a page to be read in the dark
    pages = [page for page in PICTURES.glob("*.py") if page.name not in own]
    written = {page.name: COLOUR.findall(page.read_text(encoding="utf-8")) for page in pages}
    assert len(pages) > 20
    assert {name: found for name, found in written.items() if found} == {}


def test_types_size_is_of_one_scale():
    scale = (looks.SMALL, looks.FONT_SIZE, looks.LARGE)
    style = resources.files("limekit").joinpath("data", "explorer.css").read_text(encoding="utf-8")
    sizes = {int(size) for size in re.findall(r"font-size: (\d+)px", style)}
    assert sizes <= set(scale)
    assert all(larger / smaller == pytest.approx(1.2, abs=0.04) for smaller, larger in itertools.pairwise(scale))


def test_a_figure_wears_the_template():
    made = go.Figure(Picture("One stone", "time [h]", "burnt"))
    assert made.layout.template.layout.font.family == looks.FONT
    assert made.layout.xaxis.title.text == "time [h]"


def test_colour_maps_stand_in_one_place():
    pages = sorted(PICTURES.glob("*.py"))
    maps = [one for page in pages for one in re.findall(r"\bcolorscale=([^\n]*)", page.read_text(encoding="utf-8"))]
    assert len(maps) >= 4
    assert all(one.startswith(("looks.", "scale,")) for one in maps), maps


def test_a_map_in_steps_gives_every_rank_its_own_colour():
    assert looks.in_steps(["#111111", "#eeeeee"]) == [
        (0.0, "#111111"),
        (0.5, "#111111"),
        (0.5, "#eeeeee"),
        (1.0, "#eeeeee"),
    ]
