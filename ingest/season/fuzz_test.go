package season

import (
	"errors"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/rogpeppe/go-internal/txtar"

	"repsift/ingest/rep"
	"repsift/ingest/spelling"
)

// FuzzRead: no text makes reading panic; what is refused is refused with
// places inside the file; what is accepted is TOML to the decoder of the
// library too, is accepted again, the same, also with a byte order mark and a
// remark at its end, and can be looked up in.
func FuzzRead(f *testing.F) {
	for _, file := range []string{"testdata/season.toml", "draft/testdata/draft.toml"} {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	a, err := txtar.ParseFile(faultsFile)
	if err != nil {
		f.Fatal(err)
	}
	for _, c := range a.Files {
		if strings.HasSuffix(c.Name, ".toml") {
			f.Add(string(c.Data))
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := Read("f", strings.NewReader(text))
		if err != nil {
			var faults *Faults
			if !errors.As(err, &faults) || s != nil || len(faults.List) == 0 {
				t.Fatalf("%v", err)
			}
			lines := strings.Count(text, "\n") + 1
			for i, x := range faults.List {
				if x.Line < 0 || x.Line > lines || x.Line > 0 && x.Column < 1 || x.Problem == "" || i > 0 && x.Line < faults.List[i-1].Line {
					t.Fatalf("%+v in a text of %d lines", x, lines)
				}
			}
			return
		}
		var tables map[string]any
		if err := toml.Unmarshal([]byte(strings.TrimPrefix(text, "\ufeff")), &tables); err != nil {
			t.Fatal(err)
		}
		for _, again := range []string{text, "\ufeff" + strings.TrimPrefix(text, "\ufeff"), text + "\n# end"} {
			other, err := Read("f", strings.NewReader(again))
			if err != nil || !reflect.DeepEqual(other, s) {
				t.Fatalf("%v\n%+v\n%+v", err, s, other)
			}
		}
		for _, src := range s.Sources {
			for _, p := range src.Files {
				s.Source(p)
			}
			if src.NameParts != "" {
				n, err := ParseNameParts(src.NameParts)
				if err != nil {
					t.Fatal(err)
				}
				if got, err := n.Match("2026-03-01_Ines_squat_140kg_set3", s); err == nil && len(got) == 0 {
					t.Fatal("matched nothing")
				}
			}
		}
		for _, l := range s.Lifters {
			if got := s.Lifter(strings.ToUpper(l.Name)); spelling.Fold(got) != spelling.Fold(s.Names([]string{l.Name})[l.Name]) && spelling.Fold(strings.ToUpper(l.Name)) == spelling.Fold(l.Name) {
				t.Fatalf("%q is called %q", l.Name, got)
			}
		}
		for _, u := range s.Setups {
			for _, lift := range append(u.Lifts, "squat") {
				s.Setup("", lift, "", rep.DayOf(2026, 3, 1))
			}
		}
		for _, fl := range s.Filters {
			if fl.Kind == rep.Correction {
				t.Fatalf("a filter without a kind: %+v", fl)
			}
		}
	})
}
