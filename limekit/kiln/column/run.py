"""Kilns side by side, fired from lighting on: draught, stoking and column, in steps that lengthen as things settle."""

from __future__ import annotations

from functools import partial
from typing import NamedTuple

import numpy as np

from limekit.compiled import entry, part
from limekit.fire.air_way import Heads, air_drawn, air_terms
from limekit.kiln.column.gas import carried
from limekit.kiln.column.rings import Rings, burn_up, exchange, share_gas, state_of
from limekit.kiln.column.standing import Bench, Kiln, Now, burnt_share, lime_at
from limekit.kiln.column.step import LEAST, STILL, Closeness, over_time, step_kiln

SHORTEST, LONGEST, LADDER = 15.0, 1200.0, 2.0**0.25  # s, and from one length of step to the next
FARTHEST = 2.0  # times the last change, that the stones' line is foretold ahead
LEAST_STEP = 1.0  # s, of a step that lands on a conversion
GAS_CHANGE, STONE_CHANGE, FRONT_CHANGE = 12.0, 20.0, 0.04  # K, K and shares of the radius: root mean square of a step
GROWTH, SHRINK = 2.0, 0.3


class Feeding(NamedTuple):
    """How kilns side by side are fed; a `Stoker` with its fuel, in numbers.

    Parameters
    ----------
    times, rates : ndarray
        Fuel fed from each moment on (s, kg/s); none is as much as the draught and the arms can.
    most : float
        Fuel that the arms feed at most once the fire is full; kg/s.
    heat_up_time, kindling_share : float
        In which the fire grows to what the draught can burn (s), and from which share of it.
    heat, air, air_heat : float
        J, kg of least air to a kilogram of fuel, and J that a kilogram of air brings.
    gas, air_moles : tuple of float
        mol of each part from a kilogram of fuel with no air left over, and in a kilogram of air.
    unburnt, surplus : float
        Share of the fuel's heat that leaves as smoke and embers, and of what burns what is fed besides where
        arms can spare it: it leaves so too.
    open_door, ample : bool
        Whether all the air there is comes in, and whether there is enough for whatever is fed.
    excess_air, quality : ndarray, shape (members,)
        Held by the air door, and of the fuel: a factor on its heat.
    """

    times: np.ndarray
    rates: np.ndarray
    most: float
    heat_up_time: float
    kindling_share: float
    heat: float
    air: float
    air_heat: float
    gas: tuple
    air_moles: tuple
    unburnt: float
    surplus: float
    open_door: bool
    ample: bool
    excess_air: np.ndarray
    quality: np.ndarray


class Surroundings(NamedTuple):
    """The air's way and what leaks: damper's open share, mouth (m², by member), cover (W/K), Stefan and Boltzmann's."""

    rings: Rings
    heads: Heads
    damper: float
    mouth: np.ndarray
    cover: np.ndarray
    stefan_boltzmann: float
    masses: tuple


class Pulse(NamedTuple):
    """What of the run as such moves on.

    Parameters
    ----------
    clock : ndarray, shape (6,)
        s: now, the next step, and the last two as the draught and the stones' line know them.
    hearth, gas_to_air, drawn, burnt : ndarray, shape (members,)
        K; mass of gas over mass of air; kg/s; mean conversion.
    pace : ndarray, shape (1,)
        Of burning, of the slowest over the last step; 1/s.
    passing : ndarray, shape (members, levels, rings - 1)
        Heat from each ring to the next outward; W.
    """

    clock: np.ndarray
    hearth: np.ndarray
    gas_to_air: np.ndarray
    drawn: np.ndarray
    burnt: np.ndarray
    pace: np.ndarray
    passing: np.ndarray


NOW, NEXT, LAST, BEFORE_LAST, LINE, LINE_BEFORE = range(6)


