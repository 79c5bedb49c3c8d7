package ingest

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"repsift/ingest/season"
)

// TestUnitsOfTraces names a unit that is known by raw traces alone: after their
// folder, and never after the sets that the files are named after.
func TestUnitsOfTraces(t *testing.T) {
	var b strings.Builder
	b.WriteString("time (s),position (m)\n")
	for i := range 400 {
		at := float64(i) / 100
		fmt.Fprintf(&b, "%.2f,%.4f\n", at, 0.3*math.Cos(math.Pi*at))
	}
	s, err := season.Read("season.toml", strings.NewReader("[[source]]\nfiles = [\"**\"]\nlifter = \"Ines Duarte\"\ndate = 2026-01-05\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ files, want string }{
		{"squat 100kg.csv|bench press 60kg.csv", "raw traces"},
		{"squat 100kg.csv|squat 110kg.csv", "raw traces"},
		{"squat 100kg.csv", "raw traces"},
		{"north unit/squat 100kg.csv|north unit/squat 110kg.csv", "north unit"},
		{"hall encoder 1 squat 100kg.csv|hall encoder 2 squat 90kg.csv", "hall encoder"},
	} {
		fsys := fstest.MapFS{}
		for i, name := range strings.Split(c.files, "|") {
			fsys[name] = &fstest.MapFile{Data: append([]byte(b.String()), strings.Repeat("\n", i)...)}
		}
		r, err := Read(context.Background(), fsys, nil, s, Options{Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		for i := range r.Sources {
			if src := &r.Sources[i]; src.Err != nil || src.Device != c.want {
				t.Errorf("%s: %q, %v; want %q", src.Name, src.Device, src.Err, c.want)
			}
		}
	}
}
