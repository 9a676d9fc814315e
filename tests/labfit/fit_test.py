"""The verb `fit`: its answers in text, JSON and drawing, the record it makes, and what it refuses.

Usage: fit_test.py HEATSIDE_PROGRAM SOURCE_DIR
"""

import json
import math
import pathlib
import re
import subprocess
import sys
import tempfile
import time
import unittest
import xml.etree.ElementTree

PROGRAM = None
SOURCE = None

DONE, USAGE, BAD_DATA, NO_INPUT, CANNOT_WRITE = 0, 64, 65, 66, 73
PAGE_WIDTH = 100
SVG = "{http://www.w3.org/2000/svg}"


def run(*arguments, **options):
    options.setdefault("stdin", subprocess.DEVNULL)
    return subprocess.run([PROGRAM, *map(str, arguments)], capture_output=True, text=True, timeout=300, check=False, **options)


def data(name):
    return SOURCE / "tests" / "labfit" / "data" / f"{name}.csv"


def example():
    return SOURCE / "examples" / "oven-test.csv"


class Fit(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)

    def table(self, text, name="t.csv"):
        path = self.folder / name
        path.write_text(text, encoding="utf-8")
        return path

    def json_of(self, *arguments):
        answer = run("fit", *arguments, "--json")
        self.assertEqual(answer.returncode, DONE, answer.stderr)
        return json.loads(answer.stdout)

    def refused(self, code, words, *arguments):
        answer = run("fit", *arguments)
        self.assertEqual(answer.returncode, code, answer.stdout + answer.stderr)
        self.assertIn(words, answer.stderr)
        self.assertEqual(answer.stdout, "")
        return answer.stderr


