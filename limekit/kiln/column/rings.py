"""A kiln's section cut into rings, from the heart to the rim: what passes between them, and how they share the gas.

Rings are of one section each. Gas that winds between the stones stirs heat sideways, and stones glow
at one another across the gaps; both go as a conductivity of the bed,
k = d (C/(Pe A) + 4 F σ T³), with the lump's size d, the gas's heat capacity flow C through a section A, a
radial Péclet number Pe and the exchange factor F. Each ring keeps the make-up of its own gas. The rings
stand at one pressure below and above, so that the hotter one, which is thinner and lifts more, is passed
by its own share.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from limekit.compiled import part
from limekit.facts import fact
from limekit.fire.air_way import natural_flux, viscosity

TURNS = 4  # of Newton's method, to the pressure at which all gas passes
SWEEPS = 4  # from the heart to the rim, to what rings give one another
TINY = 1e-12


class Rings(NamedTuple):
    """How kilns are cut; figures in SI.

    Parameters
    ----------
    count : int
    reach : ndarray, shape (count - 1,)
        From each ring to the next outward, in a level: face between them over the way from middle to middle; m.
    stirring : float
        Bed's conductivity for each W/K that flows through a ring; 1/m.
    glow : float
        The same for the cube of the temperature; W/mK⁴.
    flame : ndarray, shape (levels,)
        Shares of the fire's heat that the flame gives in each level; the rest is the hearth's.
    burns_from : float
        K of the gas, from which flames burn among stones.
    """

    count: int
    reach: np.ndarray
    stirring: float
    glow: float
    flame: np.ndarray
    burns_from: float

    @classmethod
    def of(cls, count: int, kiln_diameter: float, bed_height: float, lump: float, levels: int, flame: float) -> Rings:
        """Cut a kiln of some measures (m), with stones of a size (m) and a share of the heat given by the flame."""
        radius = 0.5 * kiln_diameter
        edges = radius * np.sqrt(np.arange(count + 1) / count)
        middles = 0.5 * (edges[:-1] + edges[1:])
        height = bed_height / levels
        tops = np.minimum(np.arange(levels + 1) * height, fact("flame_length"))
        within = np.diff(tops) / tops[-1]
        return cls(
            count=count,
            reach=2.0 * math.pi * edges[1:-1] * height / np.diff(middles),
            stirring=float(lump / (fact("radial_peclet_number") * math.pi * radius**2 / count)),
            glow=float(4.0 * fact("bed_glow_factor") * fact("stefan_boltzmann") * lump),
            flame=flame * within,
            burns_from=float(fact("flame_burns_from")),
        )


@part
def state_of(kiln, now, heads, column, means):
    """Write a ring's means over the bed: of 1/T, of viscosity times T, and of T."""
    levels = len(kiln.gaps)
    means[:] = 0.0
    for level in range(levels):
        gas = now.gas[column, level + 1]
        means[0] += 1.0 / gas / levels
        means[1] += viscosity(gas, heads.sutherland_factor, heads.sutherland_temperature) * gas / levels
        means[2] += gas / levels


@part
def share_gas(heads, air_temperature, means, flux, gas_to_air, shares):
    """Find each ring's share of the gas, at one pressure drop.

    Parameters
    ----------
    heads : Heads
    air_temperature : float
        K, outside.
    means : ndarray, shape (rings, 3)
        From `state_of`.
    flux : float
        Of air through the whole section; kg/m²s.
    gas_to_air : float
        Mass of gas over mass of air.
    shares : ndarray, shape (rings,)
        Found.

    Notes
    -----
    a G + b G² = P + lift in each ring, with P such that the rings' fluxes G come to the whole.
    """
    rings = len(shares)
    shares[:] = 1.0 / rings
    if flux <= TINY or rings == 1:
        return
    pressure, lifts = 0.0, heads.bed_height * heads.lift
    for ring in range(rings):
        linear, square = heads.viscous * gas_to_air * means[ring, 1], heads.inertial * gas_to_air**2 * means[ring, 2]
        lift = lifts * (1.0 / air_temperature - means[ring, 0])
        pressure += (linear * flux + square * flux**2 - lift) / rings
    for _ in range(TURNS):
        passed = slope = 0.0
        for ring in range(rings):
            linear, square = (
                heads.viscous * gas_to_air * means[ring, 1],
                heads.inertial * gas_to_air**2 * means[ring, 2],
            )
            lift = lifts * (1.0 / air_temperature - means[ring, 0])
            shares[ring] = natural_flux(pressure + lift, linear, square)
            passed += shares[ring]
            slope += 1.0 / (linear + 2.0 * square * shares[ring] + TINY)
        pressure += (flux * rings - passed) / slope
    for ring in range(rings):
        shares[ring] = shares[ring] / passed if passed > TINY else 1.0 / rings


@part
def exchange(rings, now, bench, first, passing):
    """Add the heat that rings give to one another, level by level.

    Parameters
    ----------
    rings : Rings
    now : Now
    bench : Bench
        Its `capacities` are what the gas carries through each ring, W/K; its `side`, of shape (rings, levels + 1)
        and the hearth first, is added to, W.
    first : int
        The kiln's heart among all columns.
    passing : ndarray, shape (levels, rings - 1)
        From each ring to the next outward, a step ago and brought up to date; W.

    Notes
    -----
    q = k x ΔT, with the conductivity k, the rings' `reach` x and the temperatures that the change of q itself
    leaves: dT = (C dT_below + dq_in − dq_out)/(C + takes) in each ring. So what is a step old settles and does
    not swing.
    """
    count, capacity, side = rings.count, bench.capacities, bench.side
    below, warmer, more = bench.below, bench.warmer, bench.more
    below[:] = 0.0
    for level in range(len(passing)):
        for ring in range(count):
            warmer[ring] = capacity[ring] * below[ring] / (capacity[ring] + now.takes[first + ring, level])
        more[:] = 0.0
        for _ in range(SWEEPS if count > 2 else 1):
            for ring in range(count - 1):
                inner, outer = first + ring, first + ring + 1
                apart = now.gas[inner, level + 1] - now.gas[outer, level + 1] + warmer[ring] - warmer[ring + 1]
                middle = 0.5 * (now.gas[inner, level + 1] + now.gas[outer, level + 1])
                link = rings.stirring * 0.5 * (capacity[ring] + capacity[ring + 1]) + rings.glow * middle**3
                link *= rings.reach[ring]
                eases = 1.0 / (capacity[ring] + now.takes[inner, level])
                meets = 1.0 / (capacity[ring + 1] + now.takes[outer, level])
                further = (link * apart - passing[level, ring] - more[ring]) / (1.0 + link * (eases + meets))
                more[ring] += further
                warmer[ring] -= further * eases
                warmer[ring + 1] += further * meets
        for ring in range(count - 1):
            passing[level, ring] += more[ring]
            side[ring, level + 1] -= passing[level, ring]
            side[ring + 1, level + 1] += passing[level, ring]
        below, warmer = warmer, below


@part
def burn_up(rings, now, column, heat, side):
    """Let the flame give its share of a fire's heat (W) among a ring's stones, where the gas is hot enough.

    Returns
    -------
    given, smoke : float
        W: given among the stones, and gone with the gas unburnt.
    """
    carried = given = 0.0
    for level in range(len(rings.flame)):
        carried += rings.flame[level] * heat
        if now.gas[column, level + 1] >= rings.burns_from:
            side[level + 1] += carried
            given += carried
            carried = 0.0
    return given, carried
