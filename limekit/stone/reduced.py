"""One stone, or tens of thousands at once, by three sums: the core's heat, the shell's heat, the conversion.

The core warms by a driving force on its mean temperature, the shell holds the
heat of its steady profile, and the front between them obeys `front_balance`.
Every quantity may be an array over stones, sizes and conditions.

All heats are per square metre of outer face unless said otherwise, and count
from 25 °C.

How the two driving forces come about: let the core take heat up evenly, and
its temperature is a parabola, so the flow in is ``(curved + 3) λ/r`` times
front less mean. The moving front eats the outermost, hottest layer; heat
taken up for that reason alone lies near the front, in proportion to the
square of the distance from the centre, and the mean then misses only
``(curved + 3)/(curved + 5)`` of what the front sweeps up. In the shell, steady
conduction from gas to front is the first part; what the shell stores or gives
up, taken as even over its volume, adds the second, of which the share
``inward`` passes through the front.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.chemistry import CARBON_DIOXIDE, MAGNESIUM_CARBONATE
from limekit.errors import InputError
from limekit.stone.front import FRONT_HEAT, Piece, front_balance, front_steepness
from limekit.stone.warming import COLD, Warming

FRONT_TOLERANCE = 0.01  # K; the burning returned is exact to its square
LEAST_CORE = 1e-3  # of the radius, so that no area or resistance is without bound
FILM_OF_LIME = 1e-6  # share burnt, from which a shell has a temperature of its own
LEAST_SHELL = 1e-9  # of the volume, for the same
FIRST_STEP = 0.02  # of the time in which the stone warms
STEP_SHRINK, STEP_GROWTH = 0.3, 1.5
TREND, TREND_MOST = 0.75, 0.3  # of the last change of pace, taken to go on; and of the pace, at most
FORETOLD = 6.0  # times what was foretold to burn, beyond which the step is foretold anew
FRONT_STEP = 0.025  # of the radius, that the front may move in a step
THIN_STEP, FIRST_MOVE = 0.2, 0.003  # the same near face and centre: of the way to them, and of the radius
CORE_STEP = 40.0  # K, that the core's mean may change in a step
ASTRAY = 0.02  # share burnt in a step, beyond what was foretold, from which the step is foretold anew
OVERSHOOT = 1.0  # K, by which the core may pass the front in a step, before the step is taken anew
MOST_TURNS = 12
MOST_STEPS = 1000


@dataclass(frozen=True, eq=False)
class Taken:
    """What a step took from the gas and gave to it, each per kilogram of dry stone charged.

    ``heat`` = change of `Stones.heat_held` + ``reaction`` + ``carried``; J/kg.

    Parameters
    ----------
    heat : ndarray
        Heat taken from the gas.
    reaction : ndarray
        Heat bound by calcium carbonate burning, at the front's temperature.
    carried : ndarray
        Sensible heat of the stone that left as carbon dioxide: 61 J for each mole and kelvin.
    carbon_dioxide, water : ndarray
        Given to the gas; kg/kg.
    response : ndarray
        Heat more for each kelvin by which the gas had been hotter; J/kgK.
    """

    heat: np.ndarray
    reaction: np.ndarray
    carried: np.ndarray
    carbon_dioxide: np.ndarray
    water: np.ndarray
    response: np.ndarray


@dataclass(frozen=True, eq=False)
class Flow:
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
    conversion : ndarray
        Share of the calcium carbonate burnt.
    core_temperature, front_temperature : ndarray
        Mean of the unburnt core, and at its edge; K. Where all is burnt, the first is the lime's mean.
    """

    def __init__(self, piece: Piece, temperature, like=0.0) -> None:
        self.piece = piece
        self.warming = Warming.of(piece)
        fields = (getattr(piece, name) for name in Piece.__dataclass_fields__ if name != "shape")
        shape = np.broadcast_shapes(np.shape(like), np.shape(temperature), *map(np.shape, fields))
        zero = np.zeros(shape)
        self.conversion = zero
        self.front_temperature = zero + temperature
        self.core_heat = zero + self.warming.heat(self.front_temperature)
        self.core_temperature = self.core_peak = zero + temperature
        self.shell_heat = zero
        self.burning = self._burnt_before = zero
        self._capacity = piece.lime_density * piece.lime_heat_capacity
        self._volume = piece.volume_by_face
        self._by_mass = 1.0 / (piece.density * self._volume)

    @property
    def heat_held(self):
        """Heat in the stones above 25 °C, with that of moisture and magnesia; J/kg of dry stone charged."""
        return (self._volume * (1.0 - self.conversion) * self.core_heat + self.shell_heat) * self._by_mass

    @property
    def lime_temperature(self):
        """Mean of the burnt shell; the front's where hardly anything is burnt yet; K."""
        shell = self._capacity * self._volume * np.maximum(self.conversion, FILM_OF_LIME)
        return np.where(self.conversion < FILM_OF_LIME, self.front_temperature, COLD + self.shell_heat / shell)

    @property
    def gone(self):
        """Water and carbon dioxide that have left; kg/kg of dry stone charged."""
        piece, left = self.piece, 1.0 - self.conversion
        calcium = piece.carbonate / piece.density * CARBON_DIOXIDE
        if self.warming.plain:
            return np.zeros_like(left), calcium * self.conversion
        dried, burnt = self.warming.done(self.core_peak)
        magnesium = piece.magnesium_carbonate * CARBON_DIOXIDE / MAGNESIUM_CARBONATE
        return (
            piece.water / piece.density * (1.0 - left * (1.0 - dried)),
            magnesium * (1.0 - left * (1.0 - burnt)) + calcium * self.conversion,
        )

    def step(self, seconds, gas_temperature, co2_pressure) -> Taken:
        """Move on by a time in gas of a temperature and a carbon dioxide pressure.

        Parameters
        ----------
        seconds : float or ndarray
            Any length: the step stays stable, and is second-order exact where it is short.
        gas_temperature, co2_pressure : float or ndarray
            Mean over the step; K and Pa.

        Returns
        -------
        Taken
        """
        seconds, left, by_face = np.maximum(seconds, 1e-9), 1.0 - self.conversion, self.piece.carbonate_by_face
        ahead, toward = self._ahead(seconds), self.front_temperature
        for _ in range(MOST_TURNS):
            flow = self._flow(ahead, toward, seconds, gas_temperature, co2_pressure)
            burnt = np.minimum(flow.burning * seconds / by_face, left)
            into_core = seconds * flow.uptake * (flow.level - self.core_temperature)
            warmer = self.core_heat + into_core / flow.unburnt
            core_temperature = self.warming.temperature(warmer, self.core_peak)
            astray = burnt > FORETOLD * ahead + ASTRAY
            beyond = (core_temperature - flow.level) * np.sign(into_core) > OVERSHOOT
            if not (astray.any() or beyond.any()):
                break
            ahead = np.where(astray, np.sqrt(np.maximum(ahead, LEAST_SHELL) * 0.5 * burnt), ahead)
            toward = np.where(beyond, flow.level, toward)

        gone, eaten = self.gone, self._volume * burnt
        from_core = self._volume * (left * self.core_heat - (left - burnt) * warmer) + into_core
        to_shell = self._capacity * eaten * (flow.level - COLD)
        self._settle(burnt, warmer, core_temperature, self.shell_heat + to_shell - seconds * flow.given)
        self.front_temperature, self.burning, self._burnt_before = flow.level, flow.burning, self.burning
        water, carbon_dioxide = (after - before for after, before in zip(self.gone, gone, strict=True))
        return Taken(
            heat=seconds * flow.taken * self._by_mass,
            reaction=FRONT_HEAT * burnt * by_face * self._by_mass,
            carried=(from_core + flow.swept * eaten - to_shell) * self._by_mass,
            carbon_dioxide=carbon_dioxide,
            water=water,
            response=seconds * flow.response * self._by_mass,
        )

    def _flow(self, ahead, toward, seconds, gas_temperature, co2_pressure) -> Flow:
        """Return what flows in a step, as the front moves on by `ahead` and the core warms `toward` a level (K)."""
        piece, converted = self.piece, self.conversion + ahead
        core = np.maximum(piece.core_left(converted), LEAST_CORE)
        unburnt = self._volume * np.maximum(1.0 - converted, LEAST_CORE ** (piece.curved + 1))
        shell = self._volume * np.maximum(converted, LEAST_SHELL)
        resistance, inward, delay = shell_conduction(piece, core, shell)
        inner, haste = inward / shell, self._capacity * shell / (self._capacity * delay + seconds * shell)
        kept, lime = self._lime_kept(ahead)
        fresh = 1.0 - kept
        grip = np.maximum(inner - fresh, -0.5 / (resistance * inward * haste))
        release = haste * (
            kept * lime + (fresh - inner + grip) * self.front_temperature - (1.0 - inner) * gas_temperature
        )  # less haste · grip · the front's temperature
        uptake, swept = self._core_uptake(seconds, core, unburnt, toward)

        supply = 1.0 / resistance + uptake + inward * haste * grip
        idle = (gas_temperature / resistance + uptake * self.core_temperature + inward * release) / supply
        heat = FRONT_HEAT + swept / piece.carbonate
        passage = piece.gas_resistance(core)
        guess = self.front_temperature
        level, burning = front_balance(idle, supply, co2_pressure, passage, guess, heat, FRONT_TOLERANCE)
        burning = np.minimum(burning, (1.0 - self.conversion) * piece.carbonate_by_face / seconds)
        level = idle - heat * burning / supply
        release = release - haste * grip * level

        follows = (1.0 / resistance - inward * haste * (1.0 - inner)) / (
            supply + front_steepness(level, burning, co2_pressure, passage, heat)
        )
        return Flow(
            level=level,
            burning=burning,
            taken=(gas_temperature - level) / resistance - release * (shell - inward),
            given=release * shell,
            uptake=uptake,
            swept=swept,
            unburnt=unburnt,
            response=(1.0 - follows) / resistance + (shell - inward) * haste * (1.0 - inner + grip * follows),
        )

    def _ahead(self, seconds):
        """Return the share that will burn in the step's first half, as the last two steps foretell."""
        most = TREND_MOST * self.burning
        trend = np.clip(TREND * (self.burning - self._burnt_before), -most, most)
        moles = 0.5 * seconds * (self.burning + trend)
        return np.minimum(moles / self.piece.carbonate_by_face, 0.5 * (1.0 - self.conversion))

    def _lime_kept(self, ahead):
        """Return which share of the shell at the step's end was there before it, and that lime's temperature (K)."""
        kept = self.conversion / np.maximum(self.conversion + 2.0 * ahead, LEAST_SHELL)
        held = self.shell_heat / (self._capacity * self._volume * np.maximum(self.conversion, LEAST_SHELL))
        return kept, COLD + held

    def _core_uptake(self, seconds, core, unburnt, toward):
        """Return what the core takes up (W/m²K of front less mean), and the heat to bring its mean to the front's.

        The first is a mean over the step, in which the core's mean draws near the front's; the
        second, J/m³, is what the front pays for the stone it eats.
        """
        piece, apart = self.piece, self.front_temperature - self.core_temperature
        capacity = on_the_way = self._capacity_toward(self.front_temperature)
        if toward is not self.front_temperature:
            on_the_way = self._capacity_toward(toward)
        ways = piece.curved + 3
        still = ways * core ** (piece.curved - 1) * piece.stone_conductivity / piece.radius
        uptake = np.maximum(still - ways / (ways + 2) * on_the_way * self.burning / piece.carbonate, 0.0)
        pace = uptake * seconds / (unburnt * on_the_way) + 1e-12
        return np.where(self.conversion < 1.0, uptake * -np.expm1(-pace) / pace, 0.0), capacity * apart

    def _capacity_toward(self, temperature):
        """Return the heat the core takes for each kelvin on its way to a temperature (K); J/m³K."""
        if self.warming.plain:
            return self.warming.capacity
        rise = temperature - self.core_temperature
        rise = np.where(np.abs(rise) < 1.0, np.copysign(1.0, rise), rise)
        return (self.warming.heat(self.core_temperature + rise, self.core_peak) - self.core_heat) / rise

    def _settle(self, burnt, core_heat, core_temperature, shell_heat) -> None:
        """Take on the state at a step's end; a core that is gone is told as the lime in its place."""
        self.conversion, self.shell_heat = self.conversion + burnt, shell_heat
        core_left = self.conversion < 1.0
        lime = COLD + shell_heat / (self._capacity * self._volume)
        self.core_temperature = np.where(core_left, core_temperature, lime)
        self.core_peak = np.maximum(self.core_peak, self.core_temperature)
        self.core_heat = np.where(core_left, core_heat, self.warming.heat(self.core_temperature, self.core_peak))