class Answers(Fit):
    def test_json_holds_what_is_promised(self):
        answer = self.json_of(data("class-h-motorettes"), "--at-temperature", "180", "--quantile", "0.5,0.1")
        self.assertEqual((answer["format"], answer["version"]), ("heatside-fit", 1))
        self.assertEqual([model["distribution"] for model in answer["models"]], ["log-normal", "weibull"])
        for model in answer["models"]:
            self.assertEqual(model["offset_K"], 273.15)
            self.assertEqual(set(model["standard_error"]), {"intercept", "slope_K", "scale"})
            energy = model["activation_energy"]
            self.assertEqual(set(energy), {"value_kJ_mol", "lo", "hi", "level", "method"})
            self.assertLess(energy["lo"], energy["value_kJ_mol"])
            self.assertLess(energy["value_kJ_mol"], energy["hi"])
            self.assertEqual([(life["temperature_Cel"], life["p"]) for life in model["life"]], [(180, 0.5), (180, 0.1)])
            self.assertAlmostEqual(model["aic"], 6 - 2 * model["log_likelihood"], places=9)
            self.assertEqual(sum(residual["count"] for residual in model["residuals"]), 40)
        chain = answer["iec60216"]
        for key in ("groups", "s1_squared", "s2_squared", "F", "F_limit", "linear", "chi2", "chi2_limit", "equal_spread",
                    "intercept", "slope_K", "TI_Cel", "TC_Cel", "HIC_K", "hours"):
            self.assertIn(key, chain)
        # IEC 60216-3 for Nelson's class-H motorettes, computed independently from the formulas.
        self.assertAlmostEqual(chain["TI_Cel"], 165.305633330896, places=6)
        self.assertAlmostEqual(chain["TC_Cel"], 160.018508331533, places=6)
        self.assertAlmostEqual(chain["HIC_K"], 18.426025432818, places=7)
        self.assertIs(chain["linear"], True)
        self.assertIs(chain["equal_spread"], False)
        self.assertEqual(chain["hours"], 20000)
        self.assertTrue(any("do not scatter equally" in warning for warning in answer["warnings"]))
        self.assertTrue(answer["cautions"])

    def test_options_reach_the_fit(self):
        one = self.json_of(example(), "--distribution", "weibull", "--level", "0.9", "--interval", "wald", "--hours", "5000")
        self.assertEqual(len(one["models"]), 1)
        self.assertEqual(one["models"][0]["distribution"], "weibull")
        energy = one["models"][0]["activation_energy"]
        self.assertEqual((energy["method"], energy["level"]), ("wald", 0.9))
        # A Wald interval is the estimate and 1.6449 standard errors.
        reach = 1.6448536269514722 * one["models"][0]["standard_error"]["slope_K"] * 8.31446261815324e-3
        self.assertAlmostEqual(energy["hi"] - energy["value_kJ_mol"], reach, places=8)
        self.assertIsNone(one["iec60216"])
        self.assertIn("complete data", one["iec60216_why_not"])
        apart = self.json_of(data("class-h-motorettes"), "--scale", "per-temperature", "--distribution", "log-normal")
        self.assertEqual(len(apart["models"][0]["scales"]), 4)
        self.assertEqual(self.json_of(data("class-h-motorettes"), "--hours", "5000")["iec60216"]["hours"], 5000)

    def test_text_is_for_people(self):
        answer = run("fit", data("class-h-motorettes"), "--at-temperature", "180", "--steps")
        self.assertEqual(answer.returncode, DONE, answer.stderr)
        for line in answer.stdout.splitlines():
            self.assertLessEqual(len(line), PAGE_WIDTH, line)
        for words in ("40 specimens at 4 temperatures", "Log-normal life", "Weibull life", "activation energy", "IEC 60216-3",
                      "mu2(x)", "s1^2 within ovens", "TI (HIC): 165 (18.4)", "Furthest from the log-normal line",
                      "profile likelihood", "widest at 260 Cel"):
            self.assertIn(words, answer.stdout)
        self.assertNotRegex(answer.stdout.lower(), r"\bsafe\b|\bpass\b|\bok\b")

    def test_example_says_that_it_is_invented(self):
        answer = run("fit", example())
        self.assertEqual(answer.returncode, DONE, answer.stderr)
        self.assertIn("Invented data", answer.stdout)

    def test_help_begins_with_an_example_that_runs(self):
        answer = run("fit", "--help")
        self.assertEqual(answer.returncode, DONE)
        self.assertTrue(answer.stdout.startswith("Example:  heatside fit examples/oven-test.csv"))
        words = answer.stdout.split("\n\n")[0].removeprefix("Example:  heatside ").replace("\\\n", " ").split()
        words = [str(self.folder / word) if word in ("life.svg", "lab-xlpo.json") else word for word in words]
        again = run(*words, cwd=SOURCE)
        self.assertEqual(again.returncode, DONE, again.stderr)
        self.assertTrue((self.folder / "lab-xlpo.json").exists())

    def test_standard_input_and_the_same_bytes(self):
        text = example().read_text(encoding="utf-8")
        once, twice = (run("fit", "-", "--json", input=text, stdin=None) for _ in range(2))
        self.assertEqual(once.returncode, DONE, once.stderr)
        self.assertEqual(once.stdout, twice.stdout)

    def test_order_of_rows_does_not_matter(self):
        rows = data("three-cells").read_text(encoding="utf-8").splitlines()
        start = next(i for i, row in enumerate(rows) if row.startswith("temperature")) + 1
        turned = self.table("\n".join(rows[:start] + rows[:start - 1:-1]) + "\n")
        self.assertEqual(self.json_of(turned)["models"], self.json_of(data("three-cells"))["models"])

    def test_a_million_rows(self):
        rows = []
        for i in range(1000):
            celsius = (140, 155, 170, 185)[i % 4]
            hours = math.exp(-20 + 11800 / (celsius + 273.15) + 0.3 * math.sin(i * 1.7) * 1.4)
            rows.append(f"{celsius},{min(hours, 6000):.2f},{int(hours < 6000)}\n")
        table = self.table("temperature_Cel,hours,status\n" + "".join(rows) * 1000)
        began = time.monotonic()
        answer = self.json_of(table, "--at-temperature", "120")
        self.assertLess(time.monotonic() - began, 120)
        self.assertEqual(answer["data"]["specimens"], 1000000)
        few = self.json_of(self.table("temperature_Cel,hours,status\n" + "".join(rows), "few.csv"), "--at-temperature", "120")
        # A thousand times the same rows: the same line, errors smaller by the root of a thousand.
        for many_rows, few_rows in zip(answer["models"], few["models"]):
            self.assertAlmostEqual(many_rows["slope_K"] / few_rows["slope_K"], 1, places=8)
            ratio = few_rows["standard_error"]["slope_K"] / many_rows["standard_error"]["slope_K"]
            self.assertAlmostEqual(ratio, math.sqrt(1000), places=5)


