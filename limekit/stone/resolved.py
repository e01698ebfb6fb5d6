"""One stone cell by cell: conduction in core and shell, a front that moves between them, heat held in both.

The core's cells are fixed shares of the core's volume and the shell's of the
shell's, so the cells move with the front and every volume is a straight line
in the core's: nothing is lost between them. Each step is the two-step backward
formula of variable length. With the core's volume guessed, the cells' equations
are tridiagonal; eliminated from the centre outward and from the face inward
they leave one equation in the front's temperature, solved by Newton, and the
burning it gives says what the core's volume must be. A secant makes the two agree.

All is per square metre of outer face, number by number, and compiled. Temperatures
called warmth count from 25 °C.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from limekit.compiled import entry, part
from limekit.errors import InputError
from limekit.stone.cells import CORE_CELLS, SEED, SHELL_CELLS, Cells, States, eliminate, front_of, lines
from limekit.stone.front import Piece
from limekit.stone.history import FireHistory
from limekit.stone.warming import heat_content, level_at

SPENT = 1e-7  # share of the volume left at which all is taken as burnt
AGREEMENT = 1e-10  # share of the volume, to which the core guessed and the core burnt agree
LEVEL_ERROR = 0.5  # K, aimed at in a step
VOLUME_ERROR = 6e-5  # share of the volume, aimed at in a step; less near the face and the centre
FIRST_STEP = 1e-4  # of the time in which the stone warms
LONGEST_STEP = 1e8  # s, so that a fire too cold is found out
SHORTEST_STEP = 1e-4  # of the time gone by, below which no step is taken again shorter
ASTRAY = 3.0  # times what was guessed to burn in a step, beyond which the guess is set anew: pace goes as 1/shell
LEFT_OF_CORE = 0.2  # share of the core that a step's first guess leaves at least
FLATTEST = -0.3  # slope that a secant may have, so that no guess jumps far
MOST_EATEN = 0.6  # share of the core that its pace may eat in a step
AFRESH = 0.1  # of the last step's length, after a corner of the fire
SAFETY, SHORTER, LONGER = 0.85, 0.3, 2.0  # of the length that just meets the error, and how steps may change
FORETOLD_LATE, FORETOLD_SOON = 0.2, 0.5  # shares of what was foretold amiss that count as a step's error
THIN_SHELL, SMALL_CORE = 0.1, 0.02  # shares of the volume, below which the error aimed at is smaller
MOST_STEPS = 4000
MOST_TURNS = 40
HALVINGS = 50
ROOM = 512  # moments, at first


@part
def start(cells, states, temperature):
    """Write down the stone whole, at one temperature (K)."""
    warmth, core = temperature - cells.warming.cold, cells.volume * (1.0 - SEED)
    held = heat_content(cells.warming, temperature, 0.0)
    states.core[0], states.front[0], states.surface[0] = core, warmth, warmth
    for i in range(len(cells.core_resistances)):
        states.core_heat[0, i] = core * (cells.core_faces[i + 1] - cells.core_faces[i]) * held
        states.core_warmth[0, i], states.peaks[0, i] = warmth, temperature
    for j in range(len(cells.shell_faces) - 1):
        share = cells.shell_faces[j + 1] - cells.shell_faces[j]
        states.shell_heat[0, j] = cells.volume * SEED * share * cells.lime_capacity * warmth
        states.shell_warmth[0, j] = warmth


@part
def step(cells, states, old, older, seconds, gas, pressure):
    """Write down, after the moment `old`, the state some seconds later.

    Parameters
    ----------
    cells : Cells
    states : States
    old, older : int
        The last two moments; where both are one the step is backward Euler's.
    seconds : float
    gas, pressure : float
        At the end of the step: warmth, and Pa of carbon dioxide.
    """
    growth = 0.0
    if older < old:
        growth = seconds / (states.time[old] - states.time[older])
    now = (1.0 + 2.0 * growth) / (1.0 + growth) / seconds
    first, second = (1.0 + growth) / seconds, growth * growth / (1.0 + growth) / seconds
    core_past, shell_past = np.empty(states.core_heat.shape[1]), np.empty(states.shell_heat.shape[1])
    for i in range(len(core_past)):
        core_past[i] = first * states.core_heat[old, i] - second * states.core_heat[older, i]
    for j in range(len(shell_past)):
        shell_past[j] = first * states.shell_heat[old, j] - second * states.shell_heat[older, j]
    core, pace, burnt = states.core[old], states.pace[old], 0.0
    volume_past = first * core - second * states.core[older]
    slopes, offsets = lines(cells, states, old, older, growth)

    spent = core <= SPENT * cells.volume
    resting = spent or (pace == 0.0 and core == states.core[older])
    guess, front, burning = core, states.front[old], 0.0
    last_guess = last_miss = np.nan
    least, most = 0.0, core
    if not spent:
        guess += seconds * (pace + 0.5 * growth * (pace - states.pace[older]))
        guess = min(max(guess, LEFT_OF_CORE * core), core)
    for _ in range(MOST_TURNS):
        pace = 0.0 if resting and guess == core else now * guess - volume_past
        chains = eliminate(cells, guess, pace, now, core_past, shell_past, slopes, offsets, gas)
        front, burning = front_of(cells, chains, front, pressure, spent)
        miss = (volume_past - burning / cells.carbonate) / now - guess
        if spent or (pace == 0.0 and burning == 0.0) or abs(miss) < AGREEMENT * cells.volume:
            break
        turn = -1.0
        if not (np.isnan(last_guess) or guess == last_guess):
            turn = (miss - last_miss) / (guess - last_guess)
        last_guess, last_miss = guess, miss
        if miss > 0.0:
            least = guess
        else:
            most = guess
        burnt = core - guess
        found = burnt - miss
        if found > ASTRAY * burnt + AGREEMENT * cells.volume:
            guess = core - np.sqrt(max(burnt, SEED * cells.volume) * found)
        else:
            guess -= miss / min(turn, FLATTEST)
        if not least < guess < most:
            guess = 0.5 * (least + most)

    new = old + 1
    warmth = front
    for i in range(len(core_past) - 1, -1, -1):
        warmth = chains.core_constant[i] + chains.core_factor[i] * warmth
        held, peak = offsets[i] + slopes[i] * warmth, states.peaks[old, i]
        level = level_at(cells.warming, held, peak)
        states.core_warmth[new, i], states.peaks[new, i] = level - cells.warming.cold, max(level, peak)
        states.core_heat[new, i] = guess * (cells.core_faces[i + 1] - cells.core_faces[i]) * held
    rest, warmth = cells.lime_capacity * (cells.volume - guess), front
    for j in range(len(shell_past)):
        warmth = chains.shell_constant[j] + chains.shell_factor[j] * warmth
        states.shell_warmth[new, j] = warmth
        states.shell_heat[new, j] = rest * (cells.shell_faces[j + 1] - cells.shell_faces[j]) * warmth
    taken = chains.face_link * (gas - warmth)
    swept = cells.latent + (cells.stone_capacity - cells.lime_capacity) * front
    states.time[new] = states.time[old] + seconds
    states.core[new], states.front[new], states.pace[new] = guess, front, pace
    states.surface[new] = gas - taken * cells.film
    states.taken[new] = (taken + first * states.taken[old] - second * states.taken[older]) / now
    states.carried[new] = (-pace * swept + first * states.carried[old] - second * states.carried[older]) / now
    states.burnt[new] = (burning + first * states.burnt[old] - second * states.burnt[older]) / now


@part
def fire_at(fire, time):
    """Return the gas's temperature (K) and its carbon dioxide (share) at a time (s), as `FireHistory.at` does."""
    times, temperatures, fractions = fire
    after = 0
    while after < len(times) and times[after] <= time:
        after += 1
    if after in (0, len(times)):
        return temperatures[after - 1 if after else 0], fractions[after - 1 if after else 0]
    share = (time - times[after - 1]) / (times[after] - times[after - 1])
    return (
        temperatures[after - 1] + share * (temperatures[after] - temperatures[after - 1]),
        fractions[after - 1] + share * (fractions[after] - fractions[after - 1]),
    )


