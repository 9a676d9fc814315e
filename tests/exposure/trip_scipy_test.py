"""The trace of a trip against SciPy, and the two masses of a wire against a body in sixty layers.

Called with the heatside program and the source directory. The cases of trip_cases.json go to the driver that the build puts
beside the program. The equations are written here once more, the zone's air and the laws of heat transfer included, and
solved by an implicit method:

- air of the zone: design of the model, see the head of include/heatside/exposure/zone_trace.hpp;
- still air: Morgan 1975 below a Rayleigh number of 3e3, Churchill and Chu 1975 above 3e4, a smooth step in ln Ra between;
  moving air: Churchill and Bernstein 1977; properties of air: fits to Incropera table A.4 (all from memory);
- share of the insulation's heat at the conductor: IEC 60853-2 (from memory).
"""

import json
import math
import pathlib
import subprocess
import sys
import unittest

import numpy as np
from scipy.integrate import solve_ivp

PROGRAM = pathlib.Path(sys.argv[1])
SOURCE = pathlib.Path(sys.argv[2])

SAME = 1.0e-3  # [K]
ICE = 273.15
SIGMA = 5.670374419e-8
COPPER = 8933.0 * 385.0
ALPHA = 0.00393
BUNDLE_K = 0.20


def transfer(diameter, surface, air, speed):
    """Convection from a horizontal cylinder [W/(m2 K)]."""
    film = 0.5 * (surface + air)
    t = min(max(film, 250.0), 700.0)
    k = -3.3030e-8 * t**2 + 9.8397e-5 * t - 2.7485e-4
    nu = 8.3591e-11 * t**2 + 4.7002e-8 * t - 5.6692e-6
    pr = 0.70
    ra = 9.80665 / film * abs(surface - air) * diameter**3 / nu**2 * pr
    still = 0.36
    if ra > 0.0:
        morgan = max(0.36, 0.675 * ra**0.058, 1.02 * ra**0.148, 0.850 * ra**0.188)
        churchill_chu = (0.60 + 0.387 * ra ** (1 / 6) / (1 + (0.559 / pr) ** (9 / 16)) ** (8 / 27)) ** 2
        x = min(max(math.log(ra / 3.0e3) / math.log(10.0), 0.0), 1.0)
        part = x * x * (3.0 - 2.0 * x)
        still = (1.0 - part) * morgan + part * churchill_chu
    re = speed * diameter / nu
    moving = 0.0
    if re > 0.0:
        moving = 0.3 + 0.62 * math.sqrt(re) * pr ** (1 / 3) / (1 + (0.4 / pr) ** (2 / 3)) ** 0.25 * (
            1 + (re / 282000.0) ** (5 / 8)
        ) ** (4 / 5)
    return (still**4 + moving**4) ** 0.25 * k / diameter


