package judge

import (
	"strings"
	"testing"

	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// TestLimitsOfTheSeasonFile: what a season file can declare is what filters
// have, by the same names and within the same range, in the same order.
func TestLimitsOfTheSeasonFile(t *testing.T) {
	for _, k := range kinds {
		declared := season.Limits(k.Kind)
		if len(declared) != len(k.limits) {
			t.Errorf("%s: %d limits to declare, the filter has %d", k.Kind, len(declared), len(k.limits))
			continue
		}
		for i, l := range k.limits {
			if d := declared[i]; d.Name != l.name || d.Lo != l.least || d.Hi != l.most {
				t.Errorf("%s: limit %d is %+v to declare; the filter has %s from %g to %g", k.Kind, i+1, d, l.name, l.least, l.most)
			}
		}
		if season.OnlyFlags(k.Kind) != k.flags {
			t.Errorf("%s: only flags: %v to declare, %v", k.Kind, season.OnlyFlags(k.Kind), k.flags)
		}
	}
}

// TestEveryKindRuns: each kind of the schema has a filter, in running order,
// and each default limit lies in its range and says where it comes from.
func TestEveryKindRuns(t *testing.T) {
	var names []string
	for _, k := range kinds {
		names = append(names, k.Kind.String())
		for _, l := range k.limits {
			for _, v := range append([]liftValue{{"", l.value}}, l.lifts...) {
				if v.value < l.least || v.value > l.most {
					t.Errorf("%s: %s = %g for %q is out of range", k.Kind, l.name, v.value, v.lift)
				}
			}
			if l.source == "" {
				t.Errorf("%s: %s has no source", k.Kind, l.name)
			}
		}
		if k.what == "" {
			t.Errorf("%s says nothing of itself", k.Kind)
		}
	}
	if got, want := strings.Join(names, ", "), strings.Join(rep.KindNames(), ", "); got != want {
		t.Errorf("kinds run as %s; the schema has %s", got, want)
	}
}
