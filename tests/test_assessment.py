import dataclasses

import numpy as np
import pytest
from march_by_arrays import march
from scipy.special import ndtri

from limekit.errors import InputError
from limekit.estimate import weighted
from limekit.facts import fact
from limekit.limestone import Stone
from limekit.stone.assessment import assess_trial, burning_time_range, seen_on
from limekit.stone.burning import burning_time
from limekit.stone.contradiction import Comparison, compare_trial
from limekit.stone.front import Piece, gas_pressure
from limekit.stone.glow import glow_spread
from limekit.stone.posterior import (
    LAYS,
    NINETY,
    SPREADS,
    WAYS,
    Posterior,
    Seen,
    lay_weights,
    level_prior,
    lognormal,
    piece_table,
    posterior,
    told_by,
    ways,
)
from limekit.stone.trial import FoundConversion, Trial, TrialPiece

GLOW, CO2, START, RED = "bright cherry", 0.12, 293.15, 900.0
GAS = tuple(map(float, ways().trial_co2))
WIDTHS = {"sphere": 1.0, "cylinder": 0.8, "slab": 0.487}  # of the ball that the kit takes the stone for
SIZES = np.linspace(0.02, 0.09, 12)
HOUR = 3600.0
DRY = Stone.plain(stone_moisture=0.0)
KILN_STONE, KILN_LEVEL, KILN_CO2 = 0.08, 1273.15, 0.25


def burnt_in(sizes, times, level, pace, conductivity, transfer=fact("heat_transfer_coefficient"), co2=CO2):
    """Shares burnt by the reduced model, for a truth that lies on no grid."""
    piece = Piece(sizes, transfer, reaction_coefficient=pace, lime_conductivity=conductivity)
    around = (np.full(np.broadcast_shapes(np.shape(sizes), np.shape(level)), level), gas_pressure(co2))
    return march(piece, lambda _: around, START, until=times)[1].conversion


@pytest.fixture(scope="module")
def table():
    levels, prior = level_prior([TrialPiece("any", 0.05, HOUR, glow=GLOW)], GAS)
    burnt = [piece_table(float(size), HOUR, (tuple(levels), DRY, GAS, START)) for size in SIZES]
    return levels, prior, burnt


def another_process(random, count, levels):
    """Draw trials that the kit's own process would not: what burnt in twelve pieces, the fires, and hours in a kiln.

    The fire rises over a quarter of an hour at most, and then swings as it is stoked. Stones are balls, rods and
    flags; a rod or flag between one with as much face to its volume as the ball that the kit takes it for, and
    one as slow to warm to its heart as the box that it is (Carslaw & Jaeger). Carbon dioxide is off by up to half,
    in the stove and in the kiln; heat transfer is another in each.
    """
    mean, deviation = glow_spread(GLOW)
    level = mean + deviation * random.normal(size=3 * count)
    level = level[(level > levels[0]) & (level < levels[-1])][:count]
    keys = ("reaction_coefficient", "lime_conductivity", "heat_transfer_coefficient", "heat_transfer_coefficient")
    pace, conductivity, stove, kiln = (lognormal(fact(key), random.normal(size=count)) for key in keys)
    stove_gas, kiln_gas = (
        gas_pressure(share * random.uniform(0.5, 1.5, count)) for share in (fact("stove_co2_fraction"), KILN_CO2)
    )
    rise, swing, start = (random.uniform(0.0, most, count) for most in (HOUR / 4, 60.0, 2 * np.pi))
    spread = random.choice(SPREADS, size=count)
    lays = np.exp(spread * random.normal(size=(len(SIZES), count)))
    shapes, in_kiln = random.choice(len(WIDTHS), size=lays.shape), random.choice(len(WIDTHS), size=count)

    def fire(time):
        risen = np.minimum(time / rise, 1.0)
        waves = swing * np.sin(2 * np.pi * time / 1500.0 + start)
        return RED + (level - RED + waves) * risen, np.broadcast_to(stove_gas, lays.shape)

    true, hours = np.empty(lays.shape), np.empty(count)
    for place, (shape, width) in enumerate(WIDTHS.items()):
        stone = {"shape": shape, "reaction_coefficient": pace, "lime_conductivity": conductivity}
        tried = Piece(width * SIZES[:, None], heat_transfer_coefficient=stove, **stone)
        burnt = march(tried, fire, START, until=HOUR * lays)[1].conversion
        true[shapes == place] = burnt[shapes == place]
        piece, gas = Piece(width * KILN_STONE, heat_transfer_coefficient=kiln, **stone), np.full(count, KILN_LEVEL)
        needed = march(piece, lambda _, gas=gas: (gas, kiln_gas), START, conversion=0.99)[0]
        hours[in_kiln == place] = needed[in_kiln == place]
    return true, level, hours * np.exp(spread * random.normal(size=count))


