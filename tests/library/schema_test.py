"""The published JSON Schemas, the shipped files and the reader of the program agree.

Usage: schema_test.py HEATSIDE_PROGRAM SOURCE_DIR

The schemas are JSON Schema 2020-12; the second opinion is Debian's python3-jsonschema.
"""

import copy
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import unittest

import jsonschema

PROGRAM = None
SOURCE = None
KINDS = ("climate", "clue", "conductors", "consequence", "covering", "duty", "era", "insulation", "method", "model", "remedy", "sources",
         "template", "zone")


def load(path):
    return json.loads(path.read_text(encoding="utf-8"))


def schemas():
    return {path.name.removesuffix(".schema.json"): load(path) for path in sorted((SOURCE / "materials" / "schema").glob("*.json"))}


def record_paths():
    """Every shipped record, sorted."""
    return [path for path in sorted((SOURCE / "materials").rglob("*.json")) if path.parent.name != "schema"]


class Validators:
    """One validator a kind; references between the schemas are looked up among themselves, never on a network."""

    def __init__(self):
        everything = schemas()
        store = {schema["$id"]: schema for schema in everything.values()}
        self.by_kind = {
            kind: jsonschema.Draft202012Validator(schema, resolver=jsonschema.RefResolver.from_schema(schema, store=store))
            for kind, schema in everything.items()
        }

    def errors(self, kind, document):
        return [f"{error.json_path}: {error.message}" for error in self.by_kind[kind].iter_errors(document)]

    def accept(self, kind, document):
        return self.by_kind[kind].is_valid(document)


def objects_of(value, path=()):
    """Every object in a document with its path, outermost first."""
    if isinstance(value, dict):
        yield path, value
        for key, child in value.items():
            yield from objects_of(child, path + (key,))
    elif isinstance(value, list):
        # Later elements have the form of the first ones.
        for index, child in enumerate(value[:2]):
            yield from objects_of(child, path + (index,))


def at(document, path):
    for step in path:
        document = document[step]
    return document


def shortened(document):
    """The record with two of its many sizes, decades or sources, which is enough to make every mistake."""
    copied = copy.deepcopy(document)
    for key in ("sizes", "decades"):
        if key in copied:
            copied[key] = copied[key][:2]
    if document["kind"] == "sources":
        copied["sources"] = dict(list(copied["sources"].items())[-2:])
    return copied


def mutated(document, path, change):
    copied = copy.deepcopy(document)
    change(at(copied, path))
    return copied


def place(path, key=""):
    return "/" + "/".join(str(step) for step in (*path, key) if step != "")


def mutations(document):
    """Small mistakes of every sort, each with its name. What all sourced numbers have in common is tried on the first few."""
    numbers = 0
    for path, value in objects_of(document):
        numbers += "unit" in value
        for key in value:
            if "unit" in value and numbers > 4 and key in ("value", "unit", "source", "grade", "note"):
                continue
            yield f"without {place(path, key)}", mutated(document, path, lambda target, key=key: target.pop(key))
            yield f"{place(path, key)} misspelt", mutated(
                document, path, lambda target, key=key: target.update({key[:-1] + "_" + key[-1:]: target.pop(key)}))
        if "unit" in value:
            yield f"{place(path)} in furlongs", mutated(document, path, lambda target: target.update(unit="furlong"))
            yield f"{place(path)} without unit text", mutated(document, path, lambda target: target.update(unit=""))
        if "grade" in value:
            yield f"{place(path)} of unknown grade", mutated(document, path, lambda target: target.update(grade="certain"))
        if value.get("unit") == "h":
            yield f"{place(path)} negative hours", mutated(
                document, path, lambda target: (target.pop("low", None), target.pop("high", None), target.update(value=-5)))
        if isinstance(value.get("value"), (int, float)):
            yield f"{place(path)} as text", mutated(document, path, lambda target: target.update(value=str(target["value"])))
        yield f"{place(path)} with a note", mutated(document, path, lambda target: target.update(note="A remark for people."))
        yield f"{place(path)} with an empty note", mutated(document, path, lambda target: target.update(note=""))
    for head, wrong in (("format", "heatside-case"), ("version", 2), ("version", "1"), ("id", "Two Words"), ("id", ""), ("id", "a,b"),
                        ("name", "")):
        yield f"{head} {wrong!r}", mutated(document, (), lambda target, head=head, wrong=wrong: target.update({head: wrong}))


