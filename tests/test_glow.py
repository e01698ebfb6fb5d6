"""The glow tables: what they print, that they disagree, and what is said of it."""

import itertools
import math

import pytest

import limekit
from limekit import facts, glossary
from limekit.errors import InputError
from limekit.stone import glow


def celsius(kelvin):
    return float(kelvin) - 273.15


@pytest.mark.parametrize("source", glow.SOURCES)
def test_each_table_gets_hotter_from_colour_to_colour(source):
    middles = [level for colour in glow.COLOURS for level in glow.levels(colour) if level.variant == source]
    assert middles == sorted(set(middles))


def test_chapmans_bands_do_not_overlap():
    bands = [level for colour in glow.COLOURS for level in glow.levels(colour) if level.variant == "chapman_1972"]
    assert all(lower.high < upper.low for lower, upper in itertools.pairwise(bands))


def test_every_glow_fact_belongs_to_a_colour_and_a_source_of_the_module():
    keys = {"glow_" + colour.replace(" ", "_") for colour in glow.COLOURS}
    shipped = {key for key in facts.table() if key.startswith("glow_")}
    assert shipped == keys
    assert {level.variant for key in keys for level in facts.rivals(key)} == set(glow.SOURCES)


def test_default_is_stirling_and_the_range_covers_every_table():
    for colour in glow.COLOURS:
        seen = limekit.glow_temperature(colour)
        assert seen.glow_level.m_as("K") == float(facts.fact(glow.levels(colour)[0].key, "stirling_1905"))
        for level in glow.levels(colour):
            assert seen.glow_lowest.m_as("K") <= level.low <= level.high <= seen.glow_highest.m_as("K")


def test_a_result_names_its_tables_and_warns_of_daylight():
    seen = limekit.glow_temperature("bright cherry", glow_source="chapman_1972")
    assert seen.glow_level.m_as("degC") == pytest.approx(926)
    assert [ground.name for ground in seen.basis] == list(glow.SOURCES)
    assert "871–981 °C" in [ground.value for ground in seen.basis]
    assert "shade" in str(seen)
    assert "about 926 °C, and 843 to 1000 °C" in str(seen)


def test_the_plain_result_prints_the_same_sentence():
    assert str(glow.glow_temperature.plain("cherry")) == str(glow.glow_temperature("cherry"))


@pytest.mark.parametrize("colour", ["Cherry", "purple", "", None, 900])
def test_unknown_colours_are_refused_with_the_known_ones(colour):
    with pytest.raises(InputError, match="bright cherry"):
        limekit.glow_temperature(colour)
    with pytest.raises(InputError, match="bright cherry"):
        glow.glow_spread(colour)


def test_a_table_without_the_colour_says_which_have_it():
    with pytest.raises(InputError, match="stirling_1905, white_taylor_1899"):
        limekit.glow_temperature("dull cherry", glow_source="howe")


@pytest.mark.parametrize("source", glow.SOURCES)
def test_a_printed_level_bears_its_own_colours_name(source):
    for colour in glow.COLOURS:
        for level in glow.levels(colour):
            if level.variant == source:
                for kelvin in (level.low, float(level), level.high):
                    assert glow.glow_colour.plain(kelvin)[source] == colour


def test_colder_than_a_table_and_hotter_than_it():
    assert limekit.glow_colour("500 degC") == {
        "stirling_1905": "below just visible",
        "howe": "just visible",
        "white_taylor_1899": "below just visible",
        "chapman_1972": "below dark red",
    }
    assert set(limekit.glow_colour("1500 degC").values()) == {"white"}


def test_names_never_step_back_as_the_stone_gets_hotter():
    rank = {colour: place for place, colour in enumerate(glow.COLOURS)}
    for source in glow.SOURCES:
        places = [rank.get(glow.glow_colour.plain(kelvin)[source], -1) for kelvin in range(700, 1700, 3)]
        assert places == sorted(places)


def test_spread_of_tables_without_ranges_is_the_sample_deviation():
    mean, deviation = glow.glow_spread("dull cherry")
    assert celsius(mean) == pytest.approx((800 + 677) / 2)
    assert deviation == pytest.approx((800 - 677) / math.sqrt(2))


def test_spread_counts_the_width_a_table_prints():
    mean, deviation = glow.glow_spread("orange")
    middles = [1100, 899, 1037]
    between = sum((middle - celsius(mean)) ** 2 for middle in middles) / 2
    assert deviation**2 - between == pytest.approx((1092 - 982) ** 2 / 12 / 3)
    assert type(mean) is float
    assert type(deviation) is float


def test_spreads_rise_with_the_colour_and_admit_the_disagreement():
    means = [glow.glow_spread(colour)[0] for colour in glow.COLOURS]
    assert means == sorted(means)
    for colour in glow.COLOURS:
        mean, deviation = glow.glow_spread(colour)
        assert all(abs(level - mean) < 2 * deviation for level in glow.levels(colour))


def test_rows_for_a_notebook():
    rows = limekit.glow_sources()
    assert [row["colour"] for row in rows] == list(glow.COLOURS)
    assert rows[1] == {
        "colour": "dark red",
        "stirling_1905": "699",
        "howe": "550–625",
        "white_taylor_1899": "635",
        "chapman_1972": "705–814",
    }
    assert rows[0]["chapman_1972"] == "–"


def test_fields_stand_in_the_glossary():
    for field in ("glow_level", "glow_lowest", "glow_highest"):
        entry = glossary.entry(field)
        for colour in glow.COLOURS:
            shown = getattr(limekit.glow_temperature(colour), field).m_as(entry.unit)
            assert entry.low < shown < entry.high
