"""Reads a takeoff workbook with openpyxl, a reader of another make.

Usage: read.py TAKEOFF.xlsx SHEETS.txtar

The txtar script holds, under "-- headers.txt --", the sheets that a takeoff
has and the headers that each begins with. Every formula must have a cached
value, for readers that do not compute.
"""

import sys
import warnings

import openpyxl

warnings.simplefilter("ignore")


def wanted(script):
    """The sheets and their headers, from the section of the txtar file."""
    text = open(script, encoding="utf-8").read()
    section = text.split("-- headers.txt --\n")[1].split("\n-- ")[0]
    sheets, name = {}, None
    for line in section.splitlines():
        if line.startswith("["):
            name = line.strip("[]")
        elif line.strip():
            sheets[name] = line.split(" | ")
    return sheets


def main(path, script):
    faults = []
    live = openpyxl.load_workbook(path)
    cached = openpyxl.load_workbook(path, data_only=True)
    for sheet, headers in wanted(script).items():
        if sheet not in live.sheetnames:
            faults.append(f"there is no sheet {sheet}")
            continue
        got = [c.value for c in live[sheet][1]][: len(headers)]
        if got != headers:
            faults.append(f"{sheet}: headers {got}, want {headers}")
        if live[sheet].max_row < 2:
            faults.append(f"{sheet}: no rows")
    stream = openpyxl.load_workbook(path, read_only=True)
    for sheet in live:  # a reader of streams believes what a sheet says it uses
        rows = sum(1 for _ in stream[sheet.title].rows)
        if rows < sheet.max_row:
            faults.append(f"{sheet.title}: {rows} of {sheet.max_row} rows are read as a stream")
    formulas = 0
    for sheet in live:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type != "f":
                    continue
                formulas += 1
                if cached[sheet.title][cell.coordinate].value is None:
                    faults.append(f"{sheet.title}!{cell.coordinate}: {cell.value} has no cached value")
    if formulas < 20:
        faults.append(f"only {formulas} formulas were seen")
    for fault in faults:
        print("  " + fault)
    print(f"  {len(live.sheetnames)} sheets, {formulas} formulas, {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
