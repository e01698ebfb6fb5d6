"""The table of real firings: read, counted, and the plain line through it worked by hand."""

import dataclasses
import math
from bisect import bisect
from collections import defaultdict

import numpy as np
import pytest

from limekit.errors import InputError
from limekit.estimate import Span
from limekit.facts import TAGS, fact
from limekit.fire.stacks import fuel_mass_in
from limekit.kiln.firing import fire_kiln
from limekit.kiln.population import widest
from limekit.kiln.real_firings import _firing, known, masses_of, plain_line, real_firings
from limekit.kiln.sizing import size_kiln
from limekit.tables import rows
from limekit.units import HOUR

ENDS = (1000.0, 5000.0)  # kg of stone, between small, middling and large kilns


def of(name):
    return next(one for one in real_firings() if one.id == name)


def test_every_firing_has_a_source_its_place_and_a_name_of_its_own():
    found = real_firings()
    assert len({one.id for one in found}) == len(found)
    assert all(one.source and one.place and one.tag in TAGS and one.name for one in found)


def test_every_figure_lies_in_its_own_range():
    for one in real_firings():
        for figure in (one.stone, one.fuel, one.hours, one.lime):
            assert figure is None or 0.0 < figure.low <= figure.middle <= figure.high, one.id


def test_what_was_drawn_weighs_what_burnt_stone_may():
    """CaO is 0.56 of CaCO3; raw core left in the lime, and masses said in round numbers, make it more."""
    counted = [one for one in real_firings() if one.lime and one.stone and not one.set_aside]
    assert all(0.5 <= one.lime.middle / one.stone.middle <= 0.71 for one in counted)


def test_a_mass_that_was_worked_out_says_from_what():
    assert all(bool(one.stone_from) is (one.stone is not None) for one in real_firings())


def test_figures_are_those_of_the_sources():
    """Burgbau Friesach 2018: 18 t, 25 solid m³ of spruce, 90 to 100 h; Valmalenco: 200 quintals of wood."""
    friesach = of("FRI18")
    assert friesach.stone.middle == 18_000.0
    assert (friesach.hours.low, friesach.hours.high) == (90 * HOUR, 100 * HOUR)
    assert 25 * 400 <= friesach.fuel.low < friesach.fuel.middle < friesach.fuel.high <= 25 * 570
    assert of("TOR").fuel == Span(20_000.0, 20_000.0, 20_000.0)


def test_what_is_set_aside_is_not_counted():
    counted = {one.id for figure in ("hours", "fuel") for one in known(figure)}
    assert counted.isdisjoint(one.id for one in real_firings() if one.set_aside)
    assert {"CER", "GUE15", "BOU", "GRD"}.isdisjoint(counted)
    assert len({one.kiln for one in known("hours")}) >= 15
    assert len({one.kiln for one in known("fuel")}) >= 8


def made(kiln, tonnes, hours):
    stone, fired = Span(*[1000.0 * tonnes] * 3), Span(*[hours * HOUR] * 3)
    return dataclasses.replace(of("FRI18"), kiln=kiln, stone=stone, hours=fired)


def test_a_power_is_found_again():
    line = plain_line(tuple(made(str(mass), mass, 20.0 * mass**0.4) for mass in (0.2, 1.0, 5.0, 20.0)), "hours")
    assert line[:3] == pytest.approx((20.0 * HOUR, 0.4, 1.0))


def test_a_kiln_with_several_burns_counts_once():
    once = tuple(made(str(mass), mass, hours) for mass, hours in ((0.2, 10.0), (1.0, 30.0), (8.0, 60.0), (20.0, 70.0)))
    often = (*once, once[0], once[0])
    assert plain_line(often, "hours")[:3] == pytest.approx(plain_line(once, "hours")[:3])


def test_the_range_holds_nine_in_ten_of_a_log_normal():
    line = plain_line(known("hours"), "hours")
    at = line.at(3000.0)
    assert math.log(at.high / at.middle) == pytest.approx(1.645 * math.log(line.scatter), rel=1e-3)
    assert at.low * at.high == pytest.approx(at.middle**2)


def test_hours_grow_more_slowly_than_the_stone():
    """Said of flare kilns by those who fire them: 10 to 24 h for some hundred kilos, three to seven days for 5 to 20 t
    (Storemyr 2024, report of 21 April)."""
    line = plain_line(known("hours"), "hours")
    assert 0.2 < line.exponent < 0.5
    assert 10 <= line.at(500.0).middle / HOUR <= 26
    assert 55 <= line.at(10_000.0).middle / HOUR <= 168


