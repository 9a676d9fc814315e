"""What the page's engine answers, against the program: the same numbers to 1e-9, the same words.

Sources: none; the two must agree because they are one library, compiled by two compilers for two machines.
"""

import json
import math
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

DRAWS = 500
COMPARED = ("hillside-estate.case.json", "weekend-roadster.case.json")  # also in the slow asks, compare and report
NOW = "2026-01-02T03:04:05Z"
NOT_COMPARED = {"stored"}  # depends on the moment
HASH = re.compile(r"[0-9a-f]{64}")  # of texts in which a number may differ in its last place


class Seam:
    """An engine that answers a request a line."""

    def __init__(self, command):
        self.process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE)

    def ask(self, **request):
        self.process.stdin.write((json.dumps(request) + "\n").encode())
        self.process.stdin.flush()
        size = int(self.process.stdout.readline())
        return json.loads(self.process.stdout.read(size))

    def close(self):
        self.process.stdin.close()
        self.process.wait()


def is_close(ours, theirs, place, relative):
    # The standard error of a chance that all draws share is the root of a rounding.
    least = 1e-7 if place.endswith("/standard_error") else 1e-12
    return math.isclose(ours, theirs, rel_tol=relative, abs_tol=least)


def differences(ours, theirs, place="", relative=1e-9):
    """Places at which two documents differ by more than that of a number, or in a word."""
    if isinstance(ours, dict) and isinstance(theirs, dict):
        keys = [key for key in {**ours, **theirs} if key not in NOT_COMPARED]
        return [found for key in keys
                for found in (differences(ours[key], theirs[key], f"{place}/{key}", relative) if key in ours and key in theirs
                              else [f"{place}/{key}: on one side only"])]
    if isinstance(ours, list) and isinstance(theirs, list):
        if len(ours) != len(theirs):
            return [f"{place}: {len(ours)} against {len(theirs)} elements"]
        return [found for i, (a, b) in enumerate(zip(ours, theirs)) for found in differences(a, b, f"{place}/{i}", relative)]
    if all(isinstance(one, str) and HASH.fullmatch(one) for one in (ours, theirs)):
        return []
    numbers = all(isinstance(one, (int, float)) and not isinstance(one, bool) for one in (ours, theirs))
    same = is_close(ours, theirs, place, relative) if numbers else ours == theirs
    return [] if same else [f"{place}: {ours!r} against {theirs!r}"]


def words_and_numbers(text):
    """A text as pieces between numbers, and the numbers with how far each may be off: one of its last place."""
    number = re.compile(r"-?\d+(?:\.\d+)?(?:e-?\d+)?")
    return number.split(text), [(float(one), 10.0 ** -len(one.partition(".")[2])) for one in number.findall(text)]


def text_differences(ours, theirs):
    """Hashes in a text apart, words must be the same, and numbers to one of their last place."""
    (words, numbers), (other_words, others) = (words_and_numbers(HASH.sub("HASH", text)) for text in (ours, theirs))
    found = [f"{a!r} against {b!r}" for a, b in zip(words, other_words) if a != b]
    found += [f"{a} against {b}" for (a, place), (b, _) in zip(numbers, others) if abs(a - b) > 1.01 * place]
    return found + (["another length"] if len(words) != len(other_words) else [])


