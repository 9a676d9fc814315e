"""Years until an insulation cracks when handled, against an integration of the model's equations done apart from the program.

Usage: runge_kutta_test.py HEATSIDE_PROGRAM SOURCE_DIR

Published methods: classical Runge-Kutta of fourth order (Kutta 1901); three-point Gauss-Hermite rule (Abramowitz and Stegun,
table 25.10); exponential integral E1 of SciPy. The equations are those of the model; the numbers come from materials/.
Shared with the program are the equations and the records, nothing else: no code, no table, and no closed form of a zone's rise.
"""

import datetime
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import unittest

import numpy as np
from scipy.optimize import brentq, minimize_scalar
from scipy.special import exp1

PROGRAM = None
SOURCE = None

INSULATION, DUTY = "short-lived-1990s", "family"
FROM, INSPECTED = "1994-01-01", "1998-01-01"
PLACES = (("head-cover", "mediterranean"), ("upper-bulkhead", "continental"))

GAS_CONSTANT = 8.31446261815324  # J/(mol K), exact since the SI of 2019
YEAR = 8766.0                    # h, 365.25 days
WEEK, DAY = 10080, 1440          # min
STEP = 0.5                       # min
STATES = ("cruise", "city", "idle", "hill")


def record(folder, name):
    return json.loads((SOURCE / "materials" / folder / f"{name}.json").read_text(encoding="utf-8"))


def value(node, *keys):
    for key in keys:
        node = node[key]
    return node["value"]


def trips(duty):
    """Key-on and key-off of a week, in minutes."""
    spans = []
    for trip in duty["trips"]:
        hour, minute = map(int, trip["start"].split(":"))
        for day in trip["days"]:
            for turn in range(trip.get("repeat", 1)):
                start = day * DAY + hour * 60 + minute + turn * trip.get("every_minutes", 0)
                spans.append((start, start + trip["minutes"]))
    return sorted(spans)


class Zone:
    """A zone in a climate, with the two amplitudes of its heat soak."""

    def __init__(self, zone, climate, model):
        trace = model["trace"]
        self.follow = value(zone, "ambient_following")
        self.rise = np.array([value(zone, "rise", state) for state in STATES])
        self.peak = value(zone, "soak_peak")
        self.running = value(trace, "running_response_share") * value(zone, "tau_warm")
        self.soak, self.decay = value(zone, "tau_soak_rise"), value(zone, "tau_soak_decay")
        self.exhaust = value(trace, "exhaust_decay_time")
        self.anchor = value(trace, "anchor_ambient")
        self.slow, self.fast = self.amplitudes(trace)

        months, deviation = value(climate, "monthly_mean"), value(climate, "deviation_sd")
        nodes, weights = (-3.0 ** 0.5, 0.0, 3.0 ** 0.5), (1 / 6, 2 / 3, 1 / 6)
        self.day_means = np.array([month + node * deviation for month in months for node in nodes])
        self.weights = np.array([weight / len(months) for _ in months for weight in weights])
        self.swing = 0.5 * value(climate, "daily_range")
        self.hottest = 60.0 * value(trace, "hottest_hour")

    def amplitudes(self, trace):
        city = self.rise[STATES.index("city")]

        def top(slow, fast):
            """Hottest rise after key-off of a car warm from town."""
            def rise(t):
                own = np.exp(-t / self.soak)
                return city * own + slow * (np.exp(-t / self.decay) - own) + fast * (np.exp(-t / self.exhaust) - own)

            best = minimize_scalar(lambda t: -rise(t), bounds=(0.0, 8.0 * self.soak), method="bounded", options={"xatol": 1e-9})
            return max(rise(best.x), city)

        slow = brentq(lambda s: top(s, 0.0) - self.peak, 0.0, 1000.0)
        excess = value(trace, "engine_excess")
        if self.decay < value(trace, "slow_decay_from") or slow <= excess:
            return slow, 0.0
        return excess, brentq(lambda s: top(excess, s) - self.peak, 0.0, 1000.0)

    def ambient(self, minute):
        return self.day_means + self.swing * np.cos(2.0 * np.pi * (minute - self.hottest) / DAY)

    def target(self, minute, runs, engine, exhaust):
        """The rise that the zone strives for, one row a running state, one column a day of the year."""
        lag = (self.anchor - self.ambient(minute)) * (1.0 - self.follow)
        if runs:
            return (self.rise[:, None] + lag) * engine
        driven = (self.slow * engine * (1.0 - self.soak / self.decay) +
                  self.fast * exhaust * (1.0 - self.soak / self.exhaust))
        return np.broadcast_to((self.peak + lag) / self.peak * driven, (len(STATES), len(lag)))

    def accelerations(self, spans, mix, warm, paths, reference):
        """Mean of exp[(Ea/R)(1/T_ref - 1/T)] over the year, one for each (Ea, ...) of `paths`."""
        steps = round(WEEK / STEP)
        runs = np.zeros(steps, bool)
        for start, stop in spans:
            runs[round(start / STEP):round(stop / STEP)] = True
        theta = np.zeros((len(STATES), len(self.day_means)))
        engine = exhaust = 0.0
        warm_engine, warm_exhaust = warm
        sums = [np.zeros_like(theta) for _ in paths]
        # What one week leaves is gone from the next but for the warmth of the last trip: the second week repeats itself.
        for lap in range(2):
            for i in range(steps):
                minute = i * STEP
                if lap == 1:
                    kelvin = theta + self.ambient(minute) + 273.15
                    inverse = (1.0 / reference - 1.0 / kelvin) / GAS_CONSTANT
                    for total, energy in zip(sums, paths):
                        total += np.exp(energy * inverse)
                on = runs[i]
                tau = self.running if on else self.soak

                def warmth(after):
                    if on:
                        return (1.0 - (1.0 - engine) * np.exp(-after / warm_engine),
                                1.0 - (1.0 - exhaust) * np.exp(-after / warm_exhaust))
                    return engine * np.exp(-after / self.decay), exhaust * np.exp(-after / self.exhaust)

                half, whole = warmth(0.5 * STEP), warmth(STEP)
                middle = self.target(minute + 0.5 * STEP, on, *half)
                k1 = (self.target(minute, on, engine, exhaust) - theta) / tau
                k2 = (middle - theta - 0.5 * STEP * k1) / tau
                k3 = (middle - theta - 0.5 * STEP * k2) / tau
                k4 = (self.target(minute + STEP, on, *whole) - theta - STEP * k3) / tau
                theta = theta + STEP / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4)
                engine, exhaust = whole
        return [float(mix @ total @ self.weights) / steps for total in sums]


