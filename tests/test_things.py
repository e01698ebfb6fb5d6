import inspect
import pickle
from collections import defaultdict
from dataclasses import MISSING
from typing import get_args

import numpy as np
import pytest

import limekit
from limekit import Fire, Fuel, InputError, Kiln, Stone, burning_time, combustion, glossary, mass_balance
from limekit.edge import edge, plain, unit_of
from limekit.facts import Fact, fact
from limekit.units import quantity

PUBLIC = [name for name in limekit.__all__ if hasattr(getattr(limekit, name), "plain")]
FUNCTIONS = [name for name in PUBLIC if not isinstance(getattr(limekit, name), type)]
THINGS = [name for name in PUBLIC if isinstance(getattr(limekit, name), type)]


def test_a_stone_goes_through_the_edge_and_reads_as_quantities():
    stone = Stone("500 kg", calcium_carbonate="92 %", stone_moisture=0.02)
    assert stone.mass == quantity("500 kg")
    assert stone.calcium_carbonate.magnitude == pytest.approx(0.92)
    assert stone.lime_conductivity == quantity("0.6 W/m/K")
    assert plain(stone).mass == 500.0
    assert plain(stone).calcium_carbonate == pytest.approx(0.92)
    assert isinstance(plain(stone).lime_conductivity, Fact)
    assert plain(stone) == Stone.plain(mass=500.0, calcium_carbonate=0.92, stone_moisture=0.02)


def test_a_thing_is_frozen_equal_by_value_and_told_in_a_line_and_a_table():
    stone = Stone("500 kg", calcium_carbonate=0.92)
    assert stone == Stone(mass="0.5 tonne", calcium_carbonate="92 %") != Stone("500 kg")
    assert hash(stone) == hash(Stone(mass="0.5 tonne", calcium_carbonate="92 %"))
    assert pickle.loads(pickle.dumps(stone)) == stone
    with pytest.raises(AttributeError):
        stone.mass = 3
    assert str(stone) == 'Stone(mass="500 kg", calcium_carbonate=0.92)'
    assert eval(repr(stone)) == stone
    table = stone._repr_html_()
    assert "moisture of the stone" in table
    assert table.count(">given<") == 2
    assert fact("reaction_coefficient").source.split()[0] in table


def test_a_thing_with_something_changed_is_another_and_remembers_what_was_given():
    stone = Stone(calcium_carbonate=0.92)
    wetter = stone.with_(stone_moisture="5 %")
    assert (stone.stone_moisture.magnitude, wetter.stone_moisture.magnitude) == (0.0, 0.05)
    assert wetter.given == {"calcium_carbonate", "stone_moisture"}


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Stone(calcium_carbonat=0.9), "calcium_carbonate=0.95"),
        (lambda: Stone(5), "a number with no unit"),
        (lambda: Stone("5 kg", mass="6 kg"), "mass twice"),
        (lambda: Stone(*range(40)), "40 values"),
        (lambda: Stone(stone_moisture=0.5), "0 to 0.3"),
        (lambda: Fuel("oka"), 'kind="oak"'),
        (lambda: Fuel(fuel_moisture=3), "0 to 0.7"),
        (lambda: burning_time("60 mm", "1000 degC", stone=[1]), "Wanted: a Stone"),
        (lambda: burning_time("60 mm", "1000 degC", lime_conductivty=1), "lime_conductivity="),
        (lambda: burning_time("60 mm", "1000 degC", carbonate_fraction=1), "calcium_carbonate="),
        (lambda: burning_time("60 mm", "1000 degC", moisture=0.1), "stone_moisture="),
        (lambda: combustion("oak", moisture=0.1), "fuel_moisture="),
        (lambda: mass_balance(Stone(), conversion=1), "a Stone with no mass"),
        (lambda: limekit.stack_draught(Stone(), "900 degC"), "height"),
    ],
)
def test_what_is_no_thing_is_answered_with_one_that_is(make, words):
    with pytest.raises(InputError) as caught:
        make()
    assert words in str(caught.value)


def test_the_thing_its_fields_and_a_mapping_of_them_come_to_the_same():
    asked = ("60 mm", "1000 degC")
    by_field = burning_time(*asked, lime_conductivity="0.5 W/m/K")
    assert by_field > burning_time(*asked)
    assert burning_time(*asked, stone=Stone(lime_conductivity=0.5)) == by_field
    assert burning_time(*asked, stone={"lime_conductivity": 0.5}) == by_field
    assert burning_time(*asked, stone=Stone(lime_conductivity=0.9), lime_conductivity=0.5) == by_field
    assert burning_time.plain(0.06, 1273.15, stone=Stone.plain(lime_conductivity=0.5)) == pytest.approx(
        by_field.to("s").magnitude
    )


