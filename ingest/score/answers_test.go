package score

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"repsift/ingest"
	"repsift/ingest/season"
)

// Adding one of the lines that a question names, as it stands there, settles
// it: with the right one of each question the export is read right.
func TestAnswers(t *testing.T) {
	asked := 0
	for n := 50_000; n < 50_000+*many; n++ {
		e, err := build(n)
		if err != nil {
			t.Fatal(err)
		}
		if verdict, _ := e.outcome(t, nil); verdict != "asked" {
			continue
		}
		asked++
		if why := e.answered(t, ""); why != "" {
			t.Errorf("%d: %s\n%s", n, e.said, why)
		}
	}
	if asked == 0 {
		t.Error("nothing was asked: the test says nothing")
	}
	t.Logf("%d exports were asked about", asked)
}

// answered tries the lines of the first open question behind those declared
// already, each in turn, and returns "" where one way leads to a right reading,
// else how the last ended.
func (e *export) answered(t *testing.T, declared string) string {
	s, err := season.Read("season.toml", strings.NewReader(declared))
	if err != nil {
		return err.Error() + "\n" + declared
	}
	verdict, why := e.outcome(t, s)
	if verdict == "right" {
		return ""
	}
	fsys := fstest.MapFS{e.name: &fstest.MapFile{Data: e.data}}
	r, err := ingest.Read(context.Background(), fsys, nil, s, ingest.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	asks := r.Sources[0].Asks
	if len(asks) == 0 || strings.Count(declared, "[[source]]") > 4 {
		return verdict + ": " + why + "\n" + declared
	}
	for _, line := range asks[0].Lines {
		if why = e.answered(t, declared+fmt.Sprintf("[[source]]\nfiles = [%q]\n%s\n", e.name, line)); why == "" {
			return ""
		}
	}
	return why
}
