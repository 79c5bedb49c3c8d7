package column

import (
	"os"
	"strings"
	"testing"

	"repsift/ingest/table"
)

// TestHeadings reads columns under the headings of testdata/headings.txt, in
// thirteen languages: a line for each field, which a colon ends; none for columns
// that are not needed. Values are such as the field has.
func TestHeadings(t *testing.T) {
	text, err := os.ReadFile("testdata/headings.txt")
	if err != nil {
		t.Fatal(err)
	}
	values := map[string]string{
		"lifter": "Ana Bel|Ana Bel|Ana Bel|Kim Ro", "date": "2026-01-05|2026-01-05|2026-01-06|2026-01-25", "time": "18:05|18:06|18:07|18:08",
		"lift": "squat|squat|bench press|deadlift", "load": "100|102.5|105|110", "set": "1|1|2|2", "rep": "1|2|1|2", "sets": "3|3|4|2", "reps": "5|5|3|5",
		"mean_velocity": "0.52|0.50|0.61|0.44", "peak_velocity": "0.92|0.90|1.01|0.84", "rom": "55|54|40|50", "concentric": "1.02|1.10|0.9|1.4",
		"first_velocity": "0.52|0.50|0.61|0.44", "last_velocity": "0.42|0.40|0.51|0.34", "fastest_velocity": "0.52|0.50|0.61|0.44",
		"rpe": "7|7.5|8|9", "rir": "3|2|2|1", "note": "ok then||felt fine|", "": "310|300|290|280",
	}
	seen := 0
	for line := range strings.Lines(string(text)) {
		field, headings, ok := strings.Cut(strings.TrimSpace(line), ": ")
		if !ok || values[field] == "" {
			t.Fatalf("line %q", line)
		}
		for heading := range strings.SplitSeq(headings, "|") {
			c := &Column{Heading: heading, Named: true, Stats: &Stats{}}
			for v := range strings.SplitSeq(values[field], "|") {
				c.Stats.Add(&table.Cell{Text: v, Kind: table.Text})
			}
			c.Guess()
			Assign([]*Column{c})
			if c.Field.String() != field {
				t.Errorf("%q is read as %q, want %q: %+v", heading, c.Field, field, c.Words)
			}
			seen++
		}
	}
	if seen < 800 {
		t.Errorf("only %d headings", seen)
	}
}
