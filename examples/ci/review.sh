#!/bin/sh
# A job for any CI service that runs a shell: one run, three outputs.
#   findings.sarif   for services that show findings beside the files
#   findings.xml     for those that read JUnit
#   standard output  one line for each finding, for the log
# Leaves with 1 when something is found at or above the failing level (headlap.toml: fail-on), and with 2 when the
# check could not be made. A library with old findings accepts them once, with
#   headlap review . --write-known known.jsonl
# and from then on only new ones fail:  KNOWN=known.jsonl sh review.sh
# Of a change only what depends on it is checked, from a revision on:  SINCE=origin/main
# (Without it the whole library is checked, and a run that finds no file fails.)
# Where the service carries a folder from run to run, only what has changed is checked:  CACHE=$HOME/.cache/headlap
# Keep it outside of the checkout: results that a change brings along could hide its findings.
set -eu
library=${1:-.}
exec headlap review ${SINCE:+--changed-since "$SINCE"} ${KNOWN:+--known "$KNOWN"} ${CACHE:+--cache "$CACHE"} \
  --format sarif --out findings.sarif \
  --format junit --out findings.xml \
  --format lines -- "$library"
