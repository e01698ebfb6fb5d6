"""One kiln over one step of time: gas past hearth and levels, stones in that gas, the wall behind them.

In a step each level's stones and wall take heat in proportion to how far the
gas is hotter than a temperature of their own, and the gas's way up past them
is a closed formula (`limekit.kiln.column.updraught`). The stones then take a step of
their own in that gas. Where they took another heat than their line said, line
and gas are put right once or twice, and the little that is then left over is
booked to gas and wall. So heat, carbon dioxide and water close to rounding at
every step.

Heat counts from 25 °C with water as steam, in joule; the gas itself stores none.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from limekit.compiled import part
from limekit.kiln.column.gas import level_of
from limekit.kiln.column.standing import set_state, state_at
from limekit.kiln.column.updraught import Updraught, rise, settle
from limekit.kiln.wall.in_time import mode_over
from limekit.stone.front import core_left
from limekit.stone.moment import heat_held, make_at
from limekit.stone.reduced import FRONT_TOLERANCE, step

GAS_TOLERANCE, HEAT_TOLERANCE = 0.5, 0.01  # K
AS_IT_WAS = 0.1  # of the gas's tolerance, within which what stones took in an earlier turn is booked as it was
MOST_TURNS = 6
LEAST = 1e-12  # W/K, that keeps divisions sound where there is no stone and no wall
STILL = 1e-9  # mol/s of air that do so where nothing flows


class Closeness(NamedTuple):
    """How closely a step is solved: K of the gas against what the stones took, of a gas's heat, and of the fronts."""

    gas: float = GAS_TOLERANCE
    heat: float = HEAT_TOLERANCE
    front: float = FRONT_TOLERANCE


class Moved(NamedTuple):
    """What a step moved in one kiln, W: into stones and wall, and out by the flue with its gas, mol/s.

    Besides, how much it changed: mean squares by level and by mass, of the gas and the stones (K²) and of the
    front's place.
    """

    stones: float
    wall: float
    flue: float
    gas_out: tuple
    gas_change: float
    stone_change: float
    front_change: float


@part
def over_time(kiln, bench, seconds):
    """Work out how the wall's modes fare in a step: what they keep, and what a flux of 1 W/m² makes of them.

    Returns
    -------
    own, leak : float
        m²K/W by which the face warms under its own inflow, and m² s the share of it that has come through.
    """
    own = leak = 0.0
    for mode in range(len(kiln.wall.paces)):
        decay, once, twice = mode_over(kiln.wall.paces[mode], seconds)
        bench.decay[mode], bench.once[mode], bench.twice[mode] = decay, once, twice
        own += kiln.wall.face[mode] ** 2 * twice / seconds
        leak += kiln.wall.leak[mode] * kiln.wall.face[mode] * twice
    return own, leak


@part
def offer(kiln, now, bench, column, own, seconds):
    """Set what the wall takes from the gas for each kelvin above a temperature of its own, W/K and K."""
    columns = kiln.wall_area.shape[1]
    for place in range(len(bench.wall_takes)):
        bench.wall_takes[place], bench.wall_own[place] = LEAST, kiln.air_temperature
        if not kiln.wall_area[place, column]:
            continue
        warmer = 0.0
        for mode in range(len(kiln.wall.paces)):
            warmer += now.wall_modes[place * columns + column, mode] * kiln.wall.face[mode] * bench.once[mode]
        resistance = 1.0 / kiln.coefficient + kiln.wall.inward + own
        bench.wall_takes[place] = kiln.wall_area[place, column] / resistance
        bench.wall_own[place] = kiln.air_temperature + warmer / seconds


