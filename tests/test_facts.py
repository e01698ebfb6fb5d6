import csv
import pickle
from importlib import resources

import pytest

from limekit import facts
from limekit.errors import InputError
from limekit.facts import fact, rivals
from limekit.units import quantity

HEADER = "key,variant,default,value,low,high,unit,tag,source,place,note"
GOOD = "lime,one,yes,5,4,6,mm,read,A source,p. 3,"

# Plausible bands by dimension, from memory: what a lime burner's constants may be at all.
BANDS = {
    "[length] * [mass] / [temperature] / [time] ** 3": (0.02, 500),  # conductivity W/m/K
    "[mass] / [length] ** 3": (0.05, 8000),
    "[temperature]": (200, 40_000),
    "[length] ** 2 / [time] ** 2 / [temperature]": (100, 5000),  # heat capacity J/kg/K
}


def test_every_fact_has_a_source_a_tag_and_a_range_around_it():
    for key, variants in facts.table().items():
        assert len({one.variant for one in variants}) == len(variants), key
        for one in variants:
            assert one.source, key
            assert one.tag in facts.TAGS, key
            assert one.low <= one <= one.high, key


def test_facts_lie_in_a_plausible_band_for_their_kind():
    checked = 0
    for key, variants in facts.table().items():
        for one in variants:
            number, _, unit = one.printed.partition(" ")
            dimension = str(quantity(float(number), unit).dimensionality)
            if dimension in BANDS and "delta_" not in unit:
                low, high = BANDS[dimension]
                assert low <= one <= high, f"{key}/{one.variant}: {one.printed}"
                checked += 1
    assert checked > 5


def test_a_fact_is_a_float_in_si_that_says_where_it_comes_from():
    heat = fact("dissociation_heat_at_front")
    assert heat == 168_000
    assert (heat.low, heat.high) == (160_000, 172_000)
    assert "ZKG International" in heat.basis
    assert type(heat * 2) is float


@pytest.mark.parametrize(
    ("source", "tag", "said"),
    [
        ("A paper", "read", "A paper (read in the source)"),
        ("common practice, no source", "practice", "common practice, no source"),
        ("a supplier's page", "practice", "a supplier's page (common practice)"),
    ],
)
def test_how_a_source_is_known_is_said_once(source, tag, said):
    assert facts.known_by(source, tag) == said
    assert not [one for row in facts.table().values() for one in row if one.basis.count("common practice") > 1]


def test_a_temperature_level_is_kept_in_kelvin():
    assert fact("charge_temperature") == pytest.approx(900 + 273.15)


def test_a_fact_survives_pickling():
    again = pickle.loads(pickle.dumps(fact("lime_conductivity")))
    assert again == fact("lime_conductivity")
    assert again.source == fact("lime_conductivity").source


def test_rivals_stand_side_by_side_the_default_first():
    variants = [one.variant for one in rivals("dissociation_slope")]
    assert variants[0] == fact("dissociation_slope").variant == "hill_winter_1956"
    assert set(variants) == {"hill_winter_1956", "silcox_1989", "baker_1962"}


def test_an_unknown_variant_is_answered_with_those_there_are():
    with pytest.raises(InputError, match="baker_1962"):
        fact("dissociation_slope", "nobody")


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (GOOD.replace("A source", ""), "no source"),
        (GOOD.replace("read", "guessed"), "guessed"),
        (GOOD.replace("read", ""), "one of read, memory, practice, computed"),
        (GOOD.replace("p. 3", ""), "no place"),
        (GOOD.replace("4,6", "6,7"), "outside"),
        (GOOD.replace("yes", ""), "0 defaults"),
        (GOOD + "\n" + GOOD, "2 defaults"),
        (GOOD.replace("mm", "ton"), "more than one thing"),
    ],
)
def test_a_fact_that_cannot_be_trusted_does_not_load(row, said):
    assert facts.load(csv.DictReader([HEADER, GOOD]))["lime"][0] == pytest.approx(0.005)
    with pytest.raises(InputError, match=said):
        facts.load(csv.DictReader([HEADER, *row.split("\n")]))


def test_the_shipped_file_has_no_key_in_two_spellings():
    text = resources.files("limekit").joinpath("data/facts.csv").read_text(encoding="utf-8")
    keys = {line.split(",")[0] for line in text.splitlines()[1:]}
    assert len({key.lower().replace("_", "") for key in keys}) == len(keys)
