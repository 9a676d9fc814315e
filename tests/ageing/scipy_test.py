"""Kinetics against SciPy: its solver of differential equations and its exponential integral.

Called with the heatside program and the source directory. The cases of kinetics_cases.json go to the driver that the build
puts beside the program; everything it answers is worked out here once more, the constants of the law included.
"""

import json
import math
import pathlib
import subprocess
import sys
import unittest

from scipy.integrate import solve_ivp
from scipy.special import exp1

PROGRAM = pathlib.Path(sys.argv[1])
SOURCE = pathlib.Path(sys.argv[2])

GUARD_STRENGTH = 8.0
SEED = 0.02
FLOOR_PERCENT = 0.2
SAME = 1e-8


def reference_extent(case):
    """Extent at the thermal-life point."""
    return math.log(case["initial_percent"] / case["end_percent"]) / math.log(case["initial_percent"] / FLOOR_PERCENT)


def progress(extent):
    """K(x) of the guarded law."""
    return math.log((SEED + extent) / (SEED * (1.0 - extent))) / (1.0 + SEED)


def constants(case):
    """c and g of the law, from exp1."""
    if case["law"] == "gradual":
        return -math.log(1.0 - reference_extent(case)), 0.0
    g = math.log(GUARD_STRENGTH) / case["induction_share"]
    opening = exp1(GUARD_STRENGTH * math.exp(-g)) - exp1(GUARD_STRENGTH)
    return progress(reference_extent(case)) * g / opening, g


def rates(case, c, g, period):
    """Right-hand side of the law in one period, time in hours."""
    if case["law"] == "gradual":
        return lambda t, y: [c * period["extent_clock"] * (1.0 - y[0]), 0.0]
    return lambda t, y: [
        c * period["extent_clock"] * math.exp(-GUARD_STRENGTH * y[1]) * (SEED + y[0]) * (1.0 - y[0]),
        -g * period["guard_clock"] * y[1],
    ]


def solve(case, c, g, method):
    """Extent after each period by solve_ivp."""
    state, extents = [0.0, 1.0], []
    for period in case["periods"]:
        answer = solve_ivp(rates(case, c, g, period), (0.0, period["hours"]), state, method=method, rtol=1e-12, atol=1e-14)
        if not answer.success:
            raise RuntimeError(answer.message)
        state = [values[-1] for values in answer.y]
        extents.append(state[0])
    return extents


def solve_closed(case, c, g):
    """Extent after each period by exp1, or by an exponential for the gradual law."""
    total, guard, extents = 0.0, 1.0, []
    for period in case["periods"]:
        if case["law"] == "gradual":
            total += c * period["extent_clock"] * period["hours"]
            extents.append(1.0 - math.exp(-total))
            continue
        later = guard * math.exp(-g * period["guard_clock"] * period["hours"])
        opening = exp1(GUARD_STRENGTH * later) - exp1(GUARD_STRENGTH * guard)
        total += c * period["extent_clock"] / (g * period["guard_clock"]) * opening
        guard = later
        y = math.exp((1.0 + SEED) * total)
        extents.append(SEED * (y - 1.0) / (1.0 + SEED * y))
    return extents


class KineticsAgainstScipy(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        driver = PROGRAM.parent / "tests" / "kinetics_cases"
        text = (SOURCE / "tests" / "ageing" / "kinetics_cases.json").read_text(encoding="utf-8")
        cls.cases = json.loads(text)
        done = subprocess.run([str(driver)], input=text, capture_output=True, text=True, check=True, timeout=120)
        cls.answers = json.loads(done.stdout)

    def each(self):
        """Every case with the library's answer and the constants of its law."""
        for case, answer in zip(self.cases, self.answers):
            yield case, answer, *constants(case)

    def same(self, found, expected):
        self.assertEqual(len(found), len(expected))
        for a, b in zip(found, expected):
            self.assertLess(abs(a - b), SAME)

    def test_all_cases_are_answered(self):
        self.assertEqual(len(self.cases), 5)
        self.assertEqual([case["name"] for case in self.cases], [answer["name"] for answer in self.answers])

    def test_constants_of_the_law(self):
        for case, answer, c, g in self.each():
            with self.subTest(case["name"]):
                self.assertLess(abs(answer["rate"] / c - 1.0), 1e-12)
                self.assertLess(abs(answer["guard_rate"] - g), 1e-13)

    def test_constants_lead_to_the_thermal_life_point(self):
        """At a clock of one life an hour the law is at its reference extent after an hour."""
        for case, answer, c, g in self.each():
            with self.subTest(case["name"]):
                one_life = dict(case, periods=[{"hours": 1.0, "extent_clock": 1.0, "guard_clock": 1.0}])
                extents = solve(one_life, answer["rate"], answer["guard_rate"], "DOP853")
                self.assertLess(abs(extents[0] - reference_extent(case)), 1e-10)

    def test_extents_by_an_explicit_solver(self):
        for case, answer, c, g in self.each():
            with self.subTest(case["name"]):
                expected = solve(case, c, g, "DOP853")
                self.same(answer["closed_form"], expected)
                self.same(answer["integrated"], expected)

    def test_extents_by_an_implicit_solver(self):
        for case, answer, c, g in self.each():
            with self.subTest(case["name"]):
                self.same(answer["closed_form"], solve(case, c, g, "Radau"))

    def test_extents_by_the_exponential_integral(self):
        for case, answer, c, g in self.each():
            with self.subTest(case["name"]):
                self.same(answer["closed_form"], solve_closed(case, c, g))

    def test_elongation_left(self):
        for case, answer, c, g in self.each():
            with self.subTest(case["name"]):
                initial = case["initial_percent"]
                left = initial * (FLOOR_PERCENT / initial) ** solve_closed(case, c, g)[-1]
                self.assertLess(abs(answer["elongation_percent"] / left - 1.0), 1e-7)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