def years_until(insulation, model, clock, elongation):
    """Time of the guarded law, from new until so much elongation is left, at a steady clock rate [1/h]."""
    ageing = model["ageing"]
    initial, end = value(insulation, "initial_elongation"), value(insulation, "thermal_life", "end_elongation")
    floor, seed = value(ageing, "floor_elongation"), value(ageing, "seed_extent")
    strength = value(ageing, "guard_strength")
    fall = np.log(strength) / value(insulation, "kinetics", "induction_share")
    depth = np.log(initial / floor)

    # x' = c a exp(-8 s)(seed + x)(1 - x): the left side by parts, the right side through E1.
    def left(elongation_percent):
        extent = np.log(initial / elongation_percent) / depth
        return np.log((seed + extent) / (seed * (1.0 - extent))) / (1.0 + seed)

    def right(turns):
        return (exp1(strength * np.exp(-fall * turns)) - exp1(strength)) / fall

    speed = left(end) / right(1.0)
    turns = brentq(lambda turns: speed * right(turns) - left(elongation), 1e-6, 100.0, xtol=1e-12)
    return turns / clock / YEAR


def expected_years(zone, climate):
    model, insulation, duty = record(".", "model"), record("insulations", INSULATION), record("duties", DUTY)
    mix = np.array([value(duty, "running_mix", state) for state in STATES])
    life = insulation["thermal_life"]
    energies = [1e3 * value(path, "activation_energy") for path in insulation["paths"]]
    warm = value(model, "trace", "engine_warm_time"), value(model, "trace", "exhaust_warm_time")
    means = Zone(record("zones", zone), record("climates", climate), model).accelerations(
        trips(duty), mix, warm, energies, value(life, "temperature") + 273.15)
    lot = value(insulation, "lot", "median") * value(insulation, "life_factors", "bare_copper")
    clock = sum(value(path, "share") * mean for path, mean in zip(insulation["paths"], means)) / (lot * value(life, "hours"))
    # Ordinary handling: bent round so many diameters, sharpened by notches.
    condition = model["condition"]
    handling = 100.0 * value(condition, "notch_factor") / (1.0 + value(condition, "handling_diameters"))
    return years_until(insulation, model, clock, handling)


def case(zone, climate):
    """Invented: a bare copper loom of thin 0.5 mm2 wires that lies in one zone, garaged, driven as the duty says."""
    use = {"climate": climate, "duty": DUTY, "parking": "garage"}
    return {"format": "heatside-case", "version": 1, "title": "Invented case of a test", "invented": True,
            "vehicle": {"built": FROM, "entered_service": FROM, "region": "europe"}, "inspected": INSPECTED,
            "service": [{"from": FROM, "to": INSPECTED, **use}], "future": use,
            "looms": [{"id": "top", "made": FROM, "copper": "bare", "region": "europe"}],
            "lots": [{"id": "signal", "loom": "top", "insulation": INSULATION, "size": "0.5 mm2", "wall": "thin"}],
            "nodes": [{"id": "box"}, {"id": "rail"}],
            "segments": [{"id": zone, "loom": "top", "from": "box", "to": "rail", "length_m": 0.5, "route_radius_mm": 30,
                          "stretches": [{"id": "a", "zone": zone, "covering": "none", "damp": False}],
                          "groups": [{"lot": "signal", "count": 4}], "leaks": [], "airbag": False}]}


class RungeKutta(unittest.TestCase):
    def years_of_the_program(self, zone, climate):
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / "invented.case.json"
            path.write_text(json.dumps(case(zone, climate)), encoding="utf-8")
            result = subprocess.run([PROGRAM, "estimate", str(path), "--likely", "--without-conduction", "--json"], capture_output=True, timeout=60, check=False,
                                    stdin=subprocess.DEVNULL)
        self.assertEqual(result.returncode, 0, result.stderr.decode("utf-8", "replace"))
        (segment,) = json.loads(result.stdout)["segments"]
        days = (datetime.date.fromisoformat(INSPECTED) - datetime.date.fromisoformat(FROM)).days
        remaining = segment["remaining_years"]["flex_cracks"]
        self.assertFalse(remaining["capped"])
        return days / 365.25 + remaining["p50"]

    def test_years_until_flex_cracks(self):
        for zone, climate in PLACES:
            with self.subTest(zone=zone, climate=climate):
                expected, found = expected_years(zone, climate), self.years_of_the_program(zone, climate)
                print(f"{zone}, {climate}: {expected:.4f} years here, {found:.4f} by the program")
                self.assertAlmostEqual(found / expected, 1.0, delta=0.005)


if __name__ == "__main__":
    PROGRAM = os.path.abspath(sys.argv[1])
    SOURCE = pathlib.Path(sys.argv[2])
    del sys.argv[1:3]
    unittest.main(verbosity=1)
