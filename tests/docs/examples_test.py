"""The examples: what their page shows is what the program prints, and together they use all that a case can say.

examples_test.py PROGRAM SOURCE_DIR [--update]

The outputs are kept to notice a change, not to prove a number. With --update those in blocks without "..." are replaced by
the real ones: read the difference before you commit it.
"""
import glob
import json
import os
import subprocess
import sys
import tempfile

from console_blocks import Page

program, source = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
update = "--update" in sys.argv
page = Page(os.path.join(source, "examples", "README.md"), program)
failures = page.failures

# Written by the program and not by people; the README shows the verb that does it.
WRITTEN_BY_RECORD = {"predictions", "recorded"}

# Where the trade finds the worst: on the engine and beside its exhaust (common practice, no source).
ON_THE_ENGINE = {"head-cover", "engine-valley", "exhaust-close", "exhaust-shielded", "turbo-catalyst", "alternator",
                 "block-cool-side", "upper-bulkhead"}


def keys_of_schema(node, found):
    if isinstance(node, dict):
        for key, value in node.get("properties", {}).items():
            if key not in WRITTEN_BY_RECORD:
                found.add(key)
                keys_of_schema(value, found)
        for key, value in node.items():
            if key not in ("properties", "prediction"):
                keys_of_schema(value, found)
    elif isinstance(node, list):
        for value in node:
            keys_of_schema(value, found)
    return found


def keys_of_case(node, found):
    if isinstance(node, dict):
        for key, value in node.items():
            found.add(key)
            keys_of_case(value, found)
    elif isinstance(node, list):
        for value in node:
            keys_of_case(value, found)
    return found


def check_that_all_keys_are_shown(cases):
    with open(os.path.join(source, "materials", "schema", "case.schema.json"), encoding="utf-8") as file:
        schema = json.load(file)
    wanted = keys_of_schema(schema["properties"], set()) | set(schema["properties"]) - WRITTEN_BY_RECORD
    for name, definition in schema["$defs"].items():
        if name not in ("prediction", "recorded"):
            keys_of_schema(definition, wanted)
    shown = set()
    for case in cases.values():
        keys_of_case(case, shown)
    if wanted - shown:
        failures.append(f"no example uses {sorted(wanted - shown)}")


def check_case(path, case):
    name = os.path.basename(path)
    if case.get("invented") is not True or "nvented" not in case.get("note", ""):
        failures.append(f"{name}: does not say that it is invented")
    printed = subprocess.run([program, "estimate", path, "--likely", "--json"], capture_output=True, check=False)
    if printed.returncode != 0:
        failures.append(f"{name}: {printed.stderr.decode()}")
        return
    segments = json.loads(printed.stdout)["segments"]
    worst = min(segments, key=lambda one: one["weakest_rank"])
    if worst["zone"] not in ON_THE_ENGINE:
        failures.append(f"{name}: the first to crack lies in {worst['zone']}, and not on the engine")
    # The cool end is not as bad, though it may be bad enough (common practice, no source).
    for one in segments:
        if one["zone"] == "cabin-bulkhead" and one["elongation_percent"]["p50"] <= worst["elongation_percent"]["p50"]:
            failures.append(f"{name}: {one['id']} in the cabin is no better than {worst['id']} in {worst['zone']}")


def check_tables():
    for path in glob.glob(os.path.join(source, "examples", "*.csv")):
        with open(path, encoding="utf-8") as file:
            if not file.readline().startswith("# Invented data"):
                failures.append(f"{os.path.basename(path)}: does not say that it is invented")


paths = sorted(glob.glob(os.path.join(source, "examples", "*.case.json")))
cases = {}
for path in paths:
    with open(path, encoding="utf-8") as file:
        cases[path] = json.load(file)
    check_case(path, cases[path])
    if os.path.basename(path) not in page.text:
        failures.append(f"the page does not name {os.path.basename(path)}")
check_that_all_keys_are_shown(cases)
check_tables()
with tempfile.TemporaryDirectory() as folder:
    os.symlink(os.path.join(source, "examples"), os.path.join(folder, "examples"))
    page.check(folder, update)

print("\n".join(failures) if failures else f"{len(cases)} examples and {page.blocks} blocks of their page hold")
sys.exit(1 if failures else 0)
