"""One stone cut into cells, and the equations of a step eliminated until the front's alone is left.

All is per square metre of outer face. Temperatures called warmth count from 25 °C.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from limekit.chemistry import ATMOSPHERE
from limekit.compiled import part
from limekit.stone.front import LAWS, LEVEL_TOLERANCE, SPHERE, Laws, Piece, front_balance, threshold
from limekit.stone.warming import Warming, heat_content

CORE_CELLS, SHELL_CELLS = 10, 10
SEED = 1e-6  # share of the volume that is shell from the start, so that there always is one
LEAST_FILM, LEAST_LINK = 1e-7, 1e-7  # m²K/W, of the film and between cells: far below any that counts


class Cells(NamedTuple):
    """A piece cut into cells: even in the radius of the core, and in the shell closer toward the front.

    Parameters
    ----------
    curved : int
        As of a `Piece`.
    volume, film, conduction, reaction, diffusion, gas_film : float
        m behind a square metre of face; 1/(W/m²K); m²K/W and m/s and s/m of the radius, as the front has them.
    carbonate, stone_capacity, lime_capacity, latent : float
        mol/m³, J/m³K and J/m³.
    core_faces, shell_faces : ndarray
        Shares of the core's volume that lie within each face, and of the shell's from the front.
    core_resistances : ndarray
        From each core cell's middle to the next, and to the front; m²K/W.
    warming : Warming
    laws : Laws
    atmosphere : float
        Pa.
    """

    curved: int
    volume: float
    film: float
    conduction: float
    reaction: float
    diffusion: float
    gas_film: float
    carbonate: float
    stone_capacity: float
    lime_capacity: float
    latent: float
    core_faces: np.ndarray
    shell_faces: np.ndarray
    core_resistances: np.ndarray
    warming: Warming
    laws: Laws
    atmosphere: float

    @classmethod
    def of(cls, piece: Piece, core_cells: int = CORE_CELLS, shell_cells: int = SHELL_CELLS) -> Cells:
        """Return a piece, with plain floats for fields, cut into cells."""
        warming, power = Warming(*map(float, Warming.of(piece))), piece.curved + 1
        core_faces = np.array([(i / core_cells) ** power for i in range(core_cells + 1)])
        middles = 0.5 * (core_faces[:-1] + core_faces[1:])
        paths = np.array([way_in(piece.curved, share) for share in (*middles.tolist(), 1.0)])
        crowding = 1.0 + 0.25 * piece.curved
        return cls(
            curved=piece.curved,
            volume=float(piece.volume_by_face),
            film=max(1.0 / float(piece.heat_transfer_coefficient), LEAST_FILM),
            conduction=float(piece.radius / piece.lime_conductivity),
            reaction=float(piece.reaction_coefficient),
            diffusion=float(piece.radius / piece.co2_diffusivity),
            gas_film=1.0 / float(piece.gas_film_coefficient),
            carbonate=float(piece.carbonate) / (1.0 - SEED),
            stone_capacity=warming.capacity,
            lime_capacity=float(piece.lime_density * piece.lime_heat_capacity),
            latent=warming.drying + warming.magnesia,
            core_faces=core_faces,
            shell_faces=np.array([(j / shell_cells) ** crowding for j in range(shell_cells + 1)]),
            core_resistances=(paths[:-1] - paths[1:]) * float(piece.radius / piece.stone_conductivity),
            warming=warming,
            laws=LAWS,
            atmosphere=float(ATMOSPHERE),
        )

    @property
    def root(self) -> float:
        """The power by which a share of the volume gives one of the radius."""
        return 1.0 / (self.curved + 1)


class States(NamedTuple):
    """A stone moment by moment, on the first axis; cells from the centre outward on the second.

    Seconds; m of core behind a square metre of face; J/m² held by each cell; warmth of cells, front
    and face, and each core cell's highest temperature, K; the core's m/s; and sums from the start:
    J/m² taken from the gas and carried off by carbon dioxide, mol/m² burnt.
    """

    time: np.ndarray
    core: np.ndarray
    core_heat: np.ndarray
    shell_heat: np.ndarray
    core_warmth: np.ndarray
    peaks: np.ndarray
    front: np.ndarray
    shell_warmth: np.ndarray
    surface: np.ndarray
    pace: np.ndarray
    taken: np.ndarray
    carried: np.ndarray
    burnt: np.ndarray

    @classmethod
    def room(cls, cells: Cells, moments: int) -> States:
        """Return moments to be written to."""
        core, shell = len(cells.core_faces) - 1, len(cells.shell_faces) - 1
        wide = {"core_heat": core, "core_warmth": core, "peaks": core, "shell_heat": shell, "shell_warmth": shell}
        return cls(*(np.zeros((moments, wide[name]) if name in wide else moments) for name in cls._fields))


class Chains(NamedTuple):
    """What elimination leaves: each cell's warmth a straight line in its neighbour's toward the front.

    The front's heat balance is ``source − supply · front = heat of burning``.
    """

    core_constant: np.ndarray
    core_factor: np.ndarray
    shell_constant: np.ndarray
    shell_factor: np.ndarray
    source: float
    supply: float
    face_link: float
    gas_resistance: float


@part
def way_in(curved, share):
    """Return the way inward to where `share` of the volume lies within, over the radius, but for a constant."""
    if curved == SPHERE:
        return share ** (-1.0 / 3.0)
    return -0.5 * np.log(share) if curved else -share


@part
def lines(cells, states, old, older, growth):
    """Return slope and offset of each core cell's heat content on its way ahead; J/m³."""
    count = len(cells.core_resistances)
    slopes, offsets = np.empty(count), np.empty(count)
    for i in range(count):
        slopes[i], offsets[i] = cells.stone_capacity, 0.0
        if cells.latent > 0.0:
            warmth, peak = states.core_warmth[old, i], states.peaks[old, i]
            rise = growth * (warmth - states.core_warmth[older, i])
            rise = rise if abs(rise) > 1.0 else 1.0
            share = cells.core_faces[i + 1] - cells.core_faces[i]
            held = states.core_heat[old, i] / (states.core[old] * share)
            slopes[i] = (heat_content(cells.warming, cells.warming.cold + warmth + rise, peak) - held) / rise
            offsets[i] = held - slopes[i] * warmth
    return slopes, offsets


