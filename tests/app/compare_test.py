"""The verb compare as a user meets it.

Usage: compare_test.py HEATSIDE_PROGRAM SOURCE_DIR
"""

import json
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

PROGRAM = sys.argv[1]
SOURCE = pathlib.Path(sys.argv[2])
DEMO = str(SOURCE / "examples" / "hillside-estate.case.json")
FEW = ["--draws", "200"]


def run(*arguments):
    return subprocess.run([PROGRAM, *arguments], capture_output=True, timeout=600, check=False)


def document(*arguments):
    result = run(*arguments, "--json")
    if result.returncode != 0:
        raise AssertionError(result.stderr.decode())
    return json.loads(result.stdout)


class Insulations(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.arguments = ["compare", DEMO, "--insulation", "short-lived-1990s,xlpo-150,pvc-105", *FEW]
        cls.answer = document(*cls.arguments)
        cls.text = run(*cls.arguments).stdout.decode()

    def test_published_fields(self):
        for key in ("format", "version", "engine", "case_sha256", "draws", "seed", "assumptions", "cautions", "candidates"):
            self.assertIn(key, self.answer)
        self.assertEqual(self.answer["format"], "heatside-comparison")
        self.assertEqual(self.answer["years_from"], "2014-05-12")

    def test_ranked_by_chance(self):
        chances = [one["chance_of_lasting"] for one in self.answer["candidates"]]
        self.assertEqual(chances, sorted(chances, reverse=True))
        # Common practice, no source: the compound that failed here is the worst to put back.
        self.assertEqual(self.answer["candidates"][-1]["insulation"], "short-lived-1990s")
        self.assertEqual(self.answer["candidates"][0]["insulation"], "xlpo-150")

    def test_text_has_the_numbers_of_the_document(self):
        for one in self.answer["candidates"]:
            line = next(row for row in self.text.splitlines() if row.startswith(one["insulation"]) and "(" in row)
            mass = f"{one['insulation_kg']:.2f}"
            self.assertTrue(line.rstrip().endswith(mass), line)
        self.assertRegex(self.text, r"too hot at head-cover after key-off")

    def test_words_that_are_never_printed(self):
        self.assertIsNone(re.search(r"\b(safe|pass|passes|passed)\b", self.text, re.IGNORECASE))
        self.assertTrue(all(len(line) <= 100 for line in self.text.splitlines()))

    def test_the_same_bytes_again(self):
        self.assertEqual(run(*self.arguments).stdout.decode(), self.text)

    def test_one_loom_alone(self):
        answer = document("compare", DEMO, "--insulation", "xlpo-125", "--loom", "top", "--date", "2016", *FEW)
        self.assertEqual(answer["looms"], ["top"])
        self.assertEqual({one["loom"] for one in answer["candidates"][0]["segments"]}, {"top"})
        self.assertEqual(answer["years_from"][:4], "2016")


class Changes(unittest.TestCase):
    def test_wires_that_are_in_now(self):
        answer = document("compare", DEMO, "--ambient", "-5", "--reroute", "wing-lamp=head-cover", *FEW)
        wires = answer["candidates"][0]
        self.assertIsNone(wires["insulation"])
        moved = next(one for one in wires["segments"] if one["id"] == "wing-lamp")
        self.assertLess(moved["change"]["gain_years"]["p90"], 0.01)
        self.assertGreater(moved["hottest_Cel"]["p50"], moved["change"]["hottest_before_Cel"] + 20.0)

    def test_a_folder_of_own_records(self):
        with tempfile.TemporaryDirectory() as folder:
            record = pathlib.Path(folder) / "lab.json"
            fitted = run("fit", str(SOURCE / "examples" / "oven-test.csv"), "--record", "lab-xlpo", "--like", "xlpo-125",
                         "-o", str(record))
            self.assertEqual(fitted.returncode, 0, fitted.stderr)
            answer = document("compare", DEMO, "--materials", folder, *FEW)
            self.assertEqual([one["insulation"] for one in answer["candidates"]], ["lab-xlpo"])
            self.assertEqual(answer["own_records"], ["lab.json"])


class BadInput(unittest.TestCase):
    def refused(self, code, *arguments):
        result = run("compare", *arguments)
        self.assertEqual(result.returncode, code, result.stderr)
        self.assertEqual(result.stdout, b"")
        return result.stderr.decode()

    def test_everything_wrong_is_named_at_once(self):
        words = self.refused(64, DEMO, "--insulation", "xlpo-12,xlpo-125,xlpo-125", "--sleeve", "nowhere=shield-al",
                             "--reroute", "to-coil-1=head-cov", "--ambient", "40", "--years", "x", "--duty", "taxy",
                             "--date", "1999", "--loom", "tap")
        for word in ('nearest is "xlpo-125"', "named twice", "--ambient", "--years", '"nowhere"', '"shield-alu"',
                     '"head-cover"', '"taxi"', "1999", '"top"'):
            self.assertIn(word, words)

    def test_nothing_to_compare(self):
        self.assertIn("--insulation", self.refused(64, DEMO))
        self.assertIn("--date", self.refused(64, DEMO, "--ambient", "5", "--date", "2020"))
        self.refused(64, DEMO, "--insulation", "xlpo-125", "--all")
        self.refused(64, DEMO, "--reroute", "to-coil-1")
        self.refused(64)

    def test_files(self):
        self.refused(66, "no-such-case.json", "--all")
        with tempfile.TemporaryDirectory() as folder:
            broken = pathlib.Path(folder) / "broken.case.json"
            broken.write_text("{}")
            self.refused(65, str(broken), "--all")


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
