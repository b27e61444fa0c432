#!/usr/bin/env bash
#SBATCH --job-name=rushlight
#SBATCH --cpus-per-task=4
#SBATCH --time=01:00:00
#SBATCH --requeue
#SBATCH --signal=B:INT@60
# Many questions at once, as an array of jobs: each task asks what one line of a list says, with the words that
# rushlight takes, quoted as in a shell. Empty lines and those that begin with # do not count.
#
#   sbatch --array=1-"$(grep -cvE '^[[:space:]]*(#|$)' list.txt)" tools/sweep.slurm.sh list.txt
#   SLURM_ARRAY_TASK_ID=2 tools/sweep.slurm.sh list.txt      # one of them, without Slurm
#
# A minute before its time is up a task is asked to stop: it keeps what it has, and goes on from there when it is started again.
set -euo pipefail

list=${1:?the list of questions is missing: sweep.slurm.sh LIST}
number=${SLURM_ARRAY_TASK_ID:?SLURM_ARRAY_TASK_ID is not set: start this with sbatch --array=1-N}
rushlight=${RUSHLIGHT:-build/rushlight}

[ -r "$list" ] || { echo "$list: there is no such list" >&2; exit 2; }
line=$(grep -vE '^[[:space:]]*(#|$)' "$list" | sed -n "${number}p" || true)
[ -n "$line" ] || { echo "$list: there is no line $number that asks something" >&2; exit 2; }
# Quotes are taken off, and nothing else is done with the line.
xargs printf '%s\0' <<<"$line" >/dev/null 2>&1 ||
    { echo "$list: the quotes of line $number do not match: $line" >&2; exit 2; }
words=()
while IFS= read -r -d '' word; do words+=("$word"); done < <(xargs printf '%s\0' <<<"$line")
# As many threads as Slurm gave; check and manual trace nothing, and have no such word.
case "${words[0]}" in check | manual) ;; *) words+=(--threads "${SLURM_CPUS_PER_TASK:-0}") ;; esac
exec "$rushlight" "${words[@]}"
