"""A kiln made ready for its fire: what is read of kiln and stoking, and what the lit kiln is put together from."""

import math

import numpy as np
import pytest

from limekit import InputError, fact, size_kiln
from limekit.fire.bed import laid_porosity, sauter_diameter
from limekit.fire.fuel import OAK
from limekit.kiln.cover import cover_conductance
from limekit.kiln.keeping import USUAL_FIRE, usual_slow_start, usual_stoking_rate
from limekit.kiln.kiln import Kiln
from limekit.kiln.lighting import FiringPlan, flare_kiln, read_stoking
from limekit.limestone import USUAL_STONE

HOUR = 3600.0
SIZE = size_kiln.plain(500.0, 0.1)
SIZES = {0.05: 0.25, 0.1: 0.75}
NO_RATES = (), ()


def plan(levels=3, rings=2, air_temperature=283.15, wind_pressure=0.0, arrangement="mixed", kiln=None, **fire):
    return FiringPlan(
        kiln=SIZE.but(**(kiln or {})),
        fuel=OAK,
        stone=USUAL_STONE,
        fire=USUAL_FIRE.but(**({"stoking": NO_RATES} | fire)),
        shares=tuple(SIZES.items()),
        arrangement=arrangement,
        air_temperature=air_temperature,
        wind_pressure=wind_pressure,
        levels=levels,
        rings=rings,
    )


# what is read


def test_a_kiln_told_by_its_stone_alone_is_sized_and_keeps_what_no_rule_works_out():
    told = {"altitude": 900.0, "chimney_height": 2.0, "wall_kind": "rubble", "wall_moisture": 0.05, "cover": "slabs"}
    told |= {"laid": "with flues", "flues": 4, "flue_width": 0.08, "layers": (("rubble", 0.5),)}
    measures = {"smallest_stone": 0.03, "height_to_diameter": 2.0}
    made = flare_kiln(Kiln.plain(stone=500.0, largest_stone=0.1, **measures, **told))
    assert made == size_kiln.plain(500.0, 0.1, **measures).but(**told)
    assert made.kiln_height / made.kiln_diameter == pytest.approx(2.0)
    assert flare_kiln(made) is made


@pytest.mark.parametrize(
    ("kiln", "wanted"),
    [
        (size_kiln.plain(30_000.0, 0.08, kind="shaft"), "a flare kiln"),
        (Kiln.plain(stone=500.0), "what size_kiln or design_kiln returns"),
        (Kiln.plain(largest_stone=0.1), "what size_kiln or design_kiln returns"),
    ],
    ids=["a shaft", "no size of stone", "no stone"],
)
def test_a_kiln_of_another_kind_or_told_too_little_of_is_refused(kiln, wanted):
    with pytest.raises(InputError) as told:
        flare_kiln(kiln)
    assert told.value.wanted == wanted


@pytest.mark.parametrize(
    ("given", "times", "rates"),
    [
        (None, (), ()),
        (0.002, (0.0,), (0.002,)),
        ("7.2 kg/h", (0.0,), (0.002,)),
        ([("0 h", "3.6 kg/h"), (HOUR, 0.0)], (0.0, HOUR), (0.001, 0.0)),
        ([("1 h", "0 kg/h"), ("90 min", "3.6 kg/h")], (HOUR, 1.5 * HOUR), (0.0, 0.001)),
    ],
    ids=["none", "a figure", "words", "let out", "lit late"],
)
def test_stoking_is_read_as_moments_and_the_rate_from_each_on(given, times, rates):
    found = read_stoking(given)
    assert found[0] == pytest.approx(times)
    assert found[1] == pytest.approx(rates)


@pytest.mark.parametrize(
    ("given", "got"),
    [
        ([], "[]"),
        ([("0 h", "4 kg/h", "oak")], "[('0 h', '4 kg/h', 'oak')]"),
        ([("0 h", "4 kg/h"), ("1 h",)], "[('0 h', '4 kg/h'), ('1 h',)]"),
        ([("1 h", "4 kg/h"), ("60 min", "5 kg/h")], "times that do not rise"),
        ([("2 h", "4 kg/h"), ("1 h", "5 kg/h")], "times that do not rise"),
        (0.0, "no fuel at all"),
        ([("0 h", "0 kg/h"), ("3 h", "0 kg/h")], "no fuel at all"),
    ],
)
def test_stoking_that_is_none_is_told_as_it_was_got(given, got):
    with pytest.raises(InputError) as told:
        read_stoking(given)
    assert told.value.got == got


# what is fed


def test_what_is_told_of_feeding_goes_before_what_practice_feeds():
    assert plan().stoking_rate == float(usual_stoking_rate(500.0))
    assert plan().slow_start == float(usual_slow_start(500.0)) > 0.0
    assert plan(stoking_rate=0.002).stoking_rate == 0.002
    assert plan(stoking_rate=0.0).stoking_rate == 0.0
    rates = (0.0,), (0.002,)
    assert plan(stoking=rates).slow_start == 0.0, "the rates say it all"
    assert plan(stoking=rates, heat_up_time=HOUR).slow_start == HOUR
    assert plan(heat_up_time=0.0).slow_start == 0.0


