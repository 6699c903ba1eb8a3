"""Checks takeoff workbooks by their geometry, with shapely and openpyxl.

Usage: geometry.py SURVEYS TAKEOFFS

SURVEYS holds folders of CSV files as surveys.py writes them, TAKEOFFS the
workbooks made of them. Nothing of the program's own is used: walls come from
the survey, pieces, battens, marks and cuts from the workbook's tables. Demanded are the rules
that a wall of lap boards is built by (common practice):

- the cuts of a board, a kerf for each, and the offcut make the stock length;
- every piece, trim and batten is cut as often as it is counted;
- a gauge and its lap make the board's width, the lap within its limits;
- pieces stay within the wall and out of its openings, those of a course apart;
- between the edges' gaps the whole wall is covered;
- boards that butt do so over a batten, not two courses running.
"""

import csv
import re
import sys
from collections import Counter, defaultdict
from decimal import Decimal
from pathlib import Path

import openpyxl
import shapely
from shapely import affinity
from shapely.geometry import JOIN_STYLE, Polygon, box
from shapely.ops import unary_union

# The built-in rules and board, mm (README, Rules and Products).
KERF, BOARD, LAP_LEAST, LAP_MOST, CLEARANCE, JOINT = Decimal(4), 180, 30, 50, 150, 2
EDGE = 70   # no gap at an edge, head or sill is wider than this, nor runs a board further past a corner
AREA = 2.0  # mm2, what tenths of a millimetre along a slope may leave


def table(book, sheet):
    rows = book[sheet].iter_rows(values_only=True)
    header = next(rows)
    return [dict(zip(header, row)) for row in rows if any(v is not None for v in row)]


def points(text):
    return [tuple(float(v) for v in p.split(",")) for p in text.split(";")]


def outline(wall):
    """A wall's face from the ground up."""
    number = lambda name: int(wall[name]) if wall[name] else None
    width, left = number("Width mm"), number("Height mm")
    right = number("Height right mm") or left
    low, step = CLEARANCE, number("Base step from left mm")
    base = [(0, low), (step, low), (step, number("Base step mm")), (width, number("Base step mm"))] if step else [(0, low), (width, low)]
    apex = [(number("Apex from left mm"), number("Apex height mm"))] if number("Apex height mm") else []
    return Polygon(base + [(width, right)] + apex + [(0, left)])


def shape(row):
    x, z = float(row["From left mm"]), float(row["Bottom mm"])
    if row["Outline"]:
        return affinity.translate(Polygon(points(row["Outline"])), x, z)
    return box(x, z, x + float(row["Length mm"]), z + float(row["Width mm"]))


def cuts(book, faults):
    """Sums of boards, and how often each mark is cut."""
    cut = Counter()
    for row in table(book, "Cutting plan"):
        lengths = []
        for entry in row["Cuts"].split("; "):
            marks, length = entry.rsplit(" ", 1)
            lengths.append(Decimal(length))
            for mark in marks.split("+"):
                cut[mark] += row["Count"]
        number = lambda name: Decimal(str(row[name] or 0))
        left = number("Stock mm") + number("Shared mm") - sum(lengths) - number("Offcut mm")
        if not 0 <= left - KERF * (len(lengths) - 1) <= KERF:
            faults.append(f"{row['Board']}: {row['Cuts']} and {row['Offcut mm']} left do not make {row['Stock mm']}")
    want = Counter()
    for sheet, mark in (("Cut list", "Piece"), ("Trims", "Mark"), ("Battens", "Batten")):
        for row in table(book, sheet):
            if sheet == "Cut list" or row["Stock board"]:
                want[row[mark]] += row["Quantity"]
    for mark in want.keys() | cut.keys():
        if want[mark] != cut[mark]:
            faults.append(f"{mark} is cut {cut[mark]} times and counted {want[mark]} times")


def rods(book, faults):
    for row in table(book, "Storey rod"):
        if row["Lap mm"] is None:
            continue
        at = f"{row['Wall']} course {row['Course']}"
        if row["Bottom mm"] != int(row["Bottom mm"]):
            faults.append(f"{at}: {row['Bottom mm']} is no mark for a tape")
        if row["Top mm"] - row["Bottom mm"] != row["Gauge mm"] + row["Lap mm"]:
            faults.append(f"{at}: gauge {row['Gauge mm']} and lap {row['Lap mm']} do not make the board")
        if not LAP_LEAST <= row["Lap mm"] <= LAP_MOST:
            faults.append(f"{at}: lap {row['Lap mm']}")


def kept_off(wall):
    """Where boards wait for the next course line, right of a base step."""
    if not wall["Base step from left mm"]:
        return Polygon()
    step, base = int(wall["Base step from left mm"]), int(wall["Base step mm"])
    return box(step - EDGE, CLEARANCE, int(wall["Width mm"]), base + BOARD)


