package kinds

import (
	"strings"
	"testing"

	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// TestLimitsOfTheSeasonFile: what a season file can declare is what filters
// have, by the same names and within the same range, in the same order.
func TestLimitsOfTheSeasonFile(t *testing.T) {
	for _, k := range All {
		declared := season.Limits(k.Kind)
		if len(declared) != len(k.Limits) {
			t.Errorf("%s: %d limits to declare, the filter has %d", k.Kind, len(declared), len(k.Limits))
			continue
		}
		for i, l := range k.Limits {
			if d := declared[i]; d.Name != l.Name || d.Lo != l.Least || d.Hi != l.Most {
				t.Errorf("%s: limit %d is %+v to declare; the filter has %s from %g to %g", k.Kind, i+1, d, l.Name, l.Least, l.Most)
			}
		}
		if season.OnlyFlags(k.Kind) != k.Flags {
			t.Errorf("%s: only flags: %v to declare, %v", k.Kind, season.OnlyFlags(k.Kind), k.Flags)
		}
	}
}

// TestEveryKindRuns: each kind of the schema has a filter, in running order,
// and each default limit lies in its range and says where it comes from.
func TestEveryKindRuns(t *testing.T) {
	var names []string
	for _, k := range All {
		names = append(names, k.Kind.String())
		for _, l := range k.Limits {
			for _, v := range append([]LiftValue{{"", l.Value}}, l.Lifts...) {
				if v.Value < l.Least || v.Value > l.Most {
					t.Errorf("%s: %s = %g for %q is out of range", k.Kind, l.Name, v.Value, v.Lift)
				}
			}
			if l.Source == "" {
				t.Errorf("%s: %s has no source", k.Kind, l.Name)
			}
		}
		if k.What == "" {
			t.Errorf("%s says nothing of itself", k.Kind)
		}
	}
	if got, want := strings.Join(names, ", "), strings.Join(rep.KindNames(), ", "); got != want {
		t.Errorf("kinds run as %s; the schema has %s", got, want)
	}
}