def test_the_stoker_has_what_the_fire_says():
    rates = (0.0, HOUR), (0.002, 0.0)
    kept = {"excess_air": 0.9, "fuel_unburnt": 0.07, "fuel_surplus": 0.2, "stoking_rate": 0.003}
    stoker = plan(stoking=rates, **kept).light().stoker
    assert (stoker.times, stoker.rates) == rates
    assert (stoker.excess_air, stoker.unburnt, stoker.surplus) == (0.9, 0.07, 0.2)
    assert (stoker.most, stoker.heat_up_time) == (0.003, 0.0)
    assert plan().light().damper == 1.0
    assert plan(damper=0.4).light().damper == 0.4


# the lit kiln


@pytest.mark.parametrize("rings", [1, 2, 3])
def test_the_wall_is_the_kiln_s_inside_and_stands_round_the_outermost_ring(rings):
    burn = plan(rings=rings).light()
    faces = burn.column.wall.face_area.reshape(4, rings)
    around, section = math.pi * SIZE.kiln_diameter, math.pi / 4 * SIZE.kiln_diameter**2
    assert faces[0].sum() == pytest.approx(around * SIZE.hearth_height + section), "and the hearth has a floor"
    assert np.ptp(faces[0]) == pytest.approx(0.0)
    assert faces[1:, -1] == pytest.approx(around * SIZE.bed_height / 3)
    assert not faces[1:, :-1].any()


def test_the_charge_is_the_stone_in_its_sizes_level_by_level():
    charge = plan().light().column.charge
    assert charge.sizes.tolist() == list(SIZES)
    assert charge.mass.shape == (3, 2)
    assert charge.mass.sum() == pytest.approx(500.0 * (1.0 - USUAL_STONE.stone_moisture))
    assert charge.mass.sum(axis=0) / charge.mass.sum() == pytest.approx(list(SIZES.values()))
    assert charge.porosity == laid_porosity.plain("by hand", sauter_diameter.plain(SIZES), SIZE.kiln_diameter)
    graded = plan(arrangement="graded").light().column.charge
    assert graded.mass[0, 0] == 0.0 < graded.mass[-1, 0], "the small lie on top"
    wet = plan().light(USUAL_STONE.but(stone_moisture=0.1)).column.charge
    assert wet.mass.sum() == pytest.approx(450.0)


def test_the_rings_are_cut_through_the_charge_with_the_flame_the_fire_has():
    burn = plan(flame_share=0.3).light()
    assert burn.rings.count == 2
    assert burn.rings.flame.sum() == pytest.approx(0.3)
    # a face at the radius r/√2 for a level's height, over the way between the middles of the rings, r/2
    level = burn.way.bed_height / 3
    assert burn.rings.reach == pytest.approx([2 * math.pi / math.sqrt(2) * level / 0.5])


def test_stone_wall_and_air_are_as_cold_as_each_other_and_the_air_as_thin_as_the_place_is_high():
    burn = plan(kiln={"altitude": 2000.0}, wind_pressure=3.0).light()
    column = burn.column
    assert column.air_temperature == column.wall.air_temperature == 283.15
    assert column.gas_temperature == pytest.approx(283.15)
    assert column.stones.core_temperature == pytest.approx(283.15)
    # International Standard Atmosphere (ISO 2533): 79.5 kPa at 2000 m, 101.325 at the sea
    assert column.air_pressure == pytest.approx(79_500.0, rel=5e-3)
    assert plan().light().column.air_pressure == pytest.approx(101_325.0, rel=1e-3)
    assert burn.way.wind_pressure == 3.0
    assert burn.clock == 0.0


def test_a_damp_wall_holds_more_heat_and_the_usual_one_is_the_kiln_s():
    dry, wet = (plan(kiln={"wall_moisture": share}).light().column.wall for share in (0.0, 0.05))
    assert [layer.material.name for layer in dry.layers] == ["firebrick", "dry_sand", "common_brick"]
    assert [layer.thickness for layer in dry.layers] == [one for _, one in SIZE.wall]
    rise = 0.05 * fact("drying_heat") / fact("wall_drying_rise")
    for before, after in zip(dry.layers, wet.layers, strict=True):
        assert after.material.heat_capacity - before.material.heat_capacity == pytest.approx(rise)


def test_mouth_and_cover_lose_by_their_areas():
    burn = plan().light()
    assert burn.mouth == pytest.approx(fact("mouth_open_share") * SIZE.air_opening_area)
    section = math.pi / 4 * SIZE.kiln_diameter**2
    assert burn.cover == pytest.approx(cover_conductance(section))
    assert burn.lid is None
    assert plan(kiln={"cover": "slabs"}).light().cover == pytest.approx(cover_conductance(section, "slabs"))


def test_a_kiln_to_be_closed_in_time_has_its_slabs_at_hand():
    burn = plan(kiln={"cover": "closed in time"}, wind_pressure=3.0).light()
    slabs = plan(kiln={"cover": "slabs"}, wind_pressure=3.0).light()
    assert burn.lid.laid_at == fact("lid_laid_at")
    assert burn.lid.way == slabs.way
    assert burn.lid.cover == slabs.cover < burn.cover
    assert burn.way.eye_area == pytest.approx(math.pi / 4 * SIZE.kiln_diameter**2), "open at first"


def test_steps_go_at_the_pace_that_is_asked():
    assert plan().light().pace == 1.0
    assert plan().light(pace=0.25).pace == 0.25