def found_beside_true(table, count):
    """Seeded trials of twelve pieces from `another_process`, weighed and broken open, each assessed."""
    levels, prior, _ = table
    random = np.random.default_rng(1)
    true, level, hours = another_process(random, count, levels)
    by_weight = true + 0.02 * random.normal(size=true.shape)
    core = SIZES[:, None] * np.cbrt(1.0 - true)
    by_core = core + 0.0015 * random.normal(size=core.shape)
    rows = []
    for n in range(count):
        seen = [
            Seen(
                size,
                conversion=by_weight[i, n],
                conversion_error=0.02,
                core=by_core[i, n] if core[i, n] > 0.003 else 0.0,
                core_error=0.0015 if core[i, n] > 0.003 else 0.003,
            )
            for i, size in enumerate(SIZES)
        ]
        told = [told_by(one, HOUR, (tuple(levels), DRY, GAS, START)) for one in seen]
        known = Posterior(levels, prior, posterior(prior, told), DRY, GAS, START)
        middle = known.times(KILN_STONE, KILN_LEVEL, KILN_CO2, 0.99)
        rows.append(
            (
                (weighted(levels, known.by_level), level[n]),
                (weighted(*known.with_lay(np.log(middle))), hours[n]),
            )
        )
    return rows


def share_held(rows, which):
    return np.mean([found.low <= true <= found.high for found, true in (row[which] for row in rows)])


@pytest.mark.slow
def test_the_ninety_percent_range_holds_the_truth_nine_times_in_ten(table):
    rows = found_beside_true(table, 200)
    assert 0.85 <= share_held(rows, 0) <= 0.95, "gas temperature"
    assert 0.85 <= share_held(rows, 1) <= 0.95, "burning time in the kiln"


def test_the_ninety_percent_range_holds_the_truth_by_forty_trials_and_is_narrower_than_the_glow_alone(table):
    rows = found_beside_true(table, 40)
    for which in (0, 1):
        assert share_held(rows, which) >= 0.77  # one in a hundred of forty draws at nine in ten falls below
    widths = [found.high - found.low for found, _ in (row[0] for row in rows)]
    assert np.median(widths) < 0.8 * 2 * NINETY * glow_spread(GLOW)[1]