class Trip:
    """One case as equations: engine warmth, exhaust warmth, rise of the zone [K], then the wire [K]."""

    def __init__(self, case):
        self.case = case
        self.zone, wire, bundle, cover = case["zone"], case["wire"], case["bundle"], case["cover"]
        self.state = case["trip"]["state"]
        d, outer = 1e-3 * wire["conductor_mm"], 1e-3 * wire["outer_mm"]
        n = bundle["wires"]
        self.bundled = n > 1
        rim = 1.15 * outer * math.sqrt(n) if self.bundled else outer
        self.diameter = rim + 2e-3 * cover["thickness_mm"]
        self.emissivity = cover["emissivity"] if cover["thickness_mm"] > 0 else wire["emissivity"]
        self.shell = math.log(outer / d) / (2 * math.pi * wire["conductivity"])
        self.cover = 0.0
        if cover["thickness_mm"] > 0:
            self.cover = cover["air_gap"] + math.log(self.diameter / rim) / (2 * math.pi * cover["conductivity"])
        self.core = 1 / (8 * math.pi * BUNDLE_K) if self.bundled else self.shell
        copper = n * 1e-6 * case["store"]["copper_mm2"] * COPPER
        insulation = n * math.pi / 4 * (outer**2 - d**2) * case["store"]["insulation"]
        x = outer / d
        outside = insulation * (1 - (0.5 / math.log(x) - 1 / (x * x - 1))) * (1 - (1 - outer / rim) ** 2)
        covering = math.pi / 4 * (self.diameter**2 - rim**2) * case["store"]["covering"]
        self.wires_capacity = copper + insulation - outside
        self.surface_capacity = outside + covering

    def ambient(self, minute):
        """[K] at a time since key-on."""
        angle = 2 * math.pi * (self.case["key_on_min"] + minute - 15 * 60) / 1440
        return ICE + self.case["ambient_Cel"] + self.case["ambient_half_range_K"] * math.cos(angle)

    def zone_rates(self, minute, y, running):
        engine, exhaust, theta = y[:3]
        zone = self.zone
        colder = (ICE + 25.0 - self.ambient(minute)) * (1 - zone["ambient_following"])
        if running:
            goal = (zone["rise_K"][self.state] + colder) * engine
            return [(1 - engine) / 8, (1 - exhaust) / 8, (goal - theta) / (0.6 * zone["tau_warm_min"])]
        rise, decay = zone["tau_soak_rise_min"], zone["tau_soak_decay_min"]
        factor = (zone["soak_peak_K"] + colder) / zone["soak_peak_K"]
        goal = factor * (zone["soak_engine_K"] * engine * (1 - rise / decay) + zone["soak_exhaust_K"] * exhaust * (1 - rise / 25))
        return [-engine / decay, -exhaust / 25, (goal - theta) / rise]

    def hot_bodies(self, air, exhaust):
        return [(body, air + exhaust * (ICE + body["surface_Cel"][self.state] - air)) for body in self.case["hot_bodies"]]

    def loss(self, surface, air, exhaust, running):
        """Net heat from the surface [W/m]."""
        speed = self.case["air_speed"][self.state] if running else 0.0
        flux = transfer(self.diameter, surface, air, speed) * (surface - air)
        seen = 0.0
        for body, kelvin in self.hot_bodies(air, exhaust):
            part = body["view"] * body["shield"]
            seen += part
            flux -= part * self.emissivity * body["emissivity"] * SIGMA * (kelvin**4 - surface**4)
        flux += (1 - seen) * self.emissivity * SIGMA * (surface**4 - air**4)
        return math.pi * self.diameter * flux

    def made_per_wire(self, running):
        """Heat of one loaded wire at 20 degC [W/m]."""
        on = running and self.case["trip"]["loaded"]
        return self.case["current_A"] ** 2 * 1e-3 * self.case["wire"]["milliohm_per_metre"] if on else 0.0

    def wire_state(self, wires, surface, running):
        """Heat into the wires and to the surface [W/m], conductor and hottest insulation [K]."""
        on = running and self.case["trip"]["loaded"]
        other = self.case["bundle"]["other_heat"] if on else 0.0
        loaded = self.case["bundle"]["loaded"]
        cold = self.made_per_wire(running)
        if self.bundled:
            flow = (wires - surface) / (self.core + self.cover)
            rim = surface + flow * self.cover
            middle = rim + 2 * (wires - rim)
            # T = middle + q shell and q = cold (1 + alpha (T - 20)) solved for T.
            conductor = (middle + cold * self.shell * (1 - ALPHA * (ICE + 20))) / (1 - cold * self.shell * ALPHA)
            made = loaded * cold * (1 + ALPHA * (conductor - ICE - 20))
            return made + other * (1 + ALPHA * (middle - ICE - 20)) - flow, flow, conductor, max(conductor, rim)
        # Around a wire alone the others' copper has the rim's temperature, which their heat q raises by `step` K m/W:
        # q = other (1 + alpha (rim + step q - 20)).
        rim = surface + (wires - surface) / (self.core + self.cover) * self.cover
        step = self.core * self.cover / (self.core + self.cover)
        other *= (1 + ALPHA * (rim - ICE - 20)) / (1 - ALPHA * step * other)
        flow = (wires - surface - other * self.cover) / (self.core + self.cover)
        made = loaded * cold * (1 + ALPHA * (wires - ICE - 20))
        return made - flow, flow + other, wires, max(wires, surface + (flow + other) * self.cover)

    def rates(self, minute, y, running):
        air = self.ambient(minute) + y[2]
        into_wires, to_surface, _, _ = self.wire_state(y[3], y[4], running)
        surface = to_surface - self.loss(y[4], air, y[1], running)
        return [*self.zone_rates(minute, y, running), 60 * into_wires / self.wires_capacity, 60 * surface / self.surface_capacity]

    def start(self):
        return [0.0, 0.0, 0.0, self.ambient(0.0), self.ambient(0.0)]

    def row(self, minute, y, running):
        air = self.ambient(minute) + y[2]
        _, _, conductor, insulation = self.wire_state(y[3], y[4], running)
        bodies = [kelvin for _, kelvin in self.hot_bodies(air, y[1])]
        return {"time_min": minute, "air": air, "conductor": conductor, "insulation": insulation, "surface": y[4],
                "hot_body": max(bodies) if bodies else None}


