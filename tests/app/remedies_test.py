"""The verb remedies as a user meets it.

Usage: remedies_test.py HEATSIDE_PROGRAM SOURCE_DIR
"""

import json
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

PROGRAM = sys.argv[1]
DEMO = pathlib.Path(sys.argv[2]) / "examples" / "hillside-estate.case.json"
DRAWS = ("--draws", "500")
PAGE_WIDTH = 100


def run(*arguments):
    return subprocess.run([PROGRAM, *map(str, arguments)], capture_output=True, timeout=900, check=False)


def text(*arguments):
    result = run(*arguments)
    if result.returncode != 0:
        raise AssertionError(result.stderr.decode())
    return result.stdout.decode()


def document(*arguments):
    return json.loads(text(*arguments, "--json"))


class BuiltIn(unittest.TestCase):
    """A case that names no remedies."""

    @classmethod
    def setUpClass(cls):
        cls.answer = document("remedies", DEMO, *DRAWS)
        cls.text = text("remedies", DEMO, *DRAWS)

    def test_published_fields(self):
        for key in ("format", "version", "engine", "case_sha256", "draws", "seed", "assumptions", "cautions", "choices"):
            self.assertIn(key, self.answer)
        self.assertEqual(self.answer["format"], "heatside-remedies")

    def test_every_loom_is_a_choice_that_begins_with_leaving(self):
        self.assertEqual([choice["id"] for choice in self.answer["choices"]], ["top", "main"])
        for choice in self.answer["choices"]:
            kinds = [remedy["kind"] for remedy in choice["remedies"]]
            self.assertEqual(len(kinds), 5)
            self.assertIn("leave", kinds)
            costs = [remedy["cost"]["expected"] for remedy in choice["remedies"] if remedy["allowed"]]
            self.assertEqual(costs, sorted(costs))

    def test_a_chance_of_a_stop_needs_circuits(self):
        for choice in self.answer["choices"]:
            for remedy in choice["remedies"]:
                self.assertIsNone(remedy["chance_of_a_stop"])
        self.assertIn("No chance of a stop on the road is given", self.text)

    def test_the_text_shows_the_same_numbers(self):
        for choice in self.answer["choices"]:
            for remedy in choice["remedies"]:
                row = next(line for line in self.text.splitlines() if line[2:].startswith(remedy["id"] + " "))
                cells = re.split(r"\s{2,}", row[2:].strip())
                amount = remedy["cost"]["expected"]
                self.assertAlmostEqual(float(cells[1]), amount, delta=max(5.0, 0.003 * amount))

    def test_it_fits_the_page_and_forbidden_words_are_absent(self):
        self.assertLessEqual(max(map(len, self.text.splitlines())), PAGE_WIDTH)
        self.assertIsNone(re.search(r"\b(safe|pass|passed|OK to drive)\b", self.text, re.IGNORECASE))
        self.assertIn("Never fit a larger fuse", self.text)

    def test_same_bytes_twice(self):
        self.assertEqual(text("remedies", DEMO, *DRAWS), self.text)


class Record(unittest.TestCase):
    """Findings flow in."""

    def test_bare_conductor_strikes_leaving_out(self):
        with tempfile.TemporaryDirectory() as folder:
            case = pathlib.Path(folder) / "estate.case.json"
            case.write_bytes(DEMO.read_bytes())
            done = run("record", case, "--segment", "to-coil-2", "--seen", "crumbling", "--method", "look-boot", "--cause",
                       "heat", "--on", "2014-05-12")
            self.assertEqual(done.returncode, 0, done.stderr.decode())
            top = document("remedies", case, *DRAWS)["choices"][0]
            leave = next(remedy for remedy in top["remedies"] if remedy["kind"] == "leave")
            self.assertFalse(leave["allowed"])
            self.assertIn("to-coil-2", leave["struck_out"][0])
            self.assertNotEqual(top["best"], leave["id"])


class Plan(unittest.TestCase):
    def test_a_route_checklist_is_called_so(self):
        plan = text("remedies", DEMO, *DRAWS, "--plan", "branches-top")
        self.assertIn("ROUTE CHECKLIST", plan)
        self.assertNotIn("\nWIRING PLAN", plan)
        for words in ("before the new one is at hand", "Continuity", "Voltage drop", "First power-up", "Next look"):
            self.assertIn(words, " ".join(plan.split()))
        self.assertLessEqual(max(map(len, plan.splitlines())), PAGE_WIDTH)

    def test_the_plan_is_in_the_document(self):
        plan = document("remedies", DEMO, *DRAWS, "--plan", "branches-top")["plan"]
        self.assertEqual(plan["id"], "branches-top")
        self.assertFalse(plan["is_wiring_plan"])
        self.assertTrue(plan["route"])

    def test_an_unknown_remedy_is_refused(self):
        wrong = run("remedies", DEMO, *DRAWS, "--plan", "branch-top")
        self.assertEqual(wrong.returncode, 65)
        self.assertIn(b"branches-top", wrong.stderr)
        self.assertEqual(wrong.stdout, b"")


class Options(unittest.TestCase):
    def test_what_a_stop_costs_can_be_asked_for(self):
        cheap = document("remedies", DEMO, *DRAWS, "--stop", "0")["choices"][1]
        # A stop that costs nothing leaves the mending alone: nothing pays for a whole new loom.
        self.assertEqual(cheap["cheapest_by_cost_of_a_stop"][0]["id"], cheap["best"])

    def test_wrong_words_are_refused(self):
        self.assertEqual(run("remedies", DEMO, "--years", "0").returncode, 64)
        self.assertEqual(run("remedies", DEMO, "--stop", "-1").returncode, 64)
        self.assertEqual(run("remedies").returncode, 64)
        self.assertEqual(run("remedies", "no-such.case.json").returncode, 66)


unittest.main(argv=sys.argv[:1])
