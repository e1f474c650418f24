"""Times ten operations on 100,000 numbers with units, by numpy with pint.

Prints the nanoseconds of the fastest of some rounds, as they are least disturbed.
"""
import sys
import time

import numpy as np
import pint

registry = pint.UnitRegistry()
random = np.random.default_rng(1)
x = random.normal(40, 2, 100_000) * registry("t/h")
y = random.uniform(2, 3, 100_000) * registry("t/h")


def ten():
    p = (x + y) * y / x
    q = ((((p - y + x) * x) / y + p) - x) + y
    return q.magnitude.mean()


rounds = int(sys.argv[1])
for _ in range(20):
    ten()
best = float("inf")
for _ in range(rounds):
    start = time.perf_counter_ns()
    for _ in range(20):
        ten()
    best = min(best, (time.perf_counter_ns() - start) / 20)
print(best)
