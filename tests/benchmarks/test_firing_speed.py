"""How fast a firing runs here, beside the same equations by whole arrays and by a general solver at the same error.

Run with ``pytest tests/benchmarks/test_firing_speed.py -s``. Times are printed, never asserted, and told in yardsticks too.
"""

import time
from types import SimpleNamespace

import by_arrays
import numpy as np
import pytest
from scipy.integrate import solve_ivp
from yardstick import yardstick

from limekit import fact, fire_kiln, fire_range, size_kiln
from limekit.kiln.column.gas import AIR_SHARES, temperature_of
from limekit.kiln.column.step import LEAST, STILL
from limekit.kiln.firing import finish_times
from limekit.stone.warming import COLD, level_at

PLAIN = {
    "rings": 1,
    "flame_share": 0.0,
    "stoking_rate": np.inf,
    "heat_up_time": 0.0,
    "laid": "poured",
}  # as whole arrays do
PLAN = fire_kiln.plain(
    size_kiln.plain(500.0, 0.08), fire_temperature=1423.15, stone_moisture=0.0, hours=600.0, **PLAIN
).plan
UNTIL, STRETCH = 96 * 3600.0, 4 * 3600.0
LADDER, CLOSE_ENOUGH = (3e-2, 1e-2, 3e-3), 60.0  # relative tolerances, and s
INSTANT = 1e-3  # s
FILM = 1e-3  # share burnt at first, so that the lime has a temperature that a solver can follow
SPENT = 1.0 - 1e-4  # share burnt, past which the core counts as gone
LIGHTING = 60.0  # s, in which the hearth's own heat draws
ALIKE, MOST_TURNS = 1e-6, 30  # K, to which gas and stones are brought together


class SameKiln:
    """Column, wall and draught of `limekit.kiln` as rates for a general solver: no step, no line foretold."""

    def __init__(self):
        self.burn = by_arrays.Burn.like(PLAN.light())
        self.column, wall = self.burn.column, self.burn.column.wall
        self.shape = self.column.stones.conversion.shape
        self.count = int(np.prod(self.shape))
        self.paces, self.shapes = wall._paces, wall._shapes
        self.face = 1.0 / (1.0 / self.column.coefficient + wall._inward[0])
        self.line = self.column._line
        self.front, self.burning = self.column.stones.front_temperature, self.column.stones.burning
        self.calls = 0
        warm = np.abs(wall._capacity @ self.shapes) * 1000.0 + 1.0
        parts = (np.full(self.count, size) for size in (1e9, 1e3, 1.0))
        self.scale = np.concatenate([*parts, np.tile(warm, self.shape[0] + 1)])
        self.widths = 1e-4 * self.scale

    def start(self):
        """Core heat, the lime's temperature, conversion; then the wall's own modes."""
        stones = self.column.stones
        parts = stones.state.core_heat, stones.front_temperature, stones.conversion + FILM
        return np.concatenate([*(part.ravel() for part in parts), self.column.wall.state.ravel()])

    def rates(self, clock, state):
        self.calls += 1
        column, burn, stones = self.column, self.burn, self.column.stones
        core, lime, burnt = state[: 3 * self.count].reshape(3, *self.shape)
        whole = burnt >= SPENT
        burnt = np.clip(burnt, 0.1 * FILM, 1.0)
        burnt = np.where(whole, 1.0, burnt)
        lime_capacity = stones.make.lime_capacity * stones.make.volume
        peak = stones.state.core_peak
        before = stones.state = stones.state._replace(
            core_heat=core,
            conversion=burnt,
            shell_heat=lime_capacity * burnt * (lime - COLD),
            core_temperature=np.where(burnt < 1.0, level_at(stones.warming, core, peak), lime),
        )
        modes = state[3 * self.count :].reshape(len(column.gas_temperature), -1)
        wall_own = (column.air_temperature + modes @ self.shapes[0])[:, None]
        wall_takes = (column.wall.face_area * self.face)[:, None]
        held = column._heat_held
        for _ in range(MOST_TURNS):
            lit = fact("flare_gas_temperature") if clock < LIGHTING else 0.0
            burn._hearth = np.maximum(column.gas_temperature[0], lit)
            fire = by_arrays.stoke(burn.stoker, clock, burn.breathe().mass_flux * burn.way.kiln_area)
            gas_in, leak = fire.gas + STILL * AIR_SHARES[:, None], burn._leak() + LEAST
            coming = temperature_of(gas_in, fire.heat, column.gas.between[0])
            takes, own = self.line
            total = wall_takes + leak
            drawn = wall_takes * wall_own + leak * column.air_temperature
            total[1:] += takes
            drawn[1:] += takes * own
            gas, _ = column.gas.rise(coming, gas_in, total, drawn / total, column._faces + leak)
            change = np.abs(gas - column.gas_temperature).max()
            column.gas_temperature = gas
            stones.state = before._replace(
                front_temperature=self.front, burning=self.burning, burnt_before=self.burning
            )
            taken = stones.step(INSTANT, gas[1:, None], column._co2_pressure[:, None])
            change = max(change, np.abs(stones.front_temperature - self.front).max())
            self.front, self.burning = stones.front_temperature, stones.burning
            heat = column._by_level(taken.heat) / INSTANT
            takes = np.maximum(column._by_level(taken.response) / INSTANT, LEAST)
            self.line = takes, gas[1:] - heat / takes
            column._release(held, taken, heat, INSTANT)
            flowing = column.gas.flowing(gas_in)
            share = flowing[0, 1:] / flowing[:, 1:].sum(axis=0)
            column._co2_pressure = 0.5 * column.air_pressure * (share[:-1] + share[1:])
            if change < ALIKE:
                break
        burning = (stones.conversion - burnt) / INSTANT
        warming = (stones.state.shell_heat - before.shell_heat) / INSTANT
        core_rate = (stones.state.core_heat - core) / INSTANT
        lime_rate = (warming - lime_capacity * (lime - COLD) * burning) / (lime_capacity * burnt)
        stones.state = before
        flux = self.face * (gas - wall_own)
        parts = (
            np.where(whole, 0.0, core_rate),
            lime_rate,
            np.where(whole, 0.0, burning),
            flux * self.shapes[0] - modes * self.paces,
        )
        return np.concatenate([part.ravel() for part in parts])

    def slopes(self, clock, state):
        """Jacobian by differences wide enough that how closely gas and stones are brought together does not show."""
        here = self.rates(clock, state)
        columns = np.empty((len(state), len(state)))
        for number, width in enumerate(self.widths):
            there = state.copy()
            there[number] += width
            columns[:, number] = (self.rates(clock, there) - here) / width
        return columns

    def burnt(self, method, rtol):
        """Mean conversion at the end of the stretch."""
        answer = solve_ivp(
            self.rates,
            (0.0, STRETCH),
            self.start(),
            method=method,
            rtol=rtol,
            atol=rtol * self.scale,
            jac=self.slopes,
            first_step=1e-3,
        )
        conversion = answer.y[2 * self.count : 3 * self.count, -1].reshape(self.shape) - FILM
        return float(self.column.charge.mean(conversion)[0])


