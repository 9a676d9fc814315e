#!/usr/bin/env bash
# From a fresh Debian 12 machine to the page, build/page/heatside.html: engine by em++, the rest by npm.
set -euo pipefail
cd "$(dirname "$0")/../.."

bash src/scripts/install.sh src/scripts/packages.txt src/scripts/page-packages.txt
# Another distribution of Node.js excludes Debian's packages of it.
command -v npm > /dev/null || bash src/scripts/install.sh src/scripts/node-packages.txt
cmake --workflow --preset page
