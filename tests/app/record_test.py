"""The verb record: what it writes, what it refuses, and that a case is never half-written.

Usage: record_test.py HEATSIDE_PROGRAM SOURCE_DIR

Exit codes are those of sysexits.h: 64 usage, 65 bad data, 66 no input, 73 cannot write. What should be written is our own
rule; SHA-256 is checked against Python's hashlib (FIPS 180-4).
"""

import datetime
import hashlib
import json
import os
import pathlib
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import unittest

PROGRAM = None
SOURCE = None

DONE, USAGE, BAD_DATA, NO_INPUT, CANNOT_WRITE = 0, 64, 65, 66, 73
PAGE_WIDTH = 100


def run(*arguments, **options):
    options.setdefault("stdin", subprocess.DEVNULL)
    return subprocess.run([PROGRAM, *arguments], capture_output=True, timeout=120, check=False, **options)


class Record(unittest.TestCase):
    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)
        self.case = self.folder / "van.case.json"
        made = run("start", "--template", "plain-two-segment", "--built", "1994", "--inspected", "2026-01-01")
        self.assertEqual(made.returncode, DONE, made.stderr)
        self.case.write_bytes(made.stdout)
        self.before = made.stdout
        document = self.document()
        self.segments = [segment["id"] for segment in document["segments"]]
        self.lots = [lot["id"] for lot in document["lots"]]

    def document(self):
        return json.loads(self.case.read_bytes())

    def listing(self):
        return sorted(path.name for path in self.folder.iterdir())

    def record(self, *arguments, **options):
        return run("record", str(self.case), *arguments, **options)

    def finding(self, *more, seen="cracked", method="look-boot", segment=None, on="2026-01-02"):
        return ["--segment", segment or self.segments[0], "--seen", seen, "--method", method, "--on", on, *more]

    def done(self, *arguments):
        result = self.record(*arguments)
        self.assertEqual(result.returncode, DONE, result.stderr.decode("utf-8", "replace"))
        self.assertEqual(result.stderr, b"")
        return result.stdout.decode()

    def refused(self, code, *arguments, fragments=()):
        """Ends with the code, says why on stderr, and leaves the case as it was."""
        before = self.case.read_bytes()
        result = self.record(*arguments)
        message = result.stderr.decode("utf-8", "replace")
        self.assertEqual(result.returncode, code, message)
        self.assertEqual(result.stdout, b"")
        self.assertNotIn("this is a bug", message)
        for fragment in fragments:
            self.assertIn(fragment, message)
        self.assertEqual(self.case.read_bytes(), before)
        self.assertEqual(self.listing(), ["van.case.json"])
        return message

    # --- what is written -------------------------------------------------------------------------------------------------

    def test_a_finding_is_written_with_all_that_was_said(self):
        text = self.done(*self.finding("--cause", "heat", "--sign", "sticky", "--sign", "whitened", "--clue", "feel-matt-waxy",
                                       "--note", "near the plug, \u00fcber dem Motor", "--by", "An inspector", "--lot", self.lots[0]))
        self.assertIn("Recorded: ", text)
        self.assertEqual(self.document()["findings"],
                         [{"segment": self.segments[0], "lot": self.lots[0], "seen": "cracked", "method": "look-boot", "cause": "heat",
                           "signs": ["sticky", "whitened"], "clues": ["feel-matt-waxy"], "on": "2026-01-02", "by": "An inspector",
                           "note": "near the plug, \u00fcber dem Motor"}])
        self.assertEqual(run("check", str(self.case)).returncode, DONE)
        self.assertEqual(run("estimate", str(self.case)).returncode, DONE)

    def test_results_of_tests(self):
        place = ["--segment", self.segments[0], "--on", "2026-01-02"]
        self.done(*place, "--method", "bend-tail", "--bend-diameter-mm", "10", "--cracked", "--cause", "heat")
        self.done(*place, "--method", "bend-tail", "--bend-diameter-mm", "8", "--bend-temperature-Cel", "-5", "--whole")
        self.done(*place, "--method", "elongation-tail", "--elongation-percent", "42.5", "--standard-error", "6")
        self.done(*place, "--method", "resistance-reading", "--resistance-MOhm", "500", "--both-ends-unplugged", "--no-control-units")
        bent, cold, pulled, measured = self.document()["findings"]
        self.assertEqual(bent["bend"], {"diameter_mm": 10, "cracked": True})
        self.assertEqual(cold["bend"], {"diameter_mm": 8, "temperature_Cel": -5, "cracked": False})
        self.assertEqual(pulled["elongation"], {"percent": 42.5, "standard_error": 6})
        self.assertEqual(measured["resistance"], {"MOhm": 500, "both_ends_unplugged": True, "control_units_attached": False})

    def test_options_may_stand_before_the_file(self):
        result = run("record", *self.finding("--clue", "feel-matt-waxy", "--sign", "sticky"), str(self.case))
        self.assertEqual(result.returncode, DONE, result.stderr)
        self.assertEqual(self.document()["findings"][0]["signs"], ["sticky"])

    def test_a_clue_to_a_lot(self):
        self.done("--clue", "print-code-2x", "--clue", "feel-matt-waxy", "--lot", self.lots[0], "--on", "2026-01-02")
        self.assertEqual(self.document()["findings"],
                         [{"lot": self.lots[0], "clues": ["print-code-2x", "feel-matt-waxy"], "on": "2026-01-02"}])

    def test_without_a_day_it_is_today_and_said(self):
        first = datetime.datetime.now(datetime.timezone.utc).date()
        text = self.done("--segment", self.segments[0], "--seen", "supple", "--method", "look-boot")
        last = datetime.datetime.now(datetime.timezone.utc).date()
        self.assertIn("clock", text)
        self.assertIn(self.document()["findings"][0]["on"], {str(first), str(last)})
        self.assertNotIn("clock", self.done(*self.finding()))

    def test_order_of_keys_notes_and_spelling_of_numbers_stay(self):
        text = self.before.decode().replace('"version": 1', '"version":   1.0e0', 1)
        self.case.write_text(text, encoding="utf-8")
        self.done(*self.finding("--cause", "heat"))
        after = self.case.read_text(encoding="utf-8")
        self.assertTrue(after.startswith(text.rstrip().removesuffix("}").rstrip()), "the old text is the beginning of the new one")
        self.assertEqual([key for key in self.document() if key not in ("predictions", "findings", "recorded")],
                         list(json.loads(self.before)))

    def test_json_says_what_was_done(self):
        document = json.loads(self.done(*self.finding("--json", method="look-touch")))
        self.assertEqual((document["format"], document["version"]), ("heatside-recorded", 1))
        self.assertEqual((document["did"], document["what"], document["at"]), ("recorded", "finding", "/findings/0"))
        self.assertEqual(document["case_sha256"], hashlib.sha256(self.case.read_bytes()).hexdigest())
        self.assertTrue(document["prediction"])
        self.assertTrue(document["opens"])
        self.assertEqual(document["openings"], {"consent": False, "opened": [self.segments[0]], "allowed": None})
        self.assertEqual(document["finding"]["cause"], "unsure")
        self.assertTrue(any(entry["at"] == "/findings/0/cause" for entry in document["assumptions"]))
        self.assertGreaterEqual(len(document["cautions"]), 8)
        document = json.loads(self.done("--undo", "--json"))
        self.assertEqual((document["did"], document["what"], document["prediction"]), ("taken-back", "finding", True))
        self.assertEqual(document["case_sha256"], hashlib.sha256(self.before).hexdigest())

    def test_cautions_come_with_an_opening(self):
        self.assertTrue(self.done(*self.finding(method="look-opening")).startswith("! WARNING"))
        self.assertNotIn("WARNING", self.done(*self.finding(method="look-boot")))
        for line in self.done(*self.finding(method="look-touch")).splitlines():
            self.assertLessEqual(len(line), PAGE_WIDTH, line)

    def test_from_standard_input_to_standard_output(self):
        with self.case.open("rb") as text:
            result = run("record", "-", *self.finding(), stdin=text)
        self.assertEqual(result.returncode, DONE, result.stderr)
        self.assertIn(b"Recorded: ", result.stderr)
        self.assertEqual(self.case.read_bytes(), self.before)
        self.assertEqual(json.loads(result.stdout)["findings"][0]["seen"], "cracked")

    # --- consent ---------------------------------------------------------------------------------------------------------

    def test_consent_is_recorded_once(self):
        self.assertIn("consent is not recorded", self.done(*self.finding(method="look-touch")).replace("\n", " "))
        self.assertIn("consent", self.done("--consent"))
        self.assertTrue(self.document()["openings"]["consent"])
        self.assertNotIn("consent is not recorded", self.done(*self.finding(method="look-touch")).replace("\n", " "))
        before = self.case.read_bytes()
        self.assertIn("Nothing was changed", self.done("--consent"))
        self.assertEqual(self.case.read_bytes(), before)

    # --- the prediction log ----------------------------------------------------------------------------------------------

    def test_the_prediction_is_what_the_case_said_before(self):
        said = {segment["id"]: segment["condition"]["chance"]
                for segment in json.loads(run("estimate", "--json", str(self.case)).stdout)["segments"]}
        self.done(*self.finding())
        prediction = self.document()["predictions"][0]
        self.assertEqual(set(prediction["segments"]), set(self.segments))
        for segment, chances in prediction["segments"].items():
            self.assertEqual(set(chances), set(said[segment]))
            self.assertAlmostEqual(sum(chances.values()), 1.0, places=9)
        self.assertEqual(prediction["on"], "2026-01-02")
        datetime.datetime.strptime(prediction["stored"], "%Y-%m-%dT%H:%M:%SZ")
        self.assertEqual(prediction["engine"], run("--version").stdout.decode().strip())

    def test_the_hash_of_a_prediction_can_be_made_elsewhere(self):
        # As the README says: everything but the hash, segments sorted, JSON without blanks.
        self.done(*self.finding())
        prediction = self.document()["predictions"][0]
        stored = prediction.pop("sha256")
        prediction["segments"] = dict(sorted(prediction["segments"].items()))
        self.assertEqual(hashlib.sha256(json.dumps(prediction, separators=(",", ":")).encode()).hexdigest(), stored)

    def test_one_prediction_a_day(self):
        self.assertIn("Stored before it", self.done(*self.finding()))
        self.assertNotIn("Stored before it", self.done(*self.finding(segment=self.segments[1])))
        self.assertIn("Stored before it", self.done(*self.finding(on="2026-01-03")))
        self.assertEqual([entry["on"] for entry in self.document()["predictions"]], ["2026-01-02", "2026-01-03"])

    def test_a_changed_prediction_is_refused_by_every_reader(self):
        self.done(*self.finding())
        document = self.document()
        chances = document["predictions"][0]["segments"][self.segments[0]]
        for condition in chances:
            chances[condition] = 0.2
        self.case.write_text(json.dumps(document), encoding="utf-8")
        self.refused(BAD_DATA, *self.finding(), fragments=["/predictions/0/sha256", "not as it was stored"])
        for verb in ("check", "estimate"):
            result = run(verb, str(self.case))
            self.assertEqual(result.returncode, BAD_DATA)
            self.assertIn(b"/predictions/0/sha256", result.stderr)

    # --- taking back -----------------------------------------------------------------------------------------------------

    def test_undo_leaves_every_byte_as_it_was(self):
        compact = json.dumps(json.loads(self.before), separators=(",", ":")).encode()
        typed = json.dumps(json.loads(self.before), indent="\t").replace("\n", "\r\n").encode() + b"\r\n \r\n"
        for text in (self.before, compact, typed):
            self.case.write_bytes(text)
            states = [text]
            for arguments in (self.finding("--note", "\u00fc"), ["--consent"], ["--clue", "braid-outside", "--lot", self.lots[0]],
                              self.finding(on="2026-01-03"), self.finding(on="2026-01-03", segment=self.segments[1])):
                self.done(*arguments)
                states.append(self.case.read_bytes())
            for state in reversed(states[:-1]):
                self.assertIn("Taken back: ", self.done("--undo"))
                self.assertEqual(self.case.read_bytes(), state)
            self.refused(BAD_DATA, "--undo", fragments=["nothing to take back", "Nothing was changed."])

    def test_undo_after_a_change_by_hand(self):
        self.done(*self.finding("--cause", "heat"))
        document = self.document()
        other = {"segment": self.segments[1], "seen": "not-seen", "on": "2026-01-02"}
        document["findings"].insert(0, other)
        self.case.write_text(json.dumps(document, indent=3), encoding="utf-8")
        self.done("--undo")
        self.assertEqual(self.document()["findings"], [other])
        self.done(*self.finding("--cause", "heat"))
        self.case.write_bytes(self.case.read_bytes().replace(b'"seen": "cracked"', b'"seen": "stiff"'))
        self.refused(BAD_DATA, "--undo", fragments=["by hand"])

    # --- what is refused -------------------------------------------------------------------------------------------------

    def test_wrong_words_are_refused_in_the_words_of_the_options(self):
        bad = (
            (["--segment", "nowhere"], "--segment: unknown segment \"nowhere\""),
            (["--seen", "craked"], "--seen: unknown seen \"craked\"; nearest is \"cracked\""),
            (["--method", "look-bot"], "--method: unknown method \"look-bot\"; nearest is \"look-boot\""),
            (["--cause", "hete"], "--cause: "),
            (["--sign", "stiky"], "--sign: unknown sign \"stiky\"; nearest is \"sticky\""),
            (["--clue", "print-code-2y"], "--clue: unknown clue"),
            (["--lot", "nothing"], "--lot: unknown lot"),
            (["--stretch", "zz"], "--stretch: unknown stretch"),
            (["--on", "1990-01-01"], "--on: 1990-01-01 is before the vehicle was built"),
            (["--on", "2026-13-01"], "--on: "),
            (["--on", "2026-01"], "--on: "),
            (["--altered-on", "2010"], "--altered-on: "),
            (["--method", "bend-tail"], "the method bend-tail gives"),
            (["--note", "bell \a"], "--note: "),
            (["--note", b"\xff\xfe"], "not UTF-8"),
        )
        for more, fragment in bad:
            with self.subTest(more):
                arguments = self.finding("--cause", "heat")
                for option, value in zip(more[::2], more[1::2]):
                    if option in arguments:
                        arguments[arguments.index(option) + 1] = value
                    else:
                        arguments += [option, value]
                message = self.refused(USAGE, *arguments, fragments=[fragment])
                self.assertRegex(message, "(?i)nothing was changed|not a day")

    def test_numbers_out_of_range_are_refused(self):
        place = ["--segment", self.segments[0], "--on", "2026-01-02"]
        for arguments, fragment in (
                (["--method", "elongation-tail", "--elongation-percent", "-1"], "--elongation-percent: "),
                (["--method", "elongation-tail", "--elongation-percent", "nan"], ""),
                (["--method", "elongation-tail", "--elongation-percent", "40", "--standard-error", "0"], "--standard-error: "),
                (["--method", "bend-tail", "--bend-diameter-mm", "10"], "--bend-diameter-mm with --cracked or --whole: "),
                (["--method", "bend-tail", "--bend-diameter-mm", "0", "--whole"], "--bend-diameter-mm: "),
                (["--method", "bend-tail", "--bend-diameter-mm", "inf", "--whole"], ""),
                (["--method", "bend-tail", "--bend-diameter-mm", "10", "--whole", "--cracked"], "excludes"),
                (["--method", "resistance-reading", "--resistance-MOhm", "5"], "--both-ends-unplugged: "),
                (["--method", "resistance-reading", "--resistance-MOhm", "5", "--both-ends-unplugged"], "--no-control-units: ")):
            with self.subTest(arguments):
                self.refused(USAGE, *place, *arguments, fragments=[fragment])

    def test_one_thing_at_a_time(self):
        for arguments in ([], ["--undo", "--consent"], self.finding("--undo"), self.finding("--consent")):
            with self.subTest(arguments):
                self.refused(USAGE, *arguments, fragments=["one thing at a time"])
        self.refused(USAGE, "--seen", "cracked", "--method", "look-boot")
        self.refused(USAGE, "--segment", self.segments[0])

    def test_a_case_with_errors_is_left_alone(self):
        self.case.write_bytes(self.before.replace(b'"version": 1', b'"version": 2', 1))
        self.refused(BAD_DATA, *self.finding(), fragments=["/version", "Nothing was changed."])
        self.case.write_bytes(self.before[:-10])
        self.refused(BAD_DATA, *self.finding(), fragments=["line "])
        self.assertEqual(run("record", str(self.folder / "gone.json"), *self.finding()).returncode, NO_INPUT)

    # --- never half-written ----------------------------------------------------------------------------------------------

    def test_a_full_disk_leaves_the_case(self):
        # A limit on the size of files makes the write fail half-way, as a full disk would.
        def limit():
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))

        result = self.record(*self.finding(), preexec_fn=limit, restore_signals=False)
        self.assertEqual(result.returncode, CANNOT_WRITE, result.stderr)
        self.assertIn(b"nothing was changed", result.stderr)
        self.assertEqual(result.stdout, b"")
        self.assertEqual(self.case.read_bytes(), self.before)
        self.assertEqual(self.listing(), ["van.case.json"])

    @unittest.skipIf(os.geteuid() == 0 and shutil.which("setpriv") is None, "needs a user without special rights")
    def test_a_folder_that_cannot_be_written(self):
        self.folder.chmod(0o555)
        self.addCleanup(self.folder.chmod, 0o755)
        self.case.chmod(0o444)
        prefix = ["setpriv", "--reuid=65534", "--regid=65534", "--clear-groups"] if os.geteuid() == 0 else []
        result = subprocess.run([*prefix, PROGRAM, "record", str(self.case), *self.finding()], capture_output=True, timeout=120,
                                stdin=subprocess.DEVNULL, check=False)
        if result.returncode in (126, 127):
            self.skipTest("the program cannot be started by another user here")
        self.assertEqual(result.returncode, CANNOT_WRITE, result.stderr)
        self.assertIn(b"nothing was changed", result.stderr)
        self.assertEqual(self.case.read_bytes(), self.before)

    def test_a_kill_at_any_moment_leaves_a_whole_case(self):
        self.done(*self.finding())
        chance = random.Random(20260914)
        states = set()
        begin = time.monotonic()
        self.done(*self.finding())
        length = time.monotonic() - begin
        for _ in range(40):
            before = self.case.read_bytes()
            with subprocess.Popen([PROGRAM, "record", str(self.case), *self.finding()], stdout=subprocess.DEVNULL,
                                  stderr=subprocess.DEVNULL) as process:
                time.sleep(chance.uniform(0.0, 1.3 * length))
                process.kill()
            after = self.case.read_bytes()
            states.add(after == before)
            self.assertEqual(run("check", str(self.case)).returncode, DONE)
            if after != before:
                self.assertEqual(self.done("--undo")[:11], "Taken back:")
                self.assertEqual(self.case.read_bytes(), before)
        self.assertIn(True, states, "no kill came early enough to matter")

    def test_two_at_work_lose_nothing(self):
        processes = [subprocess.Popen([PROGRAM, "record", str(self.case), *self.finding("--note", f"number {index}")],
                                      stdout=subprocess.DEVNULL, stderr=subprocess.PIPE) for index in range(8)]
        for process in processes:
            _, message = process.communicate(timeout=120)
            self.assertEqual(process.returncode, DONE, message)
        self.assertEqual(sorted(entry["note"] for entry in self.document()["findings"]), [f"number {index}" for index in range(8)])
        self.assertEqual(len(self.document()["predictions"]), 1)

    def test_permissions_and_links_stay(self):
        self.case.chmod(0o640)
        link = self.folder / "link.case.json"
        link.symlink_to(self.case.name)
        result = run("record", str(link), *self.finding())
        self.assertEqual(result.returncode, DONE, result.stderr)
        self.assertTrue(link.is_symlink())
        self.assertEqual(self.case.stat().st_mode & 0o7777, 0o640)
        self.assertEqual(len(self.document()["findings"]), 1)


if __name__ == "__main__":
    PROGRAM = os.path.abspath(sys.argv[1])
    SOURCE = pathlib.Path(sys.argv[2])
    del sys.argv[1:3]
    unittest.main(verbosity=1)
