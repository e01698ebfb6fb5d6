"""One stone cell by cell: conduction in core and shell, a front that moves between them, heat held in both.

The core's cells are fixed shares of the core's volume and the shell's of the
shell's, so the cells move with the front and every volume is a straight line
in the core's: nothing is lost between them. Each step is the two-step backward
formula of variable length. With the core's volume guessed, the cells' equations
are tridiagonal; eliminated from the centre outward and from the face inward
they leave one equation in the front's temperature, solved by Newton, and the
burning it gives says what the core's volume must be. A secant makes the two agree.

All is per square metre of outer face, in plain floats: on so few cells they
are faster than arrays. Temperatures called warmth count from 25 °C.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from limekit.errors import InputError
from limekit.stone.front import (
    FACTOR,
    FRONT_HEAT,
    GAS_CONSTANT,
    LEVEL_TOLERANCE,
    NO_GAS,
    SLOPE,
    Piece,
    gas_pressure,
)
from limekit.stone.history import FireHistory
from limekit.stone.warming import COLD, Warming

CORE_CELLS, SHELL_CELLS = 10, 10
SEED = 1e-6  # share of the volume that is shell from the start, so that there always is one
SPENT = 1e-7  # share of the volume left at which all is taken as burnt
AGREEMENT = 1e-10  # share of the volume, to which the core guessed and the core burnt agree
LEVEL_ERROR = 0.5  # K, aimed at in a step
VOLUME_ERROR = 6e-5  # share of the volume, aimed at in a step; less near the face and the centre
FIRST_STEP = 1e-4  # of the time in which the stone warms
LEAST_FILM, LEAST_LINK = 1e-7, 1e-7  # m²K/W, of the film and between cells: far below any that counts
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


@dataclass
class State:
    """A stone at a moment.

    Seconds; m of core behind a square metre of face; J/m² held by each cell; warmth of cells, front
    and face; the core's m/s; and sums from the start: J/m² taken from the gas and carried off by
    carbon dioxide, mol/m² burnt.
    """

    time: float
    core: float
    core_heat: list[float]
    shell_heat: list[float]
    core_warmth: list[float]
    peaks: list[float]
    front: float
    shell_warmth: list[float]
    surface: float
    pace: float = 0.0
    taken: float = 0.0
    carried: float = 0.0
    burnt: float = 0.0

    @property
    def watched(self) -> tuple[float, ...]:
        """The temperatures whose error sets the length of a step."""
        return self.core_warmth[0], self.core_warmth[2 * len(self.core_warmth) // 3], self.front, self.surface


@dataclass(slots=True)
class Chains:
    """What elimination leaves: each cell's warmth a straight line in its neighbour's toward the front.

    The front's heat balance is ``source − supply · front = heat of burning``.
    """

    core_constant: list[float]
    core_factor: list[float]
    shell_constant: list[float]
    shell_factor: list[float]
    source: float
    supply: float
    face_link: float
    gas_resistance: float


class Cells:
    """A piece cut into cells, and one step of it.

    Parameters
    ----------
    piece : Piece
        With plain floats for fields.
    core_cells, shell_cells : int
        Cells are even in the radius of the core; those of the shell lie closer toward the front.
    """

    def __init__(self, piece: Piece, core_cells: int = CORE_CELLS, shell_cells: int = SHELL_CELLS) -> None:
        self.piece, self.warming = piece, Warming.of(piece)
        power = piece.curved + 1
        self.root = 1.0 / power
        self.volume = float(piece.volume_by_face)
        self.carbonate = float(piece.carbonate) / (1.0 - SEED)
        self.stone_capacity = float(self.warming.capacity)
        self.lime_capacity = float(piece.lime_density * piece.lime_heat_capacity)
        self.latent = float(self.warming.drying + self.warming.magnesia)
        self.film = max(1.0 / float(piece.heat_transfer_coefficient), LEAST_FILM)
        self.conduction = float(piece.radius / piece.lime_conductivity)
        self.reaction = float(piece.reaction_coefficient)
        self.diffusion = float(piece.radius / piece.co2_diffusivity)
        self.gas_film = 1.0 / float(piece.gas_film_coefficient)

        faces = [(i / core_cells) ** power for i in range(core_cells + 1)]
        self.core_faces = faces
        self.core_shares = [outer - inner for inner, outer in pairwise(faces)]
        paths = [self.path(0.5 * (inner + outer)) for inner, outer in pairwise(faces)] + [self.path(1.0)]
        along = float(piece.radius / piece.stone_conductivity)
        self.core_resistances = [(inner - outer) * along for inner, outer in pairwise(paths)]
        crowding = 1.0 + 0.25 * piece.curved
        faces = [(j / shell_cells) ** crowding for j in range(shell_cells + 1)]
        self.shell_faces = faces
        self.shell_shares = [outer - inner for inner, outer in pairwise(faces)]

    def path(self, share: float) -> float:
        """Return the way inward to where `share` of the volume lies within, over the radius, but for a constant."""
        if self.piece.shape == "sphere":
            return share ** (-1.0 / 3.0)
        return -share if self.piece.shape == "slab" else -0.5 * math.log(share)

    def start(self, temperature: float) -> State:
        """Return the stone whole, at one temperature (K)."""
        warmth, core = temperature - COLD, self.volume * (1.0 - SEED)
        held, count = self.warming.heat(float(temperature)), len(self.core_shares)
        return State(
            time=0.0,
            core=core,
            core_heat=[core * share * held for share in self.core_shares],
            shell_heat=[self.volume * SEED * share * self.lime_capacity * warmth for share in self.shell_shares],
            core_warmth=[warmth] * count,
            peaks=[temperature] * count,
            front=warmth,
            shell_warmth=[warmth] * len(self.shell_shares),
            surface=warmth,
        )

    def step(self, old: State, older: State | None, seconds: float, gas: float, pressure: float) -> State:
        """Return the state `seconds` after `old`.

        Parameters
        ----------
        old, older : State
            The last two; without `older` the step is backward Euler's.
        seconds : float
        gas, pressure : float
            At the end of the step: warmth, and Pa of carbon dioxide.
        """
        growth = 0.0 if older is None else seconds / (old.time - older.time)
        older = older or old
        now = (1.0 + 2.0 * growth) / (1.0 + growth) / seconds
        first, second = (1.0 + growth) / seconds, growth * growth / (1.0 + growth) / seconds
        core_past = [first * a - second * b for a, b in zip(old.core_heat, older.core_heat, strict=True)]
        shell_past = [first * a - second * b for a, b in zip(old.shell_heat, older.shell_heat, strict=True)]
        volume_past = first * old.core - second * older.core
        slopes, offsets = self._lines(old, older, growth)

        spent = old.core <= SPENT * self.volume
        resting = spent or (old.pace == 0.0 and old.core == older.core)
        guess, front, last = old.core, old.front, None
        least, most = 0.0, old.core
        if not spent:
            guess += seconds * (old.pace + 0.5 * growth * (old.pace - older.pace))
            guess = min(max(guess, LEFT_OF_CORE * old.core), old.core)
        for _ in range(MOST_TURNS):
            pace = 0.0 if resting and guess == old.core else now * guess - volume_past
            chains = self._eliminate(guess, pace, now, core_past, shell_past, slopes, offsets, gas)
            front, burning = self._front(chains, front, pressure, spent)
            miss = (volume_past - burning / self.carbonate) / now - guess
            if spent or pace == burning == 0.0 or abs(miss) < AGREEMENT * self.volume:
                break
            turn = -1.0 if last is None or guess == last[0] else (miss - last[1]) / (guess - last[0])
            last = guess, miss
            least, most = (guess, most) if miss > 0.0 else (least, guess)
            burnt, found = old.core - guess, old.core - guess - miss
            if found > ASTRAY * burnt + AGREEMENT * self.volume:
                guess = old.core - math.sqrt(max(burnt, SEED * self.volume) * found)
            else:
                guess -= miss / min(turn, FLATTEST)
            if not least < guess < most:
                guess = 0.5 * (least + most)

        core_warmth, warmth = [], front
        for constant, factor in zip(reversed(chains.core_constant), reversed(chains.core_factor), strict=True):
            warmth = constant + factor * warmth
            core_warmth.append(warmth)
        core_warmth.reverse()
        shell_warmth, warmth = [], front
        for constant, factor in zip(reversed(chains.shell_constant), reversed(chains.shell_factor), strict=True):
            warmth = constant + factor * warmth
            shell_warmth.append(warmth)
        held = [a + b * c for a, b, c in zip(offsets, slopes, core_warmth, strict=True)]
        peaks = old.peaks
        if not self.warming.plain:
            levels = [self.warming.temperature(heat, peak) for heat, peak in zip(held, peaks, strict=True)]
            core_warmth = [level - COLD for level in levels]
            peaks = [max(level, peak) for level, peak in zip(levels, peaks, strict=True)]
        taken = chains.face_link * (gas - shell_warmth[-1])
        swept = self.latent + (self.stone_capacity - self.lime_capacity) * front
        rest = self.lime_capacity * (self.volume - guess)
        return State(
            time=old.time + seconds,
            core=guess,
            core_heat=[guess * share * h for share, h in zip(self.core_shares, held, strict=True)],
            shell_heat=[rest * share * warmth for share, warmth in zip(self.shell_shares, shell_warmth, strict=True)],
            core_warmth=core_warmth,
            peaks=peaks,
            front=front,
            shell_warmth=shell_warmth,
            surface=gas - taken * self.film,
            pace=pace,
            taken=(taken + first * old.taken - second * older.taken) / now,
            carried=(-pace * swept + first * old.carried - second * older.carried) / now,
            burnt=(burning + first * old.burnt - second * older.burnt) / now,
        )

    def _lines(self, old: State, older: State, growth: float) -> tuple[list[float], list[float]]:
        """Return slope and offset of each core cell's heat content on its way ahead; J/m³."""
        if self.warming.plain:
            count = len(self.core_shares)
            return [self.stone_capacity] * count, [0.0] * count
        slopes, offsets = [], []
        for share, heat, warmth, earlier, peak in zip(
            self.core_shares, old.core_heat, old.core_warmth, older.core_warmth, old.peaks, strict=True
        ):
            rise = growth * (warmth - earlier)
            rise = rise if abs(rise) > 1.0 else 1.0
            held = heat / (old.core * share)
            slope = (self.warming.heat(COLD + warmth + rise, peak) - held) / rise
            slopes.append(slope)
            offsets.append(held - slope * warmth)
        return slopes, offsets

    def _eliminate(self, core, pace, now, core_past, shell_past, slopes, offsets, gas) -> Chains:
        """Eliminate every cell with the core's volume and pace as guessed.

        Each cell's heat changes by conduction through its two faces and by what the faces sweep up as
        they move, at the mean heat content of the cells on both sides; at the front, at the front's.
        """
        share, curved = core / self.volume, self.piece.curved
        scale = share ** ((1 - curved) * self.root)
        core_constant, core_factor = [], []
        constant = factor = link = sweep = slope = offset = 0.0
        last = len(core_past) - 1
        for i, past in enumerate(core_past):
            inner_link, inner_sweep, inner_slope, inner_offset = link, sweep, slope, offset
            slope, offset, link = slopes[i], offsets[i], 1.0 / (LEAST_LINK + scale * self.core_resistances[i])
            held = now * core * self.core_shares[i]
            source = past - held * offset - inner_sweep * (inner_offset + offset)
            pivot = (held + inner_sweep) * slope + link + inner_link
            if i < last:
                sweep = 0.5 * pace * self.core_faces[i + 1]
                outward = link + sweep * slopes[i + 1]
                source += sweep * (offset + offsets[i + 1])
                pivot -= sweep * slope
            else:
                outward = link + pace * self.stone_capacity
                source += pace * self.latent
            inward = inner_link - inner_sweep * inner_slope
            pivot -= inward * factor
            constant, factor = (source + inward * constant) / pivot, outward / pivot
            core_constant.append(constant)
            core_factor.append(factor)
        core_source, core_supply = link * constant, link * (1.0 - factor)

        capacity, path, faces = self.lime_capacity, self.path, self.shell_faces
        count = len(shell_past)
        paths = [path(share)]
        paths += [path(share + 0.5 * (faces[j] + faces[j + 1]) * (1.0 - share)) for j in range(count)]
        links = [1.0 / (LEAST_LINK + (inner - outer) * self.conduction) for inner, outer in pairwise(paths)]
        face_link = 1.0 / (self.film + (paths[-1] - path(1.0)) * self.conduction)
        held = now * (self.volume - core) * capacity
        shell_constant, shell_factor = [], []
        constant, factor, sweep, outward = gas, 0.0, 0.0, face_link
        for j in range(count - 1, -1, -1):
            pivot = held * self.shell_shares[j] + outward * (1.0 - factor) + links[j] - 2.0 * sweep
            source = shell_past[j] + outward * constant
            if j:
                sweep = 0.5 * pace * (1.0 - faces[j]) * capacity
                inward = links[j] - sweep
                pivot += sweep
            else:
                inward = links[0] - pace * capacity
            constant, factor = source / pivot, inward / pivot
            outward = links[j] + sweep
            shell_constant.append(constant)
            shell_factor.append(factor)
        radius = share**self.root
        gas_resistance = radius**-curved / self.reaction + (path(share) - path(1.0)) * self.diffusion + self.gas_film
        return Chains(
            core_constant,
            core_factor,
            shell_constant,
            shell_factor,
            core_source + links[0] * constant,
            core_supply + links[0] * (1.0 - factor),
            face_link,
            gas_resistance,
        )

    def _front(self, chains: Chains, front: float, pressure: float, spent: bool) -> tuple[float, float]:
        """Return the front's warmth and its burning (mol/s per m² of face), from `front` as a first guess.

        Newton's method as in `limekit.stone.front.front_balance`, for floats.
        """
        idle = chains.source / chains.supply
        weight = FRONT_HEAT / (GAS_CONSTANT * chains.gas_resistance)
        top, floor = idle + COLD, SLOPE / math.log(FACTOR / max(pressure, NO_GAS))
        if spent or top <= floor:
            return idle, 0.0
        level = min(max(front + COLD, floor), top)
        for _ in range(MOST_TURNS):
            balance = FACTOR * math.exp(-SLOPE / level)
            sink = weight * (balance - pressure) / level
            steepness = (weight * balance * SLOPE / level**2 - sink) / level
            source = chains.supply * (top - level)
            slope = steepness + chains.supply
            burning = (source * steepness + sink * chains.supply) / (FRONT_HEAT * slope)
            better = min(max(level + (source - sink) / slope, floor), top)
            change, level = abs(better - level), better
            if change < LEVEL_TOLERANCE:
                break
        return level - COLD, max(burning, 0.0)


