#!/usr/bin/env bash
# Makes the pictures of the README from the demo library: a section, a sheet, an assembly, and the report in a browser.
# Needs a Chromium and `npm ci` in tests/browser.
set -euo pipefail
cd "$(dirname "$0")/.."
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
browser=${CHROMIUM:-$(command -v chromium || command -v chromium-browser || command -v google-chrome)}
mkdir -p docs

headlap=${HEADLAP:-cargo run --quiet --}
$headlap draw examples/millrace --only O2-W1 --only W3 --out "$folder"
cp "$folder/O2-W1-section.svg" docs/section.svg
cp "$folder/W3-assembly.svg" docs/assembly.svg
$headlap draw examples/millrace --only O2-W1 --sheet A3 --out "$folder"
cp "$folder/O2-W1-sheet.svg" docs/sheet.svg

$headlap review examples/millrace --format html --out "$folder/report.html" --fail-on never
node tests/browser/picture.mjs "$browser" "$folder/report.html" "article[data-topic=drainage]" docs/report.png