class Readings(Fit):
    def elongations(self):
        """Invented: elongation that falls as exp(-(k t)^1.5), 110 kJ/mol, three pieces a time with a fixed scatter."""
        rows = ["# Invented data.", "temperature_Cel,hours,value"]
        for celsius in (120, 135, 150, 165, 180):
            rate = 1e-3 * math.exp(110e3 / 8.31446261815324 * (1 / 423.15 - 1 / (celsius + 273.15)))
            for progress in (0.0, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5):
                for scatter in (-4, 0, 4):
                    rows.append(f"{celsius},{progress / rate:.4f},{300 * math.exp(-progress ** 1.5) + scatter:.3f}")
        return self.table("\n".join(rows) + "\n", "elongation.csv")

    def test_torn_pieces(self):
        answer = self.json_of(self.elongations(), "--retained", "0.5")["readings"]
        self.assertAlmostEqual(answer["end_point"], 150)
        self.assertFalse(answer["repeated_specimens"])
        self.assertEqual(len(answer["crossings"]), 5)
        self.assertAlmostEqual(answer["crossing_activation_energy"]["value_kJ_mol"], 110, places=2)
        self.assertAlmostEqual(answer["superposition"]["activation_energy"]["value_kJ_mol"], 110, places=2)
        self.assertIn("one path", answer["superposition"]["verdict"])

    def test_record_of_torn_pieces(self):
        record = self.folder / "torn.json"
        answer = run("fit", self.elongations(), "--end-point", "50", "--elongation", "--record", "torn", "--like", "xlpo-125", "-o", record)
        self.assertEqual(answer.returncode, DONE, answer.stderr)
        written = json.loads(record.read_text(encoding="utf-8"))
        self.assertEqual(written["thermal_life"]["end_elongation"]["value"], 50)
        self.assertAlmostEqual(written["initial_elongation"]["value"], 300)
        self.assertEqual(written["initial_elongation"]["grade"], "measured")
        self.assertAlmostEqual(written["paths"][0]["activation_energy"]["value"], 110, places=2)

    def test_text_and_drawing(self):
        plot = self.folder / "p.svg"
        answer = run("fit", self.elongations(), "--retained", "0.5", "--plot", plot)
        self.assertEqual(answer.returncode, DONE, answer.stderr)
        for words in ("Readings fall to the end point 150, from 300 when new", "All curves laid over that of 120 Cel", "one path or two"):
            self.assertIn(words, answer.stdout)
        xml.etree.ElementTree.parse(plot)

    def test_repeated_specimens_have_lives(self):
        answer = self.json_of(data("resistors"), "--end-point", "30", "--initial", "0", "--crossing", "through-start")
        self.assertTrue(answer["readings"]["repeated_specimens"])
        self.assertEqual(answer["data"]["specimens"], 20)
        self.assertEqual(len(answer["models"]), 2)

    def test_readings_need_an_end_point(self):
        self.refused(BAD_DATA, "--end-point", data("resistors"))


