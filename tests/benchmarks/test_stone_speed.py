"""How fast a stone burns here, beside the same equations given to a general solver at the same error.

Run with ``pytest tests/benchmarks/test_stone_speed.py -s``. Times are printed, never asserted.
"""

import time
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from limekit.stone import resolved
from limekit.stone.cells import LEAST_LINK, Cells, States, front_of, way_in
from limekit.stone.front import Piece, gas_pressure
from limekit.stone.history import FireHistory
from limekit.stone.march import time_to

COLD = 293.15
GAS, FRACTION = 1273.15, 0.25
CONVERSION = 0.99
LADDER = ((1e-2, 1e-1), (3e-3, 3e-2), (1e-3, 1e-2), (1e-4, 1e-3), (1e-5, 1e-4))


class SameCells:
    """The cells of `limekit.stone.resolved` as rates for a general solver: warmths, and the shell's volume last."""

    def __init__(self, piece):
        cells = Cells.of(piece)
        self.cells, self.piece = cells, piece
        self.power, self.volume = piece.curved + 1, cells.volume
        self.core_faces, self.core_shares = cells.core_faces, np.diff(cells.core_faces)
        self.shell_faces, self.shell_shares = cells.shell_faces, np.diff(cells.shell_faces)
        self.shell_middles = 0.5 * (self.shell_faces[:-1] + self.shell_faces[1:])
        self.core_resistances = cells.core_resistances
        self.count = len(self.core_shares)
        self.pressure, self.gas = gas_pressure(FRACTION), GAS - 298.15
        self.front = COLD - 298.15

    def start(self):
        states = States.room(self.cells, 1)
        resolved.start(self.cells, states, COLD)
        return np.array([*states.core_warmth[0], *states.shell_warmth[0], self.volume - states.core[0]])

    def rates(self, _, state):
        cells, count = self.cells, self.count
        core, shell, burnt = state[:count], state[count:-1], min(max(state[-1] / self.volume, 1e-9), 1.0 - 1e-6)
        share = 1.0 - burnt
        volume = share * self.volume
        radius = share ** (1.0 / self.power)
        links = 1.0 / (LEAST_LINK + self.core_resistances * radius ** (1 - self.piece.curved))
        paths = way_in(cells.curved, np.concatenate([[share], share + self.shell_middles * (1.0 - share)]))
        outward = 1.0 / (LEAST_LINK + (paths[:-1] - paths[1:]) * cells.conduction)
        face = 1.0 / (cells.film + (paths[-1] - way_in(cells.curved, 1.0)) * cells.conduction)
        resistance = (
            radius**-self.piece.curved / cells.reaction + (paths[0] - way_in(cells.curved, 1.0)) * cells.diffusion
        )
        balance = SimpleNamespace(
            source=outward[0] * shell[0] + links[-1] * core[-1],
            supply=outward[0] + links[-1],
            gas_resistance=resistance,
        )
        front, burning = front_of(cells, balance, self.front, self.pressure, False)
        self.front = front
        pace = -burning / cells.carbonate
        core_with = np.concatenate([core, [front]])
        flows = np.concatenate([[0.0], links * np.diff(core_with)])
        at_faces = np.concatenate([[0.0], 0.5 * (core[:-1] + core[1:]), [front]])
        swept = pace * self.core_faces * at_faces
        core_rate = (np.diff(flows) / cells.stone_capacity + np.diff(swept) - pace * self.core_shares * core) / (
            volume * self.core_shares
        )
        shell_with = np.concatenate([[front], shell])
        flows = np.concatenate([outward * np.diff(shell_with), [face * (self.gas - shell[-1])]])
        at_faces = np.concatenate([[front], 0.5 * (shell[:-1] + shell[1:]), [0.0]])
        swept = pace * (1.0 - self.shell_faces) * at_faces
        shell_rate = (np.diff(flows) / cells.lime_capacity + np.diff(swept) + pace * self.shell_shares * shell) / (
            burnt * self.volume * self.shell_shares
        )
        return np.concatenate([core_rate, shell_rate, [-pace]])

    def time_to(self, conversion, rtol, atol):
        start = self.start()
        goal = self.volume - (self.volume - start[-1]) * (1.0 - conversion)

        def burnt(_, state):
            return state[-1] - goal

        burnt.terminal = True
        scale = np.full(len(start), atol)
        scale[-1] = 1e-5 * atol * self.volume
        answer = solve_ivp(self.rates, (0.0, 1e7), start, method="LSODA", rtol=rtol, atol=scale, events=burnt)
        return answer.t_events[0][0]


@pytest.mark.parametrize("diameter", [0.03, 0.06, 0.12])
def test_resolved_stone_beside_a_general_solver(benchmark, diameter):
    piece, fire = Piece(diameter), FireHistory.steady.plain(GAS, FRACTION)
    exact = SameCells(piece).time_to(CONVERSION, 1e-6, 1e-5)
    ours = benchmark(lambda: resolved.burn(piece, fire, COLD, conversion=CONVERSION)).time
    error = abs(ours / exact - 1.0)
    for rtol, atol in LADDER:
        began = time.perf_counter()
        theirs = SameCells(piece).time_to(CONVERSION, rtol, atol)
        took = time.perf_counter() - began
        if abs(theirs / exact - 1.0) <= error:
            break
    best = benchmark.stats.stats.min
    print(
        f"\n{1000 * diameter:.0f} mm: here {1000 * best:.1f} ms, error {100 * error:.2f} %; "
        f"LSODA at rtol {rtol:g} {1000 * took:.0f} ms, error {100 * abs(theirs / exact - 1.0):.2f} %; "
        f"{took / best:.0f} times"
    )
    assert error < 0.01


def test_thirty_thousand_reduced_stones(benchmark):
    draw = np.random.default_rng(1)
    count = 30_000
    piece = Piece(
        draw.uniform(0.02, 0.1, count),
        lime_conductivity=draw.uniform(0.4, 0.9, count),
        reaction_coefficient=draw.uniform(0.003, 0.012, count),
    )
    gas = draw.uniform(1150.0, 1400.0, count)
    benchmark.pedantic(lambda: time_to(piece, gas, gas_pressure(0.2), COLD, CONVERSION), rounds=3)
    print(f"\n{count} reduced stones: {benchmark.stats.stats.min:.2f} s")