def placed(name, pieces, face, holes, free, faults):
    """Pieces within the wall, out of the openings, covering the rest."""
    fixed = unary_union(list(pieces.values()))
    room = face.buffer(EDGE, join_style=JOIN_STYLE.mitre)
    for mark, p in pieces.items():
        if not p.is_valid:
            faults.append(f"{mark}: no simple outline")
        if p.difference(room).area > AREA:
            faults.append(f"{mark} leaves the wall {name}")
        for hole in holes:
            if p.intersection(hole).area > AREA:
                faults.append(f"{mark} covers part of an opening of {name}")
    clad = face.buffer(-EDGE, join_style=JOIN_STYLE.mitre).difference(unary_union([h.buffer(EDGE, join_style=JOIN_STYLE.mitre) for h in holes])).difference(free)
    bare = clad.difference(fixed.buffer(JOINT, join_style=JOIN_STYLE.mitre))
    if bare.area > AREA:
        faults.append(f"{name}: {bare.area:.0f} mm2 are bare, at {bare.representative_point().wkt}")


def joints(name, rows, pieces, battens, faults):
    """Where boards of a course butt, and whether they overlap."""
    before = set()
    for course in sorted({r["Course"] for r in rows}):
        line = sorted((r for r in rows if r["Course"] == course), key=lambda r: pieces[r["Piece"]].bounds[0])
        here = set()
        for i, a in enumerate(line):
            for b in line[i + 1:]:
                if pieces[a["Piece"]].intersection(pieces[b["Piece"]]).area > AREA:
                    faults.append(f"{a['Piece']} and {b['Piece']} overlap")
            if a["Right end"] != "joint":
                continue
            x0 = pieces[a["Piece"]].bounds[2]
            to = [b for b in line if b["Left end"] == "joint" and -1 < pieces[b["Piece"]].bounds[0] - x0 < 3 * JOINT]
            if not to:
                faults.append(f"{a['Piece']} butts against nothing")
                continue
            x = (x0 + pieces[to[0]["Piece"]].bounds[0]) / 2
            here.add(x)
            z0, z1 = pieces[a["Piece"]].bounds[1], pieces[a["Piece"]].bounds[3]
            if not any(abs(x - c) < w / 2 - 10 and lo < z1 and hi > z0 for c, w, lo, hi in battens):
                faults.append(f"{a['Piece']}: its joint at {x:g} is on no batten of {name}")
        for x in here:
            if any(abs(x - y) < 100 for y in before):
                faults.append(f"{name} course {course}: the joint at {x:g} stands over another")
        before = here


def survey(folder):
    for name in ("Walls", "Openings"):
        with open(folder / f"{name}.csv", newline="") as f:
            yield list(csv.DictReader(f))


def check(folder, takeoff):
    faults, seen = [], Counter()
    book = openpyxl.load_workbook(takeoff, data_only=True)
    cuts(book, faults)
    rods(book, faults)
    walls, openings = survey(folder)
    rows, battens = defaultdict(list), defaultdict(list)
    for row in table(book, "Cut list"):
        if row["Course"] != "reveal":
            rows[row["Wall"]].append(row)
    for row in table(book, "Battens"):
        battens[row["Wall"]].append(tuple(float(row[c]) for c in ("Centre mm", "Width mm", "From mm", "To mm")))
    for wall in walls:
        name = wall["Wall"]
        holes = [box(float(o["From left mm"]), float(o["Sill mm"]), float(o["From left mm"]) + float(o["Width mm"]), float(o["Sill mm"]) + float(o["Height mm"]))
                 for o in openings if o["Wall"] == name]
        pieces = {r["Piece"]: shape(r) for r in rows[name]}
        if not pieces:
            seen["left out"] += 1
            continue
        seen["walls"] += 1
        seen["pieces"] += len(pieces)
        placed(name, pieces, outline(wall), holes, kept_off(wall), faults)
        joints(name, rows[name], pieces, battens[name], faults)
    return faults, seen


def main(surveys, takeoffs):
    total, bad = Counter(), 0
    for folder in sorted(Path(surveys).iterdir()):
        faults, seen = check(folder, Path(takeoffs) / f"{folder.name}.takeoff.xlsx")
        total += seen
        bad += len(faults)
        for fault in faults[:5]:
            print(f"  {folder.name}: {fault}")
    print(f"  {total['walls']} walls, {total['pieces']} pieces, {total['left out']} left out, {bad} faults (shapely {shapely.__version__})")
    return 1 if bad or total["walls"] < 40 or total["left out"] * 20 > total["walls"] else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
