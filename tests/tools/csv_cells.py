# SPDX-License-Identifier: GPL-3.0-or-later
"""csv_cells.py FILE COLUMN... - what Python's own csv module reads in a table: one line a row, the cells of
these columns in hex, blanks between. Fails when a row has another number of cells than the first."""
import csv
import sys

with open(sys.argv[1], newline="", encoding="utf-8") as f:
    rows = list(csv.reader(f, strict=True))
for row in rows:
    if len(row) != len(rows[0]):
        sys.exit(f"{len(row)} cells where the first row has {len(rows[0])}: {row}")
with open(sys.argv[1], "rb") as f:
    if not f.read().endswith(b"\r\n"):
        sys.exit("the last line does not end in CR LF")
at = [rows[0].index(name) for name in sys.argv[2:]]
for row in rows[1:]:
    print(" ".join(row[i].encode().hex() or "-" for i in at))
