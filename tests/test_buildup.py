import math

import numpy as np
import pytest

import limekit
from limekit.errors import InputError
from limekit.facts import fact
from limekit.kiln.wall.buildup import wall_buildup
from limekit.kiln.wall.in_time import Wall
from limekit.kiln.wall.layers import brick_count, brick_leaf, material, wall_materials

KILN = (1.2, 1.7, 24 * 3600.0, 1273.15)


@pytest.fixture(scope="module")
def found():
    return wall_buildup.plain(*KILN, thickness_most=0.7, bricks_most=520, fuel_most=150.0)


def test_walls_within_the_limits_come_first_and_by_fuel(found):
    fits = [not one.refused for one in found.candidates]
    assert 0 < sum(fits) < len(fits)
    assert fits == sorted(fits, reverse=True)
    for group in (
        [one for one in found.candidates if not one.refused],
        [one for one in found.candidates if one.refused],
    ):
        fuels = [one.wall_fuel for one in group]
        assert np.all(np.diff(fuels) > -0.11)  # walls that differ by less than 0.1 kg go by their thickness
    for one in found.candidates:
        broken = {
            "thickness_most": one.wall_thickness > 0.7,
            "bricks_most": one.fire_bricks + one.common_bricks > 520,
            "fuel_most": one.wall_fuel > 150.0,
        }
        assert set(one.refused) == {name for name, is_broken in broken.items() if is_broken}


def test_the_best_wall_takes_what_firing_it_by_hand_takes(found):
    best, area = found.best, math.pi * 1.2 * 1.7
    wall, burnt = Wall(best.layers, area, 1.2), 0.0
    for minute in range(24 * 60):
        climbed = min(1.0, (minute + 0.5) / (12 * 60))
        burnt += wall.step(293.15 + climbed * 980.0, 100.0, 60.0)[0]
    assert best.heat_stored + best.heat_lost == pytest.approx(burnt, rel=2e-3)
    assert best.heat_stored == pytest.approx(wall.heat_stored[0], rel=2e-3)
    heating_value = limekit.lower_heating_value.plain("oak", fact("fuel_moisture"))
    assert best.wall_fuel == pytest.approx(burnt / heating_value, rel=2e-3)


def test_more_fill_takes_less_fuel_and_a_dense_lining_more():
    by_layers = {
        tuple((name, round(thick, 3)) for name, thick in one.layers): one
        for one in wall_buildup.plain(*KILN).candidates
    }
    inner, outer = ("firebrick", 0.114), ("rubble", 0.45)
    filled = [by_layers[inner, ("wood_ash", thick), outer].wall_fuel for thick in (0.05, 0.10, 0.15, 0.20)]
    assert by_layers[inner, outer].wall_fuel > filled[0]
    assert filled == sorted(filled, reverse=True)
    thick = ("firebrick", round(brick_leaf("firebrick", 2), 3))
    assert by_layers[thick, ("wood_ash", 0.10), outer].wall_fuel > filled[1]


def test_volumes_are_those_of_rings_with_waste(found):
    lining, ash, stone = 0.114, 0.2, 0.3
    best = found.best
    assert best.layers == (("firebrick", lining), ("wood_ash", ash), ("rubble", stone))
    ring = math.pi * ((0.6 + lining + ash) ** 2 - (0.6 + lining) ** 2) * 1.7
    assert best.fill_volume == pytest.approx(1.2 * ring)
    inside, outside = 0.6 + lining + ash, 0.6 + lining + ash + stone
    assert best.stone_volume == pytest.approx(1.1 * math.pi * (outside**2 - inside**2) * 1.7)
    assert best.common_bricks == 0
    assert best.wall_thickness == pytest.approx(lining + ash + stone)


def test_sixty_bricks_make_a_square_metre_of_half_brick_wall():
    # bricklayers' rule: 60 to the square metre in a single leaf, 120 in a double one, without waste
    waste = 1.0 + fact("brick_waste")
    assert brick_count("common_brick", 10 * 0.1025, 0.1025) / waste == pytest.approx(600, rel=0.02)
    double = brick_leaf("common_brick", 2)
    assert double == pytest.approx(0.215)
    assert brick_count("common_brick", 10 * double, double) / waste == pytest.approx(1200, rel=0.02)


def test_an_outer_wall_of_brick_is_counted_apart():
    best = wall_buildup.plain(*KILN, outer="common_brick", fill=None).best
    assert best.fire_bricks > 0
    assert best.common_bricks > 0
    assert best.fill_volume == best.stone_volume == 0.0


