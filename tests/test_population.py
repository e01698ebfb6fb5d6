"""The imagined kilns behind a forecast: their unknowns, the surfaces through the model's firings, and who is left out."""

import dataclasses
import math
from pathlib import Path

import fire_and_fit
import numpy as np
import pytest

from limekit.course.lessons import how_do_we_know
from limekit.estimate import Span
from limekit.facts import fact
from limekit.kiln.left_out import judge, left_out
from limekit.kiln.population import (
    GROWS_BY,
    Kilns,
    Surfaces,
    Unknown,
    Ways,
    columns,
    design,
    doubt,
    drawn,
    fire_all,
    fired,
    kilns,
    unknowns,
    ways,
    widest,
)
from limekit.kiln.real_firings import known, masses_of, plain_line
from limekit.tables import rows
from limekit.units import DAY, HOUR

HOURS, WOOD = judge(left_out(), "hours"), judge(left_out(), "fuel")
FED = judge(left_out(), "hours", "hours_fed")


def an_ordinary(stone):
    """Return values in the middle of every unknown's range."""
    values = {name: one.value(0.0) for name, one in unknowns().items()}
    for name, power in GROWS_BY.items():
        values[name] = values[name] * (stone / 1000.0) ** power
    return values | {"stone": stone, "largest_stone": 0.09, "excess_air": 0.6}


@pytest.mark.parametrize("name", list(unknowns()))
def test_an_unknown_reaches_both_ends_of_its_range(name):
    one = unknowns()[name]
    if one.words:
        assert {str(one.value(place)) for place in np.linspace(-1, 1, 101)} == set(one.words)
    else:
        assert one.value([-1.0, 1.0]) == pytest.approx([one.low, one.high])
        assert one.columns(one.value(0.3))[0] == pytest.approx(0.3)


def test_a_word_that_stands_twice_is_twice_as_likely():
    laid = unknowns()["laid"].value(np.linspace(-1, 1, 6001))
    assert np.mean(laid == "by hand") == pytest.approx(3 * np.mean(laid == "poured"), rel=0.01)
    assert len(columns(an_ordinary(1000.0))) == len(unknowns()) - 3 + 2 + 3 + 2  # words that stand apart from the first


@pytest.mark.parametrize(("scale", "middle"), [("even", 25.0), ("log", 20.0)])
def test_an_unknown_s_place_and_value_are_one_another_s_and_a_little_beyond_is_heard(scale, middle):
    one = Unknown(scale, 10.0, 40.0, ())
    assert one.value([-1.0, 0.0, 1.0]) == pytest.approx([10.0, middle, 40.0])
    places = [-1.1, -1.0, 0.4, 1.1]
    assert one.columns(one.value(places))[0] == pytest.approx(places)
    below, above = one.columns(one.value([-1.3, 1.3]))[0]
    assert (1.1 < above < 1.3, below) == (True, -above)


