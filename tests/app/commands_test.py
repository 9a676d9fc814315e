"""Every verb of the program: help, formats, digits that never change, and what it must not say.

Usage: commands_test.py HEATSIDE_PROGRAM SOURCE_DIR
"""

import csv
import functools
import hashlib
import io
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest

PROGRAM = None
SOURCE = None
VERBS = ("start", "check", "estimate", "explain", "compare", "order", "remedies", "record", "score", "report", "export", "fit",
         "materials", "wire", "page")
PAGE_WIDTH = 100


def run(*arguments, **options):
    options.setdefault("stdin", subprocess.DEVNULL)
    return subprocess.run([PROGRAM, *arguments], capture_output=True, timeout=120, check=False, **options)


def start(template="plain-two-segment", *more):
    return ["start", "--template", template, "--built", "1994", "--inspected", "2026-01-01", *more]


def templates():
    return sorted(path.stem for path in (SOURCE / "materials" / "templates").glob("*.json"))


def records():
    """Id and document of every record that people look up."""
    found = {}
    for path in sorted((SOURCE / "materials").rglob("*.json")):
        if path.parent.name in ("schema", "sources", "templates"):
            continue
        document = json.loads(path.read_text(encoding="utf-8"))
        found[document["id"]] = document
    return found


@functools.cache
def record_shown(name):
    """What `materials ID` shows: several tests read it, and there are many records."""
    return run("materials", name)