@part
def error_of(cells, states, first, new):
    """Return a step's error over the error aimed at, judged by what the moments before foretold.

    Nothing is foretold in the first step after a corner of the fire (the moment `first`), which is short.
    """
    if new - first < 2:
        return 0.0
    old, older = new - 1, new - 2
    bends = new - first > 2
    left = states.core[old] / cells.volume
    aim = VOLUME_ERROR * cells.volume * min(1.0, THIN_SHELL + 2.0 * (1.0 - left), SMALL_CORE + 2.0 * left)
    watched = 2 * states.core_warmth.shape[1] // 3
    return max(
        amiss(states.time, states.core, older, bends) / aim,
        amiss(states.time, states.core_warmth[:, 0], older, bends) / LEVEL_ERROR,
        amiss(states.time, states.core_warmth[:, watched], older, bends) / LEVEL_ERROR,
        amiss(states.time, states.front, older, bends) / LEVEL_ERROR,
        amiss(states.time, states.surface, older, bends) / LEVEL_ERROR,
    )


@part
def amiss(times, values, older, bends):
    """Return what share of how far two or, where it `bends`, three moments foretold the next amiss is its error."""
    ahead, behind = times[older + 2] - times[older + 1], times[older + 1] - times[older]
    slope = (values[older + 1] - values[older]) / behind
    foretold = values[older + 1] + ahead * slope
    if bends:
        span = times[older] - times[older - 1]
        bend = (slope - (values[older] - values[older - 1]) / span) / (behind + span)
        foretold += ahead * (ahead + behind) * bend
    return (FORETOLD_LATE if bends else FORETOLD_SOON) * abs(values[older + 2] - foretold)