@part
def absorb(kiln, now, bench, column, leak, seconds):
    """Let the wall take the heat of a step (W, in the bench), evenly."""
    columns = kiln.wall_area.shape[1]
    for place in range(len(bench.wall)):
        row, area = place * columns + column, kiln.wall_area[place, column]
        if not area:
            continue
        flux, lost = bench.wall[place] / area, leak * bench.wall[place] / area
        for mode in range(len(kiln.wall.paces)):
            lost += now.wall_modes[row, mode] * kiln.wall.leak[mode] * bench.once[mode]
            pushed = kiln.wall.face[mode] * bench.once[mode] * flux
            now.wall_modes[row, mode] = now.wall_modes[row, mode] * bench.decay[mode] + pushed
        now.wall_flux[row] = flux
        now.wall_taken[row] += bench.wall[place] * seconds
        now.wall_lost[row] += area * lost


@part
def held_in_all(kiln, make, state, size, column):
    """Return the heat in stones with what burning took up, but for the warmth that steam carried off; J/kg."""
    return heat_held(make, state) + kiln.by_burnt[size, column] * state.conversion


@part
def stones_take(kiln, now, up, bench, column, level, seconds, gas, front):
    """Let a level's stones stand in gas of a temperature (K), and tell the gas what they give to it.

    On the bench are left the heat they take, what of it stays in them (W), and their line.
    """
    heat = response = kept = co2 = h2o = 0.0
    for size in range(kiln.mass.shape[1]):
        make, before = make_at(kiln.makes, (size, column)), state_at(now.stones, (level, size, column))
        after, taken = step(make, before, seconds, gas, now.co2_pressure[column, level], front)
        set_state(bench.stones, (level, size), after)
        mass = kiln.mass[level, size]
        heat += mass * taken.heat
        response += mass * taken.response
        rise = held_in_all(kiln, make, after, size, column) - held_in_all(kiln, make, before, size, column)
        kept += mass * (rise - kiln.by_water * taken.water)
        co2 += mass * taken.carbon_dioxide
        h2o += mass * taken.water
    up.co2[level] = co2 / (kiln.carbon_dioxide * seconds)
    up.h2o[level] = h2o / (kiln.water * seconds)
    up.brought[level] = (heat - kept) / seconds
    bench.heat[level], bench.kept[level] = heat / seconds, kept / seconds
    bench.takes[level] = max(response / seconds, LEAST)
    bench.own[level] = gas - bench.heat[level] / bench.takes[level]


@part
def freshen(kiln, now, up, column, gas_in, seconds):
    """Let the gas that flowed take the place of what lay in the gaps; in still gas the stones' own stays."""
    co2, passed = gas_in[0], gas_in[0] + gas_in[1] + gas_in[2] + gas_in[3]
    for level in range(len(kiln.gaps)):
        share = co2 / passed
        co2 += up.co2[level]
        passed += up.co2[level] + up.h2o[level]
        fresh = 0.5 * kiln.air_pressure * (share + co2 / passed)
        lying = kiln.air_pressure * kiln.gaps[level] / (kiln.makes.laws.gas_constant * now.gas[column, level + 1])
        kept = np.exp(-seconds * passed / max(lying, LEAST))
        now.co2_pressure[column, level] = fresh + kept * (now.co2_pressure[column, level] - fresh)


