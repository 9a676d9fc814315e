"""The fits of the program against R's package survival, live: estimates, standard errors, intervals, likelihoods.

Usage: r_survival_test.py HEATSIDE_PROGRAM SOURCE_DIR

R and survival come from Debian (r-base-core, r-cran-survival). Where they cannot be had the test is skipped, and says so.
"""

import json
import math
import pathlib
import random
import shutil
import subprocess
import sys
import tempfile
import unittest

PROGRAM = None
SOURCE = None
GAS_CONSTANT = 8.31446261815324e-3  # kJ/(mol K)
LEVEL = 0.95
SERVICE = 95.0  # Cel
QUANTILES = (0.5, 0.1)

# One line a number, so that no other package is needed to read them.
R_SCRIPT = r"""
suppressMessages(library(survival))
arguments <- commandArgs(trailingOnly = TRUE)
d <- read.csv(arguments[1], comment.char = "#")
service <- as.numeric(arguments[2])
if (is.null(d$count)) d$count <- 1
d$x <- 1 / (d$temperature_Cel + 273.15)
if (is.null(d$hours_lo)) {
  if (is.null(d$status)) d$status <- 1
  d$life <- Surv(d$hours, d$status)
} else {
  d$life <- Surv(d$hours_lo, d$hours_hi, type = "interval2")
}
say <- function(name, value) cat(name, sprintf("%.15g", value), "\n")
exact <- survreg.control(rel.tolerance = 1e-13, toler.chol = 1e-15, maxiter = 200)
# 1000/T keeps survreg's matrices sound; the slope is turned back into kelvin.
for (dist in c("lognormal", "weibull")) {
  f <- survreg(life ~ I(1000 * x), data = d, weights = count, dist = dist, control = exact)
  tag <- paste0(ifelse(dist == "lognormal", "log-normal", "weibull"), ":")
  say(paste0(tag, "intercept"), f$coefficients[[1]])
  say(paste0(tag, "slope"), 1000 * f$coefficients[[2]])
  say(paste0(tag, "scale"), f$scale)
  e <- sqrt(diag(f$var))
  say(paste0(tag, "intercept_error"), e[[1]])
  say(paste0(tag, "slope_error"), 1000 * e[[2]])
  say(paste0(tag, "scale_error"), f$scale * e[[3]])
  say(paste0(tag, "loglik"), f$loglik[[2]])
  for (p in c(0.5, 0.1)) {
    q <- predict(f, data.frame(x = 1 / (service + 273.15)), type = "uquantile", p = p, se.fit = TRUE)
    say(paste0(tag, "ln_life:", p), q$fit[[1]])
    say(paste0(tag, "ln_life_error:", p), q$se.fit[[1]])
  }
  # Profile of the slope: what is left of the likelihood with the slope held as an offset.
  held <- function(slope) survreg(life ~ 1 + offset(slope * x), data = d, weights = count, dist = dist, control = exact)$loglik[[1]]
  best <- f$loglik[[2]]
  fall <- function(slope) 2 * (best - held(slope)) - qchisq(0.95, 1)
  middle <- 1000 * f$coefficients[[2]]
  reach <- 6 * 1000 * e[[2]]
  say(paste0(tag, "profile_lo"), uniroot(fall, c(middle - reach, middle), tol = 1e-9)$root)
  say(paste0(tag, "profile_hi"), uniroot(fall, c(middle, middle + reach), tol = 1e-9)$root)
  # Wider models, where every temperature has failures.
  free <- try(survreg(life ~ factor(x), data = d, weights = count, dist = dist, control = exact), silent = TRUE)
  if (!inherits(free, "try-error")) say(paste0(tag, "line_ratio"), 2 * (free$loglik[[2]] - best))
  spread <- try(survreg(life ~ I(1000 * x) + strata(x), data = d, weights = count, dist = dist, control = exact), silent = TRUE)
  if (!inherits(spread, "try-error")) say(paste0(tag, "scale_ratio"), 2 * (spread$loglik[[2]] - best))
}
"""


def r_says(table):
    with tempfile.NamedTemporaryFile("w", suffix=".R") as script:
        script.write(R_SCRIPT)
        script.flush()
        answer = subprocess.run(["Rscript", "--vanilla", script.name, str(table), str(SERVICE)], capture_output=True, text=True,
                                timeout=300, check=False)
    if answer.returncode != 0:
        raise AssertionError(answer.stderr)
    return {name: float(value) for name, value in (line.split() for line in answer.stdout.splitlines())}


def program_says(table, *more):
    answer = subprocess.run([PROGRAM, "fit", str(table), "--json", "--at-temperature", str(SERVICE), "--quantile", "0.5,0.1", *more],
                            capture_output=True, text=True, timeout=120, check=False)
    if answer.returncode != 0:
        raise AssertionError(answer.stderr)
    return json.loads(answer.stdout)


def r_is_there():
    if shutil.which("Rscript") is None:
        return False
    return subprocess.run(["Rscript", "--vanilla", "-e", "library(survival)"], capture_output=True, check=False).returncode == 0


