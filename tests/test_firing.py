"""Whole firings: budgets, convergence, what hastens and what hinders, limits said aloud, cooling, the trial's doubt."""

import math
from types import SimpleNamespace

import numpy as np
import pytest

import limekit
from limekit import InputError, cool_kiln, design_kiln, fact, fire_kiln, fire_range, kiln_efficiency, size_kiln
from limekit.fire.fuel import lower_heating_value
from limekit.kiln.firing import finish_times
from limekit.stone.overburn import overburn_history

HOUR = 3600.0
SIZE = size_kiln.plain(500.0, 0.1)


def fired(size=SIZE, **options):
    return fire_kiln.plain(size, **{"chimney_height": 1.0, "levels": 12} | options)


def heating_value(fuel="oak", fuel_moisture=0.2):
    return lower_heating_value.plain(fuel, fuel_moisture)


@pytest.fixture(scope="module")
def usual():
    return fired()


def test_a_firing_prints_without_its_arrays(usual):
    assert "history=" not in repr(usual)
    assert "burn=" not in repr(usual)


def test_a_small_kiln_is_done_within_a_day_and_burns_one_to_three_kilograms_of_wood_a_kilogram_of_lime(usual):
    assert 10 * HOUR < usual.finish < 24 * HOUR
    assert 1.0 < usual.fuel_per_quicklime < 3.0
    assert usual.conversion == pytest.approx(fact("flare_conversion"), abs=2e-3)
    assert usual.firing_time == pytest.approx(usual.finish, abs=2.0)
    assert usual.verdict.startswith("Done after")


@pytest.mark.parametrize(
    "options",
    [
        {},
        {"fuel_moisture": 0.4, "stone_moisture": 0.05},
        {"calcium_carbonate": 0.6, "magnesium_carbonate": 0.3},
        {"fuel": "coke", "fuel_moisture": 0.02, "air_temperature": 263.15},
        {"stoking": "40 kg/h", "hours": 6 * HOUR},
        {"air_door": "open", "stoking": "6 kg/h", "hours": 9 * HOUR},
    ],
    ids=["usual", "wet", "dolomitic", "coke in frost", "more than burns", "door open"],
)
def test_the_heat_budget_is_the_heat_of_the_fuel(options):
    firing = fired(**options)
    fuel, fuel_moisture = options.get("fuel", "oak"), options.get("fuel_moisture", 0.2)
    in_fuel = firing.fuel_used * heating_value(fuel, fuel_moisture)
    assert firing.heat_budget.fuel_heat == pytest.approx(in_fuel, rel=1e-6)
    assert sum(firing.heat_budget.values()) == firing.heat_budget.fuel_heat
    assert set(firing.heat_budget) == set(dict(firing.heat_budget.items()))
    assert all(part >= -1e-6 * in_fuel for part in firing.heat_budget.values())
    assert firing.heat_budget["wall_stored"] == firing.heat_budget.wall_stored


def test_heat_carbon_dioxide_and_water_close_at_every_step():
    made = fired(stone_moisture=0.03, fuel_moisture=0.3)
    charge = made.burn.column.charge
    moments = made.burn.moments
    spent = moments.flue + moments.stones + moments.wall + moments.leaks.sum(axis=1)
    assert spent == pytest.approx(moments.fire, rel=1e-6)
    assert moments.gas_out[:, 2:] == pytest.approx(moments.gas_in[:, 2:], rel=1e-9)
    seconds = np.diff(moments.time, prepend=0.0)
    dioxide, water, *_ = np.einsum("t,tpm->p", seconds, moments.gas_out - moments.gas_in)
    gone = [float(charge.mass.sum() * charge.mean(part)[0]) for part in made.burn.column.stones.gone]
    assert water * 0.018015 == pytest.approx(gone[0], rel=1e-6)
    assert dioxide * 0.044009 == pytest.approx(gone[1], rel=1e-6)
    assert gone[0] == pytest.approx(500.0 * 0.03, rel=1e-6)