class Moments(NamedTuple):
    """Kilns at the end of each step; arrays of moments first, and of columns last.

    As `limekit.kiln.column.burn.Burn` gives it to others, of members last: what flows is the sum over
    a kiln's rings, and the rest their mean.

    Parameters
    ----------
    time : ndarray
        s since lighting.
    fed, air : ndarray
        kg/s of fuel and of air, over the step.
    fire, unburnt, stones, wall, flue : ndarray
        W: in the fire's gas, in fuel that did not burn, taken by stones and wall, and in the gas that left.
    leaks : ndarray, shape (moments, levels + 1, columns)
        W that left the gas past the wall.
    gas_in, gas_out : ndarray, shape (moments, 4, columns)
        mol/s of each part.
    gas_temperature : ndarray, shape (moments, levels + 1, columns)
        Mean in the hearth and in each level; K.
    flue_temperature : ndarray
        Of the gas as it leaves; K.
    stone_temperature, lime_temperature, conversion : ndarray, shape (moments, levels, sizes, columns)
        K, K and share of the calcium carbonate.
    burnt : ndarray
        Mean conversion.
    """

    time: np.ndarray
    fed: np.ndarray
    air: np.ndarray
    fire: np.ndarray
    unburnt: np.ndarray
    stones: np.ndarray
    wall: np.ndarray
    flue: np.ndarray
    leaks: np.ndarray
    gas_in: np.ndarray
    gas_out: np.ndarray
    gas_temperature: np.ndarray
    flue_temperature: np.ndarray
    stone_temperature: np.ndarray
    lime_temperature: np.ndarray
    conversion: np.ndarray
    burnt: np.ndarray


@part
def draw(kiln, now, around, first, means, hearth, gas_to_air):
    """Return the air that a kiln could draw as it is, kg/s, as `limekit.fire.air_way.AirWay.breathe`.

    Of its rings the mean counts.
    """
    if around.damper <= 0.0:
        return 0.0
    rings = len(means)
    colder = stickiness = hotness = top = 0.0
    for ring in range(rings):
        colder += means[ring, 0] / rings
        stickiness += means[ring, 1] / rings
        hotness += means[ring, 2] / rings
        top += now.up.between[first + ring, -1] / rings
    terms = air_terms(
        around.heads,
        colder,
        stickiness,
        hotness,
        hearth,
        top,
        kiln.air_temperature,
        gas_to_air,
        around.damper,
    )
    among, beside = air_drawn(terms)
    return (among + beside) * around.heads.kiln_area


@part
def rate_at(feeding, time):
    """Return the fuel that would be fed at a time (kg/s; infinite for all that can burn), and when that changes (s)."""
    rate, change = np.inf, np.inf
    if len(feeding.times):
        rate = 0.0
    for place in range(len(feeding.times)):
        if feeding.times[place] > time:
            change = feeding.times[place]
            break
        rate = feeding.rates[place]
    return rate, change


@part
def stoke(feeding, wanted, grown, draught, excess_air, quality):
    """Return a fire with so much air at hand (kg/s).

    Returns
    -------
    fed, air : float
        kg/s.
    gas : tuple of float
        mol/s of each part.
    heat, unburnt : float
        W in the gas, and in the fuel that did not burn.
    """
    kept, least = 1.0 - feeding.unburnt, feeding.air * (1.0 + excess_air)
    burnt = kept * wanted
    if not feeding.ample:
        burnt = min(burnt, grown * min(draught / least, kept * feeding.most))
    air = draught if feeding.open_door else burnt * least
    spare = air - burnt * feeding.air
    gas = (
        feeding.gas[0] * burnt + feeding.air_moles[0] * spare,
        feeding.gas[1] * burnt + feeding.air_moles[1] * spare,
        feeding.gas[2] * burnt + feeding.air_moles[2] * spare,
        feeding.gas[3] * burnt + feeding.air_moles[3] * spare,
    )
    heat = burnt * feeding.heat * quality + air * feeding.air_heat
    fed = burnt / kept
    if not feeding.ample:
        fed = min(fed * (1.0 + feeding.surplus), wanted, grown * feeding.most)
    return fed, air, gas, heat, (fed - burnt) * feeding.heat


