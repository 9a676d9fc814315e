"""The program and the published JSON Schema agree on the corpus of tests/malformed/.

Usage: schema_agreement_test.py HEATSIDE_PROGRAM SOURCE_DIR

Every file of good/ is accepted by both. Every file of bad/ has one fault: the program refuses it with exit code 65,
one problem, the expected pointer and words; the schema refuses it where expected.json says that a schema can see the fault.
"""

import json
import pathlib
import subprocess
import sys
import unittest

import jsonschema

PROGRAM = None
SOURCE = None


def parse(path):
    """The document, or None where the text is no JSON at all (RFC 8259 knows no NaN)."""

    def refuse(word):
        raise ValueError(word)

    try:
        return json.loads(path.read_bytes().decode("utf-8"), parse_constant=refuse)
    except ValueError:
        return None


def check(path):
    return subprocess.run([PROGRAM, "check", str(path)], capture_output=True, text=True, errors="replace", check=False)


def schema(name):
    return json.loads((SOURCE / "materials" / "schema" / name).read_text(encoding="utf-8"))


def case_validator():
    return jsonschema.Draft202012Validator(schema("case.schema.json"))


def template_validator():
    case_schema = schema("case.schema.json")
    resolver = jsonschema.RefResolver.from_schema(schema("template.schema.json"), store={case_schema["$id"]: case_schema})
    return jsonschema.Draft202012Validator(schema("template.schema.json"), resolver=resolver)


class Agreement(unittest.TestCase):
    def corpus(self):
        return SOURCE / "tests" / "malformed"

    def bad(self):
        return json.loads((self.corpus() / "expected.json").read_text(encoding="utf-8"))["bad"]

    def test_schemas_are_schemas(self):
        for name in ("case.schema.json", "template.schema.json"):
            jsonschema.Draft202012Validator.check_schema(schema(name))

    def test_good_files_are_accepted_by_both(self):
        files = sorted((self.corpus() / "good").glob("*.case.json"))
        self.assertGreaterEqual(len(files), 8)
        for path in files:
            with self.subTest(path.name):
                run = check(path)
                self.assertEqual(run.returncode, 0, run.stderr)
                errors = [f"{error.json_path}: {error.message}" for error in case_validator().iter_errors(parse(path))]
                self.assertEqual(errors, [])

    def test_every_bad_file_is_expected_and_the_other_way_round(self):
        listed = sorted(entry["file"] for entry in self.bad())
        there = sorted(f"bad/{path.name}" for path in (self.corpus() / "bad").glob("*.case.json"))
        self.assertEqual(listed, there)
        self.assertGreaterEqual(len(listed), 35)

    def test_bad_files_are_refused_by_the_program(self):
        for entry in self.bad():
            with self.subTest(entry["file"]):
                run = check(self.corpus() / entry["file"])
                self.assertEqual(run.returncode, 65, run.stderr)
                lines = [line for line in run.stderr.splitlines() if entry["message_part"] in line]
                self.assertEqual(len(lines), 1, run.stderr)
                if entry["pointer"]:
                    self.assertIn(f": {entry['pointer']}: ", lines[0])
                problems = [line for line in run.stderr.splitlines() if f"{pathlib.Path(entry['file']).name}: " in line]
                self.assertEqual(len(problems), 1, "one fault, one problem\n" + run.stderr)

    def test_the_schema_sees_what_a_schema_can_see(self):
        for entry in self.bad():
            with self.subTest(entry["file"]):
                document = parse(self.corpus() / entry["file"])
                rejects = document is None or not case_validator().is_valid(document)
                self.assertEqual(rejects, entry["schema_rejects"])

    def test_templates_follow_their_schema(self):
        files = sorted((SOURCE / "materials" / "templates").glob("*.json"))
        self.assertGreaterEqual(len(files), 5)
        for path in files:
            with self.subTest(path.name):
                errors = [f"{error.json_path}: {error.message}" for error in template_validator().iter_errors(parse(path))]
                self.assertEqual(errors, [])
                self.assertEqual(parse(path)["id"], path.stem)


if __name__ == "__main__":
    PROGRAM = sys.argv[1]
    SOURCE = pathlib.Path(sys.argv[2])
    unittest.main(argv=sys.argv[:1])