def test_efficiency_is_heat_of_dissociation_over_the_lower_heating_value(usual):
    expected = kiln_efficiency.plain(usual.quicklime, usual.fuel_used, heating_value())
    assert usual.efficiency == pytest.approx(expected, rel=1e-4)


def test_shorter_steps_and_finer_levels_change_the_finish_by_less_than_two_percent():
    coarse = fire_kiln.plain(SIZE, chimney_height=1.0)
    plan = coarse.plan
    fine = plan.light(pace=0.25)
    fine.run(60 * HOUR, plan.fire.conversion)
    assert coarse.finish == pytest.approx(finish_times(fine, plan.fire.conversion)[0], rel=0.003)
    finer = fire_kiln.plain(SIZE, chimney_height=1.0, levels=40)
    assert coarse.finish == pytest.approx(finer.finish, rel=0.02)
    assert coarse.fuel_used == pytest.approx(finer.fuel_used, rel=0.02)


def test_one_level_and_many_both_fire():
    one = fired(levels=1)
    assert one.finish > fired(levels=30).finish
    assert len(one.places) == 6
    assert {place.part for place in one.places} == {"bottom"}


def test_wetter_fuel_takes_more_of_it_and_longer(usual):
    runs = [fired(fuel_moisture=fuel_moisture) for fuel_moisture in (0.1, 0.2, 0.35)]
    assert [run.fuel_used for run in runs] == sorted(run.fuel_used for run in runs)
    assert [run.finish for run in runs] == sorted(run.finish for run in runs)


def test_larger_stone_takes_longer_on_the_same_fuel_and_less_long_on_all_the_draught_can_burn():
    small, large = {"50 mm": 1.0}, {"130 mm": 1.0}
    fed = [fired(stone_sizes=sizes, stoking="11 kg/h", chimney_height=3.0) for sizes in (small, large)]
    assert fed[0].finish < fed[1].finish
    free = [fired(stone_sizes=sizes) for sizes in (small, large)]
    assert free[0].finish > free[1].finish, "small stone holds the air back"


def test_what_hastens_and_what_hinders(usual):
    assert fired(chimney_height=2.0).finish < usual.finish < fired(chimney_height=0.3).finish
    assert fired(altitude=2500.0).finish > usual.finish
    assert fired(damper=0.3).finish > usual.finish
    assert fired(fire_temperature=1423.15).finish > usual.finish
    assert fired(fire_temperature=1423.15).history.overburn_index.max() < usual.history.overburn_index.max()
    assert fired(stone_moisture=0.08).fuel_per_quicklime > usual.fuel_per_quicklime
    assert fired(heat_up_time=8 * HOUR).finish > usual.finish
    bare = fired(layers=[("common_brick", 0.215)])
    packed = fired(layers=[("insulating_firebrick", 0.114), ("wood_ash", 0.3), ("common_brick", 0.215)])
    assert packed.finish < bare.finish
    assert packed.fuel_used < bare.fuel_used


def test_stone_that_burns_slower_takes_longer(usual):
    assert fired(reaction_coefficient=0.003).finish > usual.finish > fired(lime_conductivity=0.9).finish


def test_the_schedule_is_kept_where_the_draught_can_burn_it():
    plan = [("0 h", "4 kg/h"), ("5 h", "8 kg/h"), ("12 h", "0 kg/h")]
    firing = fired(stoking=plan)
    assert firing.fuel_used == pytest.approx(5 * 4 + 7 * 8, rel=1e-6)
    assert firing.firing_time == pytest.approx(12 * HOUR)
    rates = firing.history.fuel_rate * HOUR
    assert set(np.round(rates, 6)) == {4.0, 8.0}
    assert not [limit for limit in firing.limits if limit.name == "draught"]


def test_what_the_draught_cannot_burn_is_not_counted_and_is_said():
    firing = fired(stoking="100 kg/h")
    assert firing.fuel_used == pytest.approx(fired(stoking_rate=np.inf, heat_up_time=0.0).fuel_used, rel=0.01)
    assert "could not burn" in str(firing.limits[0])
    assert "chimney" in firing.limits[0].lift


