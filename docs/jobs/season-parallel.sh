#!/bin/sh
# A season in parts by GNU parallel: on this machine, or on those listed with --sshlogin, which have to see the same folders.
# Usage: season-parallel.sh SEASON OUT PARTS
# EVENSTAND names the command; left out, it is looked for on the PATH.
set -u
season=$1
out=$2
parts=$3
evenstand=${EVENSTAND:-evenstand}

# Each part has one process: parallel runs as many parts at once as there are cores. --joblog tells what each part took.
seq "$parts" | parallel --will-cite --joblog "$out.joblog" \
  "$evenstand" season run "$season" --out "$out" --shard "{}/$parts" --workers 1 --time-limit 3600 || exit 1
exec "$evenstand" season merge "$out"
