"""The verb export: its tables against the other outputs of the program, and its descriptor against the tables.

export_test.py PROGRAM SOURCE_DIR
"""
import csv
import datetime
import hashlib
import io
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

PROGRAM = os.path.abspath(sys.argv[1])
DEMO = str(pathlib.Path(sys.argv[2]).resolve() / "examples" / "hillside-estate.case.json")
DRAWS = "1000"


def run(*arguments, **more):
    return subprocess.run([PROGRAM, *arguments], capture_output=True, timeout=600, check=False, **more)


def document(*arguments):
    result = run(*arguments)
    if result.returncode != 0:
        raise AssertionError(result.stderr.decode())
    return json.loads(result.stdout)


def rows_of(path):
    return list(csv.DictReader(io.StringIO(path.read_bytes().decode("utf-8"), newline="")))


def reads_as(text, kind):
    """Whether a text is of a type of Table Schema (Data Package standard 2.0)."""
    if kind == "number":
        return re.fullmatch(r"-?\d+(\.\d+)?([eE][-+]?\d+)?", text) is not None
    if kind == "integer":
        return re.fullmatch(r"-?\d+", text) is not None
    if kind == "boolean":
        return text in ("true", "false")
    if kind == "date":
        return datetime.date.fromisoformat(text) is not None
    return kind == "string"


