"""The verbs explain and order as a user meets them.

Usage: explain_order_test.py HEATSIDE_PROGRAM SOURCE_DIR
"""

import csv
import io
import json
import pathlib
import subprocess
import sys
import unittest

PROGRAM = sys.argv[1]
DEMO = str(pathlib.Path(sys.argv[2]) / "examples" / "hillside-estate.case.json")


def run(*arguments):
    return subprocess.run([PROGRAM, *arguments], capture_output=True, timeout=600, check=False)


def document(*arguments):
    result = run(*arguments)
    if result.returncode != 0:
        raise AssertionError(result.stderr.decode())
    return json.loads(result.stdout)


class Explain(unittest.TestCase):
    def test_parts_sum_to_the_whole(self):
        answer = document("explain", DEMO, "--segment", "box-corner", "--json")
        self.assertEqual(answer["format"], "heatside-explanation")
        self.assertAlmostEqual(sum(answer["damage_share"].values()), 1.0, places=9)
        self.assertAlmostEqual(sum(band["share"] for band in answer["damage_by_temperature"]), 1.0, places=6)
        self.assertAlmostEqual(sum(band["hours_a_year"] for band in answer["damage_by_temperature"]), 8766.0, places=3)
        self.assertEqual(answer["damage_by_cause"][0]["cause"], "zone")

    def test_it_agrees_with_the_estimate(self):
        answer = document("explain", DEMO, "--segment", "to-coil-2", "--json")
        likely = {one["id"]: one for one in document("estimate", DEMO, "--likely", "--json")["segments"]}["to-coil-2"]
        self.assertAlmostEqual(answer["remaining_years"], likely["remaining_years"]["flex_cracks"]["p50"], places=5)
        self.assertEqual(answer["worst_at_m"], likely["worst_at_m"])

    def test_a_trip_is_a_table(self):
        result = run("explain", DEMO, "--segment", "to-coil-2", "--trip", "20", "--state", "hill", "--ambient", "30")
        rows = list(csv.DictReader(io.StringIO(result.stdout.decode())))
        self.assertEqual(float(rows[0]["air_Cel"]), 30.0)
        hottest = max(rows, key=lambda row: float(row["insulation_Cel"]))
        # Hot soak: the highest temperature comes after key-off (Sci. Rep. 14 (2024) s41598-024-70521-4, abstract).
        self.assertGreater(float(hottest["time_min"]), 20.0)
        self.assertIn(b"no heat along the copper", result.stderr)

    def test_wrong_words_are_refused(self):
        self.assertEqual(run("explain", DEMO, "--segment", "to-coil-2", "--trip", "0").returncode, 64)
        wrong = run("explain", DEMO, "--segment", "to-coil")
        self.assertEqual(wrong.returncode, 65)
        self.assertIn(b"to-coil", wrong.stderr)


class Order(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.answer = document("order", DEMO, "--draws", "2000", "--depth", "2", "--json")
        cls.text = run("order", DEMO, "--draws", "2000", "--depth", "2", "--by", "chance").stdout.decode()

    def test_published_fields(self):
        for key in ("format", "version", "engine", "case_sha256", "draws", "seed", "assumptions", "cautions", "openings", "tree"):
            self.assertIn(key, self.answer)
        self.assertEqual(self.answer["format"], "heatside-order")

    def test_values_keep_their_bounds(self):
        perfect = self.answer["perfect_information"]["saving"]
        for opening in self.answer["openings"]:
            self.assertGreaterEqual(opening["saving"], 0.0)
            self.assertLessEqual(opening["saving"], perfect * (1.0 + 1e-9) + 1e-9)
            self.assertAlmostEqual(opening["net"], opening["saving"] - opening["price"] - opening["harm"], places=6)
        nets = [opening["net"] for opening in self.answer["openings"]]
        self.assertEqual(nets, sorted(nets, reverse=True))

    def test_chances_of_the_tree_sum_to_one(self):
        def walk(node):
            if node["branches"]:
                self.assertAlmostEqual(sum(branch["chance"] for branch in node["branches"]), 1.0, places=6)
                self.assertIsNotNone(node["open"])
            for branch in node["branches"]:
                walk(branch["next"])

        walk(self.answer["tree"]["root"])

    def test_the_page_warns_before_it_advises(self):
        advice = self.text.index("The next openings") if "The next openings" in self.text else self.text.index("Not opened")
        for words in ("airbag", "Ask the owner first", "may not run", "Before anything is opened"):
            self.assertLess(self.text.index(words), advice, words)
        self.assertIn("By chance alone", self.text)
        self.assertLessEqual(max(map(len, self.text.splitlines())), 100)

    def test_same_bytes_twice(self):
        again = document("order", DEMO, "--draws", "2000", "--depth", "2", "--json")
        self.assertEqual(again, self.answer)


unittest.main(argv=sys.argv[:1])
