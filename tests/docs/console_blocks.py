"""Runs the commands that a page in Markdown shows and compares what they print.

A block marked `console` holds commands after "$ " and their output; a line "..." stands for any lines.
"""
import re
import subprocess


class Page:
    """The text of a page, and what is wrong with its commands."""

    def __init__(self, path, program):
        self.path, self.program, self.failures, self.blocks = path, program, [], 0
        with open(path, encoding="utf-8") as file:
            self.text = file.read()

    def run(self, command, folder):
        words = command.replace("heatside ", self.program + " ", 1)
        result = subprocess.run(words, shell=True, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                                check=False)
        if result.returncode != 0:
            self.failures.append(f"{command}: exit code {result.returncode}\n{result.stdout}")
        return result.stdout

    def check(self, folder, update):
        """Runs every block in `folder`; with `update` the outputs of blocks without "..." become the real ones."""
        shown = re.sub(r"```console\n(.*?)```", lambda match: self._checked(match.group(1), folder, update), self.text,
                       flags=re.S)
        if self.blocks == 0:
            self.failures.append(f"{self.path} shows no command")
        if update and shown != self.text:
            with open(self.path, "w", encoding="utf-8") as file:
                file.write(shown)

    def _checked(self, block, folder, update):
        self.blocks += 1
        shown = ""
        for entry in re.split(r"^\$ ", block, flags=re.M)[1:]:
            command, _, expected = entry.partition("\n")
            actual = self.run(command, folder)
            if update and "..." not in expected.splitlines():
                expected = actual
            if not _matches(expected, actual):
                self.failures.append(f"{command}: the page shows something else than\n{actual}")
            shown += f"$ {command}\n{expected}"
        return "```console\n" + shown + "```"


def _matches(expected, actual):
    pattern = "".join("(?:.*\n)*" if line == "..." else re.escape(line) + "\n" for line in expected.splitlines())
    return re.fullmatch(pattern, actual) is not None
