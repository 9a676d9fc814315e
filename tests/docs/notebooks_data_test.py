"""The data for notebooks are what the program prints today.

notebooks_data_test.py PROGRAM SOURCE_DIR
"""
import csv
import io
import math
import os
import subprocess
import sys

program, source = sys.argv[1:3]


def rows_of(text):
    return list(csv.DictReader(io.StringIO(text, newline="")))


def same(kept, printed):
    try:
        return math.isclose(float(kept), float(printed), rel_tol=1e-9, abs_tol=1e-9)
    except ValueError:
        return kept == printed


case = os.path.join(source, "examples", "hillside-estate.case.json")
printed = rows_of(subprocess.run([program, "estimate", case, "--likely", "--csv"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                                 check=True, text=True).stdout)
with open(os.path.join(source, "notebooks-data", "hillside-estate.segments.csv"), encoding="utf-8", newline="") as file:
    kept = rows_of(file.read())

differences = [f"{a['segment']}, {key}: {a[key]} kept, {b[key]} printed"
               for a, b in zip(kept, printed) for key in a if not same(a[key], b[key])]
if len(kept) != len(printed) or not kept:
    differences.append(f"{len(kept)} rows kept, {len(printed)} printed")
print("\n".join(differences) if differences else f"{len(kept)} rows agree")
sys.exit(1 if differences else 0)