def simulated(folder, name, kind, seed):
    """An invented test of the stated kind; the tables are only there to be fitted twice."""
    draw = random.Random(seed)
    lines = ["temperature_Cel,hours_lo,hours_hi,count" if kind == "interval" else "temperature_Cel,hours,status,count"]
    for celsius in (130, 145, 160, 175):
        for _ in range(12):
            z = draw.gauss(0, 1) if seed % 2 else math.log(-math.log(draw.random()))
            hours = math.exp(-19.8 + 12100 / (celsius + 273.15) + 0.35 * z)
            if kind == "interval":
                look = 200.0 if celsius > 150 else 1500.0
                lower = math.floor(hours / look) * look
                end = 12 * look
                lines.append(f"{celsius},{lower or ''},{lower + look},1" if lower < end else f"{celsius},{end},,1")
            else:
                end = 9000.0 if kind == "censored" else 1e6
                lines.append(f"{celsius},{min(hours, end):.6f},{int(hours < end)},{1 + draw.randrange(3)}")
    path = pathlib.Path(folder) / f"{name}.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


class AgainstSurvival(unittest.TestCase):
    def near(self, found, expected, relative, what):
        self.assertLessEqual(abs(found - expected), relative * abs(expected), f"{what}: found {found!r}, R says {expected!r}")

    def compare(self, table):
        truth = r_says(table)
        wald = program_says(table, "--interval", "wald")
        profile = program_says(table)
        self.assertEqual([model["distribution"] for model in wald["models"]], ["log-normal", "weibull"])
        for model, profiled in zip(wald["models"], profile["models"]):
            tag = model["distribution"] + ":"
            with self.subTest(table=table.name, distribution=model["distribution"]):
                self.near(model["intercept"], truth[tag + "intercept"], 1e-6, "intercept")
                self.near(model["slope_K"], truth[tag + "slope"], 1e-6, "slope")
                self.near(model["scale"], truth[tag + "scale"], 1e-6, "scale")
                for name, key in (("intercept", "intercept"), ("slope_K", "slope"), ("scale", "scale")):
                    self.near(model["standard_error"][name], truth[tag + key + "_error"], 1e-4, "error of " + name)
                self.assertLess(abs(model["log_likelihood"] - truth[tag + "loglik"]), 1e-6)
                self.near(model["aic"], 2 * 3 - 2 * truth[tag + "loglik"], 1e-8, "AIC")
                for life in model["life"]:
                    p = f"{life['p']:g}"
                    self.near(math.log(life["hours"]), truth[tag + "ln_life:" + p], 1e-6, "ln life")
                    self.near(life["ln_hours_standard_error"], truth[tag + "ln_life_error:" + p], 1e-4, "error of ln life")
                    reach = 1.959963984540054 * truth[tag + "ln_life_error:" + p]
                    self.near(math.log(life["lo"]), truth[tag + "ln_life:" + p] - reach, 1e-5, "lower limit")
                    self.near(math.log(life["hi"]), truth[tag + "ln_life:" + p] + reach, 1e-5, "upper limit")
                energy = profiled["activation_energy"]
                self.assertEqual(energy["method"], "profile likelihood")
                self.near(energy["value_kJ_mol"], GAS_CONSTANT * truth[tag + "slope"], 1e-6, "energy")
                self.near(energy["lo"], GAS_CONSTANT * truth[tag + "profile_lo"], 1e-6, "lower limit of the energy")
                self.near(energy["hi"], GAS_CONSTANT * truth[tag + "profile_hi"], 1e-6, "upper limit of the energy")
                tests = {test["doubted"]: test for test in model["likelihood_ratio_tests"]}
                for name, key in (("straight line", "line_ratio"), ("common scale", "scale_ratio")):
                    if tests[name]["statistic"] is not None and tag + key in truth:
                        self.assertLess(abs(tests[name]["statistic"] - truth[tag + key]), 1e-5, name)

    def test_published_data(self):
        for name in ("class-h-motorettes", "three-cells", "capacitors"):
            self.compare(SOURCE / "tests" / "labfit" / "data" / f"{name}.csv")

    def test_example(self):
        self.compare(SOURCE / "examples" / "oven-test.csv")

    def test_simulated_data(self):
        with tempfile.TemporaryDirectory() as folder:
            for seed, kind in enumerate(("complete", "censored", "interval") * 2):
                self.compare(simulated(folder, f"{kind}-{seed}", kind, seed))

    def test_ratio_tests_are_compared_at_all(self):
        truth = r_says(SOURCE / "tests" / "labfit" / "data" / "class-h-motorettes.csv")
        for key in ("line_ratio", "scale_ratio"):
            self.assertIn("log-normal:" + key, truth)


if __name__ == "__main__":
    PROGRAM, SOURCE = sys.argv[1], pathlib.Path(sys.argv[2])
    if not r_is_there():
        print("*" * 90)
        print("SKIPPED: R with package survival is not there, so NO fit was compared with it.")
        print("         apt-get install --no-install-recommends r-base-core r-cran-survival")
        print("*" * 90)
        sys.exit(0)
    unittest.main(argv=sys.argv[:1])