@dataclass(frozen=True)
class Burn:
    """A stone's way through a fire.

    Parameters
    ----------
    time : float
        s, at the end; where a conversion was asked for, the moment it was reached.
    states : list of State
        Step by step; the last is at or just past `time`.
    cells : Cells
    heat_gap, mass_gap : float
        What of the heat taken, and of the carbonate burnt, is not found again: shares of the whole.
    """

    time: float
    states: list[State]
    cells: Cells
    heat_gap: float
    mass_gap: float


def burn(
    piece: Piece,
    fire: FireHistory,
    start_temperature: float,
    until: float = math.inf,
    conversion: float = math.inf,
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
    cells = Cells(piece, core_cells, shell_cells)
    states = [cells.start(start_temperature)]
    goal = states[0].core * (1.0 - conversion)
    least = max(goal, SPENT * cells.volume) if conversion < math.inf else 0.0
    slowness = cells.film + float(piece.radius / piece.stone_conductivity) / 3.0
    seconds = FIRST_STEP * cells.stone_capacity * cells.volume * slowness
    corners = [moment for moment in fire.times if 0.0 < moment < until] + [until]
    since = 0
    for _ in range(MOST_STEPS):
        old = states[-1]
        if old.time >= until or old.core <= least:
            break
        if old.time >= corners[0]:
            del corners[0]
            since, seconds = len(states) - 1, AFRESH * seconds
        if old.pace < 0.0:
            seconds = min(seconds, MOST_EATEN * old.core / -old.pace)
        landing = seconds >= corners[0] - old.time
        if landing:
            seconds = corners[0] - old.time
        known = states[since:][-3:]
        gas, fraction = fire.at(old.time + seconds)
        new = cells.step(old, known[-2] if len(known) > 2 else None, seconds, gas - COLD, gas_pressure(fraction))
        if landing:
            new.time = corners[0]
        error = fineness * _error(known, new, cells.volume)
        if error < 2.0 or seconds < SHORTEST_STEP * old.time:
            states.append(new)
        change = SAFETY / max(error, 1e-9) ** (1.0 / 3.0)
        seconds = min(seconds * min(max(change, SHORTER), LONGER), LONGEST_STEP)
    else:
        raise InputError(
            "conversion",
            f"{conversion:.3g}, which this fire does not reach",
            "a hotter or longer fire, or less carbon dioxide in it",
            'gas_temperature="1000 degC"',
        )
    first, last = states[0], states[-1]
    time = _crossing(states[-2], last, goal, cells) if len(states) > 1 and last.core <= least else last.time
    held = sum(last.core_heat) + sum(last.shell_heat) - sum(first.core_heat) - sum(first.shell_heat)
    eaten = cells.carbonate * (first.core - last.core)
    heat_gap = last.taken - held - FRONT_HEAT * eaten - last.carried
    return Burn(
        time=time,
        states=states,
        cells=cells,
        heat_gap=heat_gap / max(abs(held) + FRONT_HEAT * eaten, 1.0),
        mass_gap=(last.burnt - eaten) / (cells.carbonate * first.core),
    )


def _error(known: list[State], new: State, volume: float) -> float:
    """Return a step's error over the error aimed at, judged by what the states before foretold.

    Nothing is foretold in the first step after a corner of the fire, which is short.
    """
    if len(known) < 2:
        return 0.0
    older, old = known[-2:]
    ahead, behind = new.time - old.time, old.time - older.time
    oldest = known[0] if len(known) == 3 else None
    missing = FORETOLD_LATE if oldest else FORETOLD_SOON
    worst = 0.0
    left = old.core / volume
    volume_aim = VOLUME_ERROR * volume * min(1.0, THIN_SHELL + 2.0 * (1.0 - left), SMALL_CORE + 2.0 * left)
    for place, aim in [(None, volume_aim), *((i, LEVEL_ERROR) for i in range(len(new.watched)))]:
        values = [state.core if place is None else state.watched[place] for state in (*known, new)]
        slope = (values[-2] - values[-3]) / behind
        foretold = values[-2] + ahead * slope
        if oldest:
            span = older.time - oldest.time
            bend = (slope - (values[1] - values[0]) / span) / (behind + span)
            foretold += ahead * (ahead + behind) * bend
        worst = max(worst, missing * abs(values[-1] - foretold) / aim)
    return worst


def _crossing(old: State, new: State, goal: float, cells: Cells) -> float:
    """Return when the core fell to a volume between two states, on a cubic through their volumes and paces."""
    if goal < new.core:
        return new.time - new.core / (cells.root * new.pace)
    span = new.time - old.time
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        x = 0.5 * (low + high)
        rest = 1.0 - x
        core = rest * rest * ((1.0 + 2.0 * x) * old.core + x * span * old.pace)
        core += x * x * ((3.0 - 2.0 * x) * new.core - rest * span * new.pace)
        low, high = (x, high) if core > goal else (low, x)
    return old.time + x * span
