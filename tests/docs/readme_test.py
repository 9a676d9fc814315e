"""Runs every command that the README shows and compares what it prints.

readme_test.py PROGRAM SOURCE_DIR [--update]

A block marked `console` holds commands after "$ " and their output; a line "..." stands for any lines. With --update the
output in blocks without "..." is replaced by the real one: read the difference before you commit it.
"""
import json
import os
import re
import subprocess
import sys
import tempfile

program, source = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
update = "--update" in sys.argv
readme_path = os.path.join(source, "README.md")
with open(readme_path, encoding="utf-8") as file:
    readme = file.read()

failures = []


def run(command, folder):
    words = command.replace("heatside ", program + " ", 1)
    result = subprocess.run(words, shell=True, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    if result.returncode != 0:
        failures.append(f"{command}: exit code {result.returncode}\n{result.stdout}")
    return result.stdout


def matches(expected, actual):
    pattern = "".join("(?:.*\n)*" if line == "..." else re.escape(line) + "\n" for line in expected.splitlines())
    return re.fullmatch(pattern, actual) is not None


def checked(block, folder):
    commands = re.split(r"^\$ ", block, flags=re.M)[1:]
    shown = ""
    for entry in commands:
        command, _, expected = entry.partition("\n")
        actual = run(command, folder)
        if update and "..." not in expected.splitlines():
            expected = actual
        if not matches(expected, actual):
            failures.append(f"{command}: the README shows something else than\n{actual}")
        shown += f"$ {command}\n{expected}"
    return shown


def check_json_of_estimate(folder):
    document = json.loads(run("heatside estimate examples/hillside-estate.case.json --json --histogram", folder))
    table = readme.split("## The JSON of estimate")[1].split("\n## ")[0]
    rows = set(re.findall(r"^\| (`[^|]*`) \|", table, flags=re.M))
    named = {name for row in rows for name in re.findall(r"`([^`]*)`", row)}
    if named != set(document["segments"][0]):
        failures.append(f"fields of segments differ: {named ^ set(document['segments'][0])}")
    listed = set(re.findall(r"`([a-z_0-9]+)`", table.split("Each of")[0]))
    if listed != set(document):
        failures.append(f"fields of the document differ: {listed ^ set(document)}")


with tempfile.TemporaryDirectory() as folder:
    os.symlink(os.path.join(source, "examples"), os.path.join(folder, "examples"))
    blocks = 0

    def replace(match):
        global blocks
        blocks += 1
        return "```console\n" + checked(match.group(1), folder) + "```"

    shown = re.sub(r"```console\n(.*?)```", replace, readme, flags=re.S)
    if blocks == 0:
        failures.append("the README shows no command")

    by_hand = re.search(r"```json\n(.*?)```", readme, flags=re.S).group(1)
    with open(os.path.join(folder, "by-hand.case.json"), "w", encoding="utf-8") as file:
        file.write(by_hand)
    run("heatside check by-hand.case.json", folder)
    run("heatside estimate by-hand.case.json --likely", folder)
    check_json_of_estimate(folder)

if update and shown != readme:
    with open(readme_path, "w", encoding="utf-8") as file:
        file.write(shown)
print("\n".join(failures) if failures else f"{blocks} blocks of the README hold")
sys.exit(1 if failures else 0)