@part
def leaking(kiln, now, around, member, column, leak):
    """Set what leaves a ring's gas past the wall to the air outside, in hearth and levels; W/K."""
    gas, air, rings = now.gas[column, 0], kiln.air_temperature, around.rings.count
    leak[:] = LEAST
    leak[0] += around.stefan_boltzmann * around.mouth[member] / rings * (gas**2 + air**2) * (gas + air)
    leak[-1] += around.cover[member] / rings


@part
def note(kiln, now, moments, moment, column, fed, air, fire, unburnt, moved, leaks, gas_in):
    """Write down what a step moved in a ring of a kiln, and how it stands at its end."""
    moments.fed[moment, column] = fed
    moments.air[moment, column] = air
    moments.fire[moment, column] = fire
    moments.unburnt[moment, column] = unburnt
    moments.stones[moment, column] = moved.stones
    moments.wall[moment, column] = moved.wall
    moments.flue[moment, column] = moved.flue
    moments.flue_temperature[moment, column] = now.up.between[column, -1]
    moments.burnt[moment, column] = burnt_share(kiln, now, column)
    for one in range(4):
        moments.gas_in[moment, one, column] = gas_in[one]
        moments.gas_out[moment, one, column] = moved.gas_out[one]
    levels, sizes = kiln.mass.shape
    for place in range(levels + 1):
        moments.leaks[moment, place, column] = leaks[place]
        moments.gas_temperature[moment, place, column] = now.gas[column, place]
    for level in range(levels):
        for size in range(sizes):
            at = (moment, level, size, column)
            moments.stone_temperature[at] = now.stones.core_temperature[level, size, column]
            moments.lime_temperature[at] = lime_at(kiln, now, level, size, column)
            moments.conversion[at] = now.stones.conversion[level, size, column]


@part
def line_ahead(clock, seconds):
    """Return how far ahead the stones' line is foretold, in times its last change; the step becomes the last."""
    ahead = min((seconds + clock[LINE]) / (clock[LINE] + clock[LINE_BEFORE]), FARTHEST)
    clock[LINE_BEFORE], clock[LINE] = clock[LINE], seconds
    return ahead


@part
def next_length(seconds, change, pace):
    """Return the length of the next step from that of the last and its change, on a ladder of lengths; s."""
    wanted = seconds * min(GROWTH, max(SHRINK, pace / change))
    rung = np.floor(np.log(max(wanted / SHORTEST, 1.0)) / np.log(LADDER) + 1e-9)
    return min(SHORTEST * LADDER**rung, LONGEST)


@part
def smallest(values):
    """Return the least of some numbers."""
    least = values[0]
    for value in values:
        least = min(least, value)
    return least


