#!/bin/sh
# A season as a Slurm job array, a part each. Submit both, the second waits for the first:
#   array=$(sbatch --parsable --array=1-16 season-slurm.sh SEASON OUT)
#   sbatch --dependency=afterok:$array --wrap "evenstand season merge OUT"
# SEASON and OUT are folders that every node sees. The array has to begin at 1. A part that was killed is submitted again
# with the same number of parts: sbatch --array=7 --export=ALL,PARTS=16 season-slurm.sh SEASON OUT
#SBATCH --job-name=season
#SBATCH --cpus-per-task=1
#SBATCH --mem=4G
set -u
parts=${PARTS:-$SLURM_ARRAY_TASK_COUNT}
exec "${EVENSTAND:-evenstand}" season run "$1" --out "$2" --shard "$SLURM_ARRAY_TASK_ID/$parts" \
  --workers "${SLURM_CPUS_PER_TASK:-1}" --time-limit 3600
