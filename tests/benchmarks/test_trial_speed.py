"""How long a trial of twelve stones takes to hear, on how many points.

Run with ``pytest tests/benchmarks/test_trial_speed.py -s``. Times are printed, never asserted.
"""

import time

import numpy as np

from limekit.stone.assessment import assess_trial
from limekit.stone.posterior import LEVELS, WAYS, _history, piece_table, told_by
from limekit.stone.trial import Trial, TrialPiece


def test_a_trial_of_twelve_stones():
    pieces = [
        TrialPiece(f"{n}", float(size), 3600.0, core_size=float(max(size - 0.03, 0.0)), glow="bright cherry")
        for n, size in enumerate(np.linspace(0.02, 0.09, 12))
    ]
    trial = Trial(tuple(pieces))
    assess_trial.plain(trial)
    first, again = [], []
    for _ in range(3):
        for remembered in (told_by, piece_table, _history):
            remembered.cache_clear()
        for kept in (first, again):
            start = time.perf_counter()
            assess_trial.plain(trial)
            kept.append(time.perf_counter() - start)
    print(
        f"\n12 stones on {LEVELS * WAYS} points and 6 spreads of lay: {min(first):.2f} s, "
        f"with nothing changed {min(again):.3f} s"
    )
    assert LEVELS * WAYS >= 2500
