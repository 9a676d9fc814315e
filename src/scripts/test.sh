#!/usr/bin/env bash
# From a fresh Debian 12 machine to every test: format, library for the page, all tests under sanitizers.
set -euo pipefail
cd "$(dirname "$0")/../.."

bash src/scripts/install.sh src/scripts/packages.txt src/scripts/test-packages.txt
find include src tests -name '*.hpp' -o -name '*.cpp' | sort | xargs clang-format --dry-run --Werror
cmake --workflow --preset page-engine
cmake --workflow --preset sanitize