# Keywords whose schemas only pick out instances that another schema closes.
NARROWING = {"contains", "if", "then", "else", "not"}


class Schemas(unittest.TestCase):
    def test_there_is_a_schema_for_every_kind(self):
        self.assertEqual(set(schemas()), {"case", "common", *KINDS})
        self.assertEqual({load(path)["kind"] for path in record_paths()}, set(KINDS))

    def test_the_schemas_are_schemas(self):
        for kind, schema in schemas().items():
            with self.subTest(kind):
                jsonschema.Draft202012Validator.check_schema(schema)
                self.assertEqual(schema["$schema"], "https://json-schema.org/draft/2020-12/schema")
                self.assertTrue(schema["$id"].endswith(f"/{kind}.schema.json"))

    def test_unknown_keys_are_refused_at_every_level(self):
        """An object schema that lists its properties closes itself, unless it only narrows one that does."""

        def walk(node, trail):
            if isinstance(node, list):
                for index, child in enumerate(node):
                    walk(child, f"{trail}/{index}")
            if not isinstance(node, dict):
                return
            if node.get("type") == "object" and "properties" in node:
                self.assertTrue(node.get("additionalProperties", node.get("unevaluatedProperties", True)) is not True, trail)
            for key, child in node.items():
                if key not in NARROWING:
                    walk(child, f"{trail}/{key}")

        for kind, schema in schemas().items():
            with self.subTest(kind):
                walk(schema, kind)

    def test_every_shipped_record_fits_its_schema(self):
        validators = Validators()
        self.assertGreater(len(record_paths()), 80)
        for path in record_paths():
            with self.subTest(path.name):
                document = load(path)
                self.assertEqual(validators.errors(document["kind"], document), [])
                self.assertEqual(document["id"], path.stem)

    def test_every_example_fits_the_schema_of_cases(self):
        validators = Validators()
        examples = sorted((SOURCE / "examples").glob("*.json"))
        self.assertGreater(len(examples), 0)
        for path in examples:
            with self.subTest(path.name):
                self.assertEqual(validators.errors("case", load(path)), [])

    def test_what_start_writes_fits_the_schema_of_cases(self):
        validators = Validators()
        for path in sorted((SOURCE / "materials" / "templates").glob("*.json")):
            with self.subTest(path.stem):
                result = subprocess.run([PROGRAM, "start", "--template", path.stem, "--built", "1994", "--inspected", "2026-01-01"],
                                        capture_output=True, check=True, timeout=120)
                self.assertEqual(validators.errors("case", json.loads(result.stdout)), [])


