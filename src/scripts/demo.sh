#!/usr/bin/env bash
# From a fresh Debian 12 machine to the estimate of the demo case.
set -euo pipefail
cd "$(dirname "$0")/../.."

bash src/scripts/install.sh src/scripts/packages.txt
cmake --workflow --preset demo
build/demo/heatside estimate examples/hillside-estate.case.json --likely