def test_a_limit_that_no_wall_keeps_is_named_with_what_would_lift_it():
    with pytest.raises(InputError) as caught:
        limekit.wall_buildup("1.2 m", "1.7 m", "24 h", "1000 degC", thickness_most="350 mm")
    assert "thickness_most" in str(caught.value)
    assert caught.value.example == 'thickness_most="414 mm"'
    assert limekit.wall_buildup("1.2 m", "1.7 m", "24 h", "1000 degC", thickness_most="414 mm").best.refused == ()


def test_two_limits_that_no_wall_keeps_together_are_both_named():
    with pytest.raises(InputError, match="more than one limit") as caught:
        wall_buildup.plain(*KILN, thickness_most=0.35, bricks_most=10)
    assert "bricks_most" in str(caught.value)
    assert "thickness_most" in str(caught.value)


def test_bare_limestone_rubble_is_refused_for_its_heat():
    with pytest.raises(InputError, match="stands 740 °C"):
        wall_buildup.plain(*KILN, lining="rubble", fill=None)


def test_a_wall_fired_for_a_week_gets_hotter_inside_than_one_fired_for_a_day():
    week = wall_buildup.plain(1.2, 1.7, 7 * 24 * 3600.0, 1373.15)
    day = wall_buildup.plain(1.2, 1.7, 24 * 3600.0, 1373.15)
    too_hot = [sum("reaches" in why for one in found.candidates for why in one.refused) for found in (day, week)]
    assert too_hot[0] < too_hot[1]


def test_choices_stand_in_units_and_as_a_table(found):
    shown = limekit.wall_buildup("1.2 m", "1.7 m", "24 h", "1000 degC", lining="insulating_firebrick")
    assert str(shown.best.wall_fuel.units) == "kg"
    table = shown.table()
    assert len(table) == len(shown.candidates)
    assert table["fuel the wall takes [kg]"].iloc[0] == pytest.approx(shown.best.wall_fuel.magnitude, abs=0.01)
    assert table["wall thickness [mm]"].iloc[0] == pytest.approx(shown.best.wall_thickness.magnitude, abs=0.01)
    assert shown.best.wall_fuel.magnitude < found.best.wall_fuel
    assert "kiln_wall" in shown.cautions
    assert {"insulating firebrick", "kiln_diameter"} <= {ground.name for ground in shown.basis}
    still = limekit.steady_wall(shown.best.layers, "1000 degC", kiln_diameter="1.2 m")
    assert still.heat_flux.magnitude > 0


@pytest.mark.parametrize(
    "bad",
    [
        {"lining": "firebrik"},
        {"fill": "ash"},
        {"bricks_most": -1},
        {"firing_time": "0 h"},
        {"air_temperature": "950 degC"},
    ],
)
def test_hostile_input_is_refused(bad):
    good = dict(
        zip(
            ("kiln_diameter", "kiln_height", "firing_time", "gas_temperature"),
            ("1 m", "1 m", "20 h", "900 degC"),
            strict=True,
        )
    )
    with pytest.raises(InputError):
        limekit.wall_buildup(**{**good, **bad})


def test_every_form_of_material_is_counted_somewhere():
    forms = {material(name).form for name in wall_materials()}
    assert forms == {"firebrick", "common_brick", "stone", "mortar", "fill", "insulation"}


def test_what_a_wall_wants_is_its_rings_with_waste(found):
    best = next(one for one in found.candidates if len(one.layers) == 3 and one.layers[2][0] == "rubble")
    edges = np.cumsum([0.0, *(thick for _, thick in best.layers)])
    rings = np.diff(math.pi / 4 * (1.2 + 2 * edges) ** 2) * 1.7
    assert best.fill_volume == pytest.approx(rings[1] * (1 + fact("fill_waste")))
    assert best.stone_volume == pytest.approx(rings[2] * (1 + fact("rubble_waste")))
    assert best.wall_thickness == pytest.approx(edges[-1])


def test_the_verdict_counts_walls_heat_fuel_and_what_stays(found):
    best, fit = found.best, sum(not one.refused for one in found.candidates)
    heat = best.heat_stored + best.heat_lost
    assert found.verdict.startswith(f"{fit} of {len(found.candidates)} walls keep within")
    assert f"takes {heat / 1e6:.0f} MJ in a firing, at least {best.wall_fuel:.0f} kg of fuel" in found.verdict
    assert f"{100 * best.heat_stored / heat:.0f} % of it stays" in found.verdict
    assert 0.5 < best.heat_stored / heat < 1.0
