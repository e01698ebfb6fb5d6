"""The computed colour of hot stone: the light against published chromaticities, the picture against its tables."""

import numpy as np
import pytest

import limekit
from limekit.pictures import glow, looks
from limekit.stone import glow as tables

CELSIUS = 273.15
GLOWING = np.arange(500.0, 1310.0, 10.0) + CELSIUS


def rgb(swatch):
    return [int(swatch[start : start + 2], 16) for start in (1, 3, 5)]


def test_observer_peaks_in_green_and_covers_equal_areas():
    # CIE 1931: y-bar is 1 near 555 nm and 0.9950 at 550 and 560 nm; the three columns sum alike.
    wavelength, sensitivity = glow.observer()
    peak = sensitivity[:, 1].max()
    assert peak == 0.995
    assert wavelength[sensitivity[:, 1] == peak] == pytest.approx([550e-9, 560e-9])
    assert sensitivity.sum(axis=0) == pytest.approx(sensitivity[:, 1].sum(), rel=1e-3)
    assert np.diff(wavelength) == pytest.approx(10e-9)


# Planckian chromaticities as printed: A. W. Paeth's table (1987); 2856 K is CIE standard illuminant A.
@pytest.mark.parametrize(
    ("kelvin", "x", "y", "within"),
    [
        (1500, 0.586, 0.393, 0.001),
        (2000, 0.526, 0.413, 0.001),
        (2500, 0.477, 0.414, 0.001),
        (2856, 0.4476, 0.4074, 0.0002),
        (3000, 0.437, 0.404, 0.001),
    ],
)
def test_black_body_has_the_published_chromaticity(kelvin, x, y, within):
    light = glow.glow_chromaticity.plain(float(kelvin))
    assert (light.x, light.y) == pytest.approx((x, y), abs=within)


def test_coarse_table_serves_the_deep_red():
    # Computed from the CIE's seven-place table every 1 nm: the tail of the red weighs most in the coldest glow.
    light = glow.glow_chromaticity.plain(500.0 + CELSIUS)
    assert (light.x, light.y) == pytest.approx((0.6852, 0.3142), abs=0.0007)


def test_brightness_follows_wiens_law_at_one_wavelength():
    # Summed over the eye the light grows as at one wavelength in the red or yellow: ln Y = a - c2/(lambda T).
    low, high = 1000.0, 1010.0
    slope = np.log(glow.tristimulus(high)[1] / glow.tristimulus(low)[1]) / (1 / low - 1 / high)
    assert 580e-9 < limekit.fact("second_radiation_constant") / slope < 660e-9


def test_screen_matrix_is_the_published_one():
    # IEC 61966-2-1 prints the matrix to four places.
    printed = [[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]]
    assert glow.screen() == pytest.approx(np.array(printed), abs=1.5e-3)


def test_hotter_is_never_darker_in_any_of_the_three_lights():
    shown = np.array([rgb(glow.glow_swatch.plain(kelvin)) for kelvin in GLOWING])
    assert (np.diff(shown, axis=0) >= 0).all()
    assert (shown[:, 0] >= shown[:, 1]).all()
    assert (shown[:, 1] >= shown[:, 2]).all()


def test_dark_red_is_barely_seen_and_white_heat_nearly_white():
    dim, bright = (looks.luminance(limekit.glow_swatch(level)) for level in ("550 degC", "1300 degC"))
    assert 0.0 < dim < 0.01
    assert bright > 0.9
    assert looks.contrast(limekit.glow_swatch("525 degC"), "#000000") < looks.LEAST_CONTRAST


def test_reds_orange_and_yellow_come_in_the_tables_order():
    red, orange, yellow = (rgb(limekit.glow_swatch(f"{level} degC")) for level in (700, 1000, 1200))
    assert red[1] < 0.3 * red[0]
    assert 0.5 * orange[0] < orange[1] < 0.8 * orange[0]
    assert yellow[1] > 0.9 * yellow[0] > yellow[2]


def test_cold_stone_is_black_and_far_heat_stays_a_colour():
    assert limekit.glow_swatch("20 degC") == "#000000"
    assert limekit.glow_swatch("2000 degC") == "#ffffff"


def test_strip_shows_every_level_of_every_table():
    drawn = limekit.glow_strip()
    markers = {trace.name: trace for trace in drawn.data if trace.type == "scatter"}
    for source, short in glow.SHORT.items():
        printed = [level for colour in tables.COLOURS for level in tables.levels(colour) if level.variant == source]
        assert list(markers[short].x) == pytest.approx([level - CELSIUS for level in printed])
        assert list(markers[short].error_x.array) == pytest.approx([(one.high - one.low) / 2 for one in printed])


def test_strip_tells_tables_apart_by_shape_and_rows_by_name():
    drawn = limekit.glow_strip()
    markers = [trace.marker.symbol for trace in drawn.data if trace.type == "scatter"]
    assert len(set(markers)) == len(tables.SOURCES)
    assert list(drawn.layout.yaxis.categoryarray) == list(tables.COLOURS)
    said = [note.text for note in drawn.layout.annotations]
    assert "264 °C apart" in said
    assert sum("apart" in text for text in said) == len(tables.COLOURS)


def test_patches_are_the_computed_colours_and_leave_no_gap():
    patches = limekit.glow_strip().data[0]
    assert patches.marker.color[45] == glow.glow_swatch.plain(patches.x[45] + CELSIUS)
    assert max(np.diff(patches.x)) <= patches.width
    assert patches.x[0] - patches.width / 2 < 500
    assert patches.x[-1] + patches.width / 2 > 1300


def test_a_marked_temperature_moves_the_line_but_not_the_traces():
    plain, marked = limekit.glow_strip(), limekit.glow_strip("900 degC")
    assert [trace.name for trace in plain.data] == [trace.name for trace in marked.data]
    assert marked.layout.shapes[0].x0 == pytest.approx(900.0)
    assert not plain.layout.shapes
    assert "900 °C" in [note.text for note in marked.layout.annotations]


def test_words_name_the_disagreement():
    said = glow.glow_words(1173.15)
    assert said == (
        "Stone at 900 °C, seen in shade, is cherry by Stirling 1905; bright cherry by Howe; "
        "orange by White & Taylor 1899; bright cherry by Chapman 1972."
    )
