"""A log replayed: made-up burns recovered, a lying thermometer named, a forecast that closes in, gaps and slips borne."""

import functools
from dataclasses import replace

import numpy as np
import pytest

from limekit import InputError, fact, fire_kiln, read_burn_log, replay_burn, size_kiln
from limekit.kiln import refit
from limekit.kiln.firing import finish_times
from limekit.kiln.followers import UNKNOWNS, Followers, Unknowns, light_members, spread_evenly, told_by_place
from limekit.kiln.logged import PLACES, BurnLog
from limekit.kiln.replay import FinishSign, fed_lately, read_signs, stop_or_go, top_stays_raw
from limekit.records.examples import example_path

HOUR = 3600.0
STOKING = ((0.0, 3 * HOUR, 6 * HOUR), (10 / HOUR, 16 / HOUR, 22 / HOUR))
AS_PLANNED, POORER, BETTER = (0.0, 0.0, 0.0, 0.0), (1.0, 0.5, -0.5, -0.5), (0.5, -0.5, 0.3, -0.5)
NOISE = 12.0  # K


@functools.cache
def firing():
    size = size_kiln.plain(500.0, 0.1)
    return fire_kiln.plain(size, stoking=tuple(zip(*STOKING, strict=True)), chimney_height=1.5, excess_air=0.6)


@functools.cache
def truth(deviates):
    """Burn a kiln that differs from its plan, in the model at its full grid and pace, which the refit does not use."""
    unknowns = Unknowns.at(np.array([deviates]), firing().plan)
    burn = light_members(firing().plan, unknowns, STOKING, pace=1.0)
    burn.run(40 * HOUR, firing().plan.fire.conversion)
    return unknowns, burn, float(finish_times(burn, firing().plan.fire.conversion)[0])


def burnt(burn, time):
    return float(np.interp(time, burn.moments.time, burn.moments.burnt[:, 0]))


@functools.cache
def log_of(deviates, hours, places=PLACES, seed=1):
    _, burn, _ = truth(deviates)
    times = np.arange(0.0, hours * HOUR + 1.0, HOUR / 2)
    clock, told = burn.moments.time, told_by_place(burn, places)
    noise = np.random.default_rng(seed)
    read = {place: np.interp(times, clock, told[place][:, 0]) + noise.normal(0, NOISE, len(times)) for place in places}
    starts, rates = (np.array(part) for part in STOKING)
    so_far = np.array([np.clip(time - starts, 0, np.diff([*starts, np.inf])) @ rates for time in times])
    return BurnLog(times=times, fuel_fed=np.diff(so_far, prepend=0.0), temperatures=read, **nothing_else(len(times)))


def nothing_else(lines):
    """What of a log nobody noted."""
    figures = {name: np.full(lines, np.nan) for name in ("sinking", "damper")}
    words = dict.fromkeys(("glow", "flame", "test_piece"), (None,) * lines)
    return figures | words | dict.fromkeys(("weather", "notes"), ("",) * lines)


@functools.cache
def replayed(deviates, hours, places=PLACES):
    return replay_burn.plain(log_of(deviates, hours, places), firing())


def inside(told, value, slack=0.0):
    return told.low - slack <= value <= told.high + slack


@pytest.mark.parametrize("deviates", [AS_PLANNED, POORER, BETTER])
def test_what_differs_from_the_plan_is_found_again(deviates):
    unknowns, burn, finish = truth(deviates)
    told = replayed(deviates, 12)
    assert inside(told.finish, finish)
    assert inside(told.conversion, burnt(burn, 12 * HOUR))
    for name in ("excess_air", "loss_factor", "fuel_quality", "reaction_coefficient"):
        assert inside(getattr(told, name), float(getattr(unknowns, name)[0])), name
    assert told.hours_left.median == pytest.approx(told.finish.median - 12 * HOUR, abs=0.2 * HOUR)
    assert told.lying == ()
    assert told.verdict == "keep firing"


def test_kilns_that_differ_are_told_apart():
    planned, poorer = replayed(AS_PLANNED, 12), replayed(POORER, 12)
    assert poorer.excess_air.low > planned.excess_air.median
    assert poorer.finish.low > planned.finish.median
    assert poorer.finish.median > planned.finish.high
    assert poorer.finish.low > poorer.planned_finish


def test_the_forecast_closes_in_and_holds_the_truth_as_rows_come_in():
    finish = truth(POORER)[2]
    told = [replayed(POORER, hours) for hours in (2, 6, 12)]
    widths = [one.finish.high - one.finish.low for one in told]
    assert widths[0] > widths[1] > widths[2]
    assert all(inside(one.finish, finish) for one in told)


