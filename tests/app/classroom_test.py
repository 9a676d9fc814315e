"""The story of a case and the built-in experiments, as a teacher meets them.

classroom_test.py PROGRAM SOURCE_DIR
"""
import csv
import io
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree

PROGRAM = os.path.abspath(sys.argv[1])
EXAMPLES = pathlib.Path(sys.argv[2]).resolve() / "examples"
DEMO = str(EXAMPLES / "hillside-estate.case.json")
TOPICS = ("life-line", "soak", "paths", "draws", "findings")


def run(*arguments):
    return subprocess.run([PROGRAM, *arguments], capture_output=True, timeout=600, check=False)


def text_of(*arguments):
    result = run(*arguments)
    if result.returncode != 0:
        raise AssertionError(result.stderr.decode())
    return result.stdout.decode("utf-8")


def document(*arguments):
    return json.loads(text_of(*arguments))


class Story(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.text = text_of("explain", DEMO)
        cls.words = " ".join(cls.text.split())
        cls.story = document("explain", DEMO, "--json")

    def test_numbers_are_those_of_the_segment(self):
        for end in ("heat_side", "cool_end"):
            one = self.story[end]
            answer = document("explain", DEMO, "--segment", one["segment"], "--json")
            for key in ("zone", "insulation", "equivalent_temperature_Cel", "damage_share", "remaining_years", "new_wire_years"):
                self.assertEqual(one[key], answer[key], key)
            cooler = next(change for change in answer["changes"] if change["change"].startswith("10 K cooler"))
            self.assertEqual(one["ten_cooler"]["pace"], cooler["pace"])

    def test_the_page_says_the_numbers(self):
        heat, hill = self.story["heat_side"], self.story["hill_trip"]
        self.assertIn(f"{100 * heat['damage_share']['soak']:.0f} % came in the hot soak", self.words)
        self.assertIn(f"({self.story['heat_side']['insulation']}) has aged", self.words)
        self.assertIn(f"as {hill['hill_as_hours_of_use']:.0f} hours of ordinary use", self.words)
        self.assertIn(f"{self.story['straight_line']['line_kJ_per_mol']:.0f} kJ/mol", self.words)

    def test_one_page_cautions_first(self):
        self.assertLessEqual(max(map(len, self.text.splitlines())), 100)
        self.assertLess(len(self.text.splitlines()), 70)
        self.assertLess(self.text.index("airbag"), self.text.index("Where the damage comes from"))
        self.assertIn("Invented scenario", self.text)
        self.assertIsNone(re.search(r"\b(safe|pass|passed)\b", self.text, flags=re.I))

    def test_every_example_has_a_story(self):
        for case in sorted(EXAMPLES.glob("*.case.json")):
            story = document("explain", str(case), "--json")
            self.assertEqual(story["format"], "heatside-story")
            if story["cool_end"]:
                self.assertGreaterEqual(story["cool_end"]["remaining_years"], story["heat_side"]["remaining_years"])


class Topics(unittest.TestCase):
    def test_text_table_and_document_agree(self):
        for topic in TOPICS:
            answer = document("explain", "--topic", topic, "--json")
            self.assertEqual((answer["format"], answer["topic"]), ("heatside-topic", topic))
            rows = list(csv.DictReader(io.StringIO(text_of("explain", "--topic", topic, "--csv"), newline="")))
            self.assertEqual(list(rows[0]), [field["name"] for field in answer["fields"]])
            self.assertEqual(len(rows), len(answer["rows"]))
            for row, one in zip(rows, answer["rows"]):
                for field in answer["fields"]:
                    value, cell = one[field["name"]], row[field["name"]]
                    if value is None:
                        self.assertEqual(cell, "")
                    elif isinstance(value, float):
                        self.assertEqual(float(cell), value)
                    else:
                        self.assertEqual(cell, str(value).lower() if isinstance(value, bool) else str(value))
            text = text_of("explain", "--topic", topic)
            self.assertLessEqual(max(map(len, text.splitlines())), 100, topic)
            words = " ".join(text.split())
            for paragraph in answer["paragraphs"]:
                self.assertIn(" ".join(paragraph.split()), words)
            self.assertIsNone(re.search(r"\b(safe|pass|passed)\b", text, flags=re.I))

    def test_pictures_are_sound(self):
        with tempfile.TemporaryDirectory() as folder:
            for topic in TOPICS:
                path = os.path.join(folder, f"{topic}.svg")
                text_of("explain", "--topic", topic, "--plot", path)
                root = xml.etree.ElementTree.parse(path).getroot()
                space = "{http://www.w3.org/2000/svg}"
                self.assertEqual(root.get("role"), "img")
                self.assertTrue(root.find(space + "title").text)
                self.assertTrue(root.find(space + "desc").text)
                for element in root.iter():
                    self.assertNotIn("style", element.attrib)
                    for name in ("x", "y", "x1", "x2", "y1", "y2", "cx", "cy"):
                        float(element.get(name, "0"))
                self.assertEqual(run("explain", "--topic", topic, "--plot", path).returncode, 73)

    def test_another_compound(self):
        answer = document("explain", "--topic", "life-line", "--insulation", "short-lived-1990s", "--json")
        self.assertEqual({row["insulation"] for row in answer["rows"]}, {"short-lived-1990s"})
        wrong = run("explain", "--topic", "life-line", "--insulation", "short-lived-1990")
        self.assertEqual(wrong.returncode, 65)
        self.assertIn(b"short-lived-1990s", wrong.stderr)

    def test_wrong_words_are_refused(self):
        for words in ((), (DEMO, "--topic", "soak"), ("--topic", "weather"), (DEMO, "--csv"), (DEMO, "--plot", "x.svg"),
                      (DEMO, "--insulation", "pvc-std"), (DEMO, "--trip", "30"),
                      ("--topic", "soak", "--segment", "hot"), ("--topic", "soak", "--json", "--csv")):
            self.assertEqual(run("explain", *words).returncode, 64, words)


unittest.main(argv=sys.argv[:1])