def test_words_share_the_places_evenly_and_all_but_the_first_stand_apart():
    one = Unknown("word", 0.0, 1.0, ("a", "b", "b", "c"))
    assert one.value([-1.0, -0.51, -0.49, 0.49, 0.51, 1.0]).tolist() == ["a", "a", "b", "b", "c", "c"]
    assert one.apart == ["b", "c"]
    assert [column.tolist() for column in one.columns(["a", "b", "c"])] == [[0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]


def test_what_grows_with_the_stone_grows_by_the_power_that_its_row_tells():
    notes = {row["name"]: row["note"] for row in rows("unknowns")}
    for name, power in GROWS_BY.items():
        assert f"growing with its power of {power}" in notes[name]
        at_a_tonne = columns(an_ordinary(1000.0))
        assert columns(an_ordinary(20_000.0))[name] == pytest.approx(at_a_tonne[name])


def test_a_surface_is_the_sum_of_its_terms_and_no_fire_is_fed_more_than_the_full():
    parts = {"a": np.array([2.0, 3.0]), "b": np.array([5.0, 7.0])}
    assert design(parts, ((), ("a",), ("a", "b"))).tolist() == [[1.0, 2.0, 10.0], [1.0, 3.0, 21.0]]
    surfaces = Surfaces(((), ("excess_air",)), np.log([0.5, 2.0]), np.log([0.8, 2.0]), (0.0, 0.0))
    values = an_ordinary(2000.0)
    fuel, feeding = surfaces.at(values | {"excess_air": unknowns()["excess_air"].value([-1.0, 0.0, 1.0])})
    assert fuel == pytest.approx([500.0, 1000.0, 2000.0])
    assert feeding == pytest.approx([0.4, 0.8, 1.0])


def three(place=0.0):
    """Three kilns that are alike but in feeding, the first a sigma below and the last one above, at a place of the rest."""
    sigmas = np.array([[-1.0, 0.0, 1.0], [0.0] * 3, [0.0, 0.0, 1.0]]).T
    return Kilns.of(np.full((3, len(drawn())), place), sigmas)


FLAT = Surfaces(((),), np.log([0.5]), np.log([0.8]), (0.0, 0.0))
OURS = Ways(math.log(0.01), 0.5, math.log(2.0), math.log(0.6), 0.1, math.log(1.2), math.log(1.5))


def test_imagined_kilns_are_fired_by_hand():
    """Four tonnes at half a kilogram of wood a kilogram, by a fifth more than in the model, and by half again for a sigma."""
    came = fire_all(4000.0, {}, three(), OURS, FLAT)
    assert came.stoking_rate == pytest.approx([0.01, 0.02, 0.04])
    burnt = np.array([2400.0, 2400.0, 3600.0])
    assert came.hours == pytest.approx(burnt / (0.8 * came.stoking_rate))
    assert came.fuel == pytest.approx(1.1 * burnt)
    wider = fire_all(4000.0, {}, three(), OURS._replace(wider=2.0), FLAT, doubt=1.5)
    assert wider.stoking_rate == pytest.approx([0.02 / 8.0, 0.02, 0.16])
    no_more = fire_all(4000.0, {}, three(), OURS._replace(surplus=0.5), FLAT)
    assert no_more.fuel == pytest.approx(no_more.hours * no_more.stoking_rate)


def test_air_differs_between_kilns_as_practice_lets_it():
    """Nine in ten lie within what the table of unknowns has as common practice, more air where a kiln has more."""
    sigmas = np.array([[0.0] * 3, [-1.645, 0.0, 1.645], [0.0] * 3]).T
    air = fire_all(1000.0, {}, Kilns.of(np.zeros((3, len(drawn()))), sigmas), OURS, FLAT).values["excess_air"]
    assert air[1] == pytest.approx(0.6)
    assert unknowns()["excess_air"].low < air[0] < 0.8 * air[1] < 1.25 * air[1] < air[2] < unknowns()["excess_air"].high


def test_a_fire_is_kept_up_a_fortnight_at_most():
    came = fire_all(4000.0, {"stoking_rate": 1e-5}, three(), OURS, FLAT)
    assert came.hours == pytest.approx([14 * DAY] * 3)


def test_the_largest_stone_lies_between_the_least_and_what_its_kiln_takes():
    low = unknowns()["largest_stone"].low
    smallest, middling, largest = (fire_all(1000.0, {}, three(place), OURS, FLAT).values for place in (-1.0, 0.0, 1.0))
    assert smallest["largest_stone"] == pytest.approx([low] * 3)
    top = [widest(1000.0, values["height_to_diameter"]) for values in (middling, largest)]
    assert middling["largest_stone"] == pytest.approx(np.sqrt(low * top[0]))
    assert largest["largest_stone"] == pytest.approx(top[1])
    huge, tiny = (fire_all(mass, {}, three(1.0), OURS, FLAT).values["largest_stone"] for mass in (1e6, 1.0))
    assert (huge[0], tiny[0]) == pytest.approx((unknowns()["largest_stone"].high, low))


def test_a_slow_start_grows_with_the_stone_and_what_is_told_does_not():
    small, large = (fire_all(mass, {}, three(), OURS, FLAT).values["heat_up_time"] for mass in (1000.0, 8000.0))
    assert large / small == pytest.approx(8.0 ** GROWS_BY["heat_up_time"])
    assert fire_all(8000.0, {"heat_up_time": HOUR}, three(), OURS, FLAT).values["heat_up_time"] == HOUR


def test_the_widest_stone_is_a_share_of_a_kiln_that_holds_the_charge():
    across = widest(2000.0, 1.4) / fact("flare_stone_share")
    assert math.pi / 4.0 * across**2 * 1.4 * across * fact("flare_charge_density") == pytest.approx(2000.0)


def test_imagined_kilns_are_many_and_even():
    many = kilns()
    assert set(many.places) == set(drawn())
    for sigmas in many[:3]:
        assert (np.mean(sigmas), np.std(sigmas)) == pytest.approx((0.0, 1.0), abs=0.03)
    for place in many.places.values():
        assert (np.mean(place), np.std(place)) == pytest.approx((0.0, 1.0 / math.sqrt(3.0)), abs=0.02)


@pytest.mark.parametrize("stone", [300.0, 2000.0, 15_000.0])
def test_the_surfaces_are_those_of_the_model_as_it_is(stone):
    """Fired again, not read: fails when the model has moved and ``fire_and_fit.py`` has not been run."""
    values = {name: value.item() if hasattr(value, "item") else value for name, value in an_ordinary(stone).items()}
    fuel, feeding = fired().at(values)
    in_the_model = np.log(fire_and_fit.fire(values))
    assert math.log(fuel / stone) == pytest.approx(in_the_model[0], abs=0.05 + 2 * fired().rest[0])
    assert math.log(feeding) == pytest.approx(in_the_model[1], abs=0.05 + 2 * fired().rest[1])


def test_what_is_told_is_so_in_every_kiln_and_what_is_not_is_drawn():
    told = {"largest_stone": 0.1, "stoking_rate": 80.0 / HOUR}
    came = fire_all(2000.0, told, kilns(), ways(), fired())
    assert np.ptp(came.stoking_rate) == 0.0
    assert came.values["largest_stone"] == 0.1
    assert np.ptp(fire_all(2000.0, {}, kilns(), ways(), fired()).values["largest_stone"]) > 0.05


def test_untold_stones_fit_their_kiln():
    small = fire_all(150.0, {}, kilns(), ways(), fired()).values
    assert small["largest_stone"].max() < 0.15  # a quarter of some half a metre


def test_no_fire_takes_more_than_it_is_fed():
    came = fire_all(20_000.0, {}, kilns(), ways(), fired())
    assert np.all(came.fuel <= came.hours * came.stoking_rate * (1 + 1e-9))


def test_doubt_grows_away_from_the_kilns_there_are():
    masses = masses_of(known("hours"))
    near, far = doubt(masses, 3000.0), doubt(masses, 40_000.0)
    assert 1.0 < near < far < 1.6
    three, few = [1000.0, 1000.0 * math.e, 1000.0 * math.e**2], 1.0 + (1.645**2 + 1.0) / 4.0
    assert doubt(three, three[1]) == pytest.approx(few * math.sqrt(4.0 / 3.0), rel=1e-3)
    assert doubt(three, three[2]) == pytest.approx(few * math.sqrt(4.0 / 3.0 + 1.0 / 2.0), rel=1e-3)


def made(stone, hours, forecast):
    """Return a forecast of one kiln of its own name."""
    one = left_out()[0]
    of = dataclasses.replace(one.firing, kiln=f"{stone}", stone=Span(*[stone] * 3), hours=Span(*[hours] * 3))
    return dataclasses.replace(one, firing=of, hours=Span(forecast, forecast / 2, forecast * 2))


def test_forecasts_are_judged_by_hand():
    found = [made(400.0, 10.0, 20.0), made(4000.0, 40.0, 40.0), made(40_000.0, 80.0, 20.0)]
    judged = judge(found, "hours")
    assert judged.kilns == 3
    assert judged.coverage == pytest.approx(2 / 3)
    assert math.log(judged.sigma) == pytest.approx(math.log(2) * math.sqrt((1 + 0 + 4) / 3))
    assert judged.slope == pytest.approx(-3 * math.log(2) / (2 * math.log(10)))
    assert judged.ratios == pytest.approx({(0.0, 1.0): 2.0, (1.0, 5.0): 1.0, (5.0, 50.0): 0.25})
    assert set(judge(found[1:], "hours").ratios) == {(1.0, 5.0), (5.0, 50.0)}


def test_a_kiln_of_several_burns_is_judged_once_by_their_mean_and_one_untold_not_at_all():
    """Out by 2 and by 8 times is out by 4; the ends of a range are inside it."""
    often = [dataclasses.replace(made(400.0, 10.0, said), hours=Span(said, 10.0, 10.0)) for said in (20.0, 80.0)]
    other = made(4000.0, 40.0, 40.0)
    untold = [dataclasses.replace(other, hours=None), dataclasses.replace(other, firing=nothing_known(other.firing))]
    judged = judge([*often, other, *untold], "hours")
    assert judged.kilns == 2
    assert judged.coverage == 1.0
    assert judged.ratios[0.0, 1.0] == pytest.approx(4.0)
    assert math.log(judged.sigma) == pytest.approx(math.log(4.0) / math.sqrt(2.0))


def nothing_known(firing):
    return dataclasses.replace(firing, kiln="another", hours=None)


def test_forecasts_of_another_name_are_judged_by_the_same_figures():
    found = [dataclasses.replace(made(mass, 10.0, 10.0), hours_line=Span(30.0, 1.0, 2.0)) for mass in (400.0, 4000.0)]
    assert judge(found, "hours", "hours_line").ratios[1.0, 5.0] == pytest.approx(3.0)
    assert judge(found, "hours", "hours_line").coverage == 0.0
    assert judge(found, "hours").sigma == pytest.approx(1.0)


def test_a_forecast_beats_a_line_where_it_is_clearly_nearer():
    line = judge([made(mass, 10.0, 20.0) for mass in (400.0, 4000.0)], "hours")
    assert [dataclasses.replace(line, sigma=sigma).beats(line) for sigma in (1.9, 1.99, 2.0, 2.1)] == [
        True,
        False,
        False,
        False,
    ]


@pytest.mark.parametrize("figure", ["hours", "fuel"])
def test_plain_lines_that_left_a_kiln_out_are_drawn_again_through_the_others(figure):
    """To the three figures that are stored, in seconds and kilograms."""
    for one in left_out():
        others = tuple(other for other in known(figure) if other.kiln != one.firing.kiln)
        again, stored = plain_line(others, figure).at(one.firing.stone.middle), getattr(one, f"{figure}_line")
        assert [stored.middle, stored.low, stored.high] == pytest.approx(
            [again.middle, again.low, again.high], rel=0.01
        )


def test_every_counted_firing_was_left_out_once():
    assert {one.firing.id for one in left_out()} == {one.id for figure in ("hours", "fuel") for one in known(figure)}


def test_the_readme_says_how_far_forecasts_are_out():
    said = " ".join((Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8").split())
    assert (
        f"{HOURS.kilns} real kilns were fired is out by a factor of {HOURS.sigma:.1f} in hours two times in three"
        in said
    )
    assert f"of {FED.sigma:.1f} where the feeding is known; of {WOOD.sigma:.1f} in wood" in said


def test_the_ranges_hold_what_they_say():
    """Nine in ten, of few kilns: from 85 to 97 %."""
    assert 0.85 <= HOURS.coverage <= 0.97
    assert 0.85 <= WOOD.coverage <= 0.97


def test_hours_have_no_trend_with_size():
    assert abs(HOURS.slope) <= how_do_we_know.NO_TREND
    for middle in HOURS.ratios.values():
        assert 0.75 <= middle <= 1.3


def test_where_the_feeding_is_known_hours_are_known_better():
    assert FED.sigma < judge(left_out(), "hours", "hours_line").sigma
    assert FED.sigma < HOURS.sigma


def test_ranges_about_a_firing_are_those_of_the_kilns_left_out_rounded_up():
    for judged, what in ((HOURS, "hours"), (FED, "hours_where_feeding_is_known"), (WOOD, "fuel")):
        assert judged.sigma <= fact(f"{what}_between_kilns") <= judged.sigma + 0.05


def test_a_trend_that_is_left_is_said():
    said = how_do_we_know.how_forecasts_did().split("\n")
    hours, wood = said[0], said[-1]
    assert "ten times the stone" not in hours
    assert WOOD.slope > how_do_we_know.NO_TREND
    assert f"grows by a factor of {10**WOOD.slope:.2f} more than real ones do" in wood


@pytest.mark.slow
def test_ways_are_found_again_in_firings_made_by_them():
    """Thirty kilns of our own, from 150 kg to 30 t, fed and aired in a way that the search does not start from.

    Hours and wood come out as they were. What is fed at most is known to a factor of two alone: the draught caps it in
    many a kiln, and air can stand for it.
    """
    true = ways()._replace(stoking_rate=math.log(100.0 / HOUR), exponent=0.45, stoking_spread=0.25, wood=0.0)
    some, firings = fire_and_fit.imagine(32), []
    for rank, stone in enumerate(np.geomspace(150.0, 30_000.0, 30)):
        came = fire_all(stone, {}, some, true, fired())
        hours, fuel = (Span(*[float(figure[rank])] * 3) for figure in (came.hours, came.fuel))
        blank = dataclasses.replace(known("hours")[0], kiln=f"{rank}", stone=Span(*[float(stone)] * 3))
        firings.append(dataclasses.replace(blank, hours=hours, fuel=fuel))
    found = fire_and_fit.fit(firings, kilns(), fired())
    for stone in (200.0, 1000.0, 5000.0, 20_000.0):
        told, meant = (fire_all(stone, {}, fire_and_fit.imagine(256), way, fired()) for way in (found, true))
        for figure in ("hours", "fuel"):
            apart = np.mean(np.log(getattr(told, figure))) - np.mean(np.log(getattr(meant, figure)))
            assert apart == pytest.approx(0.0, abs=0.15)
    assert found.stoking_rate == pytest.approx(true.stoking_rate, abs=math.log(2.0))
    assert found.exponent == pytest.approx(true.exponent, abs=0.12)
    assert found.stoking_spread == pytest.approx(true.stoking_spread, abs=0.25)
    assert found.wood == pytest.approx(true.wood, abs=0.15)
