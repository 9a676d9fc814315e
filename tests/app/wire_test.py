"""The verb `wire`: its numbers against published ones, its two ways of asking, and what it refuses.

Usage: wire_test.py HEATSIDE_PROGRAM SOURCE_DIR
"""

import copy
import json
import math
import os
import pathlib
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
import unittest

PROGRAM = None
SOURCE = None

DONE, USAGE, BAD_DATA, NO_INPUT = 0, 64, 65, 66
PLAIN = {"size": "2.5 mm2", "wall": "thin", "insulation": "pvc-105", "air": 80, "current": 10}
FIELDS = ["format", "version", "engine", "conductor_Cel", "insulation_inner_Cel", "insulation_outer_Cel", "surface_Cel", "rise_K",
          "limit_Cel", "allowed_current_A", "margin_K", "own_heat_W_per_m", "equivalent_temperature_Cel", "life_hours", "rests_on",
          "cautions"]
GAS_CONSTANT = 8.31446261815324  # J/(mol K), exact since the SI of 2019


def run(*arguments, **options):
    options.setdefault("stdin", subprocess.DEVNULL)
    return subprocess.run([PROGRAM, *arguments], capture_output=True, timeout=120, check=False, **options)


def words(wishes):
    """Options on the command line; a hot body is a list of three numbers."""
    line = []
    for name, value in wishes.items():
        line += [f"--{name}", ",".join(map(str, value)) if isinstance(value, list) else str(value)]
    return line


def plain(**changes):
    wishes = dict(PLAIN)
    for name, value in changes.items():
        wishes[name.replace("_", "-")] = value
    return {name: value for name, value in wishes.items() if value is not None}


def insulation(name):
    return json.loads((SOURCE / "materials" / "insulations" / f"{name}.json").read_text(encoding="utf-8"))


def likely_life(record, celsius, wall):
    """life_hours lot_median / sum over the dry paths of share exp[(Ea/R)(1/T_ref - 1/T)], plasticiser loss times reference wall / wall."""
    life = record["thermal_life"]
    reference = life["temperature"]["value"] + 273.15
    faster = sum(path["share"]["value"] * (path["reference_wall"]["value"] / wall if "reference_wall" in path else 1) *
                 math.exp(1e3 * path["activation_energy"]["value"] / GAS_CONSTANT * (1 / reference - 1 / (celsius + 273.15)))
                 for path in record["paths"] if path["kind"] != "hydrolysis")
    return life["hours"]["value"] * record["lot"]["median"]["value"] / faster


