#!/usr/bin/env bash
# Installs the packages listed in the given files with apt, unless they are all there.
set -euo pipefail

packages=$(cat "$@" | grep -v '^#')
missing=()
for package in $packages; do
  [ "$(dpkg-query -W -f '${db:Status-Abbrev}' "$package" 2>/dev/null | cut -c1-2)" = "ii" ] || missing+=("$package")
done
if [ ${#missing[@]} -gt 0 ]; then
  export DEBIAN_FRONTEND=noninteractive
  apt-get update -qq
  apt-get install -y -qq --no-install-recommends "${missing[@]}"
fi
