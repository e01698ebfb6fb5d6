"""One stone, or tens of thousands at once, by three sums: the core's heat, the shell's heat, the conversion.

The core warms by a driving force on its mean temperature, the shell holds the
heat of its steady profile, and the front between them obeys `front_balance`.
Every quantity may be an array over stones, sizes and conditions. All heats are
per square metre of outer face unless said otherwise, and count from 25 °C.

How the two driving forces come about: let the core take heat up evenly, and
its temperature is a parabola, so the flow in is ``(curved + 3) λ/r`` times
front less mean. The moving front eats the outermost, hottest layer; heat
taken up for that reason alone lies near the front, in proportion to the
square of the distance from the centre, and the mean then misses only
``(curved + 3)/(curved + 5)`` of what the front sweeps up. The shell's: `limekit.stone.shell`.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from limekit.compiled import anywhere, available, choose, entry, part
from limekit.stone.front import Piece, core_left, front_balance, front_steepness, gas_resistance
from limekit.stone.moment import Make, State, charged, gone, heat_held, lime_temperature, make_at
from limekit.stone.shell import shell_conduction
from limekit.stone.warming import Warming, heat_content, level_at, straight

FRONT_TOLERANCE = 0.1  # K, of the last step of Newton's method: what is left is a hundredth of its square
LEAST_CORE = 1e-3  # of the radius, so that no area or resistance is without bound
LEAST_SHELL = 1e-9  # of the volume, for the same
TREND, TREND_MOST = 0.75, 0.3  # of the last change of pace, taken to go on; and of the pace, at most
FORETOLD = 6.0  # times what was foretold to burn, beyond which the step is foretold anew
ASTRAY = 0.02  # share burnt in a step, beyond what was foretold, from which the step is foretold anew
OVERSHOOT = 1.0  # K, by which the core may pass the front in a step, before the step is taken anew
MOST_TURNS = 12


class Taken(NamedTuple):
    """What a step took from the gas and gave to it, each per kilogram of dry stone charged.

    ``heat`` = change of `Stones.heat_held` + ``reaction`` + ``carried``; J/kg.

    Parameters
    ----------
    heat : float or ndarray
        Heat taken from the gas.
    reaction : float or ndarray
        Heat bound by calcium carbonate burning, at the front's temperature.
    carried : float or ndarray
        Sensible heat of the stone that left as carbon dioxide: 61 J for each mole and kelvin.
    carbon_dioxide, water : float or ndarray
        Given to the gas; kg/kg.
    response : float or ndarray
        Heat more for each kelvin by which the gas had been hotter; J/kgK.
    """

    heat: np.ndarray
    reaction: np.ndarray
    carried: np.ndarray
    carbon_dioxide: np.ndarray
    water: np.ndarray
    response: np.ndarray


class Flow(NamedTuple):
    """Means over a step, by outer face.

    The front's temperature (K) and burning (mol/m²s); heat taken from the gas and given up by the
    shell (W/m²); the core's uptake (W/m²K of front less mean), what the front pays for stone it eats
    (J/m³) and the core's volume (m); heat more for each kelvin of gas (W/m²K).
    """

    level: np.ndarray
    burning: np.ndarray
    taken: np.ndarray
    given: np.ndarray
    uptake: np.ndarray
    swept: np.ndarray
    unburnt: np.ndarray
    response: np.ndarray


class Stones:
    """The state of stones in a fire, moved on by `step`.

    Parameters
    ----------
    piece : Piece
        Its fields may be arrays that broadcast.
    temperature : float or ndarray
        Of the stones at the start; K.
    like : ndarray, optional
        Any array of the full shape, where the conditions have axes that the stones lack.

    Attributes
    ----------
    make : Make
    state : State
    """

    def __init__(self, piece: Piece, temperature, like=0.0) -> None:
        self.piece, self.make = piece, Make.of(piece)
        shape = np.broadcast_shapes(*map(np.shape, (like, temperature, *piece.figures.values())))
        self.state = charged(self.make, np.zeros(shape) + temperature)

    @property
    def warming(self) -> Warming:
        """The heat content of their unburnt stone."""
        return self.make.warming

    @property
    def conversion(self):
        """Share of the calcium carbonate burnt."""
        return self.state.conversion

    @property
    def core_temperature(self):
        """Mean of the unburnt core; where all is burnt, the lime's; K."""
        return self.state.core_temperature

    @property
    def front_temperature(self):
        """At the core's edge; K."""
        return self.state.front_temperature

    @property
    def burning(self):
        """Of the last step; mol/s of carbon dioxide per m² of outer face."""
        return self.state.burning

    @property
    def heat_held(self):
        """Heat in the stones above 25 °C, with that of moisture and magnesia; J/kg of dry stone charged."""
        return heat_held(self.make, self.state)

    @property
    def lime_temperature(self):
        """Mean of the burnt shell; the front's where hardly anything is burnt yet; K."""
        return lime_temperature(self.make, self.state)

    @property
    def gone(self):
        """Water and carbon dioxide that have left; kg/kg of dry stone charged."""
        return gone(self.make, self.state)

    def step(self, seconds, gas_temperature, co2_pressure, tolerance=FRONT_TOLERANCE) -> Taken:
        """Move on by a time in gas of a temperature and a carbon dioxide pressure; arguments as for `step`."""
        self.state, taken = step(self.make, self.state, seconds, gas_temperature, co2_pressure, tolerance)
        return taken


