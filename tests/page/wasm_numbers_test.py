"""The page's engine as WebAssembly under Node, against the program: wasm_numbers_test.py PROGRAM SOURCE_DIR.

The engine is that of HEATSIDE_ENGINE, or of the preset page-engine. Without it or Node the test is skipped, aloud.
"""

import os
import shutil
import sys
from pathlib import Path

import same_numbers

SKIPPED = 77

program, source = sys.argv[1:]
engine = Path(os.environ.get("HEATSIDE_ENGINE", Path(source) / "build" / "page-engine"))
node = shutil.which("node")
if node is None or not (engine / "engine.wasm").exists():
    print(f"SKIPPED: {'Node.js is not installed' if node is None else f'no engine.wasm in {engine}'}; "
          "`bash src/scripts/page.sh` brings both", file=sys.stderr)
    sys.exit(SKIPPED)
sys.exit(same_numbers.compare(program, source,
                              [node, str(Path(source) / "tests" / "page" / "engine_lines.mjs"), str(engine)]))
