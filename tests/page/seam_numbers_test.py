"""The page's seam, compiled for this machine, against the program: seam_numbers_test.py PROGRAM SOURCE_DIR."""

import sys
from pathlib import Path

import same_numbers

program, source = sys.argv[1:]
sys.exit(same_numbers.compare(program, source, [str(Path(program).parent / "tests" / "seam_lines")]))