@entry
def march(cells: Cells, states: States, fire: tuple, mark, start_temperature, until, least, fineness):
    """Burn a stone on until a time, until so much core is left, or until there is no room for a moment more.

    Parameters
    ----------
    cells : Cells
    states : States
        To be written to.
    fire : tuple of ndarray
        Times (s), temperatures (K) and shares of carbon dioxide.
    mark : ndarray, shape (4,)
        The last moment written, below 0 before the first; the moment of the fire's last corner; s of the next
        step; and how many were tried.
    start_temperature, until, least, fineness : float
        K; s; m of core; what divides the error aimed at.

    Returns
    -------
    bool
        Whether it is over.
    """
    old, since, seconds, tried = int(mark[0]), int(mark[1]), mark[2], mark[3]
    if old < 0:
        start(cells, states, start_temperature)
        old = 0
    while not (states.time[old] >= until or states.core[old] <= least):
        if old + 1 == len(states.time) or tried >= MOST_STEPS:
            mark[0], mark[1], mark[2], mark[3] = old, since, seconds, tried
            return False
        tried += 1
        time, corner = states.time[old], until
        for moment in fire[0]:
            if time < moment < corner:
                corner = moment
            if time > 0.0 and moment == time and since < old:
                since, seconds = old, AFRESH * seconds
        if states.pace[old] < 0.0:
            seconds = min(seconds, MOST_EATEN * states.core[old] / -states.pace[old])
        landing = seconds >= corner - time
        if landing:
            seconds = corner - time
        gas, fraction = fire_at(fire, time + seconds)
        older = old - 1 if old - since > 1 else old
        step(cells, states, old, older, seconds, gas - cells.warming.cold, fraction * cells.atmosphere)
        if landing:
            states.time[old + 1] = corner
        error = fineness * error_of(cells, states, max(since, old - 2), old + 1)
        if error < 2.0 or seconds < SHORTEST_STEP * time:
            old += 1
        change = SAFETY / max(error, 1e-9) ** (1.0 / 3.0)
        seconds = min(seconds * min(max(change, SHORTER), LONGER), LONGEST_STEP)
    mark[0], mark[1], mark[2], mark[3] = old, since, seconds, tried
    return True


