package batch

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"strconv"
	"strings"
)

// Shard is one of N parts of a batch, counted from 1. The zero value is the
// whole.
type Shard struct{ I, N int }

// String writes a shard as it is asked for, "2/4"; the whole is blank.
func (s Shard) String() string {
	if s.N == 0 {
		return ""
	}
	return fmt.Sprintf("%d/%d", s.I, s.N)
}

// ParseShard reads "i/n". Where i is left out, as in "/n", it and, for "",
// both come from what a batch system has set: SLURM_ARRAY_TASK_ID, counted
// from SLURM_ARRAY_TASK_MIN in steps of SLURM_ARRAY_TASK_STEP, or
// JOB_COMPLETION_INDEX, counted from 0. from names the variable used.
func ParseShard(text string, env func(string) string) (s Shard, from string, err error) {
	if text != "" && !strings.HasPrefix(text, "/") {
		i, n, ok := strings.Cut(text, "/")
		s.I, s.N = number(i), number(n)
		if !ok || s.N < 1 || s.I < 1 || s.I > s.N {
			return s, "", fmt.Errorf("--shard is i/n, the i-th of n from 1, as in 2/4, not %s", text)
		}
		return s, "", nil
	}
	s.N = number(strings.TrimPrefix(text, "/"))
	if text != "" && s.N < 1 {
		return s, "", fmt.Errorf("--shard /n wants how many shards there are, as in /4, not %s", text)
	}
	s, from = set(s, env)
	switch {
	case text == "" && from == "":
		return Shard{}, "", nil
	case from == "":
		return s, "", fmt.Errorf("--shard %s wants SLURM_ARRAY_TASK_ID or JOB_COMPLETION_INDEX set to say which shard", text)
	case s.N < 1:
		return s, "", fmt.Errorf("%s is set, so this is one task of several, but not of how many: add --shard /n, or --shard 1/1 for the whole", from)
	case s.I < 1 || s.I > s.N:
		return s, "", fmt.Errorf("%s makes this shard %d of %d: there are more tasks than shards", from, s.I, s.N)
	}
	return s, from, nil
}

// set takes what a batch system has set.
func set(s Shard, env func(string) string) (Shard, string) {
	if id := env("SLURM_ARRAY_TASK_ID"); id != "" {
		s.I = (number(id)-number(env("SLURM_ARRAY_TASK_MIN")))/max(1, number(env("SLURM_ARRAY_TASK_STEP"))) + 1
		if s.N == 0 {
			s.N = number(env("SLURM_ARRAY_TASK_COUNT"))
		}
		return s, "SLURM_ARRAY_TASK_ID"
	}
	if id := env("JOB_COMPLETION_INDEX"); id != "" {
		s.I = number(id) + 1
		return s, "JOB_COMPLETION_INDEX"
	}
	return s, ""
}

// number reads a whole number that is not negative; anything else is -1, and
// blank is 0.
func number(s string) int {
	if s == "" {
		return 0
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 0 {
		return -1
	}
	return n
}

// Pick returns the items of the shard. Which they are follows from their names
// alone, so that it does not change when other files come or go.
func (s Shard) Pick(items []Item) []Item {
	if s.N == 0 {
		return items
	}
	var out []Item
	for _, it := range items {
		if s.holds(it.Name) {
			out = append(out, it)
		}
	}
	return out
}

func (s Shard) holds(name string) bool {
	sum := sha256.Sum256([]byte(name))
	return int(binary.BigEndian.Uint64(sum[:8])%uint64(s.N)) == s.I-1
}