def test_several_stones_burn_side_by_side():
    several = burning_time("60 mm", "1000 degC", lime_conductivity=[0.5, 0.6], model="reduced").magnitude
    assert several.shape == (2,)
    with pytest.raises(InputError, match="3 values of diameter, 2 values of lime_conductivity"):
        burning_time(["5 cm", "6 cm", "7 cm"], "1000 degC", lime_conductivity=[0.5, 0.6], model="reduced")
    assert np.all(np.diff(several) < 0)


def test_a_thing_stands_for_the_parameters_that_are_its_fields():
    stone = Stone("1000 kg", calcium_carbonate=1.0)
    assert mass_balance(stone, conversion=0.95).quicklime == mass_balance("1000 kg", 1.0, 0.95).quicklime
    poorer = mass_balance(stone, calcium_carbonate=0.9, conversion=0.95)
    assert poorer.quicklime == mass_balance("1000 kg", 0.9, 0.95).quicklime
    assert mass_balance(stone.with_(calcium_carbonate=0.9), conversion=0.95).quicklime == poorer.quicklime
    assert limekit.stone_for_putty("500 L", stone=stone, conversion=0.95) == limekit.stone_for_putty("500 L", 1.0, 0.95)
    beech = Fuel("beech", fuel_moisture=0.3)
    assert limekit.lower_heating_value(beech) == limekit.lower_heating_value("beech", fuel_moisture=0.3)
    assert limekit.lower_heating_value(Fuel("beech")) == limekit.lower_heating_value("beech")


def test_a_result_says_of_each_field_whether_it_was_given():
    told = {one.name: one for one in limekit.burn_stone("60 mm", "1000 degC", "1 h", stone_moisture=0.02).basis}
    assert told["stone_moisture"].kind == "given"
    assert told["lime_conductivity"].source == fact("lime_conductivity").basis
    assert "mass" not in told


def test_a_field_of_two_things_belongs_to_neither():
    @edge
    def both(stone: Stone, other: Stone) -> float:
        return stone.density - other.density

    assert both(Stone(density=2600), Stone(density=2500)).real == pytest.approx(100)
    with pytest.raises(InputError, match='an argument "density"'):
        both(Stone(), Stone(), density=2600)


def quantities():
    """Every place where a quantity is asked for: name, unit, default, where."""
    for name in FUNCTIONS:
        function = getattr(limekit, name).plain
        hints = inspect.get_annotations(function, eval_str=True)
        for one in inspect.signature(function).parameters.values():
            if unit_of(hints.get(one.name)):
                yield one.name, unit_of(hints[one.name]), one.default, name
    for name in THINGS:
        thing = getattr(limekit, name)
        for field, default in thing.defaults.items():
            hint = inspect.get_annotations(thing, eval_str=True)[field]
            if unit_of(hint):
                yield field, unit_of(hint), None if default is MISSING else default, name


def test_one_word_one_meaning_and_one_default():
    """None says that the case decides; what must be given has none."""
    units, defaults = defaultdict(lambda: defaultdict(set)), defaultdict(lambda: defaultdict(set))
    for name, unit, default, where in quantities():
        units[name][unit].add(where)
        if default is not inspect.Parameter.empty and default is not None:
            defaults[name][getattr(default, "key", ""), float(default)].add(where)
    assert {name: dict(found) for name, found in units.items() if len(found) > 1} == {}
    assert {name: dict(found) for name, found in defaults.items() if len(found) > 1} == {}


def test_one_word_one_kind_of_object():
    kinds = defaultdict(set)
    for name in FUNCTIONS:
        for word, hint in inspect.get_annotations(getattr(limekit, name).plain, eval_str=True).items():
            for part in get_args(hint) or (hint,):
                if isinstance(part, type) and part.__module__.startswith("limekit") and word != "return":
                    kinds[word].add(part)
    assert kinds["fire"] == {Fire}
    assert {word: found for word, found in kinds.items() if len(found) > 1} == {}


MOST = 11  # parameters
ABOUT_KILNS = ("design_kiln", "draught_flow", "fire_kiln", "run_shaft", "shaft_window", "size_kiln")


@pytest.mark.parametrize("name", FUNCTIONS)
def test_no_function_asks_for_a_page_of_parameters(name):
    asked = inspect.signature(getattr(limekit, name)).parameters.values()
    assert len(asked) <= MOST
    if name in ABOUT_KILNS:
        assert all(one.kind is one.KEYWORD_ONLY for one in list(asked)[2:])


@pytest.mark.parametrize("old", [*sorted(glossary.FORMER), "moisture"])
def test_a_name_that_is_no_more_is_nowhere(old):
    assert old not in {name for name, *_ in quantities()}
    assert glossary.FORMER.get(old, "stone_moisture") in {name for name, *_ in quantities()}