@pytest.mark.parametrize(
    ("place", "lie", "hours"),
    [
        ("middle", lambda read: read - 180.0, 7),
        ("upper", lambda read: np.minimum(read, 500.0), 10),
        ("hearth", lambda read: read - 200.0, 14),
    ],
)
def test_a_lying_thermometer_is_named_and_not_believed(place, lie, hours):
    log = log_of(BETTER, hours)
    told = replay_burn.plain(
        replace(log, temperatures=log.temperatures | {place: lie(log.temperatures[place])}), firing()
    )
    assert told.lying == (place,)
    assert f"The {place} thermometer does not fit" in told.words
    assert inside(told.finish, truth(BETTER)[2])
    assert sum(told.lying_chances.values()) <= 1.0 + 1e-9


def test_one_thermometer_alone_cannot_be_called_a_liar():
    assert replayed(BETTER, 6, places=("hearth",)).lying_chances == {}


def test_a_thermometer_is_not_blamed_for_the_cold_kiln_it_was_put_in_nor_after_a_few_readings():
    log = log_of(AS_PLANNED, 2)
    cold = {place: np.where(log.times > 0.0, read, 283.0) for place, read in log.temperatures.items()}
    lit_cold = replace(log, temperatures=cold)
    astray = replace(log, temperatures=cold | {"hearth": np.where(log.times > 0.0, 400.0, 283.0)})
    for lines in range(2, len(log) + 1):
        told = replay_burn.plain(lit_cold, firing(), lines)
        assert told.lying == ()
        assert max(told.lying_chances.values()) < 0.1
        blamed = replay_burn.plain(astray, firing(), lines).lying
        assert blamed == (("hearth",) if lines - 1 >= refit.LEAST_READINGS else ())


def test_what_was_read_as_the_fire_was_lit_says_nothing():
    log = log_of(POORER, 2)
    cold = {place: np.where(log.times > 0.0, read, 283.0) for place, read in log.temperatures.items()}
    nothing = {place: np.where(log.times > 0.0, read, np.nan) for place, read in log.temperatures.items()}
    finishes = [replay_burn.plain(replace(log, temperatures=read), firing()).finish for read in (cold, nothing)]
    assert finishes[0] == finishes[1]


def test_gaps_and_one_slip_of_the_pen_change_little():
    whole, log = replayed(POORER, 12), log_of(POORER, 12)
    holed = {place: np.where(np.arange(len(log)) % 3 == 0, read, np.nan) for place, read in log.temperatures.items()}
    holed["lower"][12] += 400.0
    told = replay_burn.plain(replace(log, temperatures=holed), firing())
    assert told.finish.median == pytest.approx(whole.finish.median, rel=0.05)
    assert told.lying == ()


def test_lines_left_out_for_hours_keep_their_fuel():
    log = log_of(POORER, 12)
    kept = np.r_[0:10, 18 : len(log)]
    fed = np.cumsum(log.fuel_fed)[kept]
    missed = BurnLog(
        times=log.times[kept],
        fuel_fed=np.diff(fed, prepend=0.0),
        temperatures={place: read[kept] for place, read in log.temperatures.items()},
        **nothing_else(len(kept)),
    )
    assert replay_burn.plain(missed, firing()).finish.median == pytest.approx(
        replayed(POORER, 12).finish.median, rel=0.05
    )


def test_without_thermometers_the_fuel_alone_gives_a_wide_range():
    log = replace(log_of(POORER, 6), temperatures={})
    told, with_them = replay_burn.plain(log, firing()), replayed(POORER, 6)
    assert told.finish is None or told.finish.high - told.finish.low > with_them.finish.high - with_them.finish.low
    assert told.conversion.high - told.conversion.low > with_them.conversion.high - with_them.conversion.low


def test_signs_count_as_evidence():
    log, plan = replace(log_of(POORER, 6), temperatures={}), firing().plan
    deep = replace(log, sinking=np.full(len(log), 0.9 * fact("charge_sinking") * plan.kiln.kiln_height))
    glowing = replace(log, glow=("white",) * len(log))
    followers = Followers(plan)
    followers.follow(log)
    nothing, by_sinking, by_glow = (
        found.weights @ found.burnt for found in (refit.refit(plan, one, followers) for one in (log, deep, glowing))
    )
    assert by_sinking > nothing
    assert by_glow > nothing


