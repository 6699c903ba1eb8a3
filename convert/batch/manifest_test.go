package batch

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"
)

func testdata(t *testing.T, name ...string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(append([]string{"..", "..", "testdata"}, name...)...))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// jobSchema is the published schema of a batch/v1 Job, its source beside it. No
// object may have a member that it does not know, as where the server is asked
// for strict validation.
func jobSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	var doc any
	if err := json.Unmarshal(testdata(t, "kubernetes-1.37", "job.json"), &doc); err != nil {
		t.Fatal(err)
	}
	for _, s := range doc.(map[string]any)["components"].(map[string]any)["schemas"].(map[string]any) {
		if s := s.(map[string]any); s["properties"] != nil && s["additionalProperties"] == nil {
			s["additionalProperties"] = false
		}
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("job.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("job.json#/components/schemas/io.k8s.api.batch.v1.Job")
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

// The example of an Indexed Job is a Job by the published schema, and what is
// misspelt or of a wrong kind in it is found.
func TestIndexedJobBySchema(t *testing.T) {
	schema := jobSchema(t)
	manifest := string(testdata(t, "batch", "job.yaml"))
	for _, spoilt := range []struct {
		name, old, new string
		fails          bool
	}{
		{"as it is", "", "", false},
		{"misspelt in the job", "backoffLimitPerIndex:", "backofLimitPerIndex:", true},
		{"misspelt in the pod", "restartPolicy:", "restartpolicy:", true},
		{"words for a number", "completions: 8", "completions: eight", true},
		{"no name of a mount", "{name: surveys, mountPath", "{mountPath", true},
	} {
		text := strings.Replace(manifest, spoilt.old, spoilt.new, 1)
		if spoilt.fails && text == manifest {
			t.Fatalf("%s: the manifest has no %q", spoilt.name, spoilt.old)
		}
		var job any
		if err := yaml.Unmarshal([]byte(text), &job); err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(job); (err != nil) != spoilt.fails {
			t.Errorf("%s: %v", spoilt.name, err)
		}
	}
}

// indexedJob is the part of a Job that the schema leaves to words.
type indexedJob struct {
	APIVersion string `yaml:"apiVersion"`
	Kind       string
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
					Name         string
					Args         []string
					VolumeMounts []struct {
						Name      string
						MountPath string `yaml:"mountPath"`
					} `yaml:"volumeMounts"`
				}
				Volumes []struct{ Name string }
			}
		}
	}
}

// The example keeps what the Kubernetes documentation asks of an Indexed Job
// beyond its schema: completions with completionMode Indexed; restartPolicy
// Never with a podFailurePolicy; the action FailIndex only with
// backoffLimitPerIndex; exit codes in rising order, not 0 with In, at most 255
// of them; names of containers and volumes that exist.
func TestIndexedJob(t *testing.T) {
	var job indexedJob
	if err := yaml.Unmarshal(testdata(t, "batch", "job.yaml"), &job); err != nil {
		t.Fatal(err)
	}
	spec, pod := job.Spec, job.Spec.Template.Spec
	for what, ok := range map[string]bool{
		"apiVersion batch/v1 and kind Job":    job.APIVersion == "batch/v1" && job.Kind == "Job",
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
		volumes[v.Name] = true
	}
	for _, m := range pod.Containers[0].VolumeMounts {
		if !volumes[m.Name] || !strings.HasPrefix(m.MountPath, "/") {
			t.Errorf("the mount %+v has no volume", m)
		}
	}
}
