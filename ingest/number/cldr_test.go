package number

import (
	_ "embed"
	"strconv"
	"strings"
	"testing"

	"repsift/ingest/unit"
)

//go:embed testdata/cldr48.tsv
var cldr string

// Numbers and units in nineteen locales as Unicode CLDR writes them, not as our
// own lists have them.
func TestCLDR(t *testing.T) {
	lines := 0
	for line := range strings.Lines(cldr) {
		if line[0] == '#' {
			continue
		}
		lines++
		parts := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		locale, text := parts[0], parts[4]
		mark := Point
		if parts[1] == "," {
			mark = Comma
		}
		want, err := strconv.ParseFloat(parts[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		v, err := Parse(text, mark)
		name := ""
		for q := unit.Any; q <= unit.Time && name == ""; q++ {
			u, _ := unit.ParseFor(q, v.Unit)
			name = u.Name
		}
		if v.Percent {
			name = "%"
		}
		if err != nil || v.V != want || name != parts[3] {
			t.Errorf("%s: Parse(%q, %q) = %+v, %v; want %v %s", locale, text, mark, v, err, want, parts[3])
		}
	}
	if lines != 19*30 {
		t.Errorf("%d lines, want %d", lines, 19*30)
	}
}
