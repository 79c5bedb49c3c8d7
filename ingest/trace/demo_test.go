package trace

import (
	"bufio"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"repsift/ingest/rep"
)

const demoDir = "../../testdata"

// readTrace reads a demo trace: time and position, of millimetres or metres.
func readTrace(t *testing.T, name string, opt Options) ([]Found, Summary) {
	t.Helper()
	f, err := os.Open(filepath.Join(demoDir, "demo", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var found []Found
	s := New(opt, func(f Found) { found = append(found, f) })
	lines := bufio.NewScanner(f)
	scale := 1.0
	for n := int32(1); lines.Scan(); n++ {
		text := lines.Text()
		if strings.HasSuffix(text, "(mm)") {
			scale = 0.001
		}
		cells := strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == '\t' })
		if len(cells) != 2 {
			continue
		}
		at, err1 := strconv.ParseFloat(cells[0], 64)
		x, err2 := strconv.ParseFloat(cells[1], 64)
		if err1 != nil || err2 != nil {
			continue
		}
		if err := s.Add(n, rep.Some(at), rep.Some(x*scale), rep.Null[float64]{}); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return found, s.Summary()
}

// The demo's traces against its truth: the right reps, in the right rows, at
// about the right speed: the truth ends a motion where swaying begins, which
// first goes on upwards by a millimetre.
func TestDemoTraces(t *testing.T) {
	f, err := os.Open(filepath.Join(demoDir, "demo-truth.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	type truth struct {
		row  int
		mean float64
	}
	reps := make(map[string][]truth)
	lift := make(map[string]string)
	for _, r := range rows[1:] {
		if !strings.HasPrefix(r[0], "traces/") || r[4] != "rep" {
			continue
		}
		row, _ := strconv.Atoi(r[2])
		mean, _ := strconv.ParseFloat(r[12], 64)
		reps[r[0]] = append(reps[r[0]], truth{row, mean})
		lift[r[0]] = r[9]
	}
	if len(reps) != 4 {
		t.Fatalf("%d traces in the truth, want 4", len(reps))
	}
	for name, want := range reps {
		for _, known := range []string{lift[name], ""} {
			found, sum := readTrace(t, name, Options{Lift: known})
			var got []Found
			for _, f := range found {
				if f.Kind == Rep {
					got = append(got, f)
				}
			}
			if len(got) != len(want) {
				t.Errorf("%s, lift %q: %d reps, want %d", name, known, len(got), len(want))
				continue
			}
			for i, f := range got {
				if d := math.Abs(float64(f.Row) - float64(want[i].row)); d > 0.25*sum.Hz {
					t.Errorf("%s: rep %d starts in row %d, want %d", name, i+1, f.Row, want[i].row)
				}
				if d := f.MeanVelocity/want[i].mean - 1; math.Abs(d) > 0.08 {
					t.Errorf("%s: rep %d at %.4f m/s, want %.4f (%+.1f %%)", name, i+1, f.MeanVelocity, want[i].mean, 100*d)
				}
			}
		}
	}
}
