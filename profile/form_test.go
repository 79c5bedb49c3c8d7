package profile_test

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"repsift/profile"
)

// readBack writes profiles as profiles.json has them and fails the test where
// anything read back is not what it was, numbers to seven digits.
func readBack(t *testing.T, name string, p *profile.Profiles) {
	t.Helper()
	b, err := json.Marshal(p)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var back profile.Profiles
	if err := json.Unmarshal(b, &back); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	same(t, name, reflect.ValueOf(*p), reflect.ValueOf(back))
}

func same(t *testing.T, path string, a, b reflect.Value) {
	t.Helper()
	switch a.Kind() {
	case reflect.Slice:
		if a.Len() != b.Len() {
			t.Errorf("%s: %d, read back %d", path, a.Len(), b.Len())
			return
		}
		for i := range a.Len() {
			same(t, fmt.Sprintf("%s[%d]", path, i), a.Index(i), b.Index(i))
		}
	case reflect.Struct:
		for i := range a.NumField() {
			if _, ok := a.Interface().(profile.DayPoint); ok && a.Type().Field(i).Name == "Error" {
				continue // is not written
			}
			same(t, path+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i))
		}
	case reflect.Float64:
		x, y := a.Float(), b.Float()
		unsaid := math.IsNaN(x) || math.IsInf(x, 0) // is null
		if unsaid != math.IsNaN(y) || math.Abs(x-y) > 6e-7*math.Abs(x) {
			t.Errorf("%s: %v, read back %v", path, x, y)
		}
	default:
		if a.Interface() != b.Interface() {
			t.Errorf("%s: %v, read back %v", path, a.Interface(), b.Interface())
		}
	}
}

// TestColumns: the lists of a table are of one length, and each stands for as
// many days or points as there are.
func TestColumns(t *testing.T) {
	_, log := season14()
	p := profile.All(&log.Result, nil)
	b, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	type table = map[string]any
	var got struct {
		Lifters []struct {
			SessionDates []string `json:"session_dates"`
			Lifts        []struct {
				Readiness, Points []table
				Effort            struct {
					Points  table
					ByRPE   table `json:"by_rpe"`
					BySpeed table `json:"by_speed"`
				} `json:"effort_chart"`
				LoadVelocity struct{ Curve table } `json:"load_velocity"`
				VelocityLoss struct {
					StopAtLoss []table `json:"stop_at_loss"`
				} `json:"velocity_loss"`
			}
		}
	}
	if err := json.Unmarshal(b, &got); err != nil {
		t.Fatal(err)
	}
	rows := func(what string, of table) int {
		n := -1
		for name, x := range of {
			if list, ok := x.([]any); ok {
				if n >= 0 && len(list) != n {
					t.Errorf("%s: %s has %d, others %d", what, name, len(list), n)
				}
				n = len(list)
			}
		}
		return n
	}
	sum := func(what string, of []table) (n int) {
		for _, x := range of {
			n += rows(what, x)
		}
		return n
	}
	lifter, lift, want := got.Lifters[0], got.Lifters[0].Lifts[0], p.Lifters[0].Lifts[0]
	for _, c := range []struct {
		what      string
		got, want int
	}{
		{"session_dates", len(lifter.SessionDates), p.Lifters[0].Sessions},
		{"readiness", sum("readiness", lift.Readiness), len(want.Readiness)},
		{"points", sum("points", lift.Points), len(want.Points)},
		{"points of the effort chart", rows("effort points", lift.Effort.Points), len(want.Effort.Points)},
		{"by_rpe", rows("by_rpe", lift.Effort.ByRPE), len(want.Effort.ByRPE)},
		{"by_speed", rows("by_speed", lift.Effort.BySpeed), len(want.Effort.BySpeed)},
		{"stop_at_loss", sum("stop_at_loss", lift.VelocityLoss.StopAtLoss), len(want.VelocityLoss.StopAtLoss) * 5},
		{"curve", rows("curve", lift.LoadVelocity.Curve), len(want.LoadVelocity.Curve)},
	} {
		if c.got != c.want || c.got == 0 {
			t.Errorf("%s has %d rows, wants %d", c.what, c.got, c.want)
		}
	}
}

// TestNotRead: tables that do not fit are an error that says where, never a
// panic.
func TestNotRead(t *testing.T) {
	for text, says := range map[string]string{
		`{"lifter":"A","lifts":[{}]}`:                              "lift 1 of A is empty",
		`{"lifter":"A","session_dates":["2026-01-32"],"lifts":[]}`: "session_dates of A",
		`{"lifter":"A","session_dates":["2026-01-31"],"lifts":[{"lift":"squat","points":[{"session":[2],"speed_m_s":[0.5]}]}]}`:              "A, squat: points: session 2 of 1",
		`{"lifter":"A","session_dates":["2026-01-31"],"lifts":[{"lift":"squat","points":[{"session":[1],"speed_m_s":[0.5,0.6]}]}]}`:          "A, squat: points: columns of different lengths",
		`{"lifter":"A","lifts":[{"lift":"squat","readiness":[{"date":["2026-01-31"]}]}]}`:                                                    "A, squat: readiness: columns",
		`{"lifter":"A","lifts":[{"lift":"squat","velocity_loss":{"stop_at_loss":[{"percent_1rm":90,"loss":[0.1],"speed_m_s":[0.3,0.2]}]}}]}`: "A, squat: stop_at_loss: columns",
		`{"lifter":"A","lifts":[{"lift":"squat","effort_chart":{"by_rpe":{"rpe":[8],"speed_m_s":[0.3,0.2]}}}]}`:                              "A, squat: effort_chart: columns",
		`{"lifter":"A","lifts":[{"lift":"squat","effort_chart":{"points":[]}}]}`:                                                             "cannot unmarshal array",
		`{"lifter":"A","lifts":[{"lift":"squat","load_velocity":{"curve":{"load_kg":[1],"speed_m_s":[0.3,0.2]}},"splits":[{}]}]}`:            "A, squat: load_velocity: columns",
	} {
		var l profile.Lifter
		err := json.Unmarshal([]byte(text), &l)
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, wants %q", text, err, says)
		}
	}
}
