#!/usr/bin/python3
"""Hot-spot steps a second: the fleet solver, a plain loop, and the same model in NumPy, in one run, as ratios.

usage: hot_spot.py <path of bench_hot_spot> [units] [steps]
Needs python3-numpy (Debian). Prints figures and ratios; exits 1 when a year of hourly steps for the fleet took
more than 60 s on two cores.
"""
import subprocess
import sys
import time

import numpy as np


def numpy_steps_per_s(units, steps):
    """The model of checklist/rules/thermal_fleet.cpp with one array operation a quantity, all units at once."""
    i = np.arange(units)
    ratio = 4.0 + 0.001 * (i % 3000)
    peak = 0.3 + 0.001 * (i % 1000)
    shape = i % 8
    upgraded = i % 3 == 0
    offset = 0.01 * (i % 500)
    t = np.arange(steps)
    day = 2 * np.pi * (t % 24) / 24
    season = 2 * np.pi * t / 8760
    ambient = 22 - 8 * np.cos(season) - 5 * np.cos(day)
    shapes = 0.6 - 0.3 * np.cos(day[None, :] - 0.1 * np.arange(8)[:, None]) + 0.1 * np.cos(season)[None, :]
    oil_left, fast_left = np.exp(-60 / 180.0), np.exp(-60 / 8.0)
    share = shapes[shape, 0] * peak
    top = ambient[0] + offset + 55 * ((1 + ratio * share**2) / (1 + ratio)) ** 0.8
    fast = 23 * share**1.6
    aged = np.zeros(units)
    start = time.perf_counter()
    for step in range(steps):
        share = shapes[shape, step] * peak
        oil = ambient[step] + offset + 55 * ((1 + ratio * share**2) / (1 + ratio)) ** 0.8
        gradient = 23 * share**1.6
        top = oil + (top - oil) * oil_left
        fast = gradient + (fast - gradient) * fast_left
        hot = top + fast
        aged += np.where(upgraded, np.exp(15000 / 383 - 15000 / (hot + 273)), np.exp2((hot - 98) / 6))
    return units * steps / (time.perf_counter() - start)


def main():
    if len(sys.argv) < 2:
        print(__doc__, file=sys.stderr)
        return 2
    out = subprocess.run(sys.argv[1:], check=True, capture_output=True, text=True).stdout
    figures = {name: float(value) for name, value in (line.split() for line in out.splitlines())}
    # NumPy in blocks that stay in the cache, and all at once: the better of the two counts.
    in_blocks = numpy_steps_per_s(2000, 2000)
    at_once = numpy_steps_per_s(int(figures["units"]), 40)
    numpy = max(in_blocks, at_once)
    plain = figures["plain_steps_per_s"]
    print(f"{'':34}{'steps a second':>16}{'times plain':>13}{'times NumPy':>13}")
    for name, value in [("plain loop, one core", plain), ("NumPy, one core", numpy),
                        ("fleet solver, one core", figures["one_core_steps_per_s"]),
                        ("fleet solver, two cores", figures["two_cores_steps_per_s"])]:
        print(f"{name:34}{value:16.3g}{value / plain:13.2f}{value / numpy:13.2f}")
    print(f"{figures['units']:.0f} transformers, {figures['steps']:.0f} steps: one core "
          f"{figures['one_core_s']:.1f} s, two cores {figures['two_cores_s']:.1f} s")
    print(f"largest relative difference in life used, fleet against plain: "
          f"{figures['largest_relative_difference']:.1e}")
    print(f"memory: {figures['far_bytes_per_step']:.3f} bytes a step from far memory, "
          f"{figures['far_GBps_one_core']:.3f} of {figures['machine_copy_GBps_one_core']:.1f} GB/s; "
          f"{figures['near_bytes_per_step']:.0f} bytes a step in the near cache, "
          f"{figures['near_GBps_one_core']:.1f} GB/s")
    share = figures["operations_Gps_one_core"] / figures["machine_operations_Gps_one_core"]
    print(f"arithmetic: {figures['operations_per_step']:.0f} operations a step, "
          f"{figures['operations_Gps_one_core']:.1f} of {figures['machine_operations_Gps_one_core']:.1f} "
          f"thousand million a second ({100 * share:.0f} %)")
    full = figures["two_cores_s"] * (100_000 * 8760) / (figures["units"] * figures["steps"])
    print(f"a year of hourly steps for 100 000 transformers on two cores: {full:.1f} s (wanted: under 60)")
    return 0 if full < 60 else 1


if __name__ == "__main__":
    sys.exit(main())