def shell_conduction(piece: Piece, core, shell):
    """Return how a burnt shell passes heat on.

    Parameters
    ----------
    piece : Piece
    core, shell : ndarray
        Front's place, 1 to 0, and the shell's volume by outer face; m.

    Returns
    -------
    resistance : ndarray
        From gas to front; m²K/W.
    inward : ndarray
        Volume whose heat, given up evenly, would pass the front; the rest passes the face; m.
    delay : ndarray
        Warmth of the whole shell for each W/m³ it gives up evenly; m·K·m³/W.
    """
    film, conduction = 1.0 / piece.heat_transfer_coefficient, piece.radius / piece.lime_conductivity
    path = piece.shell_path(core)
    first, second = shell_integrals(piece.shape, core)
    resistance = film + conduction * path
    inward = (shell * film + piece.radius * conduction * first) / resistance
    delay = conduction * (piece.radius**2 * second - 2.0 * inward * piece.radius * first + inward**2 * path)
    return resistance, inward, delay + (shell - inward) ** 2 * film


def shell_integrals(shape, core):
    """Return the shell's two means over volume, each over the radius and allowing for the shape.

    Parameters
    ----------
    shape : {"sphere", "cylinder", "slab"}
    core : ndarray
        Front's place, 1 to 0.

    Returns
    -------
    first, second : ndarray
        ``∫ g dv`` and ``∫ u² dg``, with g the way from the outer face to a place in the shell
        (`Piece.shell_path`), v the volume and u the volume between the front and that place.
    """
    if shape == "sphere":
        square = core**2
        cube = square * core
        return (1.0 - 3.0 * square + 2.0 * cube) / 6.0, (0.2 - cube + 1.8 * cube * square - cube**2) / 9.0
    if shape == "slab":
        return (1.0 - core) ** 2 / 2.0, (1.0 - core) ** 3 / 3.0
    square, log = core**2, np.log(core)
    return (1.0 - square) / 4.0 + square * log / 2.0, (
        (1.0 - square**2) / 4.0 - square * (1.0 - square) - square**2 * log
    ) / 4.0