class LayeredTrip(Trip):
    """A wire alone whose insulation is sixty shells: no law for sharing its heat out."""

    SHELLS = 60

    def __init__(self, case):
        super().__init__(case)
        wire = case["wire"]
        edges = np.linspace(0.5e-3 * wire["conductor_mm"], 0.5e-3 * wire["outer_mm"], self.SHELLS + 1)
        middles = np.sqrt(0.5 * (edges[1:] ** 2 + edges[:-1] ** 2))
        points = np.concatenate(([edges[0]], middles, [edges[-1]]))
        self.between = np.log(points[1:] / points[:-1]) / (2 * math.pi * wire["conductivity"])
        self.shells = math.pi * (edges[1:] ** 2 - edges[:-1] ** 2) * case["store"]["insulation"]
        self.copper = 1e-6 * case["store"]["copper_mm2"] * COPPER

    def face(self, last, air, exhaust, running):
        """Surface temperature that passes on what the last shell sends, by Newton steps."""
        surface = last
        for _ in range(30):
            excess = (last - surface) / self.between[-1] - self.loss(surface, air, exhaust, running)
            slope = (self.loss(surface + 0.01, air, exhaust, running) - self.loss(surface - 0.01, air, exhaust, running)) / 0.02
            step = excess / (1 / self.between[-1] + slope)
            surface += step
            if abs(step) < 1e-10:
                break
        return surface

    def rates(self, minute, y, running):
        air = self.ambient(minute) + y[2]
        kelvin = np.append(y[3:], self.face(y[-1], air, y[1], running))
        flows = (kelvin[:-1] - kelvin[1:]) / self.between
        made = self.made_per_wire(running) * (1 + ALPHA * (y[3] - ICE - 20))
        change = np.concatenate(([60 * (made - flows[0]) / self.copper], 60 * (flows[:-1] - flows[1:]) / self.shells))
        return np.concatenate((self.zone_rates(minute, y, running), change))

    def start(self):
        return [0.0, 0.0, 0.0] + [self.ambient(0.0)] * (self.SHELLS + 1)

    def row(self, minute, y, running):
        air = self.ambient(minute) + y[2]
        return {"time_min": minute, "conductor": y[3], "surface": self.face(y[-1], air, y[1], running)}


def solve(trip, tolerance):
    """Rows at the case's times."""
    length, rows, y = trip.case["trip"]["minutes"], [], trip.start()
    times = np.array(trip.case["times_min"])
    for running, begin, end, wanted in (
        (True, 0.0, length, times[times <= length]),
        (False, length, times[-1], times[times > length]),
    ):
        answer = solve_ivp(lambda t, y, on=running: trip.rates(t, y, on), (begin, end), y, method="LSODA", t_eval=wanted,
                           rtol=tolerance, atol=tolerance, max_step=5.0)
        if not answer.success:
            raise RuntimeError(answer.message)
        rows += [trip.row(t, answer.y[:, i], running) for i, t in enumerate(answer.t)]
        # The next part begins where this one ends, whether or not a row is wanted there.
        y = answer.y[:, -1] if running and wanted[-1] == length else y
    return rows


class TripAgainstScipy(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        driver = PROGRAM.parent / "tests" / "trip_cases"
        text = (SOURCE / "tests" / "exposure" / "trip_cases.json").read_text(encoding="utf-8")
        cls.cases = json.loads(text)
        done = subprocess.run([str(driver)], input=text, capture_output=True, text=True, check=True, timeout=120)
        cls.answers = json.loads(done.stdout)

    def test_all_cases_are_answered_at_all_times(self):
        self.assertEqual(len(self.cases), 3)
        for case, answer in zip(self.cases, self.answers):
            self.assertEqual(case["name"], answer["name"])
            self.assertEqual(case["times_min"], [round(row["time_min"], 9) for row in answer["rows"]])
            self.assertIn(case["trip"]["minutes"], case["times_min"])

    def test_rows_agree(self):
        for case, answer in zip(self.cases, self.answers):
            for expected, found in zip(solve(Trip(case), 1e-9), answer["rows"]):
                with self.subTest(case["name"], minute=expected["time_min"]):
                    for key in ("air", "conductor", "insulation", "surface", "hot_body"):
                        if expected[key] is None:
                            self.assertIsNone(found[key])
                        else:
                            self.assertLess(abs(found[key] - expected[key]), SAME, key)

    def test_the_cases_are_worth_comparing(self):
        """Each wire gets warm, and the stored heat shows: the wire lags behind the air or the current."""
        for case, answer in zip(self.cases, self.answers):
            hottest = max(row["conductor"] for row in answer["rows"])
            self.assertGreater(hottest, ICE + case["ambient_Cel"] + 40.0)
        cable = {row["time_min"]: row for row in self.answers[1]["rows"]}
        self.assertGreater(cable[3]["surface"], cable[3]["conductor"])
        self.assertGreater(cable[60]["conductor"], cable[60]["air"])

    def test_two_masses_stand_for_sixty_layers(self):
        """A wire alone without a covering, thick or thin, while its surroundings change by hundreds of kelvin."""
        for case, most in ((self.cases[0], 0.01), (self.cases[1], 0.15)):
            bare = json.loads(json.dumps(case))
            bare["cover"]["thickness_mm"] = 0
            apart = 0.0
            for two, many in zip(solve(Trip(bare), 1e-7), solve(LayeredTrip(bare), 1e-7)):
                apart = max(apart, abs(two["conductor"] - many["conductor"]), abs(two["surface"] - many["surface"]))
            with self.subTest(case["name"]):
                self.assertLess(apart, most)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