def test_the_forward_table_is_the_reduced_model(table):
    levels, _, burnt = table
    middle, known = int(np.argmin(np.abs(LAYS))), ways()
    for point in (0, 777, 2591):
        level, way = levels[point // WAYS], point % WAYS
        values = known.reaction_coefficient[way], known.lime_conductivity[way], known.trial_transfer[way], GAS[way]
        direct = burnt_in(SIZES, np.full(12, HOUR), level, *values)
        assert [shares[middle, point] for shares in burnt] == pytest.approx(direct, abs=0.01)


def test_the_table_rises_with_time_and_falls_with_size(table):
    burnt = np.stack(table[2], axis=1)
    assert np.all(np.diff(burnt, axis=0) >= -1e-9)
    assert np.all(np.diff(burnt, axis=1) <= 1e-3)


def test_the_prior_law_holds_the_published_range():
    known = fact("lime_conductivity")
    drawn = lognormal(known, ndtri((np.arange(1000) + 0.5) / 1000))
    assert np.median(drawn) == pytest.approx(known, rel=1e-3)
    assert np.mean((drawn > known.low) & (drawn < known.high)) == pytest.approx(0.9, abs=0.002)


def test_lay_weights_are_a_law():
    assert lay_weights(SPREADS).sum(axis=0) == pytest.approx(np.ones(6))


def trial(level=1273.15, sizes=SIZES, **changes):
    burnt = burnt_in(sizes, np.full(len(sizes), HOUR), level, 0.006, 0.6)
    cores = sizes * np.cbrt(1.0 - burnt)
    pieces = [
        TrialPiece(
            f"piece {n}",
            float(size),
            HOUR,
            core_size=float(core) if core > 0.002 else 0.0,
            glow=GLOW,
        )
        for n, (size, core) in enumerate(zip(sizes, cores, strict=True))
    ]
    return Trial(tuple(dataclasses.replace(piece, **changes) for piece in pieces))


def test_the_fire_is_found_again_and_a_hotter_one_found_hotter():
    cool, hot = (assess_trial(trial(level)).gas_temperature for level in (1223.15, 1323.15))
    assert cool.low.to("degC").magnitude <= 950 <= cool.high.to("degC").magnitude
    assert hot.low.to("degC").magnitude <= 1050 <= hot.high.to("degC").magnitude
    assert cool.median < hot.median


def test_a_forecast_is_longer_for_a_larger_stone_and_shorter_in_a_hotter_kiln():
    known = assess_trial(trial())
    hours = [
        known.forecast(diameter=size, gas_temperature=level).median.to("h").magnitude
        for size, level in (("60 mm", "1000 degC"), ("80 mm", "1000 degC"), ("80 mm", "1100 degC"))
    ]
    assert hours[0] < hours[1] > hours[2]


def test_the_largest_stone_undoes_the_forecast():
    known = assess_trial(trial())
    time = known.forecast(diameter="80 mm", gas_temperature="1000 degC").median
    assert known.largest_stone(time=time, gas_temperature="1000 degC").median.to("mm").magnitude == pytest.approx(
        80, rel=0.02
    )


def test_one_usable_row_works_and_says_why_the_range_is_wide():
    one = assess_trial(Trial((TrialPiece("only", 0.05, HOUR, slaking="partly"),)))
    many = assess_trial(trial())
    wide, narrow = (
        a.gas_temperature.high.to("K").magnitude - a.gas_temperature.low.to("K").magnitude for a in (one, many)
    )
    assert wide > 1.5 * narrow
    assert any("Only 1 piece" in remark for remark in one.remarks)
    assert any("No glow" in remark for remark in one.remarks)


def test_slaking_alone_still_orders_the_fires():
    pieces = [Trial((TrialPiece("only", 0.05, HOUR, slaking=word),)) for word in ("not", "partly")]
    not_at_all, partly = (assess_trial(one).gas_temperature.median for one in pieces)
    assert not_at_all < partly


def test_a_trial_with_nothing_measured_is_refused():
    with pytest.raises(InputError, match="no piece weighed"):
        assess_trial(Trial((TrialPiece("only", 0.05, HOUR, slaking="not tried"),)))


def test_a_kiln_too_cold_to_burn_is_refused():
    with pytest.raises(InputError, match="never burns"):
        assess_trial(trial()).forecast(diameter="80 mm", gas_temperature="750 degC")


def test_a_piece_whose_weight_contradicts_its_core_is_explained_and_its_core_believed():
    honest = trial()
    wet = dataclasses.replace(honest.pieces[-1], mass_before=1.0, mass_after=0.5)
    known = assess_trial(Trial((*honest.pieces[:-1], wet)))
    assert any(wet.name in remark for remark in known.remarks)
    apart = known.gas_temperature.median - assess_trial(honest).gas_temperature.median
    assert abs(apart.to("delta_degC").magnitude) < 2


def test_a_thermometer_that_agrees_narrows_the_fire():
    without, with_one = assess_trial(trial()), assess_trial(trial(gas_temperature=1273.15))
    widths = [(a.gas_temperature.high - a.gas_temperature.low).to("delta_degC").magnitude for a in (without, with_one)]
    assert widths[1] < widths[0]


def test_stones_that_deny_the_thermometer_are_reported():
    known = assess_trial(trial(level=1373.15, gas_temperature=1173.15))
    assert any("hotter than glow or thermometer allow" in remark for remark in known.remarks)


def test_the_next_measurement_is_ranked_and_none_makes_things_worse():
    ranked = assess_trial(trial()).next_measurement(diameter="80 mm", gas_temperature="1000 degC")
    left = [one.spread_left for one in ranked]
    assert left == sorted(left)
    assert 0 < left[0] < 1
    assert left[-1] <= 1.001


def test_assessing_twice_gives_the_same():
    first, second = assess_trial(trial()), assess_trial(trial())
    assert first.gas_temperature.median == second.gas_temperature.median


def test_glow_and_thermometer_that_deny_each_other_are_both_set_aside_and_reported():
    known = assess_trial(trial(gas_temperature=573.15))
    assert any("deny each other" in remark for remark in known.remarks)
    assert known.gas_temperature.low.to("degC").magnitude <= 1000 <= known.gas_temperature.high.to("degC").magnitude


@pytest.mark.parametrize(
    ("time", "word"),
    [("36 s", r"^time: got 0\.01 h, .* smaller than"), ("1000 h", r"^time: got 1000 h, .* larger than")],
)
def test_a_time_for_no_stone_of_a_kiln_is_refused(time, word):
    with pytest.raises(InputError, match=word):
        assess_trial(trial()).largest_stone(time=time, gas_temperature="1000 degC")


def test_what_is_no_trial_is_refused_and_an_assessment_prints_short():
    with pytest.raises(InputError, match="read_trial"):
        assess_trial("my_trial.csv")
    assert len(repr(assess_trial(trial()))) < 5000
    assert str(assess_trial(trial())).startswith("fire: ")


def test_before_a_trial_the_time_has_the_published_range_and_a_trial_narrows_it():
    before = burning_time_range(diameter="80 mm", gas_temperature="1000 degC", stone_moisture=0.0)
    middle = burning_time(diameter="80 mm", gas_temperature="1000 degC", model="reduced")
    after = assess_trial(trial()).forecast(diameter="80 mm", gas_temperature="1000 degC")
    assert (before.median / middle).to("").magnitude == pytest.approx(1.0, abs=0.03)
    assert 0.6 * middle < before.low < before.inner_low < middle < before.inner_high < before.high < 1.6 * middle
    assert (after.high - after.low) / after.median < (before.high - before.low) / before.median


def test_a_range_and_a_forecast_say_what_they_rest_on():
    stone = {"diameter": "80 mm", "gas_temperature": "1000 degC"}
    before, after = burning_time_range(**stone), assess_trial(trial()).forecast(**stone)
    largest = assess_trial(trial()).largest_stone(time="8 h", gas_temperature="1000 degC")
    told = {ground.name: ground.kind for ground in before.basis}
    assert told["reaction coefficient"] == "from memory"
    assert told["diameter"] == "given"
    assert told["stone_moisture"] == "common practice"
    for found in (after, largest):
        assert {"trial", "gas_temperature", "conversion"} <= {ground.name for ground in found.basis}


def test_a_range_is_refused_where_nothing_burns_and_for_more_than_a_whole_stone():
    with pytest.raises(InputError, match="dissociation temperature"):
        burning_time_range("80 mm", "800 degC")
    with pytest.raises(InputError, match="carbonates that come to"):
        burning_time_range("80 mm", "1000 degC", magnesium_carbonate=0.2)


def test_glow_alone_or_a_thermometer_alone_is_a_note_of_the_fire():
    for noted, silent in (({}, False), ({"glow": None, "gas_temperature": 1273.15}, False), ({"glow": None}, True)):
        said = assess_trial.plain(trial(**noted)).remarks
        assert any(remark.startswith("No glow and no thermometer") for remark in said) == silent


def test_a_gas_that_was_measured_is_no_assumption():
    assumed = {one.name for one in assess_trial.plain(trial()).basis} - {
        one.name for one in assess_trial.plain(trial(), co2_fraction=0.12).basis
    }
    assert assumed == {"stove co2 fraction"}


def test_a_piece_without_a_core_shows_none_larger_than_its_error():
    piece = TrialPiece("a whole", 0.06, HOUR, core_size=0.0)
    seen = seen_on(piece, *compare_trial(Trial((piece,))))
    assert (seen.core, seen.core_error) == (0.0, fact("core_error"))
    assert seen.conversion is None


@pytest.mark.parametrize(
    ("told", "weighed"),
    [({}, True), ({"agree": False}, False), ({"cause": "water"}, True), ({"cause": "water", "by_core": None}, False)],
    ids=["agreed", "denied by the core", "doubted and agreed", "doubted alone"],
)
def test_weights_count_unless_the_core_denies_them_or_they_are_doubted_and_alone(told, weighed):
    found = FoundConversion(0.8, 0.7, 0.9)
    piece = TrialPiece("one", 0.06, HOUR, core_size=0.03)
    compared = Comparison("one", found, **{"by_core": found, "agree": True} | told)
    assert getattr(seen_on(piece, compared), "conversion", None) == (0.8 if weighed else None)


@pytest.mark.parametrize(
    ("cores", "said"), [((0.0, 0.0), "burnt through"), ((0.02, 0.03), "kept a core"), ((0.0, 0.02), "")]
)
def test_pieces_that_all_came_out_alike_are_told(cores, said):
    pieces = tuple(TrialPiece(f"{core}", 0.06, 8 * HOUR, core_size=core) for core in cores)
    remarks = [one for one in assess_trial.plain(Trial(pieces)).remarks if one.startswith("Every piece")]
    assert [said in one for one in remarks] == [True] * bool(said)


def test_a_core_is_known_a_little_worse_than_it_was_measured():
    """Nine times in ten within what a core may be misread by, and the stone's own size besides: no more than twice that."""
    piece = TrialPiece("a half", 0.06, HOUR, core_size=0.03)
    (compared,) = compare_trial(Trial((piece,)))
    seen = seen_on(piece, compared)
    assert seen.core == pytest.approx(0.03, rel=0.1)
    assert fact("core_error") < 1.645 * seen.core_error < 2.0 * fact("core_error")
