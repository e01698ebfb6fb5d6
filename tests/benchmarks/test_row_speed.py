"""What a new line of a burn's log costs, whatever came before it.

Run with ``pytest tests/benchmarks/test_row_speed.py -s``. Times are of the processor, printed, never asserted; the yardstick is the
planned firing of the same kiln on its full grid, in the same run.
"""

import time

import numpy as np

from limekit import example_path, fire_kiln, read_burn_log, replay_burn, size_kiln

HOUR = 3600.0
STOKING = ((0.0, 9.0 / HOUR), (4.0 * HOUR, 15.0 / HOUR), (8.0 * HOUR, 21.0 / HOUR))


def took(call):
    began = time.process_time()
    call()
    return time.process_time() - began


def test_a_new_line_of_the_log():
    kiln = size_kiln.plain(500.0, 0.1)
    firing = fire_kiln.plain(kiln, stoking=STOKING, chimney_height=1.5)
    log = read_burn_log(example_path("burn_log_example.csv"))
    lines = [took(lambda n=n: replay_burn.plain(log, firing, n)) for n in range(2, len(log) + 1)]
    yard = min(took(lambda: fire_kiln.plain(kiln, stoking=STOKING, chimney_height=1.5)) for _ in range(5))
    print(
        f"\n{len(lines)} lines of {log.times[-1] / HOUR:.0f} h: {np.median(lines):.2f} s a line or {np.median(lines) / yard:.1f} "
        f"firings of {yard:.3f} s; at most {max(lines):.2f} s, the last {lines[-1]:.2f} s"
    )
    assert replay_burn.plain(log, firing).lying == ("middle",)
