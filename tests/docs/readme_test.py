"""Runs every command that the README shows and compares what it prints.

readme_test.py PROGRAM SOURCE_DIR [--update]

With --update the output in blocks without "..." is replaced by the real one: read the difference before you commit it.
"""
import json
import os
import re
import sys
import tempfile

from console_blocks import Page

program, source = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
update = "--update" in sys.argv
page = Page(os.path.join(source, "README.md"), program)


def check_json_of_estimate(folder):
    document = json.loads(page.run("heatside estimate examples/hillside-estate.case.json --json --histogram", folder))
    table = page.text.split("## The JSON of estimate")[1].split("\n## ")[0]
    rows = set(re.findall(r"^\| (`[^|]*`) \|", table, flags=re.M))
    named = {name for row in rows for name in re.findall(r"`([^`]*)`", row)}
    if named != set(document["segments"][0]):
        page.failures.append(f"fields of segments differ: {named ^ set(document['segments'][0])}")
    listed = set(re.findall(r"`([a-z_0-9]+)`", table.split("Each of")[0]))
    if listed != set(document):
        page.failures.append(f"fields of the document differ: {listed ^ set(document)}")


with tempfile.TemporaryDirectory() as folder:
    os.symlink(os.path.join(source, "examples"), os.path.join(folder, "examples"))
    page.check(folder, update)

    by_hand = re.search(r"```json\n(.*?)```", page.text, flags=re.S).group(1)
    with open(os.path.join(folder, "by-hand.case.json"), "w", encoding="utf-8") as file:
        file.write(by_hand)
    page.run("heatside check by-hand.case.json", folder)
    page.run("heatside estimate by-hand.case.json --likely", folder)
    check_json_of_estimate(folder)

print("\n".join(page.failures) if page.failures else f"{page.blocks} blocks of the README hold")
sys.exit(1 if page.failures else 0)
