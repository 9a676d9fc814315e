"""The data for notebooks are what the program prints today, and the notebooks come to the program's results.

notebooks_data_test.py PROGRAM SOURCE_DIR
"""
import csv
import hashlib
import io
import json
import math
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import unittest

PROGRAM = os.path.abspath(sys.argv[1])
SOURCE = pathlib.Path(sys.argv[2]).resolve()
KEPT = SOURCE / "notebooks-data"
NOTEBOOKS = ("why-the-heat-side-fails-first", "from-oven-to-service-life")


def files_below(folder, endings):
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.suffix in endings)


def numbers_agree(kept, made):
    # Other processors and compilers may differ in the last digits.
    return math.isclose(kept, made, rel_tol=1e-7, abs_tol=1e-9)


def difference(kept, made, place=""):
    """Where two JSON values differ first; None where they do not."""
    if isinstance(kept, dict) and isinstance(made, dict):
        if kept.keys() != made.keys():
            return f"{place}: keys {kept.keys() ^ made.keys()}"
        # Size and hash of a file change with the last digit of a number in it; they are checked by themselves.
        pairs = ((f"{place}/{key}", kept[key], made[key]) for key in kept if key not in ("bytes", "hash"))
    elif isinstance(kept, list) and isinstance(made, list):
        if len(kept) != len(made):
            return f"{place}: {len(kept)} kept, {len(made)} made"
        pairs = ((f"{place}/{i}", one, other) for i, (one, other) in enumerate(zip(kept, made)))
    elif isinstance(kept, float) or isinstance(made, float):
        return None if numbers_agree(kept, made) else f"{place}: {kept} kept, {made} made"
    else:
        return None if kept == made else f"{place}: {kept!r} kept, {made!r} made"
    return next((found for found in (difference(one, other, where) for where, one, other in pairs) if found), None)


def rows_of(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(io.StringIO(file.read(), newline="")))


def cell(text):
    try:
        return float(text)
    except ValueError:
        return text


class NotebooksData(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.tree = pathlib.Path(cls.folder.name)
        cls.made = cls.tree / "notebooks-data"
        subprocess.run(["bash", str(SOURCE / "src/scripts/notebooks-data.sh"), PROGRAM, str(cls.made)], check=True,
                       stderr=subprocess.DEVNULL)

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def test_the_same_tables(self):
        self.assertEqual(files_below(KEPT, (".csv", ".json")), files_below(self.made, (".csv", ".json")))

    def test_tables_are_up_to_date(self):
        for name in files_below(self.made, (".csv",)):
            kept, made = (([{key: cell(text) for key, text in row.items()} for row in rows_of(folder / name)])
                          for folder in (KEPT, self.made))
            self.assertIsNone(difference(kept, made), name)

    def test_documents_are_up_to_date(self):
        for name in files_below(self.made, (".json",)):
            kept, made = (json.loads((folder / name).read_text(encoding="utf-8")) for folder in (KEPT, self.made))
            self.assertIsNone(difference(kept, made), name)

    def test_hashes_are_those_of_the_kept_files(self):
        folder = KEPT / "hillside-estate"
        for resource in json.loads((folder / "datapackage.json").read_text(encoding="utf-8"))["resources"]:
            data = (folder / resource["path"]).read_bytes()
            self.assertEqual(resource["hash"], "sha256:" + hashlib.sha256(data).hexdigest(), resource["path"])

    def test_notebooks_store_no_outputs(self):
        for name in NOTEBOOKS:
            for block in json.loads((KEPT / f"{name}.ipynb").read_text(encoding="utf-8"))["cells"]:
                self.assertFalse(block.get("outputs"), name)


class Notebooks(unittest.TestCase):
    """Runs on the kept data: what a class sees."""

    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        tree = pathlib.Path(cls.folder.name)
        shutil.copytree(KEPT, tree / "notebooks-data")
        shutil.copytree(SOURCE / "examples", tree / "examples")
        environment = dict(os.environ, HOME=str(tree))
        result = subprocess.run(["jupyter-nbconvert", "--to", "notebook", "--execute", "--output-dir", str(tree / "out"),
                                 *(f"{name}.ipynb" for name in NOTEBOOKS)], cwd=tree / "notebooks-data", env=environment,
                                capture_output=True, text=True)
        if result.returncode != 0:
            raise AssertionError(result.stderr)
        cls.results = {}
        for name in NOTEBOOKS:
            cells = json.loads((tree / "out" / f"{name}.ipynb").read_text(encoding="utf-8"))["cells"]
            cls.results[name] = json.loads("".join(cells[-1]["outputs"][0]["text"]))

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def test_the_heat_side(self):
        found = self.results[NOTEBOOKS[0]]
        story = json.loads((KEPT / "heat-side/story.json").read_text(encoding="utf-8"))
        # Arrhenius sums over bins of 1 K (NumPy) against the engine's quadrature.
        self.assertLess(found["largest_difference_of_shares"], 1e-3)
        self.assertAlmostEqual(found["share_soak_hot"], story["heat_side"]["damage_share"]["soak"], delta=1e-3)
        self.assertAlmostEqual(found["share_soak_cool"], story["cool_end"]["damage_share"]["soak"], delta=1e-3)
        # By hand nothing touches the wire; the engine divides by a life factor of the record for each covering.
        record = json.loads((SOURCE / "materials/insulations/short-lived-1990s.json").read_text(encoding="utf-8"))
        factors = [1.0] + [record["life_factors"][key]["value"] for key in ("closed_cover", "absorbing_cover")]
        left = story["pace_of_heat_side"] / found["pace"]
        self.assertTrue(any(abs(left / (one / other) - 1.0) < 5e-3 for one in factors for other in factors), left)
        soak = json.loads((KEPT / "heat-side/soak.json").read_text(encoding="utf-8"))["facts"]["pieces"][0]
        self.assertAlmostEqual(found["share_after_key_off"], soak["share_after"], places=9)
        self.assertAlmostEqual(found["hot_against_cool"] / soak["against_cool"], 1.0, places=9)

    def test_from_oven_to_service(self):
        found = self.results[NOTEBOOKS[1]]
        fit = json.loads((KEPT / "oven/fit.json").read_text(encoding="utf-8"))
        model = next(one for one in fit["models"] if one["distribution"] == "log-normal")
        # Maximum likelihood by SciPy's simplex search against the engine's.
        self.assertAlmostEqual(found["slope_K"] / model["slope_K"], 1.0, places=6)
        self.assertAlmostEqual(found["scale"] / model["scale"], 1.0, places=6)
        self.assertAlmostEqual(found["ln_likelihood"], model["log_likelihood"], places=6)
        self.assertLess(found["largest_difference_of_line"], 1e-9)
        facts = json.loads((KEPT / "oven/life-line.json").read_text(encoding="utf-8"))["facts"]
        self.assertAlmostEqual(found["line_kJ_per_mol"], facts["line_kJ_per_mol"], places=6)
        # Polypropylene: two ways of ageing that change places at about 83 degC (M. Celina, K. T. Gillen, R. A. Assink,
        # Polymer Degradation and Stability 90 (2005) 395-404, abstract).
        self.assertAlmostEqual(found["equal_at_Cel"], 83.0, delta=0.5)
        self.assertGreater(found["largest_overstatement"], found["least_overstatement"])


unittest.main(argv=sys.argv[:1])
