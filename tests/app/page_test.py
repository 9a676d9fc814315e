"""The verb `page`: writes the page that was built, or shows it to a browser: page_test.py PROGRAM SOURCE_DIR.

Rules of this project, no outside source; HTTP as in RFC 9110.
"""

import http.client
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

PROGRAM, SOURCE = sys.argv[1:]
PAGE = "<!doctype html><title>h\u00e9atside</title>" + "x" * 100000


def run(program, *words, cwd=None):
    return subprocess.run([program, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=cwd, timeout=60)


class Installed(unittest.TestCase):
    """The program with a page beside it, as it is installed."""

    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        root = Path(self.folder.name)
        (root / "bin").mkdir()
        (root / "share" / "heatside").mkdir(parents=True)
        self.program = shutil.copy(PROGRAM, root / "bin" / "heatside")
        self.page = root / "share" / "heatside" / "heatside.html"
        self.page.write_text(PAGE, encoding="utf-8")
        self.root = root

    def test_writes_the_page(self):
        done = run(self.program, "page", "-o", "out.html", cwd=self.root)
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertEqual((self.root / "out.html").read_text(encoding="utf-8"), PAGE)
        again = run(self.program, "page", "-o", "out.html", cwd=self.root)
        self.assertEqual(again.returncode, 73)
        self.assertIn(b"--force", again.stderr)
        self.assertEqual(run(self.program, "page", "-o", "out.html", "--force", cwd=self.root).returncode, 0)
        self.assertEqual(run(self.program, "page", "-o", "-").stdout, PAGE.encode())
        self.assertEqual(sorted(one.name for one in self.root.iterdir()), ["bin", "out.html", "share"])

    def test_found_through_a_link_to_the_program(self):
        link = self.root / "link"
        link.symlink_to(self.program)
        self.assertEqual(run(str(link), "page", "-o", "-").stdout, PAGE.encode())

    def test_without_a_page(self):
        self.page.unlink()
        for words in (["-o", "out.html"], ["--serve", "--port", "0"]):
            done = run(self.program, "page", *words, cwd=self.root)
            self.assertEqual(done.returncode, 66, words)
            self.assertIn(b"src/scripts/page.sh", done.stderr)
        self.assertTrue((Path(SOURCE) / "src" / "scripts" / "page.sh").exists())
        self.assertFalse((self.root / "out.html").exists())

    def test_one_of_the_two(self):
        for words in ([], ["-o", "a.html", "--serve"], ["--port", "80"], ["--serve", "--port", "65536"]):
            self.assertEqual(run(self.program, "page", *words, cwd=self.root).returncode, 64, words)

    def test_help_begins_with_an_example(self):
        self.assertTrue(run(self.program, "page", "--help").stdout.startswith(b"Example:  heatside page -o "))

    def serve(self, *words):
        server = subprocess.Popen([self.program, "page", "--serve", "--port", "0", *words], stderr=subprocess.PIPE, text=True)
        self.addCleanup(server.stderr.close)
        self.addCleanup(server.wait)
        self.addCleanup(server.kill)
        address = re.match(r"http://(\S+):(\d+)/ ", server.stderr.readline())
        self.assertIsNotNone(address)
        return server, address[1], int(address[2])

    def ask(self, port, method, path, host="127.0.0.1", body=None):
        connection = http.client.HTTPConnection(host, port, timeout=20)
        connection.request(method, path, body=body)
        answer = connection.getresponse()
        text = answer.read()
        connection.close()
        return answer, text

    def test_serves_the_page_and_nothing_else(self):
        _, host, port = self.serve()
        self.assertEqual(host, "127.0.0.1")
        for path in ("/", "/heatside.html"):
            answer, text = self.ask(port, "GET", path)
            self.assertEqual((answer.status, text), (200, PAGE.encode()))
            self.assertEqual(answer.getheader("Content-Type"), "text/html; charset=utf-8")
            self.assertEqual(answer.getheader("Cache-Control"), "no-store")
            self.assertEqual(answer.getheader("X-Content-Type-Options"), "nosniff")
            self.assertEqual(answer.getheader("Content-Security-Policy"), "frame-ancestors 'none'")
        answer, text = self.ask(port, "HEAD", "/")
        self.assertEqual((answer.status, text), (200, b""))
        for path in ("/other", "/../bin/heatside", "//etc/passwd", "/%2e%2e/share"):
            self.assertEqual(self.ask(port, "GET", path)[0].status, 404, path)
        for method in ("POST", "PUT", "DELETE"):
            self.assertGreaterEqual(self.ask(port, method, "/", body=b"x")[0].status, 400, method)
        self.assertEqual(self.ask(port, "GET", "/")[0].status, 200)

    def test_only_this_machine_is_let_in(self):
        _, _, port = self.serve()
        with socket.socket() as other:
            other.settimeout(5)
            # Another address of the loopback: listening at every address would answer it.
            self.assertNotEqual(other.connect_ex(("127.0.0.2", port)), 0)
        _, host, port = self.serve("--host", "127.0.0.2")
        self.assertEqual(host, "127.0.0.2")
        self.assertEqual(self.ask(port, "GET", "/", host="127.0.0.2")[0].status, 200)

    def test_ends_when_asked(self):
        for sign in (signal.SIGINT, signal.SIGTERM):
            server, _, port = self.serve()
            self.ask(port, "GET", "/")
            server.send_signal(sign)
            self.assertEqual(server.wait(timeout=20), 0)
            self.assertEqual(server.stderr.read(), "")

    def test_a_port_that_is_taken(self):
        _, _, port = self.serve()
        done = run(self.program, "page", "--serve", "--port", str(port))
        self.assertEqual(done.returncode, 74)
        self.assertIn(str(port).encode(), done.stderr)
        self.assertIn(b"--port", done.stderr)

    def test_a_host_that_is_not_of_this_machine(self):
        done = run(self.program, "page", "--serve", "--port", "0", "--host", "192.0.2.1")
        self.assertEqual(done.returncode, 74)


if __name__ == "__main__":
    os.environ.pop("http_proxy", None)
    unittest.main(argv=sys.argv[:1], verbosity=1)