def test_the_same_log_says_the_same_twice():
    once = replay_burn.plain(log_of(POORER, 6), firing(), lines=5)
    again = replay_burn.plain(log_of(POORER, 6).first(5), firing())
    assert (once.words, once.finish, once.excess_air) == (again.words, again.finish, again.excess_air)


def test_line_by_line_it_ends_where_the_whole_log_does():
    log, row_by_row, at_once = log_of(POORER, 3), *(replace(firing(), burn=firing().plan.light()) for _ in range(2))
    for lines in range(2, len(log) + 1):
        grown = replay_burn.plain(log, row_by_row, lines)
    whole = replay_burn.plain(log, at_once)
    for name in ("finish", "hours_left", "conversion", "excess_air", "loss_factor", "lying_chances", "words"):
        assert getattr(grown, name) == getattr(whole, name), name
    for place, band in whole.bands.items():
        assert np.array_equal(band.median, grown.bands[place].median)


def test_a_log_that_was_mended_is_followed_anew():
    log, plan = log_of(POORER, 4), firing().plan
    followers = Followers(plan)
    followers.follow(log)
    assert followers.may_follow(log)
    assert followers.may_follow(log_of(POORER, 6))
    assert not followers.may_follow(log.first(5))
    assert not followers.may_follow(replace(log, fuel_fed=np.append(log.fuel_fed[:-1], 99.0)))
    before, steps = followers.burn.burnt, len(followers.burn.moments.time)
    ahead = followers.ahead((4 * HOUR,), (20 / HOUR,))
    ahead.run(9 * HOUR)
    assert np.array_equal(followers.burn.burnt, before)
    assert len(followers.burn.moments.time) == steps
    assert ahead.moments.time[0] > 4 * HOUR
    assert ahead.moments.time[-1] == 9 * HOUR
    assert followers.burn.clock == 4 * HOUR


def test_a_kiln_between_the_followers_is_told_by_them():
    log, plan = log_of(POORER, 8), firing().plan
    followers = Followers(plan)
    followers.follow(log)
    deviates = np.array([AS_PLANNED, POORER, BETTER, (-1.0, 0.7, 0.2, 1.2)])
    told = followers.told(log).by(followers.mix(deviates))
    fired = light_members(replace(plan, levels=12), Unknowns.at(deviates, plan), log.stoking())
    fired.run(float(log.times[-1]))
    assert told.burnt == pytest.approx(fired.burnt, abs=0.02)
    for place, read in told_by_place(fired, PLACES).items():
        at = np.array([np.interp(log.times, fired.moments.time, one) for one in read.T]).T
        late = log.times > HOUR
        assert np.sqrt(np.mean((told.gas[place] - at)[late] ** 2)) < 30.0, place


def test_stoking_goes_on_as_planned_in_the_measure_of_the_last_hours():
    log = log_of(AS_PLANNED, 4)
    half = replace(log, fuel_fed=0.5 * log.fuel_fed)
    from limekit.kiln.replay import _ahead

    times, rates = _ahead(firing().plan, half)
    assert times == (4 * HOUR, 6 * HOUR)
    assert rates == pytest.approx((8 / HOUR, 11 / HOUR))
    open_plan = replace(firing().plan, fire=firing().plan.fire.but(stoking=((), ())))
    assert _ahead(open_plan, half)[1] == pytest.approx(((0.5 * 10 * 2 + 0.5 * 16) / 3 / HOUR,))


def test_fuel_fed_lately_is_that_of_the_last_three_hours_or_of_all_there_are():
    log = log_of(AS_PLANNED, 4)
    assert fed_lately(log) == pytest.approx((10 * 2 + 16) / 3 / HOUR)
    assert fed_lately(log.first(3)) == pytest.approx(10 / HOUR)


def test_members_burn_the_fuel_that_was_logged():
    log = log_of(POORER, 6)
    burn = light_members(firing().plan, Unknowns.at(np.zeros((3, 4))), log.stoking())
    burn.run(float(log.times[-1]))
    fed = np.diff(burn.moments.time, prepend=0.0) @ burn.moments.fed
    assert fed == pytest.approx(np.full(3, log.fuel_fed.sum()), rel=1e-9)


def test_losses_and_quality_act_the_way_they_should():
    deviates = np.zeros((3, 4))
    deviates[1, UNKNOWNS.index("loss_factor")] = 1.0
    deviates[2, UNKNOWNS.index("fuel_quality")] = 1.0
    burn = light_members(firing().plan, Unknowns.at(deviates), STOKING)
    burn.run(6 * HOUR)
    plain, leaky, rich = burn.burnt
    assert leaky < plain < rich


