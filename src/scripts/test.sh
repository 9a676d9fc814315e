#!/usr/bin/env bash
# From a fresh Debian 12 machine to every test: format, each public header alone, all tests under sanitizers.
set -euo pipefail
cd "$(dirname "$0")/../.."

bash src/scripts/install.sh src/scripts/packages.txt src/scripts/test-packages.txt
# Another distribution of Node.js excludes Debian's packages of it.
command -v npm > /dev/null || bash src/scripts/install.sh src/scripts/node-packages.txt
find include src tests -name '*.hpp' -o -name '*.cpp' | sort | xargs clang-format --dry-run --Werror
cmake --workflow --preset sanitize