@part
def step(make, state, seconds, gas_temperature, co2_pressure, tolerance):
    """Move stones on by a time in gas of a temperature and a carbon dioxide pressure.

    Parameters
    ----------
    make : Make
    state : State
    seconds : float or ndarray
        Any length: the step stays stable, and is second-order exact where it is short.
    gas_temperature, co2_pressure : float or ndarray
        Mean over the step; K and Pa.
    tolerance : float
        K, to which the front is found.

    Returns
    -------
    State
    Taken
    """
    seconds, left = np.maximum(seconds, 1e-9), 1.0 - state.conversion
    ahead, toward = burning_ahead(make, state, seconds), state.front_temperature
    for _ in range(MOST_TURNS):
        flow = flows(make, state, ahead, toward, seconds, gas_temperature, co2_pressure, tolerance)
        burnt = np.minimum(flow.burning * seconds / make.carbonate_by_face, left)
        into_core = seconds * flow.uptake * (flow.level - state.core_temperature)
        warmer = state.core_heat + into_core / flow.unburnt
        core_temperature = level_at(make.warming, warmer, state.core_peak)
        astray = burnt > FORETOLD * ahead + ASTRAY
        beyond = (core_temperature - flow.level) * np.sign(into_core) > OVERSHOOT
        if not (anywhere(astray) or anywhere(beyond)):
            break
        ahead = choose(astray, np.sqrt(np.maximum(ahead, LEAST_SHELL) * 0.5 * burnt), ahead)
        toward = choose(beyond, flow.level, toward)

    eaten = make.volume * burnt
    from_core = make.volume * (left * state.core_heat - (left - burnt) * warmer) + into_core
    to_shell = make.lime_capacity * eaten * (flow.level - make.warming.cold)
    shell_heat = state.shell_heat + to_shell - seconds * flow.given
    new = settled(make, state, flow, burnt, warmer, core_temperature, shell_heat)
    water, carbon_dioxide = gone(make, new)
    water_before, carbon_dioxide_before = gone(make, state)
    return new, Taken(
        seconds * flow.taken * make.by_mass,
        make.laws.heat * burnt * make.carbonate_by_face * make.by_mass,
        (from_core + flow.swept * eaten - to_shell) * make.by_mass,
        carbon_dioxide - carbon_dioxide_before,
        water - water_before,
        seconds * flow.response * make.by_mass,
    )


@part
def burning_ahead(make, state, seconds):
    """Return the share that will burn in the step's first half, as the last two steps foretell."""
    most = TREND_MOST * state.burning
    trend = np.minimum(np.maximum(TREND * (state.burning - state.burnt_before), -most), most)
    moles = 0.5 * seconds * (state.burning + trend)
    return np.minimum(moles / make.carbonate_by_face, 0.5 * (1.0 - state.conversion))


@part
def flows(make, state, ahead, toward, seconds, gas_temperature, co2_pressure, tolerance):
    """Return what flows in a step, as the front moves on by `ahead` and the core warms `toward` a level (K)."""
    converted = state.conversion + ahead
    core = np.maximum(core_left(make.curved, converted), LEAST_CORE)
    unburnt = make.volume * np.maximum(1.0 - converted, LEAST_CORE ** (make.curved + 1))
    shell = make.volume * np.maximum(converted, LEAST_SHELL)
    resistance, inward, delay = shell_conduction(make, core, shell)
    inner, haste = inward / shell, make.lime_capacity * shell / (make.lime_capacity * delay + seconds * shell)
    kept, lime = lime_kept(make, state, ahead)
    fresh = 1.0 - kept
    grip = np.maximum(inner - fresh, -0.5 / (resistance * inward * haste))
    release = haste * (
        kept * lime + (fresh - inner + grip) * state.front_temperature - (1.0 - inner) * gas_temperature
    )  # less haste · grip · the front's temperature
    uptake, swept = core_uptake(make, state, seconds, core, unburnt, toward)

    supply = 1.0 / resistance + uptake + inward * haste * grip
    idle = (gas_temperature / resistance + uptake * state.core_temperature + inward * release) / supply
    heat = make.laws.heat + swept / make.carbonate
    passage = gas_resistance(make, core)
    guess = state.front_temperature
    level, burning = front_balance(idle, supply, co2_pressure, passage, guess, heat, tolerance, make.laws)
    burning = np.minimum(burning, (1.0 - state.conversion) * make.carbonate_by_face / seconds)
    level = idle - heat * burning / supply
    release = release - haste * grip * level

    follows = (1.0 / resistance - inward * haste * (1.0 - inner)) / (
        supply + front_steepness(level, burning, co2_pressure, passage, heat, make.laws)
    )
    return Flow(
        level,
        burning,
        (gas_temperature - level) / resistance - release * (shell - inward),
        release * shell,
        uptake,
        swept,
        unburnt,
        (1.0 - follows) / resistance + (shell - inward) * haste * (1.0 - inner + grip * follows),
    )


