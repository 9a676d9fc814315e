"""The verb score: cases made by the verb record, scored again here by other code.

Usage: score_test.py HEATSIDE_PROGRAM SOURCE_DIR

Exit codes are those of sysexits.h: 65 bad data, 66 no input. Definitions: Brier 1950, Good 1952, Epstein 1969 in its
mean-over-borders form (from memory); which findings count is our own rule.
"""

import hashlib
import json
import math
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import unittest

PROGRAM = None
SOURCE = None

DONE, USAGE, BAD_DATA, NO_INPUT = 0, 64, 65, 66
PAGE_WIDTH = 100
CONDITIONS = ("supple", "stiff", "flex-cracks", "cracked", "crumbling")
CAP = 1.0e-6


def run(*arguments, **options):
    options.setdefault("stdin", subprocess.DEVNULL)
    return subprocess.run([PROGRAM, *map(str, arguments)], capture_output=True, timeout=120, check=False, **options)


def logarithm(chance):
    return -math.log(min(max(chance, CAP), 1.0 - CAP))


def scores(chance, seen):
    """Brier and logarithm of cracked or worse; Brier, logarithm and ranked score of the five conditions."""
    cracked = chance["cracked"] + chance["crumbling"]
    happened = seen in ("cracked", "crumbling")
    came = [float(name == seen) for name in CONDITIONS]
    said = [chance[name] for name in CONDITIONS]
    ranked = sum((sum(said[:i]) - sum(came[:i])) ** 2 for i in range(1, 5)) / 4.0
    return ((cracked - happened) ** 2, logarithm(cracked if happened else 1.0 - cracked),
            sum((a - b) ** 2 for a, b in zip(said, came)), logarithm(chance[seen]), ranked)


def mean_scores(pairs):
    rows = [scores(chance, seen) for chance, seen in pairs]
    return [sum(column) / len(rows) for column in zip(*rows)]


def means_of(document, key="mean"):
    event, conditions = document["cracked_or_worse"], document["conditions"]
    return [part[key] for part in (event["brier"], event["logarithm"], conditions["brier"], conditions["logarithm"],
                                   conditions["ranked"])]


def hash_of(prediction):
    """As the README says: everything but the hash, segments sorted, JSON without blanks."""
    body = {key: prediction[key] for key in ("on", "stored", "engine")}
    body["segments"] = dict(sorted(prediction["segments"].items()))
    return hashlib.sha256(json.dumps(body, separators=(",", ":")).encode()).hexdigest()