@part
def eliminate(cells, core, pace, now, core_past, shell_past, slopes, offsets, gas):
    """Eliminate every cell with the core's volume and pace as guessed.

    Each cell's heat changes by conduction through its two faces and by what the faces sweep up as
    they move, at the mean heat content of the cells on both sides; at the front, at the front's.
    """
    share, curved = core / cells.volume, cells.curved
    scale = share ** ((1.0 - curved) / (curved + 1.0))
    core_constant, core_factor = np.empty(len(core_past)), np.empty(len(core_past))
    constant = factor = link = sweep = slope = offset = 0.0
    last = len(core_past) - 1
    for i in range(len(core_past)):
        inner_link, inner_sweep, inner_slope, inner_offset = link, sweep, slope, offset
        slope, offset, link = slopes[i], offsets[i], 1.0 / (LEAST_LINK + scale * cells.core_resistances[i])
        held = now * core * (cells.core_faces[i + 1] - cells.core_faces[i])
        source = core_past[i] - held * offset - inner_sweep * (inner_offset + offset)
        pivot = (held + inner_sweep) * slope + link + inner_link
        if i < last:
            sweep = 0.5 * pace * cells.core_faces[i + 1]
            outward = link + sweep * slopes[i + 1]
            source += sweep * (offset + offsets[i + 1])
            pivot -= sweep * slope
        else:
            outward = link + pace * cells.stone_capacity
            source += pace * cells.latent
        inward = inner_link - inner_sweep * inner_slope
        pivot -= inward * factor
        constant, factor = (source + inward * constant) / pivot, outward / pivot
        core_constant[i], core_factor[i] = constant, factor
    core_source, core_supply = link * constant, link * (1.0 - factor)

    capacity, faces, count = cells.lime_capacity, cells.shell_faces, len(shell_past)
    shell_constant, shell_factor, links = np.empty(count), np.empty(count), np.empty(count)
    inner = way_in(curved, share)
    for j in range(count):
        outer = way_in(curved, share + 0.5 * (faces[j] + faces[j + 1]) * (1.0 - share))
        links[j] = 1.0 / (LEAST_LINK + (inner - outer) * cells.conduction)
        inner = outer
    outside = way_in(curved, 1.0)
    face_link = 1.0 / (cells.film + (inner - outside) * cells.conduction)
    held = now * (cells.volume - core) * capacity
    constant, factor, sweep, outward = gas, 0.0, 0.0, face_link
    for j in range(count - 1, -1, -1):
        pivot = held * (faces[j + 1] - faces[j]) + outward * (1.0 - factor) + links[j] - 2.0 * sweep
        source = shell_past[j] + outward * constant
        if j:
            sweep = 0.5 * pace * (1.0 - faces[j]) * capacity
            inward = links[j] - sweep
            pivot += sweep
        else:
            inward = links[0] - pace * capacity
        constant, factor = source / pivot, inward / pivot
        outward = links[j] + sweep
        shell_constant[j], shell_factor[j] = constant, factor
    radius = share ** (1.0 / (curved + 1.0))
    passage = radius**-curved / cells.reaction + (way_in(curved, share) - outside) * cells.diffusion + cells.gas_film
    return Chains(
        core_constant,
        core_factor,
        shell_constant,
        shell_factor,
        core_source + links[0] * constant,
        core_supply + links[0] * (1.0 - factor),
        face_link,
        passage,
    )


@part
def front_of(cells, chains, front, pressure, spent):
    """Return the front's warmth and its burning (mol/s per m² of face), from `front` as a first guess."""
    idle = chains.source / chains.supply
    cold, laws = cells.warming.cold, cells.laws
    if spent or idle + cold <= threshold(pressure, laws):
        return idle, 0.0
    level, burning = front_balance(
        idle + cold,
        chains.supply,
        pressure,
        chains.gas_resistance,
        front + cold,
        laws.heat,
        LEVEL_TOLERANCE,
        laws,
    )
    return level - cold, burning