class Drawing(Fit):
    def test_title_description_and_no_colour(self):
        plot = self.folder / "life.svg"
        self.assertEqual(run("fit", example(), "--at-temperature", "105", "--plot", plot).returncode, DONE)
        text = plot.read_text(encoding="utf-8")
        root = xml.etree.ElementTree.fromstring(text)
        self.assertEqual(root.tag, SVG + "svg")
        self.assertIn("oven-test.csv", root.find(SVG + "title").text)
        description = root.find(SVG + "desc").text
        for words in ("135 Cel: 6 failed, 2 alive", "At 105 Cel half have failed"):
            self.assertIn(words, description)
        for colour in re.findall(r"#[0-9a-f]{3,6}", text):
            digits = colour[1:]
            channels = [digits[i:i + len(digits) // 3] for i in range(0, len(digits), len(digits) // 3)]
            self.assertEqual(len(set(channels)), 1, colour)
        self.assertNotIn("href", text)

    def test_everything_lies_on_the_page(self):
        plot = self.folder / "life.svg"
        for table in (example(), data("three-cells"), data("capacitors")):
            self.assertEqual(run("fit", table, "--at-temperature", "60", "--plot", plot, "--force").returncode, DONE)
            root = xml.etree.ElementTree.parse(plot).getroot()
            for line in root.iter(SVG + "line"):
                for key, most in (("x1", 760), ("x2", 760), ("y1", 520), ("y2", 520)):
                    self.assertTrue(0 <= float(line.get(key)) <= most, (table, line.attrib))

    def test_a_name_with_markup_in_it(self):
        table = self.table(example().read_text(encoding="utf-8").replace("# Invented", "# <b>&Invented"), "a<b>&c.csv")
        plot = self.folder / "life.svg"
        self.assertEqual(run("fit", table, "--plot", plot).returncode, DONE)
        self.assertIn("a<b>&c.csv", xml.etree.ElementTree.parse(plot).getroot().find(SVG + "title").text)

    def test_a_file_that_exists_stays(self):
        plot = self.table("mine", "life.svg")
        self.refused(CANNOT_WRITE, "--force", example(), "--plot", plot)
        self.assertEqual(plot.read_text(encoding="utf-8"), "mine")


class Record(Fit):
    def made(self, *more, like="xlpo-125"):
        own = self.folder / "own"
        own.mkdir(exist_ok=True)
        answer = run("fit", example(), "--record", "lab-one", "--like", like, "-o", own / "lab-one.json", "--force", *more)
        self.assertEqual(answer.returncode, DONE, answer.stderr)
        return own, json.loads((own / "lab-one.json").read_text(encoding="utf-8"))

    def test_it_is_what_was_fitted(self):
        _, record = self.made("--distribution", "log-normal")
        model = self.json_of(example(), "--distribution", "log-normal")["models"][0]
        life = record["thermal_life"]
        expected = math.exp(model["intercept"] + model["slope_K"] / (life["temperature"]["value"] + 273.15))
        self.assertAlmostEqual(life["hours"]["value"] / expected, 1, places=9)
        self.assertEqual((life["hours"]["grade"], life["basis"]), ("measured", "measured"))
        self.assertAlmostEqual(record["paths"][0]["activation_energy"]["value"], model["activation_energy"]["value_kJ_mol"], places=9)
        self.assertAlmostEqual(math.sqrt(record["fit_covariance"]["energy_variance"]["value"]) / 8.31446261815324e-3,
                               model["standard_error"]["slope_K"], places=6)
        self.assertEqual(record["density"]["grade"], "catalogue")

    def test_check_and_estimate_take_it(self):
        own, _ = self.made()
        answer = run("check", own / "lab-one.json")
        self.assertEqual(answer.returncode, DONE, answer.stderr)
        case = self.folder / "c.case.json"
        started = run("start", "--template", "plain-two-segment", "--built", "1994", "--inspected", "2026-01-01")
        document = json.loads(started.stdout)
        for lot in document["lots"]:
            lot["insulation"] = "lab-one"
        case.write_text(json.dumps(document), encoding="utf-8")
        unknown = run("estimate", case, "--likely", "--json")
        self.assertEqual(unknown.returncode, BAD_DATA)
        estimate = run("estimate", case, "--likely", "--json", "--materials", own)
        self.assertEqual(estimate.returncode, DONE, estimate.stderr)
        self.assertEqual({segment["insulation"] for segment in json.loads(estimate.stdout)["segments"]}, {"lab-one"})

    def test_its_sheet_shows_the_covariance(self):
        own, _ = self.made()
        answer = run("materials", "lab-one", "--materials", own)
        self.assertEqual(answer.returncode, DONE, answer.stderr)
        self.assertIn("known from a fit", answer.stdout)

    def test_without_like_it_says_what_is_missing(self):
        self.refused(USAGE, "--record needs --like ID", example(), "--record", "x", "-o", self.folder / "x.json")

    def test_other_ways_to_ask_wrongly(self):
        output = ("-o", self.folder / "x.json")
        self.refused(USAGE, "nearest is \"xlpo-125\"", example(), "--record", "x", "--like", "xlpo-12", *output)
        self.refused(USAGE, "--record needs -o", example(), "--record", "x", "--like", "xlpo-125")
        self.refused(USAGE, "belong to --record", example(), "--like", "xlpo-125")
        self.refused(USAGE, "--source", example(), "--record", "x", "--like", "xlpo-125", "--source", "nowhere", *output)
        self.refused(BAD_DATA, "is no id", example(), "--record", "Two Words", "--like", "xlpo-125", *output)
        self.assertFalse((self.folder / "x.json").exists())


class Refusals(Fit):
    def test_bad_tables(self):
        for text, words in (("temperature_Cel,hours,hours\n150,1,2\n", "stands twice"),
                            ("temperature_Cel,hours\n150,900\n150,nine hundred\n", "line 3, column 2 (hours): \"nine hundred\" is not a number"),
                            ("temperature_Cel,hours\n150,-900\n", "line 2, column 2 (hours): -900 h is outside the range"),
                            ("temperature_Cel,hours\n302,900\n338,500\n374,90\n", "look like degrees Fahrenheit"),
                            ("temperature_Cel,hours\n482,900\n", "Fahrenheit or kelvin"),
                            ("temperature_Cel,hours\n150,900\n150,1000\n", "one temperature only"),
                            ("temperature_Cel,hours,status\n150,900,0\n170,900,0\n", "no specimen has failed"),
                            ("", "no header line")):
            with self.subTest(words=words):
                self.refused(BAD_DATA, words, self.table(text))

    def test_a_group_with_one_specimen_is_fitted_and_named(self):
        answer = self.json_of(self.table("temperature_Cel,hours\n150,9000\n150,9900\n165,4000\n180,1600\n180,1900\n"))
        self.assertTrue(any("One specimen only at 165 Cel" in warning for warning in answer["warnings"]))
        self.assertIsNotNone(answer["iec60216"])

    def test_options(self):
        for words, arguments in (("--distribution", ("--distribution", "gamma")), ("--scale", ("--scale", "wide")),
                                 ("--level", ("--level", "95")), ("--quantile", ("--quantile", "0")),
                                 ("--interval", ("--interval", "guess")), ("--hours", ("--hours", "-1")),
                                 ("--at-temperature", ("--at-temperature", "900"))):
            with self.subTest(arguments=arguments):
                self.refused(USAGE, words, example(), *arguments)

    def test_no_file(self):
        self.refused(NO_INPUT, "cannot be read", self.folder / "nothing.csv")


if __name__ == "__main__":
    PROGRAM, SOURCE = sys.argv[1], pathlib.Path(sys.argv[2])
    unittest.main(argv=sys.argv[:1])