class Score(unittest.TestCase):
    maxDiff = None

    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)
        self.case = self.folder / "van.case.json"
        made = run("start", "--template", "inline-engine-top", "--built", "1994", "--inspected", "2026-01-01")
        self.assertEqual(made.returncode, DONE, made.stderr)
        self.case.write_bytes(made.stdout)
        self.segments = [segment["id"] for segment in self.document()["segments"]]

    def document(self):
        return json.loads(self.case.read_bytes())

    def record(self, segment, seen, *more, on="2026-01-02", method="look-boot", cause="heat"):
        result = run("record", self.case, "--segment", segment, "--seen", seen, "--method", method, "--cause", cause, "--on", on,
                     *more)
        self.assertEqual(result.returncode, DONE, result.stderr.decode())

    def with_chances(self, cracked_of):
        """Stores other chances, as a program that is less sure, or surer, would have."""
        document = self.document()
        for prediction in document["predictions"]:
            for index, segment in enumerate(sorted(prediction["segments"])):
                cracked = cracked_of(index)
                prediction["segments"][segment] = dict(zip(CONDITIONS, ((1.0 - cracked) / 2.0, (1.0 - cracked) / 4.0,
                                                                        (1.0 - cracked) / 4.0, cracked, 0.0)))
            prediction["sha256"] = hash_of(prediction)
        self.case.write_text(json.dumps(document), encoding="utf-8")

    def score(self, *files, warnings=b""):
        result = run("score", "--json", *(files or [self.case]))
        self.assertEqual(result.returncode, DONE, result.stderr.decode())
        self.assertEqual(result.stderr, warnings)
        return json.loads(result.stdout)

    def text(self, *files):
        result = run("score", *(files or [self.case]))
        self.assertEqual(result.returncode, DONE, result.stderr.decode())
        text = result.stdout.decode()
        for line in text.splitlines():
            self.assertLessEqual(len(line), PAGE_WIDTH, line)
        self.assertIn("Only opened places have findings", text)
        return " ".join(text.split())

    def agrees(self, document, pairs):
        for ours, theirs in zip(means_of(document), mean_scores(pairs)):
            self.assertAlmostEqual(ours, theirs, places=9)
        rates = {name: sum(seen == name for _, seen in pairs) / len(pairs) for name in CONDITIONS}
        base = mean_scores([(rates, seen) for _, seen in pairs])
        for ours, theirs in zip(means_of(document, "base_rate"), base):
            self.assertAlmostEqual(ours, theirs, places=9)
        for mean, base_rate, skill in zip(means_of(document), base, means_of(document, "skill")):
            if skill is not None:
                self.assertAlmostEqual(skill, 1.0 - mean / base_rate, places=6)

    def pairs(self):
        """Every finding with the prediction of its day."""
        document = self.document()
        by_day = {prediction["on"]: prediction["segments"] for prediction in document["predictions"]}
        return [(by_day[finding["on"]][finding["segment"]], finding["seen"]) for finding in document["findings"]]

    def test_the_scores_of_a_recorded_case(self):
        for index, segment in enumerate(self.segments[:6]):
            self.record(segment, CONDITIONS[index % 5], on=f"2026-01-0{2 + index // 3}")
        document = self.score()
        self.assertEqual((document["format"], document["version"]), ("heatside-score", 1))
        self.assertEqual((document["looks"], document["seed"], document["enough_to_conclude"]), (6, 0, False))
        self.assertEqual(document["cases"][0]["case_sha256"], hashlib.sha256(self.case.read_bytes()).hexdigest())
        self.assertEqual(document["base_rate"], "pooled over the same looks")
        self.assertTrue(document["cautions"])
        self.agrees(document, self.pairs())
        self.assertEqual([entry["prediction"] for entry in document["scored"]], 3 * ["/predictions/0"] + 3 * ["/predictions/1"])
        self.assertIsNone(document["cracked_or_worse"]["brier"]["interval"])
        self.assertIn("Nothing can be concluded from 6 looks", self.text())

    def test_ten_looks_have_intervals_the_same_every_time(self):
        for index, segment in enumerate(self.segments[:10]):
            self.record(segment, CONDITIONS[(index * index) % 5])
        self.with_chances(lambda index: 0.05 + 0.09 * (index % 10))
        document = self.score()
        self.agrees(document, self.pairs())
        self.assertTrue(document["enough_to_conclude"])
        self.assertEqual(document["resampled"], "looks")
        for key in ("brier", "logarithm"):
            part = document["cracked_or_worse"][key]
            self.assertLess(part["interval"]["p5"], part["mean"])
            self.assertGreater(part["interval"]["p95"], part["mean"])
        self.assertEqual(run("score", self.case).stdout, run("score", self.case).stdout)
        text = self.text()
        self.assertNotIn("Nothing can be concluded from", text)
        self.assertIn("bootstrap, 2000 times, seed 0", text)

    def test_a_forecaster_who_knew(self):
        hits = {segment for index, segment in enumerate(sorted(self.segments)) if index % 3 == 0}
        for segment in self.segments[:12]:
            self.record(segment, "cracked" if segment in hits else "supple")
        self.with_chances(lambda index: 1.0 if index % 3 == 0 else 0.0)
        document = self.score()
        self.assertEqual(document["cracked_or_worse"]["brier"]["mean"], 0.0)
        self.assertEqual(document["cracked_or_worse"]["brier"]["skill"], 1.0)
        self.assertEqual(document["orders"]["by_prediction"]["looks_to_first"], 1.0)
        self.assertGreaterEqual(document["orders"]["hottest_first"]["looks_to_first"], 1.0)
        self.assertEqual(document["logarithm_capped"], 12)
        self.assertIn("certain or nearly so", self.text())
        self.assertIn("Cracked or worse (Brier): better than the base rate", self.text())

    def test_hottest_first_goes_by_the_heat_of_the_estimate(self):
        heat = {segment["id"]: segment["equivalent_temperature_Cel"]
                for segment in json.loads(run("estimate", "--likely", "--json", self.case).stdout)["segments"]}
        by_heat = sorted(self.segments, key=heat.get)
        coolest, hottest = by_heat[0], by_heat[-1]
        self.assertLess(heat[coolest], heat[hottest])
        self.record(coolest, "cracked")
        self.record(hottest, "supple")
        document = self.score()
        self.assertEqual(document["orders"]["rounds"], 1)
        self.assertEqual(document["orders"]["hottest_first"]["hits_in_first"], [0.0, 1.0, 1.0])
        self.assertEqual(document["orders"]["hottest_first"]["looks_to_first"], 2.0)
        self.assertEqual(document["orders"]["at_random"]["looks_to_first"], 1.5)
        for entry in document["scored"]:
            self.assertAlmostEqual(entry["equivalent_temperature_Cel"], heat[entry["segment"]], places=9)

    def test_what_is_not_scored_is_counted(self):
        self.record(self.segments[0], "not-seen")
        self.record(self.segments[1], "altered", "--altered-on", "2010")
        self.record(self.segments[2], "cracked", cause="chafe")
        self.record(self.segments[3], "cracked")
        self.record(self.segments[3], "stiff")
        self.record(self.segments[4], "cracked", cause="unsure")
        document = self.document()
        document["findings"].append({"segment": self.segments[5], "seen": "cracked", "method": "look-boot", "cause": "heat",
                                     "on": "2025-12-01"})
        self.case.write_text(json.dumps(document), encoding="utf-8")
        document = self.score()
        self.assertEqual(document["looks"], 2)
        self.assertEqual(document["left_out"], {"no_condition": 2, "other_cause": 1, "no_prediction": 1, "merged": 1})
        self.assertEqual([(entry["segment"], entry["seen"]) for entry in document["scored"]],
                         [(self.segments[3], "cracked"), (self.segments[4], "cracked")])
        self.assertIsNone(document["cracked_or_worse"]["brier"]["skill"])
        self.assertIsNone(document["orders"])
        self.assertIn("Findings not scored: ", self.text())

    def test_a_changed_prediction_is_left_out_with_a_warning(self):
        self.record(self.segments[0], "cracked")
        self.record(self.segments[1], "supple", on="2026-01-03")
        document = self.document()
        document["predictions"][1]["segments"][self.segments[1]] = dict(zip(CONDITIONS, (1.0, 0.0, 0.0, 0.0, 0.0)))
        document["predictions"][1]["segments"][self.segments[0]] = dict(zip(CONDITIONS, (0.1, 0.1, 0.1, 0.1, 0.6)))
        self.case.write_text(json.dumps(document), encoding="utf-8")
        result = run("score", "--json", self.case)
        self.assertEqual(result.returncode, DONE)
        self.assertIn(b"/predictions/1/sha256: the prediction is not as it was stored", result.stderr)
        answer = json.loads(result.stdout)
        self.assertEqual(answer["cases"][0]["changed_predictions"], ["/predictions/1/sha256"])
        self.assertEqual([entry["prediction"] for entry in answer["scored"]], 2 * ["/predictions/0"])
        self.assertIn("not as it was stored", self.text())

    def test_cases_are_pooled_and_counted_once(self):
        for index, segment in enumerate(self.segments[:6]):
            self.record(segment, CONDITIONS[index % 5])
        other = self.folder / "other.case.json"
        self.with_chances(lambda index: 0.1 + 0.1 * (index % 7))
        first = self.pairs()
        shutil.copy(self.case, other)
        self.with_chances(lambda index: 0.9 - 0.1 * (index % 7))
        pooled = self.score(other, self.case)
        self.assertEqual(pooled["looks"], 12)
        self.assertEqual([entry["case"] for entry in pooled["scored"]], 6 * [0] + 6 * [1])
        self.agrees(pooled, first + self.pairs())
        self.assertEqual(pooled["orders"]["rounds"], 2)
        self.assertIn("held against the chances stored before, 2 cases", self.text(other, self.case))
        again = self.score(other, other,
                           warnings=b"heatside: other.case.json: the same bytes were given before; they count once.\n")
        self.assertEqual(again["looks"], 6)
        self.assertEqual(len(again["cases"]), 1)

    def test_nothing_to_score_is_said(self):
        result = run("score", self.case)
        self.assertEqual(result.returncode, DONE, result.stderr)
        self.assertIn(b"No look can be scored", result.stdout)
        document = self.score()
        self.assertEqual(document["looks"], 0)
        self.assertIsNone(document["conditions"]["ranked"])

    def test_from_standard_input(self):
        self.record(self.segments[0], "cracked")
        with self.case.open("rb") as text:
            result = run("score", "-", "--json", stdin=text)
        self.assertEqual(result.returncode, DONE, result.stderr)
        self.assertEqual(json.loads(result.stdout)["looks"], 1)

    def test_help_starts_with_an_example(self):
        self.assertTrue(run("score", "--help").stdout.startswith(b"Example:  heatside score "))

    def test_errors(self):
        self.assertEqual(run("score").returncode, USAGE)
        self.assertEqual(run("score", self.folder / "gone.case.json").returncode, NO_INPUT)
        self.case.write_bytes(self.case.read_bytes()[:-10])
        result = run("score", self.case)
        self.assertEqual(result.returncode, BAD_DATA)
        self.assertEqual(result.stdout, b"")


if __name__ == "__main__":
    PROGRAM = os.path.abspath(sys.argv[1])
    SOURCE = pathlib.Path(sys.argv[2])
    del sys.argv[1:3]
    unittest.main(verbosity=1)
