"""Reports opened in headless Chromium: no message, no request, nothing that axe-core objects to (WCAG 2.2 AA), no sideways
scrolling from 320 px on, also with hostile text in every field a user can write.

report_test.py PROGRAM SOURCE_DIR [PICTURES]: with a third argument the pages are also drawn there, to be looked at.
"""

import json
import re
import shutil
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

PROGRAM, SOURCE = Path(sys.argv[1]), Path(sys.argv[2])
PICTURES = Path(sys.argv[3]) if len(sys.argv) > 3 else None
HOSTILE = "<script>alert(1)</script> \"'><img src=x onerror=alert(2)> \u202eabc\u202c &amp; ]]> {{7*7}} | `x`"


def hostile(value, key=""):
    """The same case with hostile text wherever free text may stand."""
    if isinstance(value, dict):
        return {k: hostile(v, k) for k, v in value.items()}
    if isinstance(value, list):
        return [hostile(v, key) for v in value]
    if isinstance(value, str) and key in ("title", "name", "note", "by", "colour", "plug", "cavity", "date_code"):
        return HOSTILE + ("x" * 10000 if key == "title" else "")
    return value


def modules_below(folder):
    here = SOURCE / "tests" / "browser"
    for name in ("package.json", "package-lock.json"):
        shutil.copy(here / name, folder / name)
    done = subprocess.run(["npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund"], cwd=folder, check=False,
                          capture_output=True, text=True)
    if done.returncode != 0:
        print("NOT TESTED: the npm registry did not give playwright-core and axe-core\n" + done.stderr, file=sys.stderr)
        raise unittest.SkipTest("no npm registry")


class Reports(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = Path(tempfile.mkdtemp())
        modules_below(cls.folder)
        demo = SOURCE / "examples" / "hillside-estate.case.json"
        van = SOURCE / "examples" / "delivery-van-charging.case.json"
        bad = cls.folder / "hostile.case.json"
        bad.write_text(json.dumps(hostile(json.loads(van.read_text()))))
        cls.pages = []
        for case in (demo, van, bad):
            page = cls.folder / (case.name.split(".")[0] + ".html")
            subprocess.run([PROGRAM, "report", case, "-o", page, "--draws", "300"], check=True, stderr=subprocess.DEVNULL)
            cls.pages.append(page)
        if PICTURES:
            PICTURES.mkdir(parents=True, exist_ok=True)
        job = {"modules": str(cls.folder), "pages": [str(p) for p in cls.pages],
               "pictures": str(PICTURES) if PICTURES else None}
        done = subprocess.run(["node", SOURCE / "tests" / "browser" / "check_pages.mjs"], input=json.dumps(job),
                              capture_output=True, text=True, check=False)
        if done.returncode != 0:
            raise RuntimeError(done.stderr)
        cls.answers = json.loads(done.stdout)

    @classmethod
    def tearDownClass(cls):
        shutil.rmtree(cls.folder)

    def test_nothing_is_said_or_asked_for(self):
        for page, answer in zip(self.pages, self.answers, strict=True):
            with self.subTest(page=page.name):
                self.assertEqual(answer["console"], [])
                self.assertEqual({r for r in answer["requests"] if r != page.as_uri()}, set())

    def test_accessible_at_every_width(self):
        """WCAG 2.2 AA as axe-core checks it; 1.4.10 Reflow: no sideways scrolling at 320 CSS pixels."""
        for page, answer in zip(self.pages, self.answers, strict=True):
            for view in answer["views"]:
                with self.subTest(page=page.name, width=view["width"]):
                    self.assertEqual(view["violations"], [])
                    self.assertLessEqual(view["overflow"], 0)

    def test_hostile_text_stays_text(self):
        for page, answer in zip(self.pages, self.answers, strict=True):
            for view in answer["views"]:
                self.assertEqual((view["scripts"], view["handlers"]), (0, 0), page.name)
        text = self.pages[2].read_text()
        self.assertIn("&lt;script&gt;alert(1)&lt;/script&gt;", text)
        self.assertNotIn("<script", text)

    def test_prints(self):
        for page, answer in zip(self.pages, self.answers, strict=True):
            self.assertGreater(answer["A4"], 1, page.name)
            self.assertGreater(answer["Letter"], 1, page.name)

    def test_small_and_closed(self):
        for page in self.pages[:2]:
            text = page.read_text()
            self.assertLess(len(text.encode()), 1_500_000)
            self.assertIsNone(re.search(r"""(?:src|href)\s*=\s*["'](?!#)""", text))
            self.assertIn("default-src &#39;none&#39;", text)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