@dataclass(frozen=True)
class Burn:
    """A stone's way through a fire.

    Parameters
    ----------
    time : float
        s, at the end; where a conversion was asked for, the moment it was reached.
    states : States
        Step by step; the last is at or just past `time`.
    cells : Cells
    heat_gap, mass_gap : float
        What of the heat taken, and of the carbonate burnt, is not found again: shares of the whole.
    """

    time: float
    states: States
    cells: Cells
    heat_gap: float
    mass_gap: float


def burn(
    piece: Piece,
    fire: FireHistory,
    start_temperature: float,
    until: float = np.inf,
    conversion: float = np.inf,
    core_cells: int = CORE_CELLS,
    shell_cells: int = SHELL_CELLS,
    fineness: float = 1.0,
) -> Burn:
    """Burn a stone until a time or a conversion, whichever comes first.

    Parameters
    ----------
    piece : Piece
        With plain floats for fields.
    fire : FireHistory
    start_temperature : float
        K.
    until, conversion : float
        s, and 0 to 1.
    core_cells, shell_cells : int
    fineness : float
        Divides the error aimed at in each step.

    Returns
    -------
    Burn

    Raises
    ------
    InputError
        If the fire ends too cold to reach the conversion.
    """
    cells = Cells.of(piece, core_cells, shell_cells)
    whole = cells.volume * (1.0 - SEED)
    goal = whole * (1.0 - conversion)
    least = max(goal, SPENT * cells.volume) if conversion < np.inf else 0.0
    slowness = cells.film + float(piece.radius / piece.stone_conductivity) / 3.0
    seconds = FIRST_STEP * cells.stone_capacity * cells.volume * slowness
    states, mark = States.room(cells, ROOM), np.array([-1.0, 0.0, seconds, 0.0])
    history = tuple(np.array(column, dtype=float) for column in (fire.times, fire.temperatures, fire.co2_fractions))
    ends = float(start_temperature), float(until), float(least), float(fineness)
    while not march(cells, states, history, mark, *ends):
        if mark[3] >= MOST_STEPS:
            raise InputError(
                "conversion",
                f"{conversion:.3g}, which this fire does not reach",
                "a hotter or longer fire, or less carbon dioxide in it",
                'gas_temperature="1000 degC"',
            )
        states = States(*map(np.concatenate, zip(states, States.room(cells, len(states.time)), strict=True)))
    states = States(*(one[: int(mark[0]) + 1] for one in states))
    core = states.core[-1]
    reached = len(states.time) > 1 and core <= least
    time = _crossing(states, goal, cells) if reached else states.time[-1]
    held = (states.core_heat[-1] - states.core_heat[0]).sum() + (states.shell_heat[-1] - states.shell_heat[0]).sum()
    eaten = cells.carbonate * (states.core[0] - core)
    heat_gap = states.taken[-1] - held - cells.laws.heat * eaten - states.carried[-1]
    return Burn(
        time=float(time),
        states=states,
        cells=cells,
        heat_gap=float(heat_gap / max(abs(held) + cells.laws.heat * eaten, 1.0)),
        mass_gap=float((states.burnt[-1] - eaten) / (cells.carbonate * states.core[0])),
    )


def _crossing(states: States, goal: float, cells: Cells) -> float:
    """Return when the core fell to a volume in the last step, on a cubic through its volumes and paces at both ends."""
    (old_time, time), (old, new), (old_pace, pace) = (one[-2:] for one in (states.time, states.core, states.pace))
    if goal < new:
        return time - new / (cells.root * pace)
    span = time - old_time
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        x = 0.5 * (low + high)
        rest = 1.0 - x
        core = rest * rest * ((1.0 + 2.0 * x) * old + x * span * old_pace)
        core += x * x * ((3.0 - 2.0 * x) * new - rest * span * pace)
        low, high = (x, high) if core > goal else (low, x)
    return old_time + x * span