@part
def step_kiln(kiln, now, bench, column, seconds, ahead, wall_warms, gas_in, fire_heat, side, close):
    """Move one ring of a kiln on by a time in which gas of one make-up and heat comes in at the hearth.

    Parameters
    ----------
    kiln : Kiln
    now : Now
    bench : Bench
        Of what stands on it, `leak` is from gas to the air outside past the wall, in hearth and levels, W/K; left
        on it are what each place lost, to the wall and past it.
    column : int
        Which ring of which kiln.
    seconds : float
    ahead : float
        Times its last change, that the stones' line is foretold ahead.
    wall_warms : tuple of float
        From `over_time`.
    gas_in : tuple of float
        mol/s of each part.
    fire_heat : float
        That the gas brings; W.
    side : ndarray, shape (levels + 1,)
        Heat besides, from flames and from the rings beside it; W.
    close : Closeness

    Returns
    -------
    Moved
    """
    levels, leak = len(kiln.gaps), bench.leak
    up = Updraught(now.up.between[column], now.up.co2[column], now.up.h2o[column], now.up.brought[column])
    own_warming, leaked = wall_warms
    offer(kiln, now, bench, column, own_warming, seconds)
    for place in range(levels + 1):
        bench.faces[place] = kiln.faces[place, column] + leak[place]
    for level in range(levels):
        bench.takes[level] = now.takes[column, level]
        own = now.own[column, level]
        bench.own[level] = own + ahead * (own - now.own_before[column, level])
    coming = level_of(kiln.table, gas_in, fire_heat, up.between[0], close.heat)
    stones, flue, gas_out = 0.0, 0.0, gas_in
    for turn in range(MOST_TURNS):
        for place in range(levels + 1):
            takes = bench.wall_takes[place] + leak[place]
            drawn = bench.wall_takes[place] * bench.wall_own[place] + leak[place] * kiln.air_temperature + side[place]
            if place:
                takes += bench.takes[place - 1]
                drawn += bench.takes[place - 1] * bench.own[place - 1]
            bench.takes_all[place], bench.own_all[place] = takes, drawn / takes
        rise(
            kiln.table,
            up,
            coming,
            gas_in,
            bench.takes_all,
            bench.own_all,
            bench.faces,
            bench.mean,
            bench.capacity,
        )
        stones = worst = 0.0
        for place in range(levels + 1):
            gas = bench.mean[place]
            bench.wall[place] = bench.wall_takes[place] * (gas - bench.wall_own[place])
            bench.leaks[place] = leak[place] * (gas - kiln.air_temperature)
            bench.lost[place] = bench.wall[place] + bench.leaks[place] - side[place]
            if place:
                level = place - 1
                grip = bench.wall_takes[place] + bench.capacity[place]
                foretold = bench.takes[level] * (gas - bench.own[level])
                if turn == 0 or abs(bench.heat[level] - foretold) > AS_IT_WAS * close.gas * grip:
                    stones_take(kiln, now, up, bench, column, level, seconds, gas, close.front)
                astray = (bench.heat[level] - foretold) / grip
                bench.wall[place] -= astray * bench.wall_takes[place]
                bench.lost[place] = bench.wall[place] + bench.leaks[place] - side[place] + bench.kept[level]
                stones += bench.kept[level]
                worst = max(worst, abs(astray))
        shift, flue, gas_out = settle(kiln.table, up, gas_in, fire_heat, bench.lost)
        if max(worst, shift) < close.gas:
            break
    absorb(kiln, now, bench, column, leaked, seconds)
    gas_change, stone_change, front_change = take_on(kiln, now, bench, column)
    freshen(kiln, now, up, column, gas_in, seconds)
    wall = 0.0
    for place in range(levels + 1):
        wall += bench.wall[place]
    return Moved(stones, wall, flue, gas_out, gas_change, stone_change, front_change)


@part
def take_on(kiln, now, bench, column):
    """Take on the state at a step's end, and return how far gas, stones and fronts have moved: mean squares."""
    levels, sizes = kiln.mass.shape
    gas_change = stone_change = front_change = total = 0.0
    for place in range(levels + 1):
        gas_change += (bench.mean[place] - now.gas[column, place]) ** 2 / (levels + 1)
        now.gas[column, place] = bench.mean[place]
    for level in range(levels):
        now.own_before[column, level] = now.own[column, level]
        now.takes[column, level], now.own[column, level] = bench.takes[level], bench.own[level]
        for size in range(sizes):
            mass, at = kiln.mass[level, size], (level, size, column)
            before, after = state_at(now.stones, at), state_at(bench.stones, (level, size))
            front = 0.0
            if after.conversion > before.conversion:
                front = core_left(kiln.makes.curved, before.conversion)
                front -= core_left(kiln.makes.curved, after.conversion)
            stone_change += mass * (after.core_temperature - before.core_temperature) ** 2
            front_change += mass * front**2
            total += mass
            set_state(now.stones, at, after)
    return gas_change, stone_change / total, front_change / total
