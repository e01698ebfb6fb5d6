"""A measure of how fast a machine is just now, to tell times in: on an old laptop it is some 16 ms."""

import time

import numpy as np


def yardstick():
    """Return Y, s: 20,000 times `np.exp` of a 20 × 3 array, the least of five."""
    array, took = np.full((20, 3), 0.5), []
    for _ in range(5):
        began = time.perf_counter()
        for _ in range(20_000):
            np.exp(array)
        took.append(time.perf_counter() - began)
    return min(took)