def test_a_fire_is_never_hotter_than_asked():
    firing = fired(fire_temperature=1373.15)
    assert firing.history.hearth_temperature.max() < 1373.15
    assert firing.history.gas_temperature.max() < 1373.15
    assert firing.history.stone_temperature.max() < 1373.15


def test_the_lowest_stone_is_first_and_hottest_and_the_top_is_left_raw(usual):
    told = usual.history
    assert told.conversion.shape == (len(told.times), 12, 3)
    assert np.all(np.diff(told.times) > 0.0)
    assert np.all(np.diff(told.conversion, axis=0) >= 0.0)
    assert np.all(np.diff(told.overburn_index, axis=0) >= 0.0)
    last = told.conversion[-1]
    assert np.all(np.diff(last, axis=0) <= 1e-9), "from the bottom up"
    assert np.all(np.diff(last, axis=1) <= 1e-9), "from small to large"
    assert told.mass.sum() == pytest.approx(500.0 * (1.0 - fact("stone_moisture")))
    raw = usual.raw
    assert raw[0].part == "top"
    assert raw[0].size == pytest.approx(0.1)
    assert usual.raw_stone == pytest.approx(float((told.mass * (1.0 - last)).sum()) * 0.97, rel=1e-3)
    assert sum(place.share for place in usual.places) == pytest.approx(1.0)


def test_over_burning_is_that_of_the_stone_module_followed_stone_by_stone():
    firing = fired(stone_sizes={"60 mm": 1.0}, levels=4, rings=1)
    lime = firing.burn.moments.lime_temperature[:, 0, 0, 0]
    alone = overburn_history.plain(firing.history.times, lime)
    assert firing.history.overburn_index[-1, 0, 0] == pytest.approx(alone, rel=1e-9)


def test_graded_stone_lies_largest_below():
    sizes = {"30 mm": 1.0, "60 mm": 1.0, "120 mm": 1.0}
    mass = fired(stone_sizes=sizes, arrangement="graded").history.mass
    assert mass[0].argmax() == 2
    assert mass[-1].argmax() == 0


# what cannot be done is said, with what would lift it


@pytest.mark.parametrize(
    ("options", "name", "said", "lift"),
    [
        ({"damper": 0.0}, "draught", "damper is shut", "Open"),
        (
            {"air_temperature": 318.15, "chimney_height": 0.0, "laid": "poured", "start": 250.0},
            "draught",
            "does not draw",
            "small quick fire",
        ),
        ({"fire_temperature": 2200.0}, "fire", "cannot give gas of 1927 °C", "Drier fuel"),
        ({"fire_temperature": 950.0}, "temperature", "never passed", "less air"),
        ({"fuel_moisture": 0.6}, "fire", "no hotter than", "Drier fuel"),
        ({"excess_air": 5.0}, "fire", "no hotter than", "less air"),
        ({"hours": 4 * HOUR}, "time", "After 4 h", "about"),
        ({"fire_temperature": 1773.15, "flame_share": 0.0, "conversion": 1.0}, "heat", "dead-burnt", '"1150 degC"'),
        ({"air_door": "open", "stoking": "5 kg/h", "hours": 20 * HOUR}, "temperature", "never passed", "less air"),
    ],
    ids=[
        "shut",
        "cold stone in hot air",
        "hotter than fuel",
        "too cool",
        "wet",
        "too much air",
        "hours",
        "hot",
        "door",
    ],
)
def test_a_limit_is_said_with_what_would_lift_it(options, name, said, lift, monkeypatch):
    start = options.pop("start", None)
    if start:
        from limekit.kiln import lighting

        whole = lighting.Column
        monkeypatch.setattr(
            lighting, "Column", lambda charge, wall, air, _, pressure: whole(charge, wall, air, start, pressure)
        )
    firing = fired(**options)
    found = [limit for limit in firing.limits if limit.name == name]
    assert found, firing.limits
    assert said in found[0].hit
    assert lift in found[0].lift
    if firing.finish is None:
        assert not firing.verdict.startswith("Done")
        assert firing.verdict.startswith(str(firing.limits[0]))