def test_members_are_spread_evenly_and_the_middle_is_the_plan():
    points = spread_evenly(256)
    assert points.mean(axis=0) == pytest.approx(np.zeros(4), abs=0.06)
    assert np.cov(points.T) == pytest.approx(np.eye(4), abs=0.1)
    plan = firing().plan
    stone = plan.stone.but(reaction_coefficient=0.008, lime_conductivity=0.5)
    plan = replace(plan, fire=plan.fire.but(excess_air=0.9), stone=stone)
    middle = Unknowns.at(np.zeros((1, 4)), plan)
    assert middle.excess_air == pytest.approx(0.9)
    assert middle.reaction_coefficient == pytest.approx(0.008)
    assert middle.lime_conductivity == pytest.approx(0.5)
    assert Unknowns.at(
        np.zeros((1, 4)), replace(plan, fire=plan.fire.but(excess_air=None))
    ).excess_air == pytest.approx(fact("excess_air"))
    assert Unknowns.at(np.zeros((1, 4))).excess_air == pytest.approx(fact("excess_air"))


def signs(piece="", sinking="", flame=""):
    return tuple(
        FinishSign(*one) for one in (("test piece", "", piece), ("sinking", "", sinking), ("flame", "", flame))
    )


@pytest.mark.parametrize(
    ("chance", "seen", "verdict"),
    [
        (0.0, signs(), "keep firing"),
        (0.99, signs(), "draw a test piece"),
        (0.99, signs("done"), "stop"),
        (0.95, signs("not yet", "done"), "stop"),
        (0.6, signs("not yet"), "draw a test piece"),
        (0.2, signs("", "done", "done"), "draw a test piece"),
        (0.1, signs("done"), "draw a test piece"),
        (0.3, signs("not yet", "not yet", "done"), "keep firing"),
    ],
)
def test_no_reckoning_alone_stops_a_fire(chance, seen, verdict):
    assert stop_or_go(chance, seen) == verdict


@pytest.mark.parametrize(
    ("verdict", "says", "raw"),
    [
        ("stop", "not yet", True),
        ("stop", "done", False),
        ("keep firing", "not yet", False),
        ("keep firing", "done", False),
    ],
)
def test_the_top_is_let_out_raw_only_where_a_raw_piece_meets_the_time_to_stop(verdict, says, raw):
    assert top_stays_raw(verdict, (FinishSign("test piece", "partly", says),)) is raw


def test_signs_are_read_as_last_noted():
    log, height = log_of(POORER, 2), firing().plan.kiln.kiln_height
    noted = replace(
        log,
        sinking=np.where(np.arange(len(log)) == 2, height / 5, np.nan),
        flame=("yellow", "clear", *log.flame[2:]),
        test_piece=("through", "partly", *log.test_piece[2:]),
    )
    piece, sunk, flame = read_signs(noted, firing().plan)
    assert (piece.says, sunk.says, flame.says) == ("not yet", "done", "done")
    assert "0.20" in sunk.noted
    assert {sign.says for sign in read_signs(log, firing().plan)} == {"not noted"}


@pytest.mark.parametrize("lines", [0, 1, 99, -3])
def test_a_log_has_so_many_lines(lines):
    with pytest.raises(InputError, match="lines of the log"):
        replay_burn.plain(log_of(POORER, 2), firing(), lines=lines)


def test_a_log_without_fuel_is_refused():
    with pytest.raises(InputError, match="no fuel"):
        replay_burn.plain(replace(log_of(POORER, 2), fuel_fed=np.zeros(5)), firing())


def test_the_shipped_log_names_its_wrong_thermometer_and_ends_in_stop():
    size = size_kiln(stone="500 kg", largest_stone="100 mm")
    stoking = [("0 h", "9 kg/h"), ("4 h", "15 kg/h"), ("8 h", "21 kg/h")]
    planned = fire_kiln(size, stoking=stoking, chimney_height="1.5 m", calcium_carbonate=0.95, excess_air=0.6)
    told = replay_burn(read_burn_log(example_path("burn_log_example.csv")), planned)
    assert told.lying == ("middle",)
    assert told.verdict == "stop"
    assert told.finish.low.to("h").magnitude < 23.0 < told.finish.high.to("h").magnitude
    assert told.planned_finish < told.finish.median
    assert set(told.bands) == {*PLACES, "conversion"}
    assert np.all(told.bands["conversion"].low <= told.bands["conversion"].high)