class Export(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        root = pathlib.Path(cls.temporary.name)
        cls.case = root / "found.case.json"
        cls.case.write_bytes(pathlib.Path(DEMO).read_bytes())
        recorded = run("record", str(cls.case), "--segment", "to-coil-2", "--seen", "crumbling", "--method", "look-boot",
                       "--cause", "heat", "--on", "2014-05-13", "--note", 'flakes, "bare" copper')
        assert recorded.returncode == 0, recorded.stderr
        cls.folder = root / "tables"
        result = run("export", str(cls.case), "-o", str(cls.folder), "--draws", DRAWS, "--json")
        assert result.returncode == 0, result.stderr
        cls.printed = json.loads(result.stdout)
        cls.tables = {path.stem: rows_of(path) for path in cls.folder.glob("*.csv")}
        cls.estimate = document("estimate", str(cls.case), "--draws", DRAWS, "--json", "--histogram")

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    def test_descriptor_and_tables_agree(self):
        descriptor = json.loads((self.folder / "datapackage.json").read_text(encoding="utf-8"))
        self.assertEqual(descriptor, self.printed)
        self.assertEqual(descriptor["$schema"], "https://datapackage.org/profiles/2.0/datapackage.json")
        self.assertRegex(descriptor["name"], r"^[a-z0-9._-]+$")
        paths = [resource["path"] for resource in descriptor["resources"]]
        self.assertEqual(sorted(paths), sorted(path.name for path in self.folder.glob("*.csv")))
        for resource in descriptor["resources"]:
            data = (self.folder / resource["path"]).read_bytes()
            self.assertEqual(resource["type"], "table")
            self.assertEqual(resource["bytes"], len(data))
            self.assertEqual(resource["hash"], "sha256:" + hashlib.sha256(data).hexdigest())
            self.check_table(resource, data)

    def check_table(self, resource, data):
        lines = list(csv.reader(io.StringIO(data.decode("utf-8"), newline=""), strict=True))
        fields = resource["schema"]["fields"]
        self.assertEqual(lines[0], [field["name"] for field in fields])
        self.assertEqual(len(set(lines[0])), len(lines[0]))
        for field in fields:
            self.assertTrue(field["description"], field)
            self.assertIn(field["type"], ("string", "number", "integer", "boolean", "date"))
            if field["type"] == "number":
                self.assertTrue(field["unit"], field)
        for line in lines[1:]:
            self.assertEqual(len(line), len(fields))
            for text, field in zip(line, fields):
                self.assertTrue(text == "" or reads_as(text, field["type"]), f"{resource['path']}: {field['name']}: {text}")
        key = [lines[0].index(name) for name in resource["schema"].get("primaryKey", [])]
        keys = [tuple(line[i] for i in key) for line in lines[1:]]
        self.assertEqual(len(set(keys)), len(keys), resource["path"])

    def test_dictionary_has_every_column(self):
        listed = {(row["file"], row["field"]): row for row in self.tables["dictionary"]}
        for resource in self.printed["resources"]:
            for field in resource["schema"]["fields"]:
                row = listed.pop((resource["path"], field["name"]))
                self.assertEqual((row["type"], row["unit"], row["meaning"]),
                                 (field["type"], field.get("unit", ""), field["description"]))
        self.assertFalse(listed)

    def test_segments_are_those_of_the_estimate(self):
        self.assertEqual([row["segment"] for row in self.tables["segments"]],
                         [one["id"] for one in self.estimate["segments"]])
        for row, one in zip(self.tables["segments"], self.estimate["segments"]):
            for condition, chance in one["condition"]["chance"].items():
                self.assertEqual(float(row["chance_" + condition.replace("-", "_")]), chance)
            self.assertEqual(float(row["chance_cracked_now"]), one["chance_cracked_now"])
            self.assertEqual(row["most_likely"], one["condition"]["most_likely"])
            for quantile in ("p10", "p50", "p90"):
                self.assertEqual(float(row[f"elongation_percent_{quantile}"]), one["elongation_percent"][quantile])
                for event in ("flex_cracks", "cracked"):
                    self.assertEqual(float(row[f"{event}_years_{quantile}"]), one["remaining_years"][event][quantile])
            self.assertEqual(float(row["equivalent_temperature_Cel"]), one["equivalent_temperature_Cel"])
            self.assertEqual(int(row["weakest_rank"]), one["weakest_rank"])

    def test_hours_are_those_of_the_estimate(self):
        for one in self.estimate["segments"]:
            listed = {(int(row["temperature_Cel"]), row["regime"]): float(row["hours"])
                      for row in self.tables["temperatures"] if row["segment"] == one["id"]}
            for entry in one["hours_at_temperature"]:
                for regime in ("running", "soak", "parked"):
                    self.assertEqual(listed.pop((entry["temperature_Cel"], regime), 0.0), entry[regime + "_h"])
            self.assertFalse(listed)

    def test_damage_is_that_of_explain(self):
        for segment in ("to-coil-2", "box-corner"):
            answer = document("explain", str(self.case), "--segment", segment, "--json")
            damage = {(row["regime"], row["state"]): float(row["share"])
                      for row in self.tables["damage"] if row["segment"] == segment}
            for regime, share in answer["damage_share"].items():
                self.assertEqual(damage[regime, "all"], share)
            for state, parts in answer["damage_by_state"].items():
                for regime, share in parts.items():
                    self.assertEqual(damage[regime, state], share)
            bands = [row for row in self.tables["damage-by-temperature"] if row["segment"] == segment]
            self.assertEqual([(int(row["from_Cel"]), float(row["hours_a_year"]), float(row["share"])) for row in bands],
                             [(one["from_Cel"], one["hours_a_year"], one["share"]) for one in answer["damage_by_temperature"]])

    def test_quantiles_come_out_of_the_draws(self):
        # All draws are kept here. Weighted quantile by counting, which is good to the distance of neighbours.
        for segment in ("relays-wing", "unit-grommet", "to-throttle"):
            rows = [row for row in self.tables["draws"] if row["segment"] == segment]
            self.assertEqual(len(rows), int(DRAWS))
            pairs = sorted((float(row["flex_cracks_years"]), float(row["weight"])) for row in rows)
            self.assertAlmostEqual(sum(weight for _, weight in pairs), 1.0, places=9)
            one = next(row for row in self.tables["segments"] if row["segment"] == segment)
            for quantile, level in (("p10", 0.1), ("p50", 0.5), ("p90", 0.9)):
                below = sum(weight for years, weight in pairs if years < float(one[f"flex_cracks_years_{quantile}"]))
                self.assertAlmostEqual(below, level, delta=0.02)

    def test_findings_and_assumptions(self):
        self.assertEqual(len(self.tables["findings"]), 1)
        finding = self.tables["findings"][0]
        self.assertEqual((finding["segment"], finding["seen"], finding["on"]), ("to-coil-2", "crumbling", "2014-05-13"))
        self.assertEqual(finding["note"], 'flakes, "bare" copper')
        self.assertEqual([(row["at"], row["text"], row["grade"]) for row in self.tables["assumptions"]],
                         [(one["at"], one["text"], one["grade"]) for one in self.estimate["assumptions"]])

    def test_cautions_come_along(self):
        self.assertEqual(self.printed["heatside"]["cautions"], self.estimate["cautions"])
        readme = " ".join((self.folder / "README.md").read_text(encoding="utf-8").split())
        for caution in self.estimate["cautions"]:
            self.assertIn(caution, readme)


class Folder(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.root = pathlib.Path(self.temporary.name)

    def tearDown(self):
        self.temporary.cleanup()

    def export(self, folder, *more):
        return run("export", DEMO, "-o", str(folder), "--draws", "100", "--keep-draws", "5", *more)

    def test_same_bytes_twice_and_a_former_export_is_replaced(self):
        folder = self.root / "new" / "tables"
        self.assertEqual(self.export(folder).returncode, 0)
        first = {path.name: path.read_bytes() for path in folder.iterdir()}
        (folder / "mine.ipynb").write_text("{}")
        (folder / "segments.csv").write_text("changed")
        self.assertEqual(self.export(folder).returncode, 0)
        self.assertEqual((folder / "mine.ipynb").read_text(), "{}")
        self.assertEqual({name: (folder / name).read_bytes() for name in first}, first)

    def test_other_folders_are_left_alone(self):
        (self.root / "segments.csv").write_text("mine")
        result = self.export(self.root)
        self.assertEqual(result.returncode, 73)
        self.assertIn(b"nothing was changed", result.stderr)
        self.assertEqual([path.name for path in self.root.iterdir()], ["segments.csv"])
        self.assertEqual((self.root / "segments.csv").read_text(), "mine")
        (self.root / "datapackage.json").write_text('{"name": "somebody-elses"}')
        self.assertEqual(self.export(self.root).returncode, 73)
        self.assertEqual(self.export(self.root / "segments.csv").returncode, 73)

    def test_wrong_words_are_refused(self):
        folder = str(self.root / "x")
        self.assertEqual(run("export", DEMO).returncode, 64)
        self.assertEqual(run("export", DEMO, "-o", folder, "--draws", "3").returncode, 64)
        self.assertEqual(run("export", DEMO, "-o", folder, "--seed", "x").returncode, 64)
        self.assertEqual(run("export", str(self.root / "none.json"), "-o", folder).returncode, 66)
        broken = self.root / "broken.case.json"
        broken.write_text("{")
        self.assertEqual(run("export", str(broken), "-o", folder).returncode, 65)
        self.assertFalse(os.path.exists(folder))


unittest.main(argv=sys.argv[:1])
