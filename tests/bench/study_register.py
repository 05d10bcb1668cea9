#!/usr/bin/env python3
"""A large made-up register with sites, loads and applied-for load, to measure a study of all of it.

study_register.py FOLDER [STRUCTURES]: writes register.csv, sites.csv, loads.csv and asked.csv; 10 000 structures
with a day by the hour and eleven monthly peaks each. The same every time.
"""
import csv
import math
import pathlib
import sys

SCENARIO = pathlib.Path(__file__).resolve().parents[2] / "demo" / "scenario"
FULL_A = 1000 / (math.sqrt(3) * 433)
DAY = [.33, .30, .28, .27, .28, .33, .44, .56, .59, .59, .58, .59,
       .63, .61, .59, .59, .63, .74, .93, 1.0, .96, .81, .59, .44]


def dice(seed=1):
    while True:
        seed = (1103515245 * seed + 12345) % 2**31
        yield seed / 2**31


def read(name):
    with (SCENARIO / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def main():
    folder = pathlib.Path(sys.argv[1])
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 10_000
    folder.mkdir(parents=True, exist_ok=True)
    structures, sites = read("register.csv"), {row["structure"]: row for row in read("sites.csv")}
    roll = dice()
    with (folder / "register.csv").open("w", newline="") as a, (folder / "sites.csv").open("w", newline="") as b, \
         (folder / "loads.csv").open("w", newline="") as c, (folder / "asked.csv").open("w", newline="") as d:
        register = csv.DictWriter(a, structures[0].keys(), lineterminator="\n")
        site = csv.DictWriter(b, next(iter(sites.values())).keys(), lineterminator="\n")
        register.writeheader()
        site.writeheader()
        c.write("structure,at,a_A,b_A,c_A,neutral_A\n")
        d.write("structure,name,connected_kVA,demand_factor,diversity,applied\n")
        for i in range(count):
            row = dict(structures[i % len(structures)])
            fact = dict(sites[row["id"]])
            name = f"QM-{i + 1:05d}"
            row["id"] = fact["structure"] = name
            row["serial"] = f"{row['serial']}-{i}"
            fact["growth_percent"] = f"{6 * next(roll):.1f}"
            register.writerow(row)
            site.writerow(fact)
            peak = float(row["rating_kVA"]) * FULL_A * (0.3 + 0.9 * next(roll))
            if i % 50 == 49:
                continue  # nothing recorded there
            for hour, share in enumerate(DAY):
                x = peak * share
                c.write(f"{name},2026-07-14T{hour:02d}:00:00-08:00,{x:.1f},{0.9 * x:.1f},{0.85 * x:.1f},{0.13 * x:.1f}\n")
            for month in (1, 2, 3, 4, 5, 6, 8, 9, 10, 11, 12):
                x = peak * (0.7 + 0.25 * next(roll))
                c.write(f"{name},2026-{month:02d}-12T19:00:00-08:00,{x:.1f},{0.9 * x:.1f},{0.85 * x:.1f},{0.13 * x:.1f}\n")
            if i % 7 == 0:
                d.write(f"{name},New houses,{20 + 60 * next(roll):.0f},0.5,2.0,yes\n")


main()