SIZE = limekit.size_kiln(stone="500 kg", largest_stone="80 mm")


def test_a_kiln_is_told_in_a_line_and_its_chimney_and_wall_may_be_others():
    assert str(SIZE) == "flare kiln for 500 kg of stone, 0.69 m across and 0.96 m high"
    tall = SIZE.with_(chimney_height="1.5 m")
    assert "with a chimney of 1.5 m" in str(tall)
    assert (SIZE.chimney_height.magnitude, tall.chimney_height.magnitude) == (0.0, 1.5)
    assert tall != SIZE == limekit.size_kiln(stone="500 kg", largest_stone="80 mm")
    assert tall.wall == SIZE.wall != SIZE.with_(layers=[("firebrick", "230 mm")]).wall
    assert limekit.design_kiln(stone="500 kg", chimney_height="1.5 m").kiln == tall
    assert "firebricks" not in SIZE._repr_html_()
    assert SIZE._repr_html_().count("<tr>") > 20


@pytest.mark.parametrize(
    ("known", "told"),
    [
        ({"kiln_diameter": "1 m"}, "some kiln"),
        ({"stone": "500 kg"}, "some kiln for 500 kg of stone"),
        ({"kiln_diameter": "1 m", "kiln_height": "2 m"}, "some kiln, 1.00 m across and 2.00 m high"),
    ],
)
def test_of_a_kiln_is_told_what_is_known(known, told):
    assert str(Kiln(**known)) == told


def test_kiln_fuel_stone_and_fire_may_be_given_whole_or_by_field():
    short = {"hours": "2 h", "levels": 3}
    by_field = limekit.fire_kiln(
        SIZE,
        chimney_height="1.5 m",
        excess_air=0.8,
        fuel="beech",
        fuel_moisture="25 %",
        calcium_carbonate=0.9,
        stone_moisture="2 %",
        **short,
    )
    whole = limekit.fire_kiln(
        SIZE.with_(chimney_height="1.5 m"),
        Fuel("beech", fuel_moisture=0.25),
        stone=Stone("500 kg", calcium_carbonate=0.9, stone_moisture=0.02),
        fire=Fire(excess_air=0.8),
        **short,
    )
    outlined = limekit.fire_kiln(
        Kiln(stone="500 kg", largest_stone="80 mm", chimney_height="1.5 m"),
        "beech",
        fuel_moisture=0.25,
        stone=Stone(calcium_carbonate=0.9, stone_moisture=0.02),
        fire={"excess_air": 0.8},
        **short,
    )
    assert by_field.fuel_used == whole.fuel_used == outlined.fuel_used
    assert by_field.conversion == whole.conversion == outlined.conversion
    told = {one.name: one.kind for one in by_field.basis}
    assert (told["chimney_height"], told["fuel_moisture"], told["excess_air"]) == ("given",) * 3
    assert told["density"] == "published"


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"stone": "400 kg"}, "sized for 500 kg"),
        ({"kiln_diameter": "1 m"}, 'an argument "kiln_diameter"'),
        ({"excess_ayr": 1}, "excess_air=0.6"),
        ({"fuel": "cherry"}, "beech"),
        ({"fire": "hot"}, "a Fire"),
    ],
)
def test_what_the_kiln_cannot_take_is_refused(given, words):
    with pytest.raises(InputError) as caught:
        limekit.fire_kiln(SIZE, **given)
    assert words in str(caught.value)


def test_a_kiln_of_which_too_little_is_told_is_not_fired():
    with pytest.raises(InputError, match="without its measures"):
        limekit.fire_kiln(Kiln(kiln_diameter="1 m"))
    with pytest.raises(InputError, match="no bed_height"):
        limekit.draught_flow(kiln_diameter="1 m", gas_temperature="900 degC")


def test_a_record_gives_its_stone_and_its_fuel(tmp_path):
    record = limekit.Record.load(tmp_path / "none.toml")
    assert record.stone.density == record.quantity("stone.density")
    assert record.stone.clay == record.quantity("stone.clay")
    record.keep("stone", calcium_carbonate=0.9).keep("fuel", name="beech, split in March", fuel_moisture=0.3)
    assert record.stone.clay is None, "nobody has analysed it"
    assert record.stone.calcium_carbonate.magnitude == 0.9
    assert record.fuel == Fuel("beech", fuel_moisture=0.3)
    trial = limekit.read_trial(limekit.example_path("trial_example.csv"), stone=record.stone)
    assert trial.stone == plain(record.stone)
    assessment = limekit.assess_trial(trial)
    assert assessment.stone.calcium_carbonate.magnitude == 0.9
    assert assessment.stone.reaction_coefficient == assessment.reaction_coefficient.median
