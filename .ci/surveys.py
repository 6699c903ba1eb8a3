"""Writes surveys of random walls as folders of CSV files.

Usage: surveys.py SEED HOW_MANY FOLDER

Four walls each: level, sloping, gabled and stepped, between corners, abutments
and open ends, with doors and windows. The same seed gives the same surveys.
"""

import csv
import random
import sys
from pathlib import Path

WALLS = ["Wall", "Width mm", "Height mm", "Height right mm", "Apex height mm", "Apex from left mm",
         "Base step from left mm", "Base step mm", "Left edge", "Right edge", "Top edge"]
OPENINGS = ["Wall", "Opening", "Kind", "From left mm", "Sill mm", "Width mm", "Height mm", "Sill width mm", "Sill depth mm"]
EDGES = ["external corner", "internal corner", "abutment", "open end"]


def wall(r, name):
    row = {"Wall": name, "Width mm": r.randrange(1500, 11000), "Height mm": r.randrange(2400, 6000),
           "Left edge": r.choice(EDGES), "Right edge": r.choice(EDGES), "Top edge": r.choice(["soffit", "abutment", "open"])}
    shape = r.random()
    if shape < 0.2:
        row["Apex height mm"] = row["Height mm"] + r.randrange(400, 2600)
        row["Apex from left mm"] = round(row["Width mm"] * r.uniform(0.3, 0.7))
        row["Top edge"] = "verge"
    elif shape < 0.35:
        row["Height right mm"] = row["Height mm"] + r.randrange(-800, 1500)
        row["Top edge"] = "verge"
    if r.random() < 0.2:
        row["Base step from left mm"] = round(row["Width mm"] * r.uniform(0.3, 0.7))
        row["Base step mm"] = r.randrange(250, 900)
    return row


def openings(r, row):
    """Openings from left to right that stand apart and below the lowest eaves."""
    top = min(row["Height mm"], row.get("Height right mm", row["Height mm"])) - 150
    at = r.randrange(300, 1200)
    for n in range(1, r.randrange(0, 5) + 1):
        width = r.randrange(500, 1800, 5)
        if at + width > row["Width mm"] - 300:
            return
        sill = r.choice([0, 1000, 1050, r.randrange(900, 2200)])
        height = min(r.choice([2100, 1050, r.randrange(600, 1500, 5)]), top - sill)
        if height >= 400:
            horns = {"Sill width mm": width + 100, "Sill depth mm": 50} if sill and r.random() < 0.4 else {}
            yield {"Wall": row["Wall"], "Opening": f"O{n}", "Kind": "window" if sill else "door",
                   "From left mm": at, "Sill mm": sill, "Width mm": width, "Height mm": height, **horns}
        at += width + r.randrange(250, 1500)


def write(path, header, rows):
    with open(path, "w", newline="") as f:
        w = csv.DictWriter(f, header)
        w.writeheader()
        w.writerows(rows)


def main(seed, many, folder):
    for i in range(int(many)):
        r = random.Random(f"{seed} {i}")
        to = Path(folder) / f"survey{i + 1:03}"
        to.mkdir(parents=True)
        walls = [wall(r, name) for name in ("North", "East", "South", "West")]
        write(to / "Walls.csv", WALLS, walls)
        write(to / "Openings.csv", OPENINGS, [o for w in walls for o in openings(r, w)])


if __name__ == "__main__":
    main(*sys.argv[1:])