class Comparison:
    def __init__(self, program, source, command):
        self.program, self.source = program, Path(source)
        self.seam = Seam(command)
        self.failures, self.compared = [], 0

    def run(self, *words):
        done = subprocess.run([self.program, *map(str, words)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        if done.returncode != 0:
            raise AssertionError(f"{words}: {done.returncode}: {done.stderr}")
        return done.stdout

    def expect(self, what, found):
        self.compared += 1
        if found:
            self.failures.append(f"{what}: {len(found)} differences: " + "; ".join(found[:6]))

    def same(self, what, ours, theirs, relative=1e-9):
        self.expect(what, differences(ours, theirs, "", relative))

    def answers(self, path, request):
        drawn = ("--draws", DRAWS, "--json")
        asks = {
            "estimate": ("estimate", path, *drawn),
            "order": ("order", path, *drawn),
            "remedies": ("remedies", path, *drawn),
            "compare": ("compare", path, *drawn, "--insulation", "xlpo-125,etfe", "--ambient", "+5"),
        }
        for ask, words in asks.items():
            if ask == "compare" and path.name not in COMPARED:
                continue
            more = {"insulations": ["xlpo-125", "etfe"], "ambient": 5} if ask == "compare" else {}
            ours = self.seam.ask(ask=ask, draws=DRAWS, **request, **more)
            self.same(f"{path.name} {ask}", ours, json.loads(self.run(*words)))
        ours = self.seam.ask(ask="estimate", likely=True, **request)
        self.same(f"{path.name} likely", ours, json.loads(self.run("estimate", path, "--likely", "--json")))
        ours = self.seam.ask(ask="check", **request)["files"]
        theirs = json.loads(self.run("check", path, "--json"))["files"]
        theirs[0]["file"] = path.name
        self.same(f"{path.name} check", ours, theirs)
        if path.name not in COMPARED:
            return
        ours = self.seam.ask(ask="report", draws=DRAWS, **request)["html"]
        self.expect(f"{path.name} report", text_differences(ours, self.run("report", path, "--draws", DRAWS)))

    def deeds(self, path, request):
        """Consent, a finding and taking it back: both write the same case, to the last places of the stored chances."""
        segment = json.loads(path.read_text())["segments"][0]["id"]
        finding = {"segment": segment, "seen": "stiff", "method": "look-boot", "cause": "heat", "on": "2014-06-02"}
        day = json.loads(path.read_text())["inspected"]
        finding["on"] = day if len(day) == 10 else "2014-06-02"
        with tempfile.TemporaryDirectory() as folder:
            for one in path.parent.glob("*.logger.csv"):
                shutil.copy(one, folder)
            copy = Path(shutil.copy(path, folder))
            self.run("record", copy, "--consent", "--json")
            agreed = copy.read_text()
            ours = self.seam.ask(ask="consent", now=NOW, **request)
            self.same(f"{path.name} consent", json.loads(ours["case"]), json.loads(agreed))
            told = json.loads(self.run("record", copy, "--segment", segment, "--seen", "stiff", "--method", "look-boot",
                                       "--cause", "heat", "--on", finding["on"], "--json"))
            request = {**request, "case": ours["case"]}
            after = self.seam.ask(ask="record", now=NOW, finding=finding, **request)
            self.same(f"{path.name} record", after["record"], told)
            self.same(f"{path.name} recorded case", json.loads(after["case"]), json.loads(copy.read_text()))
            # After the finding the estimate learns from it.
            theirs = json.loads(self.run("estimate", copy, "--draws", DRAWS, "--json"))
            learnt = self.seam.ask(ask="estimate", draws=DRAWS, **{**request, "case": after["case"]})
            self.same(f"{path.name} estimate after a finding", learnt, theirs)
            self.run("record", copy, "--undo")
            back = self.seam.ask(ask="undo", now=NOW, **{**request, "case": after["case"]})
            self.expect(f"{path.name} undo", [] if back["case"] == ours["case"] and copy.read_text() == agreed
                        else ["not as it was before"])

    def all_examples(self):
        paths = sorted((self.source / "examples").glob("*.case.json"))
        assert len(paths) >= 5, "the examples are not where they should be"
        files = {one.name: one.read_text() for one in (self.source / "examples").glob("*.csv")}
        for path in paths:
            request = {"case": path.read_text(), "name": path.name, "files": files}
            self.answers(path, request)
            self.deeds(path, request)
        self.topics()
        self.seam.close()

    def topics(self):
        for topic in ("life-line", "soak", "paths"):
            ours = self.seam.ask(ask="topic", name=topic)
            del ours["svg"]
            # Minutes of a soak are integrated in steps that an error estimate chooses.
            relative = 1e-6 if topic == "soak" else 1e-9
            self.same(f"topic {topic}", ours, json.loads(self.run("explain", "--topic", topic, "--json")), relative)


def compare(program, source, command):
    comparison = Comparison(program, source, command)
    comparison.all_examples()
    for failure in comparison.failures:
        print(failure)
    print(f"{comparison.compared} answers compared, {len(comparison.failures)} differ")
    return 1 if comparison.failures else 0