class Agreement(unittest.TestCase):
    """What a schema refuses the program refuses, and what both may judge they judge alike."""

    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, self.folder, ignore_errors=True)
        self.validators = Validators()

    def checked(self, documents):
        """The problems that `heatside check` finds in each document."""
        problems = []
        for begin in range(0, len(documents), 200):
            names = []
            for index, document in enumerate(documents[begin:begin + 200]):
                name = self.folder / f"{index}.json"
                name.write_text(json.dumps(document), encoding="utf-8")
                names.append(str(name))
            run = subprocess.run([PROGRAM, "check", "--json", *names], capture_output=True, timeout=240, check=False)
            self.assertIn(run.returncode, (0, 65), run.stderr)
            files = json.loads(run.stdout)["files"]
            self.assertEqual([entry["file"] for entry in files], names)
            problems += [entry["problems"] for entry in files]
        return problems

    def assert_agreement(self, kind, cases):
        """Both verdicts of every mutation are the same. `cases`: pairs of name and document."""
        disagreements = []
        refused = 0
        for (name, document), problems in zip(cases, self.checked([document for _, document in cases])):
            accepted = self.validators.accept(kind, document)
            refused += not accepted
            if accepted == (not problems):
                continue
            if problems:
                disagreements.append(f"{name}: refused by the program only: {problems[0]['at']}: {problems[0]['text']}")
            else:
                disagreements.append(f"{name}: refused by the schema only")
        self.assertGreater(refused, 3)
        if disagreements:
            self.fail(f"{len(disagreements)} disagreements of {len(cases)}:\n" + "\n".join(disagreements))

    def assert_kind_agrees(self, *names):
        for name in names:
            document = shortened(load(SOURCE / "materials" / name))
            with self.subTest(name):
                self.assert_agreement(document["kind"], [("unchanged", document), *mutations(document)])

    def test_insulations(self):
        # Gradual with one path, guarded with two paths, plasticiser loss, hydrolysis.
        self.assert_kind_agrees("insulations/csm.json", "insulations/pp-fr.json", "insulations/pvc-std.json", "insulations/pbt.json")

    def test_coverings(self):
        self.assert_kind_agrees("coverings/tube-pp.json")

    def test_conductors(self):
        self.assert_kind_agrees("conductors/iso-metric.json", "conductors/awg.json")

    def test_zones(self):
        self.assert_kind_agrees("zones/head-cover.json")

    def test_climates(self):
        self.assert_kind_agrees("climates/phoenix.json", "climates/temperate-maritime.json")

    def test_duties(self):
        self.assert_kind_agrees("duties/family.json", "duties/delivery.json", "duties/laid-up.json")

    def test_eras(self):
        self.assert_kind_agrees("eras/japan.json")

    def test_methods(self):
        # One of each sort of evidence.
        self.assert_kind_agrees("methods/look-touch.json", "methods/bend-tail.json", "methods/elongation-tail.json",
                                "methods/resistance-reading.json")

    def test_clues(self):
        self.assert_kind_agrees("clues/print-code-2x.json")

    def test_consequences(self):
        # Fused, unfused, and never traded although fused.
        self.assert_kind_agrees("consequences/injector.json", "consequences/battery-feed.json", "consequences/brake.json")
        document = load(SOURCE / "materials" / "consequences" / "battery-feed.json")
        self.assert_agreement("consequence", [("traded", {**document, "never_traded": False}), ("fused", {**document, "fused": True}),
                                              ("neither", {**document, "fused": True, "never_traded": False}),
                                              ("chance above 1", {**document, "stop_open": {**document["stop_open"], "value": 1.5}}),
                                              ("flag as text", {**document, "fused": "no"}), ("flag as number", {**document, "fused": 0})])

    def test_remedies(self):
        self.assert_kind_agrees("remedies/sleeve-and-tape.json", "remedies/leave.json")

    def test_model(self):
        self.assert_kind_agrees("model.json")

    def test_sources(self):
        self.assert_kind_agrees("sources/general.json")

    def test_templates(self):
        self.assert_kind_agrees("templates/plain-two-segment.json")

    def test_every_record_with_common_mistakes(self):
        """Of every record: one key of the top missing, one misspelt, and the unit of its first number wrong."""
        for kind in KINDS:
            cases = []
            for path in record_paths():
                document = load(path)
                if document["kind"] != kind:
                    continue
                cases.append((f"{path.stem} unchanged", document))
                keys = [key for key in document if key != "note"]
                for key in keys[-2:]:
                    cases.append((f"{path.stem} without {key}", mutated(document, (), lambda target, key=key: target.pop(key))))
                    cases.append((f"{path.stem} with {key} misspelt",
                                  mutated(document, (), lambda target, key=key: target.update({key + "s": target.pop(key)}))))
                for trail, value in objects_of(document):
                    if "unit" in value:
                        cases.append((f"{path.stem} {place(trail)} in furlongs",
                                      mutated(document, trail, lambda target: target.update(unit="furlong"))))
                        break
            with self.subTest(kind):
                self.assert_agreement(kind, cases)


if __name__ == "__main__":
    PROGRAM = os.path.abspath(sys.argv[1])
    SOURCE = pathlib.Path(sys.argv[2])
    del sys.argv[1:3]
    unittest.main(verbosity=1)