@part
def lime_kept(make, state, ahead):
    """Return which share of the shell at the step's end was there before it, and that lime's temperature (K)."""
    kept = state.conversion / np.maximum(state.conversion + 2.0 * ahead, LEAST_SHELL)
    held = state.shell_heat / (make.lime_capacity * make.volume * np.maximum(state.conversion, LEAST_SHELL))
    return kept, make.warming.cold + held


@part
def core_uptake(make, state, seconds, core, unburnt, toward):
    """Return what the core takes up (W/m²K of front less mean), and the heat to bring its mean to the front's.

    The first is a mean over the step, in which the core's mean draws near the front's; the
    second, J/m³, is what the front pays for the stone it eats.
    """
    ways, apart = make.curved + 3, state.front_temperature - state.core_temperature
    capacity, on_the_way = capacity_toward(make, state, state.front_temperature), capacity_toward(make, state, toward)
    still = ways * core ** (make.curved - 1) * make.stone_conductivity / make.radius
    uptake = np.maximum(still - ways / (ways + 2) * on_the_way * state.burning / make.carbonate, 0.0)
    pace = uptake * seconds / (unburnt * on_the_way) + 1e-12
    return choose(state.conversion < 1.0, uptake * -np.expm1(-pace) / pace, 0.0), capacity * apart


@part
def capacity_toward(make, state, temperature):
    """Return the heat the core takes for each kelvin on its way to a temperature (K); J/m³K."""
    if straight(make.warming):
        return make.warming.capacity
    rise = temperature - state.core_temperature
    rise = choose(np.abs(rise) < 1.0, np.copysign(1.0, rise), rise)
    return (heat_content(make.warming, state.core_temperature + rise, state.core_peak) - state.core_heat) / rise


@part
def settled(make, state, flow, burnt, core_heat, core_temperature, shell_heat):
    """Return the state at a step's end; a core that is gone is told as the lime in its place."""
    conversion = state.conversion + burnt
    lime = make.warming.cold + shell_heat / (make.lime_capacity * make.volume)
    core_temperature = choose(conversion < 1.0, core_temperature, lime)
    peak = np.maximum(state.core_peak, core_temperature)
    core_heat = choose(conversion < 1.0, core_heat, heat_content(make.warming, core_temperature, peak))
    return State(conversion, flow.level, core_heat, core_temperature, peak, shell_heat, flow.burning, state.burning)


def burn_all(makes, gas_temperatures, co2_pressures, start_temperature, lengths):
    """Burn stones, each in steady gas of its own, and return how much has burnt in time.

    Parameters
    ----------
    makes : Make
        Of arrays of shape (stones,).
    gas_temperatures, co2_pressures : ndarray, shape (stones,)
        K and Pa.
    start_temperature : float
        K.
    lengths : ndarray, shape (steps,)
        Of the steps, s.

    Returns
    -------
    ndarray, shape (steps + 1, stones)
        Share of the calcium carbonate.
    """
    burn = burn_each if available() else burn_together
    return burn(makes, gas_temperatures, co2_pressures, start_temperature, lengths)


@entry
def burn_each(makes, gas_temperatures, co2_pressures, start_temperature, lengths):
    """Return `burn_all`, one stone after another."""
    burnt = np.zeros((len(lengths) + 1, len(gas_temperatures)))
    for at in range(len(gas_temperatures)):
        make = make_at(makes, at)
        state = charged(make, start_temperature)
        for turn in range(len(lengths)):
            if state.conversion < 1.0:
                state, _ = step(make, state, lengths[turn], gas_temperatures[at], co2_pressures[at], FRONT_TOLERANCE)
            burnt[turn + 1, at] = state.conversion
    return burnt


def burn_together(makes, gas_temperatures, co2_pressures, start_temperature, lengths):
    """Return `burn_all`, step after step of all stones as arrays, which is sooner done where no loop is compiled."""
    state = charged(makes, np.full(len(gas_temperatures), start_temperature))
    burnt = [state.conversion]
    for seconds in lengths:
        state, _ = step(makes, state, seconds, gas_temperatures, co2_pressures, FRONT_TOLERANCE)
        burnt.append(state.conversion)
    return np.array(burnt)