@partial(entry, makes_arrays=False)
def run(
    kiln: Kiln,
    now: Now,
    around: Surroundings,
    feeding: Feeding,
    pulse: Pulse,
    bench: Bench,
    moments: Moments,
    until,
    conversion,
    pace,
    close: Closeness,
):
    """Fire kilns side by side until a time, or until the slowest has burnt to a mean conversion.

    All take the same steps of time, each as long as the one that changes most allows.

    Parameters
    ----------
    kiln, now, around, feeding, pulse, bench
        `now` and `pulse` are brought up to date, and `bench` is written on.
    moments : Moments
        To be written to; the run stops when it is full.
    until, conversion : float
        s since lighting, and a share.
    pace : float
        Factor on the change that a step may bring.
    close : Closeness

    Returns
    -------
    int
        Moments written.
    """
    clock, members, written = pulse.clock, len(pulse.burnt), 0
    rings, levels = around.rings.count, len(kiln.gaps)
    means, shares, capacity, side = bench.means, bench.shares, bench.capacities, bench.side
    while written < len(moments.time) and clock[NOW] < until and smallest(pulse.burnt) < conversion:
        left = np.inf
        if pulse.pace[0] > 0.0:
            left = (conversion - smallest(pulse.burnt)) / pulse.pace[0]
        landing = min(until, rate_at(feeding, clock[NOW])[1]) - clock[NOW]
        seconds = min(clock[NEXT], max(left, LEAST_STEP), landing)
        middle = clock[NOW] + 0.5 * seconds
        wanted, grown = rate_at(feeding, middle)[0], 1.0
        if feeding.heat_up_time:
            grown = min(max(middle / feeding.heat_up_time, feeding.kindling_share), 1.0)
        ahead = line_ahead(clock, seconds)
        trend = (seconds + clock[LAST]) / (clock[LAST] + clock[BEFORE_LAST])
        clock[BEFORE_LAST], clock[LAST] = clock[LAST], seconds
        wall_warms = over_time(kiln, bench, seconds)
        change, burning = 1e-9, np.inf
        for member in range(members):
            first = member * rings
            for ring in range(rings):
                state_of(kiln, now, around.heads, first + ring, means[ring])
            drawn = draw(kiln, now, around, first, means, pulse.hearth[member], pulse.gas_to_air[member])
            draught = drawn + min(max((drawn - pulse.drawn[member]) * trend, -drawn), drawn)
            pulse.drawn[member] = drawn
            fed, air, gas, heat, unburnt = stoke(
                feeding, wanted, grown, draught, feeding.excess_air[member], feeding.quality[member]
            )
            flux = air / around.heads.kiln_area
            share_gas(around.heads, kiln.air_temperature, means, flux, pulse.gas_to_air[member], shares)
            for ring in range(rings):
                capacity[ring] = shares[ring] * carried(kiln.table, gas, now.gas[first + ring, levels // 2 + 1])[1]
            side[:] = 0.0
            exchange(around.rings, now, bench, first, pulse.passing[member])
            mass = hearth = burnt = 0.0
            for ring in range(rings):
                column, share = first + ring, shares[ring]
                given, smoke = burn_up(around.rings, now, column, share * heat, side[ring])
                entering = (
                    share * gas[0] + STILL * kiln.air[0],
                    share * gas[1] + STILL * kiln.air[1],
                    share * gas[2] + STILL * kiln.air[2],
                    share * gas[3] + STILL * kiln.air[3],
                )
                leaking(kiln, now, around, member, column, bench.leak)
                below = share * heat - given - smoke
                moving = kiln, now, bench, column, seconds, ahead, wall_warms
                moved = step_kiln(*moving, entering, below, side[ring], close)
                lost = share * unburnt + smoke
                note(
                    kiln,
                    now,
                    moments,
                    written,
                    column,
                    share * fed,
                    share * air,
                    below + given,
                    lost,
                    moved,
                    bench.leaks,
                    entering,
                )
                change = max(
                    change,
                    np.sqrt(moved.gas_change) / GAS_CHANGE,
                    np.sqrt(moved.stone_change) / STONE_CHANGE,
                    np.sqrt(moved.front_change) / FRONT_CHANGE,
                )
                for one in range(4):
                    mass += 0.5 * around.masses[one] * (entering[one] + moved.gas_out[one])
                hearth += share * now.gas[column, 0]
                burnt += moments.burnt[written, column] / rings
            pulse.gas_to_air[member] = mass / max(air, 1e-12) if air > 0.0 else 1.0
            pulse.hearth[member] = hearth
            burning = min(burning, (burnt - pulse.burnt[member]) / seconds)
            pulse.burnt[member] = burnt
        clock[NOW] += seconds
        clock[NEXT] = next_length(seconds, change, pace)
        pulse.pace[0] = burning
        moments.time[written] = clock[NOW]
        written += 1
    return written
