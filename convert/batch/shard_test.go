package batch

import "testing"

// What the batch systems set is as their manuals have it: Slurm's sbatch
// (SLURM_ARRAY_TASK_ID, _COUNT, _MIN, _STEP) and the Kubernetes Indexed Job
// (JOB_COMPLETION_INDEX from 0).
func TestParseShard(t *testing.T) {
	slurm := map[string]string{"SLURM_ARRAY_TASK_ID": "10", "SLURM_ARRAY_TASK_MIN": "4", "SLURM_ARRAY_TASK_STEP": "2", "SLURM_ARRAY_TASK_COUNT": "5"}
	job := map[string]string{"JOB_COMPLETION_INDEX": "0"}
	for _, test := range []struct {
		text  string
		env   map[string]string
		want  Shard
		fails bool
	}{
		{"", nil, Shard{}, false},
		{"2/4", nil, Shard{2, 4}, false},
		{"2/4", slurm, Shard{2, 4}, false},
		{"", slurm, Shard{4, 5}, false},
		{"/6", slurm, Shard{4, 6}, false},
		{"/3", slurm, Shard{}, true},
		{"/8", job, Shard{1, 8}, false},
		{"", job, Shard{}, true},
		{"/8", nil, Shard{}, true},
		{"0/4", nil, Shard{}, true},
		{"5/4", nil, Shard{}, true},
		{"2", nil, Shard{}, true},
		{"2/", nil, Shard{}, true},
		{"/0", job, Shard{}, true},
		{"-1/4", nil, Shard{}, true},
	} {
		got, _, err := ParseShard(test.text, func(k string) string { return test.env[k] })
		if (err != nil) != test.fails || err == nil && got != test.want {
			t.Errorf("ParseShard(%q) with %v: got %v, %v, want %v", test.text, test.env, got, err, test.want)
		}
	}
}
