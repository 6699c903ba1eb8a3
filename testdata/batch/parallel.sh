#!/bin/sh
# A batch under GNU parallel: parallel.sh IN OUT SHARDS
# A shard that was interrupted, or could not write, is tried again and goes on
# where it stopped; one with a survey that cannot be read is not.
export IN="$1" OUT="$2" SHARDS="$3"
seq "$SHARDS" | parallel --retries 3 '
	lapwright takeoff "$IN" --out "$OUT" --shard {}/"$SHARDS" --resume --quiet
	code=$?
	case $code in 74 | 75) exit $code ;; esac
' && lapwright merge "$OUT"/lapwright-batch-*of"$SHARDS".json
