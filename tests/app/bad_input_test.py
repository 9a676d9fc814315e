"""Bad input through the program: the right exit code, a message on stderr, nothing on stdout, nothing changed.

Usage: bad_input_test.py HEATSIDE_PROGRAM SOURCE_DIR

Exit codes are those of sysexits.h: 64 usage, 65 bad data, 66 no input, 73 cannot write, 74 I/O.
"""

import copy
import json
import os
import pathlib
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import unittest

PROGRAM = None
SOURCE = None
BASE = None  # a good case, as parsed JSON

DONE, USAGE, BAD_DATA, NO_INPUT, CANNOT_WRITE, IO_ERROR = 0, 64, 65, 66, 73, 74
START = ["start", "--template", "plain-two-segment", "--built", "1994", "--inspected", "2026-01-01"]


def run(*arguments, **options):
    options.setdefault("stdin", subprocess.DEVNULL)
    return subprocess.run([PROGRAM, *arguments], capture_output=True, timeout=120, check=False, **options)


def shell(command, *arguments, **options):
    """A line of sh; "$0" is the program."""
    return subprocess.run(["sh", "-c", command, PROGRAM, *arguments], capture_output=True, timeout=120, check=False, **options)


class BadInput(unittest.TestCase):
    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)

    def file(self, content, name="van.case.json"):
        path = self.folder / name
        path.write_bytes(content if isinstance(content, bytes) else json.dumps(content).encode())
        return str(path)

    def listing(self):
        return sorted(path.name for path in self.folder.iterdir())

    def assert_refused(self, result, code, *fragments):
        """Ends with the code, says why on stderr and nothing on stdout, and does not fall over."""
        message = result.stderr.decode("utf-8", "replace")
        self.assertEqual(result.returncode, code, message)
        self.assertEqual(result.stdout, b"")
        self.assertNotEqual(message.strip(), "")
        for sign in ("terminate", "Sanitizer", "runtime error", "this is a bug"):
            self.assertNotIn(sign, message)
        for fragment in fragments:
            self.assertIn(fragment, message)
        return message

    def refused_bytes(self, content, *fragments):
        """Both readers of cases refuse the bytes."""
        path = self.file(content)
        message = self.assert_refused(run("estimate", path), BAD_DATA, "van.case.json", "Nothing was changed.", *fragments)
        check = run("check", path)
        self.assertEqual(check.returncode, BAD_DATA)
        for fragment in fragments:
            self.assertIn(fragment, check.stderr.decode("utf-8", "replace"))
        self.assertEqual(pathlib.Path(path).read_bytes(), content)
        return message

    def refused_case(self, change, *fragments):
        case = copy.deepcopy(BASE)
        change(case)
        return self.refused_bytes(json.dumps(case).encode(), *fragments)

    def text(self):
        return json.dumps(BASE).encode()

    # --- texts that are no JSON as it should be -------------------------------------------------------------------------

    def test_the_base_case_is_good(self):
        path = self.file(BASE)
        self.assertEqual(run("estimate", path).returncode, DONE)
        self.assertEqual(run("check", path).returncode, DONE)

    def test_truncated(self):
        text = self.text()
        for length in (0, 1, len(text) // 3, len(text) // 2, len(text) - 1):
            with self.subTest(length):
                self.refused_bytes(text[:length], "line ", "column ")

    def test_duplicate_key(self):
        self.refused_bytes(b'{"version": 1, ' + self.text()[1:], '"version" is given twice')

    def test_nested_duplicate_key(self):
        text = self.text().replace(b'{"id": "loom"', b'{"id": "other", "id": "loom"', 1)
        self.refused_bytes(text, "/looms/0", '"id" is given twice')

    def test_nul_byte(self):
        self.refused_bytes(self.text() + b"\0", "NUL")
        self.refused_bytes(self.text().replace(b"Vehicle", b"Veh\0cle", 1), "NUL")

    def test_escaped_nul(self):
        self.refused_bytes(self.text().replace(b"Vehicle", b"Veh\\u0000cle", 1), "/title", "control characters")

    def test_invalid_utf8(self):
        for raw in (b"\xff", b"\xc0\x80", b"\xed\xa0\x80", b"\xf4\x90\x80\x80", b"\xe9t\xe9"):
            with self.subTest(raw):
                self.refused_bytes(self.text().replace(b"Vehicle", b"Veh" + raw + b"cle", 1), "UTF-8")

    def test_utf16(self):
        self.refused_bytes(json.dumps(BASE).encode("utf-16"))

    def test_number_out_of_range_of_double(self):
        self.refused_bytes(self.text().replace(b'"length_m": 0.5', b'"length_m": 1e999', 1), "range of double")

    def test_not_a_number(self):
        for word in (b"NaN", b"Infinity", b"-Infinity", b"nan"):
            with self.subTest(word):
                self.refused_bytes(self.text().replace(b'"length_m": 0.5', b'"length_m": ' + word, 1), "not valid JSON")

    def test_deep_nesting(self):
        self.refused_bytes(b"[" * 100_000, "deeper than 64")
        self.refused_bytes(b'{"a":' * 100_000, "deeper than 64")

    def test_file_of_65_mebibytes(self):
        self.refused_bytes(self.text() + b" " * (65 << 20), "67108864", "bytes are too many")

    def test_endless_standard_input(self):
        with open("/dev/zero", "rb") as zero:
            self.assert_refused(run("estimate", "-", stdin=zero), BAD_DATA, "too many")

    def test_trailing_bytes(self):
        self.refused_bytes(self.text() + b" {}", "line ")

    def test_other_top_level_values(self):
        for text in (b"[]", b"1", b'"case"', b"null", b"{}"):
            with self.subTest(text):
                self.refused_bytes(text)

    # --- cases that say something impossible -----------------------------------------------------------------------------

    def test_unknown_key_names_the_nearest(self):
        def misspell(case):
            case["segments"][0]["lenght_m"] = case["segments"][0].pop("length_m")

        self.refused_case(misspell, "/segments/0/lenght_m", 'nearest is "length_m"')

    def test_unknown_top_level_key(self):
        self.refused_case(lambda case: case.update({"vehicel": {}}), "/vehicel", "unknown key")

    def test_wrong_unit_in_a_record(self):
        record = json.loads((SOURCE / "materials/insulations/xlpo-125.json").read_text(encoding="utf-8"))
        record["thermal_life"]["hours"]["unit"] = "a"
        result = run("check", self.file(record, "mine.json"))
        self.assertEqual(result.returncode, BAD_DATA)
        message = result.stderr.decode()
        for fragment in ("mine.json", "/thermal_life/hours/unit", 'allowed: "h"', "Nothing was changed."):
            self.assertIn(fragment, message)

    def test_wrong_unit_in_a_folder_of_records(self):
        record = json.loads((SOURCE / "materials/insulations/xlpo-125.json").read_text(encoding="utf-8"))
        record["rating"]["unit"] = "K"
        self.file(record, "mine.json")
        case = self.file(BASE)
        records = self.folder / "records"
        records.mkdir()
        shutil.move(self.folder / "mine.json", records / "mine.json")
        for verb in (["estimate", case], ["materials"], START):
            with self.subTest(verb[0]):
                self.assert_refused(run(*verb, "--materials", str(records)), BAD_DATA, "mine.json", "/rating/unit")

    def test_negative_length(self):
        self.refused_case(lambda case: case["segments"][0].update(length_m=-0.5), "/segments/0/length_m", "-0.5", "allowed")

    def test_dates_out_of_order(self):
        changes = {
            "entered service before it was built": lambda case: case["vehicle"].update(built="1999-01-01", entered_service="1998-01-01"),
            "inspected before it was built": lambda case: case.update(inspected="1990-01-01"),
            "period ends before it begins": lambda case: case["service"][0].update({"from": "2000-01-01", "to": "1999-01-01"}),
            "loom made after the inspection": lambda case: case["looms"][0].update(made="2027-01-01"),
        }
        for name, change in changes.items():
            with self.subTest(name):
                self.refused_case(change)

    def test_day_that_never_was(self):
        self.refused_case(lambda case: case.update(inspected="2023-02-29"), "/inspected", "YYYY-MM-DD")

    def test_segment_with_unknown_node(self):
        self.refused_case(lambda case: case["segments"][0].update(to="hot-edn"), "/segments/0/to", '"hot-edn"', 'nearest is "hot-end"')

    def test_segment_with_unknown_zone(self):
        def change(case):
            case["segments"][0]["stretches"][0]["zone"] = "head-cover-2"

        self.refused_case(change, "/segments/0/stretches/0/zone", '"head-cover-2"', 'nearest is "head-cover"')

    def test_segment_with_unknown_covering(self):
        def change(case):
            case["segments"][0]["stretches"][0]["covering"] = "tube-ppp"

        self.refused_case(change, "/segments/0/stretches/0/covering", 'nearest is "tube-pp"')

    def test_lot_of_unknown_compound(self):
        self.refused_case(lambda case: case["lots"][0].update(insulation="xlpo-124"), "/lots/0/insulation", 'nearest is "xlpo-125"')

    def test_unknown_climate_and_duty(self):
        self.refused_case(lambda case: case["service"][0].update(climate="temperate", duty="famliy"), "/service/0/climate",
                          "/service/0/duty", 'nearest is "family"')

    def test_loop_in_the_route_is_allowed(self):
        case = copy.deepcopy(BASE)
        loop = copy.deepcopy(case["segments"][0])
        loop.update({"id": "back", "name": "back to the beginning", "from": "hot-end", "to": "cool-end"})
        case["segments"].append(loop)
        path = self.file(case)
        check = run("check", path)
        self.assertEqual(check.returncode, DONE, check.stderr.decode())
        result = run("estimate", "--json", path)
        self.assertEqual(result.returncode, DONE, result.stderr.decode())
        self.assertEqual(len(json.loads(result.stdout)["segments"]), 3)

    def test_loom_without_segments(self):
        self.refused_case(lambda case: case["looms"].append({"id": "spare", "name": "spare", "made": "1994", "copper": "bare"}),
                          "/looms/1", '"spare"')

    def test_no_segments_at_all(self):
        self.refused_case(lambda case: case.update(segments=[]), "/segments")

    def test_several_errors_at_once(self):
        def change(case):
            case["segments"][0]["length_m"] = -1
            case["segments"][1]["stretches"][0]["zone"] = "nowhere"
            case["lots"][0]["size"] = "0.51 mm2"
            case["looms"][0]["copper"] = "gold"
            case["inspected"] = "soon"
            case["colour"] = "red"
            del case["title"]

        message = self.refused_case(change, "/segments/0/length_m", "/segments/1/stretches/0/zone", "/lots/0/size", "/looms/0/copper",
                                    "/inspected", "/colour", '"title" is missing')
        self.assertEqual(message.count("van.case.json: "), 7, message)
        check = run("check", "--json", str(self.folder / "van.case.json"))
        self.assertEqual(check.returncode, BAD_DATA)
        self.assertEqual(len(json.loads(check.stdout)["files"][0]["problems"]), 7)

    def test_check_looks_at_every_file(self):
        good = self.file(BASE, "good.case.json")
        bad = self.file(b"{", "bad.case.json")
        result = run("check", bad, good, str(self.folder / "missing.json"), "--json")
        self.assertEqual(result.returncode, BAD_DATA)
        self.assertIn(b"missing.json", result.stderr)
        files = json.loads(result.stdout)["files"]
        self.assertEqual([len(entry["problems"]) for entry in files], [1, 0])

    # --- files that are not there ------------------------------------------------------------------------------------------

    def test_missing_file(self):
        for verb in ("estimate", "check"):
            with self.subTest(verb):
                result = run(verb, str(self.folder / "nothing.case.json"))
                self.assertEqual(result.returncode, NO_INPUT)
                self.assertIn(b"nothing.case.json", result.stderr)
        self.assert_refused(run("estimate", str(self.folder / "nothing.case.json")), NO_INPUT)
        self.assert_refused(run("estimate", ""), NO_INPUT)

    def test_directory_instead_of_a_file(self):
        self.assert_refused(run("estimate", str(self.folder)), NO_INPUT, "directory")
        result = run("check", str(self.folder))
        self.assertEqual(result.returncode, NO_INPUT)
        self.assertIn(b"directory", result.stderr)

    def test_file_below_what_is_no_folder(self):
        self.assert_refused(run("estimate", "/dev/null/x"), NO_INPUT, "/dev/null/x")

    def test_missing_folder_of_records(self):
        missing = str(self.folder / "no-records")
        for verb in (["estimate", self.file(BASE)], ["materials"], START):
            with self.subTest(verb[0]):
                self.assert_refused(run(*verb, "--materials", missing), NO_INPUT, "no-records")

    def test_file_as_folder_of_records(self):
        case = self.file(BASE)
        self.assert_refused(run("estimate", case, "--materials", case), NO_INPUT, "van.case.json")

    # --- places that cannot be written ------------------------------------------------------------------------------------------

    def test_target_below_what_is_no_folder(self):
        self.assert_refused(run(*START, "-o", "/dev/null/x"), CANNOT_WRITE, "/dev/null/x", "nothing was changed")

    def test_target_in_a_missing_folder(self):
        self.assert_refused(run(*START, "-o", str(self.folder / "missing" / "new.case.json")), CANNOT_WRITE, "nothing was changed")
        self.assertEqual(self.listing(), [])

    def test_target_is_a_folder(self):
        for force in ([], ["--force"]):
            with self.subTest(force):
                self.assert_refused(run(*START, "-o", str(self.folder), *force), CANNOT_WRITE)
        self.assertEqual(self.listing(), [])

    @unittest.skipUnless(os.path.exists("/dev/full"), "no /dev/full here")
    def test_full_disk(self):
        self.assert_refused(run(*START, "-o", "/dev/full"), CANNOT_WRITE, "/dev/full")

    @unittest.skipUnless(os.path.exists("/dev/full"), "no /dev/full here")
    def test_standard_output_on_a_full_disk(self):
        case = self.file(BASE)
        for verb in (["estimate", case], ["estimate", "--json", case], ["check", case], ["materials"], ["--help"], ["--version"],
                     ["estimate", "--help"], START):
            with self.subTest(verb):
                with open("/dev/full", "wb") as full:
                    result = subprocess.run([PROGRAM, *verb], stdout=full, stderr=subprocess.PIPE, timeout=120, check=False)
                self.assertEqual(result.returncode, IO_ERROR, result.stderr)
                self.assertIn(b"standard output", result.stderr)

    def test_closed_standard_output(self):
        case = self.file(BASE)
        for verb in (["estimate", case], ["check", case], ["materials"], ["--help"], START):
            with self.subTest(verb):
                result = shell('exec "$0" "$@" >&-', *verb)
                self.assertEqual(result.returncode, IO_ERROR, result.stderr)
                self.assertIn(b"standard output", result.stderr)

    def test_closed_standard_output_does_not_spoil_a_file(self):
        target = self.folder / "new.case.json"
        result = shell('exec "$0" "$@" >&- 2>&- <&-', *START, "-o", str(target))
        self.assertEqual(result.returncode, DONE)
        self.assertEqual(json.loads(target.read_text(encoding="utf-8"))["format"], "heatside-case")

    def test_closed_standard_error(self):
        result = shell('exec "$0" "$@" 2>&-', "estimate", self.file(b"{"))
        self.assertEqual(result.returncode, BAD_DATA)
        self.assertEqual(result.stdout, b"")

    def test_closed_standard_input(self):
        result = shell('exec "$0" estimate - <&-')
        self.assertIn(result.returncode, (BAD_DATA, NO_INPUT, IO_ERROR))
        self.assertEqual(result.stdout, b"")

    def test_reader_that_goes_away_early(self):
        # More than a pipe holds, so that the program is still writing.
        with subprocess.Popen([PROGRAM, "materials", "--json"], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
            self.assertEqual(process.stdout.read(1), b"{")
            process.stdout.close()
            message = process.stderr.read()
            self.assertEqual(process.wait(timeout=120), DONE)
        self.assertEqual(message, b"")
        result = shell('"$0" materials --json | head -c 1')
        self.assertEqual((result.returncode, result.stdout, result.stderr), (DONE, b"{", b""))

    def test_existing_file_is_not_replaced_unasked(self):
        target = self.folder / "mine.case.json"
        target.write_bytes(b"my own words\n")
        before = target.stat()
        self.assert_refused(run(*START, "-o", str(target)), CANNOT_WRITE, "exists", "--force")
        self.assertEqual(target.read_bytes(), b"my own words\n")
        self.assertEqual(target.stat().st_mtime_ns, before.st_mtime_ns)
        self.assertEqual(self.listing(), ["mine.case.json"])

    def test_existing_file_is_replaced_when_asked(self):
        target = self.folder / "mine.case.json"
        target.write_bytes(b"my own words\n")
        target.chmod(0o640)
        result = run(*START, "-o", str(target), "--force")
        self.assertEqual(result.returncode, DONE, result.stderr)
        self.assertEqual(json.loads(target.read_text(encoding="utf-8"))["format"], "heatside-case")
        self.assertEqual(target.stat().st_mode & 0o7777, 0o640)
        self.assertEqual(self.listing(), ["mine.case.json"])

    def test_failed_write_leaves_the_original_and_nothing_else(self):
        # A limit on the size of files makes the write fail half-way, as a full disk would.
        target = self.folder / "mine.case.json"
        target.write_bytes(b"my own words\n")

        def limit():
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))

        for arguments in (["-o", str(target), "--force"], ["-o", str(self.folder / "new.case.json")]):
            with self.subTest(arguments):
                self.assert_refused(run(*START, *arguments, preexec_fn=limit, restore_signals=False), CANNOT_WRITE, "nothing was changed")
                self.assertEqual(target.read_bytes(), b"my own words\n")
                self.assertEqual(self.listing(), ["mine.case.json"])

    def test_file_size_limit_is_an_error_not_a_kill(self):
        # The signal of the limit stays as the system delivers it.
        def limit():
            signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
            resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
            resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))

        result = run(*START, "-o", str(self.folder / "new.case.json"), preexec_fn=limit)
        self.assertEqual(self.listing(), [])
        self.assert_refused(result, CANNOT_WRITE)

    def test_bad_start_writes_nothing(self):
        target = self.folder / "new.case.json"
        bad = (
            ["--template", "plain-tow-segment", "--built", "1994"],
            ["--template", "plain-two-segment"],
            ["--template", "plain-two-segment", "--built", "2030", "--inspected", "2026-01-01"],
            ["--template", "plain-two-segment", "--built", "1994", "--climate", "arctic-sea"],
            ["--template", "plain-two-segment", "--built", "1994", "--duty", "racing"],
            ["--template", "plain-two-segment", "--built", "1994", "--parking", "street"],
            ["--template", "plain-two-segment", "--built", "1994", "--region", "moon"],
            ["--template", "plain-two-segment", "--built", "1994", "--odometer", "-5"],
            ["--template", "plain-two-segment", "--built", "1994", "--odometer", "1e300"],
            ["--template", "plain-two-segment", "--built", "1994", "--odometer", "nan"],
            ["--template", "plain-two-segment", "--built", "1994", "--odometer", "inf"],
            ["--template", "plain-two-segment", "--built", "0094"],
            ["--template", "plain-two-segment", "--built", "1899"],
        )
        for arguments in bad:
            with self.subTest(arguments):
                result = run("start", *arguments, "-o", str(target))
                self.assertIn(result.returncode, (USAGE, BAD_DATA), result.stderr)
                self.assert_refused(result, result.returncode)
                self.assertEqual(self.listing(), [])

    # --- the command line --------------------------------------------------------------------------------------------------------

    def test_usage_errors(self):
        case = self.file(BASE)
        for arguments in ([], ["estimaet", case], ["--colour"], ["estimate"], ["check"], ["start"], ["estimate", case, "--colour"],
                          ["estimate", case, "extra"], ["estimate", case, "--draws", "5"], ["estimate", case, "--draws", "0"],
                          ["estimate", case, "--draws", "-1"], ["estimate", case, "--draws", "many"], ["estimate", case, "--seed", "-1"],
                          ["estimate", case, "--seed", "x"], ["estimate", case, "--json", "--csv"], ["estimate", case, "--histogram"],
                          ["estimate", case, "--materials"], ["materials", "no-such-record"], ["materials", "a", "b"],
                          ["start", "--template", "plain-two-segment", "--built", "last year"],
                          ["start", "--template", "plain-two-segment", "--built", "1994", "--odometer", "far"],
                          ["check", case, "estimate", "--draws"]):
            with self.subTest(arguments):
                self.assert_refused(run(*arguments), USAGE)

    def test_unknown_record_names_the_nearest(self):
        self.assert_refused(run("materials", "xlpo-124"), USAGE, 'nearest is "xlpo-125"')

    def test_name_that_is_no_utf8(self):
        name = os.fsencode(self.folder) + b"/caf\xe9\xff.json"
        self.assert_refused(run("estimate", name), NO_INPUT)
        with open(name, "wb") as file:
            file.write(b"{")
        self.assert_refused(run("estimate", name), BAD_DATA)
        check = run("check", "--json", name)
        self.assertEqual(check.returncode, BAD_DATA)
        self.assertEqual(len(json.loads(check.stdout.decode("utf-8"))["files"]), 1)
        with open(name, "wb") as file:
            file.write(self.text())
        self.assertEqual(run("check", name).returncode, DONE)
        result = run("estimate", "--json", name)
        self.assertEqual(result.returncode, DONE, result.stderr)
        json.loads(result.stdout.decode("utf-8"))
        self.assert_refused(run(b"estim\xffate"), USAGE)
        self.assert_refused(run("materials", b"xlpo\xff"), USAGE)

    def test_name_with_format_characters(self):
        self.assert_refused(run("estimate", str(self.folder / "{}%s%n{0}.json")), NO_INPUT, "{}%s%n{0}.json")
        self.assert_refused(run("estimate", self.file(b"{", "{}%s%n{0}.json")), BAD_DATA, "{}%s%n{0}.json")


def setUpModule():
    global BASE
    result = run(*START)
    if result.returncode != DONE:
        raise RuntimeError(result.stderr.decode("utf-8", "replace"))
    BASE = json.loads(result.stdout)


if __name__ == "__main__":
    PROGRAM = os.path.abspath(sys.argv[1])
    SOURCE = pathlib.Path(sys.argv[2])
    del sys.argv[1:3]
    unittest.main(verbosity=1)
