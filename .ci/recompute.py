"""Recomputes a takeoff workbook with gnumeric's ssconvert, and compares.

Usage: recompute.py TAKEOFF.xlsx REPORT.json FOLDER

Three things must agree: the values cached in the workbook, what another
spreadsheet program makes of its formulas, and the engine's own numbers in the
JSON report. Two copies of the workbook prove that formulas are really
computed: in one a cached value is falsified, and must come back right; in the
other a price is doubled, and the amounts must follow.
"""

import json
import re
import subprocess
import sys
import warnings
import zipfile
from pathlib import Path

import openpyxl

warnings.simplefilter("ignore")
SHEET = "Order summary"


def close(a, b):
    numbers = (int, float)
    if isinstance(a, numbers) and isinstance(b, numbers):
        return abs(a - b) <= 1e-9 * max(1, abs(a), abs(b))
    return a == b


def recalculated(path):
    out = path.with_suffix(".recalculated.xlsx")
    run = subprocess.run(["ssconvert", "--recalc", str(path), str(out)], capture_output=True, text=True)
    if run.returncode != 0 or not out.exists():
        sys.exit("ssconvert failed:\n" + run.stderr[-2000:])
    return openpyxl.load_workbook(out, data_only=True)


def part_of(book, sheet):
    """The name of the part of the package that holds a sheet."""
    with zipfile.ZipFile(book) as z:
        workbook = z.read("xl/workbook.xml").decode()
        rels = z.read("xl/_rels/workbook.xml.rels").decode()
    tag = next(t for t in re.findall(r"<sheet [^>]*>", workbook) if f'name="{sheet}"' in t)
    rid = re.search(r'r:id="([^"]+)"', tag).group(1)
    rel = next(t for t in re.findall(r"<Relationship [^>]*>", rels) if f'Id="{rid}"' in t)
    return "xl/" + re.search(r'Target="([^"]+)"', rel).group(1).removeprefix("/xl/")


def with_value(book, out, sheet, cell, value):
    """A copy of a workbook in which the stored value of one cell is another."""
    part = part_of(book, sheet)
    with zipfile.ZipFile(book) as src, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as dst:
        for item in src.infolist():
            data = src.read(item.filename)
            if item.filename == part:
                text, n = re.subn(rf'(<c r="{cell}"[^>]*>(?:<f>[^<]*</f>)?<v>)[^<]*(</v>)',
                                  rf"\g<1>{value}\g<2>", data.decode(), count=1)
                if n != 1:
                    sys.exit(f"{sheet}!{cell} holds no value to replace")
                data = text.encode()
            dst.writestr(item, data)


def orders(book):
    """The order's rows by drop, role and code, and the cell of each column."""
    sheet = book[SHEET]
    column = {c.value: c.column_letter for c in sheet[1]}
    rows = {}
    for r in range(2, sheet.max_row + 1):
        get = lambda header, r=r: sheet[f"{column[header]}{r}"].value
        if not get("Role") or not get("Code"):
            break  # totals stand below
        rows[(str(get("Drop") or ""), get("Role"), get("Code"))] = (r, get)
    return rows, column


def total_cell(book):
    """The cell of the total: the first one under the order's rows."""
    rows, column = orders(book)
    last = max(r for r, _ in rows.values())
    for r in range(last + 1, book[SHEET].max_row + 1):
        if str(book[SHEET][f"A{r}"].value or "").startswith("Total"):
            return f"{column['Amount']}{r}"
    sys.exit("no total stands under the order")


def same_formulas(live, cached, again, faults):
    seen = 0
    for sheet in live:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type != "f":
                    continue
                seen += 1
                a, b = cached[sheet.title][cell.coordinate].value, again[sheet.title][cell.coordinate].value
                if not close(a, b):
                    faults.append(f"{sheet.title}!{cell.coordinate}: {cell.value} is cached as {a!r} and computes to {b!r}")
    return seen


def same_as_engine(again, report, faults):
    rows, _ = orders(again)
    survey = report["surveys"][0]
    columns = {"Net quantity": "net", "Spare %": "spare_percent", "Order quantity": "order", "Pack": "pack",
               "Packs": "packs", "Unit price": "unit_price", "Amount": "amount"}
    lines = {(l.get("drop", ""), l["role"], l["code"]): l for l in survey["order"]}
    if lines.keys() != rows.keys():
        faults.append(f"the order's rows differ: {sorted(lines.keys() ^ rows.keys())}")
    for key in lines.keys() & rows.keys():
        for header, name in columns.items():
            sheet_value, engine_value = rows[key][1](header), lines[key][name]
            # the net quantity is written to six decimals
            if not (close(sheet_value, engine_value) or header == "Net quantity" and abs(sheet_value - engine_value) < 1e-6):
                faults.append(f"{key}: {header} computes to {sheet_value}, the engine has {engine_value}")
    total = again[SHEET][total_cell(again)].value
    if not close(total, survey["amount"]):
        faults.append(f"the total computes to {total}, the engine has {survey['amount']}")
    return len(lines), total


def doubled_price(path, folder, cached, faults):
    """Doubling one price adds that line's amount to the total once more."""
    rows, column = orders(cached)
    row, get = max(rows.values(), key=lambda v: v[1]("Amount"))
    copy = folder / "price.xlsx"
    with_value(path, copy, SHEET, f"{column['Unit price']}{row}", 2 * get("Unit price"))
    again = recalculated(copy)
    total = total_cell(cached)
    want = cached[SHEET][total].value + get("Amount")
    got = again[SHEET][total].value
    if not close(got, want):
        faults.append(f"with a price doubled the total computes to {got}, want {want}")


def main(path, report, folder):
    path, folder = Path(path), Path(folder)
    faults = []
    live = openpyxl.load_workbook(path)
    cached = openpyxl.load_workbook(path, data_only=True)

    canary = folder / "canary.xlsx"
    total = total_cell(cached)
    with_value(path, canary, SHEET, total, 123456789)
    if openpyxl.load_workbook(canary, data_only=True)[SHEET][total].value != 123456789:
        faults.append("the false value was not planted")
    again = recalculated(canary)

    seen = same_formulas(live, cached, again, faults)
    lines, amount = same_as_engine(again, json.loads(Path(report).read_text()), faults)
    doubled_price(path, folder, cached, faults)
    for fault in faults:
        print("  " + fault)
    print(f"  {seen} formulas, {lines} order lines, total {amount:.2f}, {len(faults)} faults")
    return 1 if faults or seen < 20 or lines < 5 else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