@pytest.mark.parametrize("options", [{"damper": 0.0}, {"fire_temperature": 900.0, "hours": 10 * HOUR}])
def test_a_kiln_that_burns_nothing_has_no_finish_and_no_ratio(options):
    firing = fired(**options)
    assert firing.finish is None
    assert firing.fuel_per_quicklime is None
    assert firing.efficiency == firing.conversion == firing.quicklime == 0.0


def test_hours_end_the_fire_and_less_is_burnt(usual):
    cut = fired(hours=8 * HOUR)
    assert cut.finish is None
    assert cut.firing_time == pytest.approx(8 * HOUR)
    assert 0.1 < cut.conversion < usual.conversion
    assert cut.fuel_used < usual.fuel_used


def test_burnt_to_the_last_stone():
    firing = fired(conversion=1.0, stone_sizes={"60 mm": 1.0})
    assert firing.finish is not None
    assert firing.conversion == pytest.approx(1.0, abs=1e-5)
    assert firing.raw == ()


@pytest.mark.parametrize(
    ("kiln", "options", "fault"),
    [
        ("a kiln", {}, "what size_kiln or design_kiln returns"),
        (size_kiln("30 tonne", "80 mm", kind="shaft", smallest_stone="50 mm"), {}, "a flare kiln"),
        (SIZE, {"fuel_moisture": 0.68}, "keeps no fire"),
        (SIZE, {"stoking": []}, "pairs of a time"),
        (SIZE, {"stoking": [("2 h", "5 kg/h"), ("1 h", "6 kg/h")]}, "times in order"),
        (SIZE, {"stoking": "0 kg/h"}, "no fuel at all"),
        (SIZE, {"stoking": "5 kg"}, "kg/h"),
        (SIZE, {"levels": 0}, "1 to 200"),
        (SIZE, {"layers": []}, "at least one pair"),
        (SIZE, {"stone_sizes": {}}, "some stone"),
        (SIZE, {"calcium_carbonate": 0.8, "magnesium_carbonate": 0.4}, "of 1 at most"),
        (SIZE, {"calcium_carbonate": 0.0}, "a stone that can be burnt to lime"),
        (SIZE, {"hours": "0 h"}, "0.05"),
        (SIZE, {"arrangement": "tidy"}, "mixed"),
        (SIZE, {"fuel": "peet"}, "peat"),
        ({"stone": "500 kg", "largest_stone": "80 cm"}, {}, "600 mm"),
    ],
)
def test_what_cannot_be_fired_is_refused(kiln, options, fault):
    with pytest.raises(InputError, match=fault):
        fire_kiln(kiln, **options)


def test_a_kiln_may_be_a_size_a_design_or_words():
    words = {"stone": "500 kg", "largest_stone": "100 mm"}
    kilns = (words, size_kiln(**words), design_kiln(**words))
    finishes = {round(fire_kiln(kiln, chimney_height="1 m", levels=4).finish.to("s").magnitude) for kiln in kilns}
    assert len(finishes) == 1


def test_quantities_come_out_as_the_glossary_shows_them():
    firing = fire_kiln(SIZE, chimney_height="1 m", levels=4, hours=5)
    assert firing.finish is None
    assert f"{firing.firing_time:.0f~P}" == "5 h"
    assert firing.heat_budget.flue_heat.units == "megajoule"
    assert {ground.name for ground in firing.basis} >= {"hours", "excess_air", "fuel_unburnt", "flare conversion"}


# after the fire