class Commands(unittest.TestCase):
    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)
        self.case = self.folder / "van.case.json"
        self.case.write_bytes(self.output(*start()))

    def output(self, *arguments, **options):
        """The bytes on stdout of a run that must go well and say nothing on stderr."""
        result = run(*arguments, **options)
        self.assertEqual(result.returncode, 0, result.stderr.decode("utf-8", "replace"))
        if "--csv" in arguments:  # a table has no room for its cautions
            self.assertIn(b"WARNING", result.stderr)
        else:
            self.assertEqual(result.stderr, b"")
        return result.stdout

    def estimate(self, *arguments):
        return json.loads(self.output("estimate", str(self.case), "--likely", "--json", *arguments))

    def write_record(self, kind, name, document):
        folder = self.folder / "records" / kind
        folder.mkdir(parents=True, exist_ok=True)
        (folder / f"{name}.json").write_text(json.dumps(document), encoding="utf-8")
        return str(self.folder / "records")

    # --- help -----------------------------------------------------------------------------------------------------------------

    def test_help_begins_with_an_example(self):
        for arguments in (["--help"], ["-h"], *([verb, "--help"] for verb in VERBS), *([verb, "-h"] for verb in VERBS)):
            with self.subTest(arguments):
                text = self.output(*arguments).decode()
                self.assertTrue(text.startswith("Example:"), text[:80])
                self.assertIn("heatside", text.splitlines()[0])
                if len(arguments) == 2:
                    self.assertIn(f"heatside {arguments[0]}", text.splitlines()[0])

    def test_help_of_the_program_names_every_verb(self):
        text = self.output("--help").decode()
        for verb in VERBS:
            self.assertRegex(text, rf"(?m)^ +{verb} ")

    def test_help_fits_the_page(self):
        for arguments in (["--help"], *([verb, "--help"] for verb in VERBS)):
            for line in self.output(*arguments).decode().splitlines():
                with self.subTest(arguments):
                    self.assertLessEqual(len(line), PAGE_WIDTH, line)

    def test_every_verb_has_json(self):
        for verb in VERBS[:-1]:  # the page is no answer about data
            with self.subTest(verb):
                self.assertIn("--json", self.output(verb, "--help").decode())

    def test_version(self):
        text = self.output("--version").decode()
        version = re.search(r"project\(heatside VERSION ([0-9.]+)", (SOURCE / "CMakeLists.txt").read_text(encoding="utf-8")).group(1)
        self.assertEqual(text, f"heatside {version}\n")

    # --- start and check --------------------------------------------------------------------------------------------------------

    def test_every_template_gives_a_case_that_can_be_estimated(self):
        self.assertGreaterEqual(len(templates()), 3)
        for template in templates():
            with self.subTest(template):
                text = self.output(*start(template))
                case = json.loads(text)
                self.assertEqual((case["format"], case["version"]), ("heatside-case", 1))
                self.assertEqual(case["inspected"], "2026-01-01")
                self.assertGreater(len(case["assumed"]), 0)
                path = self.folder / f"{template}.case.json"
                path.write_bytes(text)
                self.output("check", str(path))
                segments = json.loads(self.output("estimate", "--draws", "500", "--json", str(path)))["segments"]
                self.assertEqual(sorted(segment["id"] for segment in segments), sorted(segment["id"] for segment in case["segments"]))

    def test_start_writes_what_it_is_told_and_no_assumption_for_it(self):
        text = self.output(*start("plain-two-segment", "--region", "japan", "--climate", "phoenix", "--odometer", "123456",
                                  "--parking", "open", "--duty", "taxi"))
        case = json.loads(text)
        self.assertEqual(case["vehicle"]["region"], "japan")
        self.assertEqual(case["vehicle"]["odometer_km"], 123456)
        self.assertEqual([case["service"][0][key] for key in ("climate", "duty", "parking")], ["phoenix", "taxi", "open"])
        places = [entry["at"] for entry in case["assumed"]]
        for place in ("/vehicle/region", "/service/0/climate", "/service/0/duty", "/service/0/parking", "/service/0/running_hours"):
            self.assertNotIn(place, places)

    def test_start_writes_to_a_file_the_bytes_it_prints(self):
        target = self.folder / "new.case.json"
        result = run(*start("plain-two-segment", "-o", str(target)))
        self.assertEqual((result.returncode, result.stdout), (0, b""))
        self.assertIn(b"assumptions", result.stderr)
        self.assertEqual(target.read_bytes(), self.case.read_bytes())
        self.assertEqual(target.stat().st_mode & 0o111, 0)

    def test_check_lists_every_assumption_that_the_estimate_lists(self):
        checked = json.loads(self.output("check", "--json", str(self.case)))
        self.assertEqual((checked["format"], checked["version"]), ("heatside-check", 1))
        entry = checked["files"][0]
        self.assertEqual((entry["kind"], entry["problems"]), ("case", []))
        self.assertEqual(entry["assumptions"], self.estimate()["assumptions"])
        text = self.output("check", str(self.case)).decode()
        self.assertEqual(text.count("\n  - "), len(entry["assumptions"]))

    def test_check_knows_records(self):
        path = str(SOURCE / "materials" / "zones" / "head-cover.json")
        self.assertIn("record without errors", self.output("check", path).decode())
        self.assertEqual(json.loads(self.output("check", "--json", path))["files"][0]["kind"], "record")

    # --- estimate: JSON ------------------------------------------------------------------------------------------------------------

    def test_json_has_the_published_fields(self):
        document = self.estimate()
        for key in ("format", "version", "engine", "case_sha256", "draws", "seed", "assumptions", "cautions", "segments"):
            self.assertIn(key, document)
        self.assertEqual((document["format"], document["version"]), ("heatside-estimate", 1))
        self.assertEqual(document["engine"], self.output("--version").decode().strip())
        self.assertEqual((document["draws"], document["seed"]), (1, 0))
        self.assertEqual([segment["weakest_rank"] for segment in document["segments"]], [1, 2])
        for segment in document["segments"]:
            self.assertLessEqual({"id", "loom", "insulation", "weakest_rank", "worst_stretch", "elongation_percent", "condition",
                                  "remaining_years", "chance_cracked_now", "equivalent_temperature_Cel", "damage_share"}, segment.keys())
            self.assertNotIn("hours_at_temperature", segment)
            self.assertEqual(segment["elongation_percent"].keys(), {"p10", "p50", "p90"})
            self.assertEqual(segment["condition"]["chance"].keys(), {"supple", "stiff", "flex-cracks", "cracked", "crumbling"})
            self.assertIn(segment["condition"]["most_likely"], segment["condition"]["chance"])
            self.assertAlmostEqual(sum(segment["condition"]["chance"].values()), 1.0, places=9)
            self.assertEqual(segment["remaining_years"].keys(), {"flex_cracks", "cracked"})
            for years in segment["remaining_years"].values():
                self.assertEqual(years.keys(), {"p10", "p50", "p90", "capped"})
                self.assertLessEqual(abs(years["p50"]), 200.0)
            chance = segment["condition"]["chance"]
            self.assertAlmostEqual(segment["chance_cracked_now"], chance["cracked"] + chance["crumbling"], places=9)
            self.assertEqual(segment["damage_share"].keys(), {"running", "soak", "parked"})
            self.assertAlmostEqual(sum(segment["damage_share"].values()), 1.0, places=9)
            self.assertLessEqual(segment["remaining_years"]["flex_cracks"]["p50"], segment["remaining_years"]["cracked"]["p50"])
        for assumption in document["assumptions"]:
            self.assertEqual(assumption.keys(), {"at", "text", "grade"})

    def test_weakest_comes_first(self):
        years = [segment["remaining_years"]["flex_cracks"]["p50"] for segment in self.estimate()["segments"]]
        self.assertEqual(years, sorted(years))

    def test_sha256_is_that_of_the_bytes(self):
        # FIPS 180-4, as Python's hashlib has it.
        for content in (self.case.read_bytes(), self.case.read_bytes() + b"\n", self.case.read_bytes().replace(b"1994", b"1995")):
            self.case.write_bytes(content)
            digest = hashlib.sha256(content).hexdigest()
            self.assertEqual(self.estimate()["case_sha256"], digest)
            self.assertIn(digest[:16], self.output("estimate", "--draws", "500", str(self.case)).decode())

    def test_seed_is_echoed(self):
        self.assertEqual(self.estimate("--seed", "18446744073709551615")["seed"], 18446744073709551615)

    def test_histogram_holds_the_hours_of_a_year(self):
        # 365.25 d of 24 h.
        for segment in self.estimate("--histogram")["segments"]:
            bins = segment["hours_at_temperature"]
            self.assertAlmostEqual(sum(entry[f"{regime}_h"] for entry in bins for regime in ("running", "soak", "parked")), 8766.0,
                                   delta=1e-6)
            temperatures = [entry["temperature_Cel"] for entry in bins]
            self.assertEqual(temperatures, sorted(set(temperatures)))
            self.assertTrue(all(entry[f"{regime}_h"] >= 0.0 for entry in bins for regime in ("running", "soak", "parked")))
            mean = sum(entry["temperature_Cel"] * sum(entry[f"{regime}_h"] for regime in ("running", "soak", "parked"))
                       for entry in bins) / 8766.0
            # Damage weighs heat above the mean: the equivalent temperature lies above the mean one.
            self.assertGreater(segment["equivalent_temperature_Cel"], mean)

    def test_standard_input_is_read(self):
        with self.case.open("rb") as text:
            document = json.loads(self.output("estimate", "-", "--likely", "--json", stdin=text))
        with self.case.open("rb") as text:
            self.output("check", "-", stdin=text)
        expected = self.estimate()
        self.assertEqual(document.pop("case"), "-")
        self.assertEqual(expected.pop("case"), "van.case.json")
        self.assertEqual(document, expected)

    # --- estimate: CSV ----------------------------------------------------------------------------------------------------------------

    def test_csv_says_what_json_says(self):
        # RFC 4180, as Python's csv module reads it.
        text = self.output("estimate", str(self.case), "--likely", "--csv").decode()
        self.assertTrue(text.endswith("\r\n"))
        self.assertEqual(text.count("\r\n"), text.count("\n"))
        rows = list(csv.DictReader(io.StringIO(text, newline="")))
        segments = self.estimate()["segments"]
        self.assertEqual(len(rows), len(segments))
        for row, segment in zip(rows, segments):
            self.assertNotIn(None, row)
            self.assertNotIn(None, row.values())
            for column, key in (("segment", "id"), ("name", "name"), ("loom", "loom"), ("lot", "lot"), ("insulation", "insulation")):
                self.assertEqual(row[column], segment[key])
            self.assertEqual(row["compound_known"], "true" if segment["compound_known"] else "false")
            self.assertEqual(row["worst_stretch"], segment["worst_stretch"])
            self.assertEqual(row["zone"], segment["zone"])
            self.assertEqual(row["condition"], segment["condition"]["most_likely"])
            for column, value in (("elongation_percent", segment["elongation_percent"]["p50"]),
                                  ("flex_cracks_years", segment["remaining_years"]["flex_cracks"]["p50"]),
                                  ("cracked_years", segment["remaining_years"]["cracked"]["p50"]),
                                  ("equivalent_temperature_Cel", segment["equivalent_temperature_Cel"]),
                                  ("damage_running", segment["damage_share"]["running"]),
                                  ("damage_soak", segment["damage_share"]["soak"]),
                                  ("damage_parked", segment["damage_share"]["parked"])):
                self.assertEqual(float(row[column]), value, column)

    def test_csv_keeps_odd_names(self):
        case = json.loads(self.case.read_bytes())
        names = ['left, "upper" loom', "zwei\nZeilen, \u00fcber dem Motor"]
        for segment, name in zip(case["segments"], names):
            segment["name"] = name
        self.case.write_text(json.dumps(case), encoding="utf-8")
        rows = list(csv.DictReader(io.StringIO(self.output("estimate", str(self.case), "--likely", "--csv").decode(), newline="")))
        self.assertEqual(sorted(row["name"] for row in rows), sorted(names))

    # --- estimate: text ---------------------------------------------------------------------------------------------------------------

    def texts(self):
        """Text for people of every verb and every template."""
        for template in templates():
            path = self.folder / f"{template}.case.json"
            path.write_bytes(self.output(*start(template)))
            yield template, self.output("estimate", "--draws", "500", str(path)).decode()
            yield template + " check", self.output("check", path.name, cwd=self.folder).decode()
        yield "materials", self.output("materials").decode()
        for name in records():
            yield name, record_shown(name).stdout.decode()

    def test_text_fits_the_page(self):
        for name, text in self.texts():
            for line in text.splitlines():
                with self.subTest(name):
                    self.assertLessEqual(len(line), PAGE_WIDTH, line)

    def test_cautions_come_before_the_list(self):
        text = self.output("estimate", "--draws", "500", str(self.case)).decode()
        cautions = self.estimate()["cautions"]
        self.assertGreaterEqual(len(cautions), 8)
        table = text.index("\nsegment ")
        flowing = " ".join(text[:table].replace("\n  ", " ").replace("\n! ", " ").split())
        for caution in cautions:
            self.assertIn(" ".join(caution.split()), flowing)

    def test_text_bears_no_ranks(self):
        for template in templates():
            path = self.folder / f"{template}.case.json"
            path.write_bytes(self.output(*start(template)))
            text = self.output("estimate", "--draws", "500", str(path)).decode()
            table = text[text.index("\nsegment ") + 1:].split("\n\n")[0]
            self.assertNotRegex(table, r"(?m)^\s*(#\s*)?[0-9]+[.):]?\s")
            self.assertNotRegex(text, r"(?i)\b(rank|no\.|number one|first place)\b")
            self.assertIn("Weakest first", text)

    def test_words_that_are_never_printed(self):
        forbidden = re.compile(r"(?i)\bok to drive\b|\bsafe\b|\bpass\b(?![\s-]+marks?\b)")
        outputs = list(self.texts())
        for verb in VERBS:
            outputs.append((verb, self.output(verb, "--help").decode()))
        outputs.append(("--help", self.output("--help").decode()))
        outputs.append(("materials --json", self.output("materials", "--json").decode()))
        outputs.append(("estimate --json", self.output("estimate", "--draws", "500", "--json", "--histogram", str(self.case)).decode()))
        outputs.append(("estimate --csv", self.output("estimate", "--draws", "500", "--csv", str(self.case)).decode()))
        outputs.append(("check --json", self.output("check", "--json", str(self.case)).decode()))
        outputs.extend((f"start {template}", self.output(*start(template)).decode()) for template in templates())
        for name, text in outputs:
            with self.subTest(name):
                found = [text[max(0, match.start() - 40):match.end() + 40] for match in forbidden.finditer(text)]
                self.assertEqual(found, [])

    def test_soft_grades_are_confessed(self):
        text = self.output("estimate", "--draws", "500", str(self.case)).decode()
        self.assertIn("\nRests on ", text)
        confession = text[text.index("\nRests on "):]
        soft = [entry for entry in self.estimate()["rests_on"] if entry["soft"]]
        self.assertGreater(len(soft), 0)
        for entry in soft:
            self.assertIn(entry["weakest_grade"], ("judgement", "memory"))
            self.assertIn(entry["weakest_grade"], confession)
            self.assertRegex(confession, rf"\b{re.escape(entry['id'])}\b")

    # --- the same answer everywhere -----------------------------------------------------------------------------------------------------

    def test_surroundings_change_nothing(self):
        elsewhere = self.folder / "elsewhere"
        elsewhere.mkdir()
        plain = {"PATH": os.environ.get("PATH", ""), "LC_ALL": "C"}
        changes = {
            "Turkish": (plain | {"LC_ALL": "tr_TR.UTF-8", "LANG": "tr_TR.UTF-8"}, self.folder),
            "German": (plain | {"LC_ALL": "de_DE.UTF-8", "LC_NUMERIC": "de_DE.UTF-8"}, self.folder),
            "Tokyo": (plain | {"TZ": "Asia/Tokyo"}, self.folder),
            "Honolulu": (plain | {"TZ": "Pacific/Honolulu"}, self.folder),
            "no colour": (plain | {"NO_COLOR": "1"}, self.folder),
            "narrow terminal": (plain | {"COLUMNS": "40", "TERM": "xterm-256color"}, self.folder),
            "other folder": (plain, elsewhere),
            "nothing set": ({}, self.folder),
        }
        for arguments in (["estimate", str(self.case)], ["estimate", "--json", "--histogram", str(self.case)],
                          ["estimate", "--csv", str(self.case)], ["check", str(self.case)], ["materials", "csm"], ["--help"], start()):
            expected = self.output(*arguments, env=plain, cwd=self.folder)
            self.assertNotIn(b"\x1b", expected)
            for name, (environment, folder) in changes.items():
                with self.subTest(arguments[0], change=name):
                    self.assertEqual(self.output(*arguments, env=environment, cwd=folder), expected)

    def test_a_relative_name_gives_the_same_answer(self):
        absolute = self.output("estimate", "--draws", "500", "--json", str(self.case))
        self.assertEqual(self.output("estimate", "--draws", "500", "--json", "van.case.json", cwd=self.folder), absolute)
        self.assertEqual(self.output("estimate", "--draws", "500", "--json", "./van.case.json", cwd=self.folder), absolute)

    def test_options_may_stand_anywhere(self):
        expected = self.output("estimate", "--json", "--likely", str(self.case))
        self.assertEqual(self.output("estimate", str(self.case), "--likely", "--json"), expected)
        self.assertEqual(self.output("estimate", "--likely", str(self.case), "--json", "--draws", "1"), expected)

    # --- materials ----------------------------------------------------------------------------------------------------------------------

    def test_materials_lists_every_record(self):
        text = self.output("materials").decode()
        for name in [*records(), *templates()]:
            with self.subTest(name):
                self.assertRegex(text, rf"(?m)^  {re.escape(name)}( |$)")

    def test_materials_shows_every_record(self):
        for name, document in records().items():
            with self.subTest(name):
                self.assertEqual((record_shown(name).returncode, record_shown(name).stderr), (0, b""))
                text = record_shown(name).stdout.decode()
                self.assertTrue(text.startswith(f"{name} - "), text[:60])
                self.assertIn(document["name"].split()[0], text)
                self.assertIn("\nSources:\n", text)

    def test_materials_shows_every_template_it_lists(self):
        for name in templates():
            with self.subTest(name):
                result = run("materials", name)
                self.assertEqual(result.returncode, 0, result.stderr.decode())

    def test_every_number_of_a_record_is_shown_with_its_grade_and_source(self):
        document = records()["xlpo-125"]
        flowing = " ".join(self.output("materials", "xlpo-125").decode().split())
        numbers = []

        def walk(value):
            if isinstance(value, dict):
                if "value" in value:
                    numbers.append(value)
                for child in value.values():
                    walk(child)
            elif isinstance(value, list):
                for child in value:
                    walk(child)

        walk(document)
        self.assertGreater(len(numbers), 15)
        for number in numbers:
            self.assertIn(f"{number['value']:g}", flowing)
            self.assertIn(f"[{number['grade']}, {number['source']}]", flowing)
        for source in {number["source"] for number in numbers}:
            self.assertIn(f"{source}: ", flowing)

    def test_one_record_as_json(self):
        for name in ("xlpo-125", "head-cover", "europe", "model", "iso-metric"):
            with self.subTest(name):
                document = json.loads(self.output("materials", name, "--json"))
                self.assertEqual((document["format"], document["version"]), ("heatside-materials", 1))
                shown = [record for record in document["records"] if record["kind"] != "sources"]
                self.assertEqual(shown, [records()[name]])
                self.assertTrue(any(record["kind"] == "sources" for record in document["records"]))

    def test_all_records_as_json(self):
        document = json.loads(self.output("materials", "--json"))
        shown = {record["id"]: record for record in document["records"] if record["kind"] not in ("sources", "template")}
        self.assertEqual(shown, records())

    def test_own_records_replace_built_in_ones(self):
        before = self.estimate()
        record = records()[before["segments"][0]["insulation"]]
        hours = record["thermal_life"]["hours"]
        hours.update({"value": hours["value"] * 4, "high": hours["high"] * 4})
        folder = self.write_record("insulations", record["id"], record)
        after = self.estimate("--materials", folder)
        self.assertEqual(after["case_sha256"], before["case_sha256"])
        for old, new in zip(sorted(before["segments"], key=lambda s: s["id"]), sorted(after["segments"], key=lambda s: s["id"])):
            self.assertGreater(new["remaining_years"]["flex_cracks"]["p50"], old["remaining_years"]["flex_cracks"]["p50"])
        self.assertIn(f"{hours['value']:g} h", self.output("materials", record["id"], "--materials", folder).decode())
        self.assertEqual(self.estimate(), before)

    def test_own_records_add_to_the_built_in_ones(self):
        record = records()["xlpo-125"]
        record.update({"id": "our-wire", "name": "Our own wire"})
        folder = self.write_record("deep/below", "our-wire", record)
        self.assertIn("our-wire", self.output("materials", "--materials", folder).decode())
        case = json.loads(self.case.read_bytes())
        case["lots"][0]["insulation"] = "our-wire"
        self.case.write_text(json.dumps(case), encoding="utf-8")
        self.assertEqual({segment["insulation"] for segment in self.estimate("--materials", folder)["segments"]}, {"our-wire"})
        self.assertEqual(run("estimate", str(self.case)).returncode, 65)

    def test_order_of_files_of_own_records_does_not_matter(self):
        for name in ("b", "a", "c"):
            record = records()["xlpo-125"]
            record.update({"id": f"wire-{name}", "name": f"Wire {name}"})
            folder = self.write_record("x", name, record)
        text = self.output("materials", "--materials", folder).decode()
        self.assertLess(text.index("wire-a"), text.index("wire-b"))
        self.assertLess(text.index("wire-b"), text.index("wire-c"))


if __name__ == "__main__":
    PROGRAM = os.path.abspath(sys.argv[1])
    SOURCE = pathlib.Path(sys.argv[2])
    del sys.argv[1:3]
    unittest.main(verbosity=1)
