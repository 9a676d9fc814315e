#!/usr/bin/env bash
# From a fresh Debian 12 machine to every test: format, the page, each public header alone, all tests under sanitizers.
set -euo pipefail
cd "$(dirname "$0")/../.."

bash src/scripts/install.sh src/scripts/packages.txt src/scripts/page-packages.txt src/scripts/test-packages.txt
# Another distribution of Node.js excludes Debian's packages of it.
command -v npm > /dev/null || bash src/scripts/install.sh src/scripts/node-packages.txt
find include src tests -path src/page/node_modules -prune -o \( -name '*.hpp' -o -name '*.cpp' \) -print | sort | xargs clang-format --dry-run --Werror
if npm view preact name > /dev/null; then
  cmake --workflow --preset page
else
  echo "NOT TESTED: the page, since no npm registry answers" >&2
fi
cmake --workflow --preset sanitize