def test_a_shut_kiln_cools_slower_than_an_open_one_and_the_firing_is_left_as_it_was(usual):
    clock, held = usual.burn.clock, usual.burn.column.stones.heat_held.copy()
    shut, airy = (cool_kiln.plain(usual, openings) for openings in ("closed", "open"))
    assert airy.cooling_time < shut.cooling_time
    for cooling in (shut, airy):
        assert cooling.lime_temperature == pytest.approx(usual.lime_temperature)
        assert cooling.hottest[-1] <= fact("lime_draw_temperature")
        assert np.all(np.diff(cooling.mean) < 1.0)
        assert cooling.mean[-1] > 293.0
    assert usual.burn.clock == clock
    assert np.array_equal(usual.burn.column.stones.heat_held, held)
    assert cool_kiln.plain(usual, draw_temperature=373.15).cooling_time < shut.cooling_time


def test_small_kilns_and_large_cool_in_days_as_they_should(usual):
    # common practice, 1 to 3 days in small kilns; the leak was chosen so, see closed_leak_share
    assert 24 * HOUR < cool_kiln.plain(usual).cooling_time < 72 * HOUR


# a trial's doubt


def known(paces, conductivities, chances, spreads=(0.1,)):
    together = np.outer(chances, np.full(len(spreads), 1.0 / len(spreads)))
    posterior = SimpleNamespace(
        of_stone=lambda: (np.array(paces), np.array(conductivities), together), spreads=np.array(spreads)
    )
    return SimpleNamespace(posterior=posterior)


def test_a_stone_known_for_sure_gives_the_firing_itself(usual):
    sure = known([float(fact("reaction_coefficient"))], [float(fact("lime_conductivity"))], [1.0], [1e-6])
    ranged = fire_range.plain(usual, sure, members=5)
    assert ranged.finish.low == ranged.finish.high
    assert ranged.finish.median == pytest.approx(usual.finish, rel=2e-3)
    assert ranged.fuel_used.median == pytest.approx(usual.fuel_used, rel=2e-3)
    assert ranged.conversion.median == pytest.approx(usual.conversion, abs=3e-3)
    assert ranged.quicklime.median == pytest.approx(usual.quicklime, rel=3e-3)
    assert ranged.done_share == 1.0


def test_doubt_about_the_stone_is_a_range_of_hours_fuel_and_yield(usual):
    doubt = known([0.003, 0.006, 0.012], [0.4, 0.6, 0.9], [0.25, 0.5, 0.25], [0.05, 0.3])
    ranged = fire_range.plain(usual, doubt, members=12)
    assert ranged.finish.low < ranged.finish.median < ranged.finish.high
    assert ranged.fuel_used.low < ranged.fuel_used.high
    assert ranged.quicklime.low < ranged.quicklime.high
    order = np.argsort(ranged.finishes)
    assert list(order) == [2, 1, 0], "the quicker the stone, the sooner"
    first, second, last = ranged.finishes[order]
    assert [ranged.finish_by(chance) for chance in (0.1, 0.5, 0.74, 0.95, 1.0)] == [first, second, second, last, last]
    assert "finishes" not in repr(ranged)
    again = fire_range.plain(usual, doubt, members=12)
    assert np.array_equal(again.finishes, ranged.finishes)


def test_a_stone_s_mass_is_that_of_the_kiln_sized_for_it(usual):
    assert fired(stone=limekit.Stone.plain(mass=500.0)).finish == usual.finish
    with pytest.raises(InputError, match="501 kg for a kiln sized for 500 kg"):
        fired(stone=limekit.Stone.plain(mass=501.0))


def test_stone_that_may_never_be_done_has_no_range_of_hours(usual):
    doubt = known([1e-6, 0.006], [0.6, 0.6], [0.5, 0.5])
    ranged = fire_range.plain(usual, doubt, members=10)
    assert ranged.done_share < 0.95
    assert ranged.finish is None
    assert ranged.fuel_used is None
    assert "never" in ranged.verdict
    assert math.isinf(ranged.finishes.max())


def test_too_few_members_are_refused(usual):
    with pytest.raises(InputError, match="5 to 200"):
        fire_range.plain(usual, known([0.006], [0.6], [1.0]), members=2)