class Wire(unittest.TestCase):
    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)

    def output(self, *arguments, **options):
        result = run("wire", *arguments, **options)
        self.assertEqual(result.returncode, DONE, result.stderr.decode("utf-8", "replace"))
        self.assertEqual(result.stderr, b"")
        return result.stdout.decode()

    def answer(self, wishes=None, **changes):
        return json.loads(self.output("--json", *words(wishes if wishes is not None else plain(**changes))))

    def file(self, content, name="wish.json"):
        path = self.folder / name
        path.write_bytes(content if isinstance(content, bytes) else json.dumps(content).encode())
        return str(path)

    def refused(self, code, arguments, *fragments):
        result = run("wire", *arguments)
        message = result.stderr.decode("utf-8", "replace")
        self.assertEqual(result.returncode, code, message)
        self.assertEqual(result.stdout, b"")
        for sign in ("terminate", "Sanitizer", "runtime error", "this is a bug"):
            self.assertNotIn(sign, message)
        for fragment in fragments:
            self.assertIn(fragment, message)
        return message

    # --- numbers from outside ---------------------------------------------------------------------------------------------------

    def test_aircraft_chart(self):
        # FAA AC 43.13-1B, example 2 to figure 11-4a (read): #14 carries 47 A for a rise of 150 K at 50 degC in free air.
        # Resistance 3.06 Ohm/1000 ft from its table 11-9 (read); diameters from memory.
        wishes = {"conductor-diameter": 1.85, "od": 2.45, "resistance": 10.04, "limit": 200, "air": 50, "current": 47}
        answer = self.answer(wishes)
        self.assertAlmostEqual(answer["allowed_current_A"] / 47, 1, delta=0.06)
        self.assertAlmostEqual(answer["rise_K"] / 150, 1, delta=0.12)
        # The same example (read): 8 wires loaded to 60 %, here 5 of 8: 0.60. 20 000 ft: 0.91.
        bundle = self.answer(wishes | {"wires": 8, "loaded": 5, "current": 20})
        self.assertAlmostEqual(bundle["allowed_current_A"] / answer["allowed_current_A"], 0.60, delta=0.03)
        high = self.answer(wishes | {"altitude": 6096})
        self.assertAlmostEqual(high["allowed_current_A"] / answer["allowed_current_A"], 0.91, delta=0.03)

    def test_vehicle_wire_in_still_air(self):
        # Own computation, done apart from this program (Morgan, grey radiation, greatest diameters and resistances of
        # ISO 6722-1 from memory): current for 105 degC in air of 80 degC.
        for diameter, outer, resistance, current in ((0.9, 1.4, 54.4, 7.2), (1.1, 1.6, 37.1, 9.0), (1.5, 2.1, 18.5, 13.9),
                                                     (2.2, 3.0, 7.6, 24.2), (3.4, 4.3, 3.14, 42.5)):
            with self.subTest(current):
                answer = self.answer({"conductor-diameter": diameter, "od": outer, "resistance": resistance, "limit": 105, "air": 80})
                self.assertAlmostEqual(answer["allowed_current_A"] / current, 1, delta=0.02)

    def test_hot_pipe(self):
        # Own computation, done apart from this program: a wire of 2.4 mm beside a pipe of 50 mm, air 80 degC.
        for pipe, distance, rise in ((300, 80, 14.0), (500, 40, 83.0), (700, 200, 44.8)):
            with self.subTest(pipe):
                answer = self.answer({"conductor-diameter": 1.8, "od": 2.4, "resistance": 12.7, "limit": 105, "air": 80,
                                      "hot-body": [pipe, 50, distance]})
                self.assertAlmostEqual(answer["rise_K"] / rise, 1, delta=0.05)
                self.assertEqual(answer["own_heat_W_per_m"], 0)

    def test_life_is_that_of_the_record(self):
        # Arrhenius law with the numbers of the record: one path, two dry paths, and one dry path beside a wet one.
        for name in ("pvc-105", "pp-fr", "pbt", "short-lived-1990s"):
            with self.subTest(name):
                answer = self.answer(insulation=name)
                hottest = answer["equivalent_temperature_Cel"]
                self.assertEqual(hottest, max(answer["insulation_inner_Cel"], answer["insulation_outer_Cel"]))
                self.assertAlmostEqual(answer["life_hours"] / likely_life(insulation(name), hottest, 0.35), 1, delta=1e-9)
        # At the temperature of its own point and in the wall of its record, 0.3 mm, a compound lasts the hours of the point,
        # times the likely lot; a wall twice as thick keeps its plasticiser twice as long, as `estimate` has it too.
        for wall, hours in ((0.3, 4500), (0.6, 9000)):
            self.assertAlmostEqual(self.answer(plain(current=0, air=105, wall=wall))["life_hours"], hours, delta=1e-3)
        # Where nothing evaporates, the wall does not matter.
        lives = [self.answer(plain(insulation="xlpo-125", current=0, wall=wall))["life_hours"] for wall in (0.3, 0.6)]
        self.assertAlmostEqual(lives[0] / lives[1], 1, delta=1e-9)

    def test_own_heat(self):
        # I2 R20 (1 + 0.00393 (T - 20)), IEC 60028, with the 7.6 mOhm/m that ISO 6722-1 allows for 2.5 mm2 (from memory).
        answer = self.answer(plain(wires=3, loaded=2))
        expected = 2 * 10 ** 2 * 7.6e-3 * (1 + 0.00393 * (answer["conductor_Cel"] - 20))
        self.assertAlmostEqual(answer["own_heat_W_per_m"] / expected, 1, delta=1e-9)

    # --- the answer hangs together ------------------------------------------------------------------------------------------------

    def test_fields(self):
        answer = self.answer()
        self.assertEqual(list(answer), FIELDS)
        self.assertEqual((answer["format"], answer["version"]), ("heatside-wire", 1))
        self.assertEqual(answer["engine"], run("--version").stdout.decode().strip())
        self.assertAlmostEqual(answer["rise_K"], answer["conductor_Cel"] - 80, delta=1e-9)
        self.assertAlmostEqual(answer["margin_K"], answer["limit_Cel"] - answer["insulation_inner_Cel"], delta=1e-9)
        for entry in answer["rests_on"]:
            self.assertEqual(list(entry), ["kind", "id", "name", "weakest_grade", "soft"])
        self.assertGreaterEqual(len(answer["cautions"]), 8)

    def test_the_allowed_current_leaves_no_margin(self):
        for changes in ({}, {"wires": 12, "loaded": 2}, {"hot_body": [350, 50, 150], "shield": "dirty", "speed": 1.5}):
            with self.subTest(changes):
                allowed = self.answer(plain(**changes))["allowed_current_A"]
                self.assertGreater(allowed, 0)
                self.assertAlmostEqual(self.answer(plain(current=allowed, **changes))["margin_K"], 0, delta=1e-4)

    def test_spellings_of_the_same_wire(self):
        expected = self.answer()
        same = ("conductor_Cel", "insulation_outer_Cel", "allowed_current_A", "life_hours")  # the life rests on the wall too
        # 2.5 mm2 thin: conductor 2.1 mm, wall 0.35 mm in the record iso-metric.
        for changes in ({"size": "2.5"}, {"size": "2.50"}, {"size": "2.5MM2"}, {"wall": 0.35}, {"wall": None, "od": 2.8}, {"wall": "thick", "od": 2.8},
                        {"size": None, "wall": None, "od": 2.8, "conductor_diameter": 2.1, "resistance": 7.6}, {"limit": 105},
                        {"wires": 1}, {"loaded": 1}, {"speed": 0, "altitude": 0}):
            with self.subTest(changes):
                other = self.answer(plain(**changes))
                for field in same:
                    self.assertAlmostEqual(other[field] / expected[field], 1, delta=1e-9)

        self.assertEqual(self.answer(plain(size="awg14")), self.answer(plain(size="AWG 14")))

    def test_what_helps_and_what_hurts(self):
        expected = self.answer()["conductor_Cel"]
        for changes in ({"current": 15}, {"wires": 5}, {"air": 90}, {"wall": "thin", "resistance": 9}, {"altitude": 3000},
                        {"hot_body": [300, 50, 100]}):
            with self.subTest(changes):
                self.assertGreater(self.answer(plain(**changes))["conductor_Cel"], expected)
        for changes in ({"current": 5}, {"speed": 1}, {"air": -40}):
            with self.subTest(changes):
                self.assertLess(self.answer(plain(**changes))["conductor_Cel"], expected)
        shields = [self.answer(plain(hot_body=[600, 50, 80], shield=shield))["conductor_Cel"] for shield in ("none", "dirty", "clean")]
        self.assertEqual(shields, sorted(shields, reverse=True))
        self.assertEqual(self.answer(plain(hot_body=[600, 50, 80]))["conductor_Cel"], shields[0])
        self.assertLess(self.answer(plain(wires=6, loaded=2))["conductor_Cel"], self.answer(plain(wires=6))["conductor_Cel"])

    def test_without_an_insulation_there_is_no_life(self):
        answer = self.answer(plain(insulation=None, limit=100))
        self.assertIsNone(answer["life_hours"])
        self.assertEqual(answer["limit_Cel"], 100)
        self.assertIn("insulation-values", [entry["id"] for entry in answer["rests_on"]])
        self.assertIn("no insulation was named", self.output(*words(plain(insulation=None, limit=100))))

    def test_what_it_rests_on(self):
        ids = lambda **changes: [entry["id"] for entry in self.answer(plain(**changes))["rests_on"]]
        self.assertEqual(ids(), ["2.5 mm2", "pvc-105", "wall", "heat-balance"])
        self.assertEqual(ids(wires=2, hot_body=[300, 50, 100], shield="clean"),
                         ["2.5 mm2", "pvc-105", "wall", "bundle", "heat-balance", "hot-body", "shield"])
        self.assertEqual(ids(size=None, od=2.8, conductor_diameter=2.1, resistance=7.6), ["pvc-105", "wall", "heat-balance"])
        self.assertEqual(ids(insulation="xlpo-125"), ["2.5 mm2", "xlpo-125", "heat-balance"])

    def test_own_records_win(self):
        record = copy.deepcopy(insulation("pvc-105"))
        record["rating"]["value"], record["rating"]["low"], record["rating"]["high"] = 90, 85, 95
        folder = self.folder / "records"
        folder.mkdir()
        (folder / "pvc-105.json").write_text(json.dumps(record), encoding="utf-8")
        answer = json.loads(self.output("--json", "--materials", str(folder), *words(PLAIN)))
        self.assertEqual(answer["limit_Cel"], 90)

    # --- text -------------------------------------------------------------------------------------------------------------------------

    def texts(self):
        for changes in ({}, {"current": 60}, {"air": 140}, {"current": 0, "air": -20}, {"insulation": "pbt"},
                        {"wires": 12, "loaded": 2, "hot_body": [450, 50, 80], "shield": "dirty", "speed": 2.5, "altitude": 1500},
                        {"insulation": None, "limit": 105}):
            yield self.output(*words(plain(**changes)))

    def test_text_fits_the_page_and_claims_nothing(self):
        for text in self.texts():
            for line in text.splitlines():
                self.assertLessEqual(len(line), 100, line)
            self.assertNotRegex(text, r"(?i)\bok to drive\b|\bsafe\b|\bpass\b|nan|inf\b")
            self.assertNotRegex(text, r"-0(\.0)? (K|degC)")

    def test_cautions_come_before_the_numbers(self):
        text = self.output(*words(PLAIN))
        head = " ".join(text[:text.index("\nconductor ")].replace("\n  ", " ").split())
        for caution in self.answer()["cautions"]:
            self.assertIn(" ".join(caution.split()), head)

    def test_text_says_what_json_says(self):
        text, answer = self.output(*words(PLAIN)), self.answer()
        for label, field in (("conductor", "conductor_Cel"), ("insulation, inside", "insulation_inner_Cel"),
                             ("insulation, outside", "insulation_outer_Cel"), ("surface", "surface_Cel"), ("limit", "limit_Cel"),
                             ("ages as if held at", "equivalent_temperature_Cel"), ("rise over the air", "rise_K")):
            self.assertRegex(text, rf"(?m)^{label} +{answer[field]:.1f} ")
        self.assertIn(f"{10 / answer['allowed_current_A'] * 100:.0f} % of the allowed", text)
        self.assertIn(f"({answer['life_hours']:.0f} h)", " ".join(text.split()))
        for tolerance in ("+-5 %", "5 to 20 % lower", "+-10 % in current", "+-20 % in rise", "touch a surface"):
            self.assertIn(tolerance, " ".join(text.split()))

    def test_text_says_when_the_limit_is_passed(self):
        self.assertIn("above the limit", self.output(*words(plain(current=60))))
        self.assertIn("the surroundings alone reach the limit", self.output(*words(plain(air=140))))
        self.assertIn("no current stated", self.output(*words(plain(current=None))))

    def test_zero_has_no_sign(self):
        # Air a hair below zero, a wire without current, and one a hair from its limit.
        self.assertRegex(self.output(*words(plain(air=-0.04, current=0))), r"(?m)^conductor +0\.0 degC$")
        self.assertRegex(self.output(*words(plain(current=0, air=80))), r"(?m)^rise over the air +0\.0 K,")
        for air in (104.99, 105, 105.01):
            self.assertRegex(self.output(*words(plain(current=0, air=air))), r"(?m)^margin +0\.0 K, at the limit;")

    def test_life_in_words(self):
        # Own arithmetic of the test: pvc-105 in the wall of its record lasts 4500 h at 105 degC, a law of one energy.
        record = insulation("pvc-105")
        energy = 1e3 * record["paths"][0]["activation_energy"]["value"]

        def at(hours):
            celsius = 1 / (1 / 378.15 + GAS_CONSTANT / energy * math.log(hours / 4500)) - 273.15
            return " ".join(self.output(*words(plain(wall=0.3, current=0, air=celsius, limit=300))).split())

        for hours, text in ((48, "about 2 days (48 h)"), (24, "about 1 day (24 h)"), (7.2, "about 0.3 days (7.2 h)"),
                            (870, "about 36 days (870 h)"),
                            (880, "about 0.1 years (880 h)"), (4383, "about 0.5 years (4383 h)"), (8766, "about 1 year (8766 h)"),
                            (11000, "about 1 year (11000 h)"), (17532, "about 2 years (17532 h)"),
                            (41 * 8766, "over 40 years by heat alone")):
            with self.subTest(hours):
                self.assertIn(text, at(hours))

    def test_soft_grades_are_confessed(self):
        text = " ".join(self.output(*words(plain(wires=3))).split())
        for entry in self.answer(plain(wires=3))["rests_on"]:
            self.assertRegex(text, rf"Rests on {entry['weakest_grade']}: [^:]*{re.escape(entry['id'])}")

    def test_the_example_of_the_help_works(self):
        text = self.output("--help")
        self.assertTrue(text.startswith("Example:  heatside wire "))
        for line in text.splitlines():
            self.assertLessEqual(len(line), 100, line)
        example = text.split("\n\n")[0].removeprefix("Example:").replace("\\\n", " ")
        self.output(*shlex.split(example)[2:])

    # --- options from a file ------------------------------------------------------------------------------------------------------------

    def test_a_file_says_what_the_command_line_says(self):
        wishes = plain(wires=12, loaded=2, hot_body=[450, 50, 120], shield="dirty", speed=0.5, altitude=800, limit=100)
        path = self.file(wishes)
        self.assertEqual(self.output("--from", path, "--json"), self.output("--json", *words(wishes)))
        self.assertEqual(self.output("--from", path), self.output(*words(wishes)))
        with open(path, "rb") as text:
            self.assertEqual(self.output("--from", "-", stdin=text), self.output(*words(wishes)))
        self.assertEqual(self.output("--from", self.file(plain(size=2.5, wall=0.35)), "--json"),
                         self.output("--json", *words(plain(size=2.5, wall=0.35))))

    def test_the_command_line_wins(self):
        path = self.file(plain(current=20, wall="thick"))
        self.assertEqual(self.output("--from", path, "--json", "--current", "10", "--wall", "thin"), self.output("--json", *words(PLAIN)))
        # Also over measures in the file that would overrule it.
        path = self.file({"od": 3.5, "conductor-diameter": 2.0, "resistance": 8, "insulation": "pvc-105", "air": 80, "current": 10})
        self.assertEqual(self.output("--from", path, "--json", "--size", "2.5 mm2", "--wall", "thin"),
                         self.output("--json", *words(PLAIN)))
        self.refused(BAD_DATA, ["--from", path, "--size", "2.5 mm2"], "--wall")
        path = self.file(plain(od=3.5))
        self.assertEqual(self.output("--from", path, "--json", "--wall", "thin"), self.output("--json", *words(PLAIN)))

    def test_a_file_is_read_strictly(self):
        for content, fragments in (
                (PLAIN | {"curent": 5}, ["/curent", "unknown key"]),
                ({name: value for name, value in PLAIN.items() if name != "current"} | {"curent": 5}, ['nearest is "current"']),
                (PLAIN | {"air": "80"}, ["/air", "expected a number, found a text"]),
                (PLAIN | {"air": 176}, []),
                (PLAIN | {"air": 350}, ["/air", "Fahrenheit"]),
                (PLAIN | {"size": "2.4 mm2"}, ["/size", 'unknown conductor size "2.4 mm2"', "nearest"]),
                (PLAIN | {"insulation": "pvc-106"}, ["/insulation", 'nearest is "pvc-105"']),
                (PLAIN | {"wall": "thn"}, ["/wall", 'nearest is "thin"']),
                (PLAIN | {"wall": True}, ["/wall", "expected a text or a number"]),
                (PLAIN | {"wires": 2.5}, ["/wires", "whole number"]),
                (PLAIN | {"hot-body": "450,50,80"}, ["/hot-body", "expected ["]),
                (PLAIN | {"hot-body": [450, 50]}, ["/hot-body"]),
                (PLAIN | {"hot-body": [450, 50, 0.5]}, ["/hot-body", "outside the range"]),
                (PLAIN | {"shield": "rusty"}, ["/shield", "unknown shield"]),
                ({name: value for name, value in PLAIN.items() if name != "air"}, ["--air is missing"]),
                ([PLAIN], ["expected an object"]),
                (b"", ["line 1"]),
                (b'{"air": 80, "air": 90}', ["given twice"]),
                (b'{"air": 1e999}', ["range of double"])):
            with self.subTest(content):
                path = self.file(content)
                if not fragments:
                    self.output("--from", path)
                    continue
                self.refused(BAD_DATA, ["--from", path], *fragments)

    def test_every_problem_of_a_file_at_once(self):
        message = self.refused(BAD_DATA, ["--from", self.file(PLAIN | {"air": 400, "wall": "fat", "wires": 0, "x": 1})])
        for pointer in ("/air", "/wall", "/wires", "/x"):
            self.assertIn(pointer, message)

    def test_no_file(self):
        self.refused(NO_INPUT, ["--from", str(self.folder / "none.json")], "none.json")
        self.refused(NO_INPUT, ["--from", str(self.folder)], "directory")

    # --- what is refused ------------------------------------------------------------------------------------------------------------------

    def test_wrong_options(self):
        for changes, fragments in (
                ({"air": None}, ["--air is missing"]),
                ({"size": None}, ["--size is missing", "--conductor-diameter"]),
                ({"size": None, "conductor_diameter": 2.1}, ["--resistance"]),
                ({"size": None, "conductor_diameter": 2.1, "resistance": 7.6}, ["--wall thin needs a --size"]),
                ({"wall": None}, ["--wall", "--od"]),
                ({"insulation": None}, ["--insulation", "--limit"]),
                ({"air": "hot"}, ["--air", "hot"]),
                ({"air": "nan"}, ["--air"]),
                ({"air": "-61"}, ["--air", "-60"]),
                ({"air": 300.1}, ["--air", "Fahrenheit"]),
                ({"air": "inf"}, ["--air"]),
                ({"current": "1O"}, ["--current"]),
                ({"current": -1}, ["--current", "outside the range"]),
                ({"wires": 0}, ["--wires", "outside the range"]),
                ({"wires": 1.5}, ["--wires", "whole number"]),
                ({"loaded": 0}, ["--loaded"]),
                ({"speed": -1}, ["--speed"]),
                ({"altitude": 50000}, ["--altitude"]),
                ({"wall": 0}, ["--wall", "outside the range"]),
                ({"wall": "thinn"}, ["--wall", 'nearest is "thin"', "millimetres"]),
                ({"size": "2.4 mm2"}, ["--size", "nearest"]),
                ({"size": "14"}, ["14 mm2", "AWG 14"]),
                ({"size": "AWG 144"}, ['nearest is "AWG 14"']),
                ({"size": "12 mm2"}, ["no conductor diameter", "--conductor-diameter"]),
                ({"size": "AWG 6"}, ["no thin wall is tabulated for AWG 6", "--od"]),
                ({"insulation": "pcv-105"}, ["--insulation", 'nearest is "pvc-105"']),
                ({"hot_body": "450,50"}, ["--hot-body", "450,50,80"]),
                ({"hot_body": "450,50,80,1"}, ["--hot-body"]),
                ({"hot_body": "450,,80"}, ["--hot-body"]),
                ({"hot_body": "2000,50,80"}, ["--hot-body", "outside the range"]),
                ({"shield": "clean"}, ["--shield", "--hot-body"]),
                ({"hot_body": "450,50,80", "shield": "cleen"}, ['nearest is "clean"']),
                ({"curent": 3}, ["--curent"])):
            with self.subTest(changes):
                self.refused(USAGE, words(plain(**changes)), *fragments)
        # All that is missing in one go.
        self.refused(USAGE, [], "--size is missing", "--wall", "--insulation", "--air is missing")
        self.refused(USAGE, words({"conductor-diameter": 2.1}), "--resistance is missing", "--wall", "--insulation", "--air is missing")
        self.refused(BAD_DATA, ["--from", self.file({"size": "2.5 mm2"})], "--wall", "--insulation", "--air is missing")
        self.refused(USAGE, [*words(PLAIN), "wish.json"])
        self.refused(USAGE, [*words(PLAIN), "--air", "90"])

    def test_what_the_model_cannot_answer(self):
        for changes, fragments in (
                ({"current": 900}, ["900", "no steady state"]),
                ({"wires": 60, "current": 40}, ["no steady state"]),
                ({"wires": 3, "loaded": 4}, ["4 loaded wires in a bundle of 3"]),
                ({"od": 2.1}, ["no insulation wall"]),
                ({"od": 1.0}, ["no insulation wall"]),
                ({"hot_body": "450,50,20"}, ["inside the wire"]),
                ({"hot_body": "450,50,26"}, ["inside the wire", "26.4 mm"])):
            with self.subTest(changes):
                self.refused(BAD_DATA, words(plain(**changes)), *fragments)
        self.output(*words(plain(hot_body="450,50,26.5")))


if __name__ == "__main__":
    PROGRAM = os.path.abspath(sys.argv[1])
    SOURCE = pathlib.Path(sys.argv[2])
    del sys.argv[1:3]
    unittest.main(verbosity=1)