def march(piece, gas, start_temperature, until=np.inf, conversion=np.inf):
    """Burn stones each at its own pace until a time or a conversion.

    Parameters
    ----------
    piece : Piece
        Its fields may be arrays that broadcast.
    gas : callable
        From time (s, an array over the stones) to gas temperature (K) and carbon dioxide pressure (Pa).
    start_temperature : float or ndarray
        K.
    until, conversion : float or ndarray
        The march of each stone ends at whichever comes first: s, and 0 to 1.

    Returns
    -------
    time : ndarray
        s; where the conversion came first, the moment it was reached.
    stones : Stones
        The state at the end of the step in which each stone's march ended.

    Raises
    ------
    InputError
        If a stone never reaches its conversion and no time ends its march.
    """
    like = np.zeros(np.broadcast_shapes(*map(np.shape, (until, conversion, *gas(0.0)))))
    stones = Stones(piece, start_temperature, like)
    clock = np.zeros_like(stones.conversion)
    warm = stones.warming.capacity * piece.volume_by_face
    slowness = 1.0 / piece.heat_transfer_coefficient + piece.radius / ((piece.curved + 3) * piece.stone_conductivity)
    seconds = FIRST_STEP * warm * slowness + clock
    goal = np.where(np.less_equal(conversion, 1.0), piece.core_left(np.minimum(conversion, 1.0)), -1.0)
    place, pace = piece.core_left(stones.conversion), clock
    going = (clock < until) & (place > goal)
    for _ in range(MOST_STEPS):
        seconds = np.where(going, np.minimum(seconds, until - clock), 0.0)
        level = stones.core_temperature
        stones.step(seconds, *gas(clock + 0.5 * seconds))
        now = piece.core_left(stones.conversion)
        moved = np.where((now > 0.0) | (place == 0.0), place - now, np.maximum(pace * seconds, place))
        hit = going & (now <= goal)
        clock = clock + np.where(hit, (place - goal) / np.where(hit, moved, 1.0), 1.0) * seconds
        going &= ~hit & (clock < until)
        if not going.any():
            break
        change = np.maximum(
            moved / np.minimum(FRONT_STEP, FIRST_MOVE + THIN_STEP * np.minimum(1.0 - now, now)),
            np.abs(stones.core_temperature - level) / CORE_STEP,
        )
        place, pace = now, moved / np.maximum(seconds, 1e-9)
        seconds = seconds * np.clip(1.0 / np.maximum(change, 1e-9), STEP_SHRINK, STEP_GROWTH)
    else:
        raise InputError(
            "conversion",
            f"a share burnt that {np.count_nonzero(going)} of {going.size} stones do not reach in this gas",
            "gas above the dissociation temperature, or a time at which to stop",
            "until=7200.0",
        )
    return clock, stones
