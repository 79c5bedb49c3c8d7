package ingest

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"repsift/ingest/rep"
	"repsift/ingest/season"
)

var update = flag.Bool("update", false, "rewrite what the exports of testdata are read as")

// TestExports reads the exports of testdata/exports: files as coaches have them,
// one idea each, said at the top, and what is read of them. The part "want" holds
// a line for each rep and each logged set, for each question, each row or cell
// that was not read, and each column that was left out; a part "season.toml"
// declares. `go test ./ingest -run Exports -update` accepts a new reading; look
// at every line of the difference first.
func TestExports(t *testing.T) {
	names, err := filepath.Glob("testdata/exports/*.txtar")
	if err != nil || len(names) < 60 {
		t.Fatalf("%d files, %v", len(names), err)
	}
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			fsys := fstest.MapFS{}
			var s *season.Season
			want := -1
			for i, f := range a.Files {
				switch f.Name {
				case "want":
					want = i
				case "season.toml":
					if s, err = season.Read(f.Name, bytes.NewReader(f.Data)); err != nil {
						t.Fatal(err)
					}
				default:
					fsys[f.Name] = &fstest.MapFile{Data: f.Data}
				}
			}
			r, err := Read(context.Background(), fsys, nil, s, Options{Workers: 1})
			if err != nil {
				t.Fatal(err)
			}
			got := []byte(showReading(r))
			switch {
			case want >= 0 && bytes.Equal(got, a.Files[want].Data):
			case *update:
				if want < 0 {
					want = len(a.Files)
					a.Files = append(a.Files, txtar.File{Name: "want"})
				}
				a.Files[want].Data = got
				if err := os.WriteFile(name, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
			case want < 0:
				t.Errorf("nothing is wanted; got\n%s", got)
			default:
				t.Errorf("got\n%s\nwant\n%s", got, a.Files[want].Data)
			}
		})
	}
}

// showReading writes everything that was read, a line each.
func showReading(r *Reading) string {
	var b strings.Builder
	for i := range r.Reps.Len() {
		x := r.Reps.Rep(int32(i))
		b.WriteString(showRep(&x))
	}
	for _, n := range showNotes(r) {
		fmt.Fprintf(&b, "logged %s\n", n)
	}
	for i := range r.Sources {
		src := &r.Sources[i]
		if src.Err != nil {
			fmt.Fprintf(&b, "! %s\n", src.Err)
		}
		for _, w := range src.Warnings {
			fmt.Fprintf(&b, "? %s\n", w)
		}
		for _, said := range src.Said {
			if strings.HasPrefix(said, "not read") || strings.Contains(said, "is not read") {
				fmt.Fprintf(&b, "· %s\n", said)
			}
		}
		if src.Err == nil {
			for _, u := range r.Unread {
				fmt.Fprintf(&b, "lost %s %s\n", u.Lost, u)
			}
		}
	}
	return b.String()
}

// showRep writes a rep in short.
func showRep(x *rep.Rep) string {
	s := fmt.Sprintf("%s %s %s", x.Lifter, x.Date, x.Lift)
	if x.Variant != "" {
		s += " (" + x.Variant + ")"
	}
	if x.PerformedAt.OK {
		s += x.PerformedAt.V.Time().Format(" 15:04:05")
	}
	s += fmt.Sprintf(" %.5g kg", x.LoadKg)
	switch m := x.SetMark; {
	case m.OK && m.V >= 1<<26: // no number of the source: a mark that tells it apart
		s += fmt.Sprintf(" set #%x", m.V)
	case m.OK:
		s += fmt.Sprintf(" set %d", m.V)
	}
	if x.RepRecorded.OK {
		s += fmt.Sprintf(" rep %d", x.RepRecorded.V)
	}
	s += fmt.Sprintf(": %.4g m/s", x.MeanVelocity)
	for _, m := range []struct {
		name, unit string
		v          rep.Null[float64]
	}{
		{"peak", "m/s", x.PeakVelocity}, {"rom", "m", x.ROM}, {"in", "s", x.Concentric}, {"propulsive", "m/s", x.Further.MeanPropulsive},
		{"sticking", "m/s", x.Further.Sticking}, {"to peak", "s", x.Further.TimeToPeak}, {"eccentric", "s", x.Further.Eccentric},
	} {
		if m.v.OK {
			s += fmt.Sprintf(", %s %.4g %s", m.name, m.v.V, m.unit)
		}
	}
	if x.RPE.OK {
		s += fmt.Sprintf(", @%g", x.RPE.V)
	}
	for _, m := range []struct{ name, v string }{{"bar", x.Bar}, {"tether", x.Tether}} {
		if m.v != "" {
			s += fmt.Sprintf(", %s %s", m.name, m.v)
		}
	}
	if x.Missed {
		s += ", missed"
	}
	return s + "\n"
}
