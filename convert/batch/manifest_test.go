package batch

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

// indexedJob is the part of batch/v1 Job that the example uses, with the types
// of the Kubernetes API reference (Job v1 batch: JobSpec, PodFailurePolicy;
// PodTemplateSpec, Container v1 core). A field that is not there is an error.
type indexedJob struct {
	APIVersion string `yaml:"apiVersion"`
	Kind       string
	Metadata   struct{ Name string }
	Spec       struct {
		Completions          int
		Parallelism          int
		CompletionMode       string `yaml:"completionMode"`
		BackoffLimitPerIndex *int   `yaml:"backoffLimitPerIndex"`
		PodFailurePolicy     struct {
			Rules []struct {
				Action      string
				OnExitCodes struct {
					ContainerName string `yaml:"containerName"`
					Operator      string
					Values        []int
				} `yaml:"onExitCodes"`
			}
		} `yaml:"podFailurePolicy"`
		Template struct {
			Spec struct {
				RestartPolicy string `yaml:"restartPolicy"`
				Containers    []struct {
					Name, Image   string
					Command, Args []string
					Resources     struct{ Requests, Limits map[string]string }
					VolumeMounts  []struct {
						Name      string
						MountPath string `yaml:"mountPath"`
						ReadOnly  bool   `yaml:"readOnly"`
					} `yaml:"volumeMounts"`
				}
				Volumes []struct {
					Name                  string
					PersistentVolumeClaim struct {
						ClaimName string `yaml:"claimName"`
						ReadOnly  bool   `yaml:"readOnly"`
					} `yaml:"persistentVolumeClaim"`
				}
			}
		}
	}
}

// The example of an Indexed Job keeps what the Kubernetes documentation asks
// of one: completions with completionMode Indexed; restartPolicy Never with a
// podFailurePolicy; the action FailIndex only with backoffLimitPerIndex; exit
// codes in rising order, not 0 with In, at most 255 of them; names of
// containers and volumes that exist.
func TestIndexedJob(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "batch", "job.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	var job indexedJob
	dec := yaml.NewDecoder(bytes.NewReader(data))
	dec.KnownFields(true)
	if err := dec.Decode(&job); err != nil {
		t.Fatal(err)
	}
	spec, pod := job.Spec, job.Spec.Template.Spec
	for what, ok := range map[string]bool{
		"apiVersion batch/v1 and kind Job":    job.APIVersion == "batch/v1" && job.Kind == "Job",
		"a name":                              job.Metadata.Name != "",
		"completionMode Indexed":              spec.CompletionMode == "Indexed",
		"parallelism within completions":      spec.Parallelism >= 1 && spec.Parallelism <= spec.Completions,
		"restartPolicy Never":                 pod.RestartPolicy == "Never",
		"backoffLimitPerIndex":                spec.BackoffLimitPerIndex != nil,
		"one container":                       len(pod.Containers) == 1,
		"a rule that fails an index":          len(spec.PodFailurePolicy.Rules) == 1 && spec.PodFailurePolicy.Rules[0].Action == "FailIndex",
		"as many shards as completions":       strings.Contains(strings.Join(pod.Containers[0].Args, " "), "--shard /"+strconv.Itoa(spec.Completions)+" "),
		"a record, for pods that start again": strings.Contains(strings.Join(pod.Containers[0].Args, " "), "--resume"),
	} {
		if !ok {
			t.Errorf("the job lacks: %s", what)
		}
	}
	codes := spec.PodFailurePolicy.Rules[0].OnExitCodes
	if codes.ContainerName != pod.Containers[0].Name || codes.Operator != "In" || !slices.IsSorted(codes.Values) || slices.Contains(codes.Values, 0) {
		t.Errorf("the rule's exit codes are %+v", codes)
	}
	volumes := map[string]bool{}
	for _, v := range pod.Volumes {
		volumes[v.Name] = v.PersistentVolumeClaim.ClaimName != ""
	}
	for _, m := range pod.Containers[0].VolumeMounts {
		if !volumes[m.Name] || !strings.HasPrefix(m.MountPath, "/") {
			t.Errorf("the mount %+v has no volume", m)
		}
	}
}