def test_wood_that_is_not_named_weighs_between_soft_and_hard():
    """Bärnau 2020: 15 stacked m³, of wood not named."""
    soft, hard = (fuel_mass_in.plain(15.0, wood) for wood in ("softwood", "hardwood"))
    fuel = of("BAE20").fuel
    assert fuel.middle == pytest.approx((soft.middle + hard.middle) / 2.0)
    assert (fuel.low, fuel.high) == (min(soft.low, hard.low), max(soft.high, hard.high))


def beside_real(figure, fired):
    """Return by size of kiln the middle of what the model fired bare makes of a figure over what was, a kiln once."""
    by_kiln = defaultdict(list)
    for one in known(figure):
        by_kiln[one.kiln].append((one.stone.middle, getattr(one, figure).middle))
    ratios = defaultdict(list)
    for told in by_kiln.values():
        stone, was = np.exp(np.log(told).mean(axis=0))
        largest = min(0.15, 0.9 * widest(stone, fact("flare_height_to_diameter")))
        came = fire_kiln.plain(size_kiln.plain(stone, largest), stone_moisture=0.01)
        ratios[bisect(ENDS, stone)].append(getattr(came, fired) / was)
    return {size: float(np.median(found)) for size, found in ratios.items()}


def test_a_kiln_fired_with_nothing_told_stands_in_the_middle_of_the_hours_of_real_ones_small_and_large():
    for size, ratio in beside_real("hours", "finish").items():
        assert 0.8 <= ratio <= 1.25, size


def test_it_burns_less_wood_than_they_did_for_it_stands_dry_behind_a_better_wall():
    for size, ratio in beside_real("fuel", "fuel_used").items():
        assert 0.6 <= ratio <= 1.0, size


def row(**told):
    """A row of the table, blank but for what is told."""
    return dict.fromkeys(rows("firings")[0], "") | {"id": "X", "tag": "practice", "source": "made up"} | told


def test_a_row_is_read_in_si_and_an_end_that_is_not_told_is_the_figure_itself():
    told = {"stone_kg": "2000", "stone_low_kg": "1500", "smallest_stone_mm": "60", "largest_stone_mm": "250"}
    one = _firing(row(**told, hours="20", hours_high="30", slow_start_h="2", lime_kg="900", fuel_kg="800"))
    assert one.stone == Span(2000.0, 1500.0, 2000.0)
    assert (one.smallest_stone, one.largest_stone) == pytest.approx((0.06, 0.25))
    assert (one.hours, one.slow_start) == (Span(20 * HOUR, 20 * HOUR, 30 * HOUR), 2 * HOUR)
    assert (one.lime, one.fuel) == (Span(*[900.0] * 3), Span(*[800.0] * 3))
    assert _firing(row()).stone is _firing(row()).fuel is _firing(row()).slow_start is None


def test_wood_told_in_cubic_metres_is_weighed_as_stacked_or_as_solid():
    stacked, solid = (_firing(row(fuel="spruce", **{f"fuel_{how}_m3": "2"})).fuel for how in ("stacked", "solid"))
    assert stacked == fuel_mass_in.plain(2.0, "spruce")
    assert solid == fuel_mass_in.plain(2.0, "spruce", solid_fraction=1.0)
    assert 0.5 < stacked.middle / solid.middle < 0.8, "solid share of stacked wood, common practice, no source"


def test_a_row_without_a_source_is_refused():
    with pytest.raises(InputError, match="firings, X"):
        _firing(row(source=""))


@pytest.mark.parametrize("figure", ["hours", "fuel"])
def test_what_is_counted_has_its_stone_and_the_figure(figure):
    assert all(one.stone and getattr(one, figure) and not one.set_aside for one in known(figure))


def test_a_kiln_of_several_burns_has_their_mean_of_stone():
    assert masses_of([made("a", 1.0, 9.0), made("b", 5.0, 9.0), made("a", 3.0, 9.0)]) == [2000.0, 5000.0]


def test_a_scatter_by_hand():
    """Four kilns, two at either mass, a factor e above and below the line: √(4/(4 − 2)) of the logarithm."""
    firings = [
        made(f"{mass}{sign}", mass, 20.0 * mass * math.exp(sign)) for mass in (1.0, math.e) for sign in (-1.0, 1.0)
    ]
    line = plain_line((*firings, firings[0]), "hours")
    assert line[:3] == pytest.approx((20.0 * HOUR, 1.0, math.exp(math.sqrt(2.0))))
    assert (line.firings, line.kilns) == (5, 4)