def fire(until=UNTIL, pace=1.0):
    burn = PLAN.light(pace=pace)
    burn.run(until, PLAN.fire.conversion)
    return burn


def test_forty_eight_hours_of_firing(benchmark):
    exact = finish_times(fire(pace=0.03), PLAN.fire.conversion)[0]
    burn = benchmark.pedantic(fire, rounds=5)
    error = finish_times(burn, PLAN.fire.conversion)[0] - exact
    levels, sizes = burn.column.charge.mass.shape
    began, arrays = time.perf_counter(), by_arrays.Burn.like(PLAN.light())
    arrays.run(UNTIL, PLAN.fire.conversion)
    by_whole, best, y = time.perf_counter() - began, benchmark.stats.stats.min, yardstick()
    print(
        f"\n{exact / 3600:.1f} h, {levels} levels × {sizes} sizes: {best:.3f} s or {best / y:.1f} Y "
        f"in {len(burn.moments.time)} steps, finish out by {error:.0f} s; by whole arrays {by_whole / y:.1f} Y"
    )
    assert abs(error) < 0.002 * exact


def test_a_stretch_of_it_beside_a_general_solver(benchmark):
    """Of those tried BDF is the quickest: LSODA takes three times as long and strays, explicit ones stall on thin shells."""
    fine = fire(STRETCH, pace=0.02)
    exact, pace = float(fine.burnt[0]), fine.pace_of_burning
    burn = benchmark.pedantic(lambda: fire(STRETCH), rounds=5)
    best, error = benchmark.stats.stats.min, abs(float(burn.burnt[0]) - exact) / pace
    print(f"\n{STRETCH / 3600:.0f} h: {1000 * best:.0f} ms in {len(burn.moments.time)} steps, out by {error:.0f} s")
    for rtol in LADDER:
        kiln, began = SameKiln(), time.perf_counter()
        apart = abs(kiln.burnt("BDF", rtol) - exact) / pace
        took = time.perf_counter() - began
        print(f"BDF at rtol {rtol:g}: {took:.1f} s, out by {apart:.0f} s; {took / best:.0f} times")
        if apart <= max(error, CLOSE_ENOUGH):
            break


@pytest.mark.parametrize("rings", [1, 2])
def test_sixty_four_kilns_side_by_side(benchmark, rings):
    """Each with a stone of its own, its pieces lying in three ways: nine sizes to a level."""
    firing = fire_kiln.plain(PLAN.kiln, stone=PLAN.stone, fire_temperature=1423.15, **PLAIN | {"rings": rings})
    paces = np.geomspace(0.5, 2.0, 64) * fact("reaction_coefficient")
    alike = np.full(64, float(fact("lime_conductivity"))), np.full((64, 1), 1.0 / 64)
    doubt = SimpleNamespace(posterior=SimpleNamespace(of_stone=lambda: (paces, *alike), spreads=np.array([0.1])))
    ranged = benchmark.pedantic(lambda: fire_range.plain(firing, doubt, members=64), rounds=2)
    best, y = benchmark.stats.stats.min, yardstick()
    print(f"\n64 kilns of {rings} rings, {firing.finish / 3600:.0f} h: {best:.2f} s or {best / y:.0f} Y")
    assert len(ranged.finishes) == 64
