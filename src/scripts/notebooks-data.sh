#!/usr/bin/env bash
# Makes the tables below notebooks-data again: notebooks-data.sh [PROGRAM [FOLDER]]
set -euo pipefail
root=$(cd "$(dirname "$0")/../.." && pwd)
program=$(realpath "${1:-$root/build/demo/heatside}")
folder=$(realpath -m "${2:-$root/notebooks-data}")
cd "$root"

mkdir -p "$folder/heat-side" "$folder/oven"
"$program" export examples/hillside-estate.case.json --draws 2000 --keep-draws 50 -o "$folder/hillside-estate"

# Why the heat side fails first.
"$program" explain examples/hillside-estate.case.json --json > "$folder/heat-side/story.json"
for topic in soak findings; do
  "$program" explain --topic $topic --csv > "$folder/heat-side/$topic.csv"
done
"$program" explain --topic soak --json > "$folder/heat-side/soak.json"
"$program" explain --topic paths --insulation short-lived-1990s --csv > "$folder/heat-side/paths.csv"

# From oven to service life.
"$program" fit examples/oven-test.csv --json > "$folder/oven/fit.json"
"$program" explain --topic life-line --csv > "$folder/oven/life-line.csv"
"$program" explain --topic life-line --json > "$folder/oven/life-line.json"
"$program" explain --topic paths --csv > "$folder/oven/paths.csv"
