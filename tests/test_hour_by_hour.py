"""A stone and a kiln drawn hour by hour: each piece in the colour of its heat and of its lime; and pictures saved."""

import functools
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from limekit import InputError, burn_stone, fact, fire_kiln, firings_chart, save_picture, size_kiln
from limekit import stone_drawing as draw_stone
from limekit import tide_drawing as draw_tide
from limekit.pictures import looks
from limekit.pictures.glow import glow_swatch
from limekit.pictures.hour_by_hour import RAW, burnt_to, lit
from limekit.pictures.looks import NIGHT, luminance
from limekit.pictures.real_kilns import _named
from limekit.records import printing

needs_browser = pytest.mark.skipif(printing.browser() is None, reason="no Chromium on this machine")
SVG = "{http://www.w3.org/2000/svg}"


@functools.cache
def firing():
    return fire_kiln(size_kiln(stone="500 kg", largest_stone="100 mm"), chimney_height="1.5 m")


def still_raw(drawing):
    """Return how many stones of each kiln are drawn as raw, by where the kiln stands on the page."""
    used = [(float(one.get("x")), one.get("fill")) for one in ET.fromstring(drawing).iter(f"{SVG}use")]
    return [sum(fill == RAW for x, fill in used if x == place) for place in sorted({x for x, _ in used})]


def spread(path):
    """Return how far apart the corners of a path lie across."""
    across = [float(corner.split()[0].strip("M")) for corner in path.get("d").split("L")]
    return max(across) - min(across)


def test_a_stone_is_dark_until_it_glows_and_then_shines_as_it_is_hot():
    visible = fact("glow_just_visible")
    assert luminance(lit(300.0)) < luminance(lit(600.0)) < 0.06
    assert lit(visible + 200.0) == glow_swatch.plain(visible + 200.0)
    assert luminance(lit(1100.0)) < luminance(lit(1300.0))


def test_grey_is_raw_and_white_is_lime():
    assert (burnt_to(0.0), burnt_to(1.0)) == (RAW, looks.WHITE_LIME)
    assert luminance(burnt_to(0.2)) < luminance(burnt_to(0.8))


def test_the_tide_of_lime_whitens_from_hour_to_hour():
    first, *_, last = counts = still_raw(draw_tide(firing(), ["0.5 h", "6 h", "12 h", "100 h"]))
    assert counts == sorted(counts, reverse=True)
    assert first > 50 > last


def test_what_is_asked_past_the_end_is_the_end():
    ended, asked = draw_tide(firing(), ["1000 h"]), draw_tide(firing(), [firing().firing_time])
    assert ended == asked
    assert "95 % burnt" in ended


@pytest.mark.parametrize("hours", [[], "6 h", 6, ["1 h"] * 9, ["soon"], [["1 h", "2 h"]]])
def test_hours_that_cannot_be_drawn_are_refused(hours):
    with pytest.raises(InputError, match="hours"):
        draw_tide(firing(), hours)


def test_the_core_of_a_stone_shrinks_and_its_skin_shines():
    root = ET.fromstring(draw_stone(burn_stone("80 mm", "1000 degC", "6 h")))
    cores = [one for one in root.iter(f"{SVG}path") if one.get("fill") == RAW]
    across = [spread(core) for core in cores]
    assert len(across) == 4
    assert across == sorted(across, reverse=True)
    assert NIGHT in {one.get("fill") for one in root.iter(f"{SVG}rect")}


@pytest.mark.parametrize("drawing", [draw_tide(firing()), draw_stone(burn_stone("80 mm", "1000 degC", "2 h"))])
def test_a_drawing_has_a_title_a_description_and_says_that_it_is_a_models(drawing):
    root = ET.fromstring(drawing)
    assert root.find(f"{SVG}title").text
    assert "model's" in root.find(f"{SVG}desc").text


def test_a_drawing_is_saved_as_it_is_and_the_file_before_it_kept(tmp_path):
    drawing = draw_stone(burn_stone("80 mm", "1000 degC", "2 h"))
    path = tmp_path / "stone.svg"
    path.write_text("mine")
    assert save_picture(drawing, path) == path
    assert path.read_text(encoding="utf-8") == drawing
    assert "mine" in {one.read_text(encoding="utf-8") for one in tmp_path.iterdir()}


@needs_browser
def test_a_drawing_is_saved_as_pixels(tmp_path):
    path = save_picture(draw_stone(burn_stone("80 mm", "1000 degC", "2 h")), tmp_path / "stone.png")
    found = path.read_bytes()
    assert found.startswith(b"\x89PNG")
    assert int.from_bytes(found[16:20]) == 2 * 760


@needs_browser
@pytest.mark.slow
def test_a_chart_is_saved_as_lines(tmp_path):
    path = save_picture(firings_chart("500 kg", "100 mm"), tmp_path / "chart.svg")
    root = ET.fromstring(path.read_text(encoding="utf-8"))
    words = {"".join(one.itertext()) for one in root.iter(f"{SVG}text")}
    assert {"Friesach", "Tvedestrand", "Real firings, and the forecast"} <= words


@pytest.mark.parametrize("name", ["tide.jpg", "tide"])
def test_another_ending_is_refused_and_nothing_written(tmp_path, name):
    with pytest.raises(InputError, match=r"\.svg or \.png"):
        save_picture("<svg/>", tmp_path / name)
    assert not list(tmp_path.iterdir())


def test_a_name_stands_once_and_turns_from_the_edge():
    words, where = _named(["Edge", "Alone", "Alone"], np.array([0.99, 0.5, 0.1]), np.array([0.5, 0.5, 0.5]))
    assert words == ["Edge", "Alone", ""]
    assert where[:2] == ["middle left", "middle right"]
