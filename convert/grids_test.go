package convert

import (
	"testing"

	"lapwright/convert/survey"
	"lapwright/engine"
)

// Of a survey of which nothing was understood there is nothing to show as read.
func TestNothingReadIsNoSheet(t *testing.T) {
	if g := asRead(&survey.Survey{Job: &engine.Job{}}); g != nil {
		t.Errorf("an empty table is shown: %+v", g)
	}
}
