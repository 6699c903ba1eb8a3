#!/bin/sh
# A batch as a Slurm array: sbatch slurm.sh IN OUT
# Each task takes its own shard; what a task has done is not done again when it
# is requeued. When all have ended: lapwright merge OUT/lapwright-batch-*of*.json
#SBATCH --job-name=lapwright
#SBATCH --array=1-8
#SBATCH --cpus-per-task=2
#SBATCH --mem=1G
#SBATCH --requeue
lapwright takeoff "$1" --out "$2" --resume --quiet
code=$?
test $code -le 1 && exit 0 # 1: done, and a stop left something out
exit $code
