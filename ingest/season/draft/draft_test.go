package draft

import (
	"bytes"
	"flag"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"repsift/ingest/rep"
	"repsift/ingest/season"
)

var update = flag.Bool("update", false, "rewrite the golden file")

var draftFacts = Facts{
	Season: "Winter block",
	Groups: []Group{
		{
			Files: []string{"exports/north/jan.csv", "exports/north/feb.csv"}, Device: "north", Shape: "rep rows", Reading: "semicolons, windows-1252, decimal comma",
			Columns: []Column{
				{"Athlet", "lifter", "", "heading", []string{"Ines Duarte", "Joss Alder"}},
				{"Gewicht", "load", "kg", "values 40 to 180 in steps of 2.5", []string{"82,5", "100", "120"}},
				{"Tempo (m/s)", "mean_velocity", "m/s", "heading", []string{"0,41", "0,38"}},
				{"Farbe", "", "", "no field", []string{"grün"}},
			},
			Asks: []Ask{{"dates such as 3/4/2026 have two readings", []string{`date_order = "day month year"`, `date_order = "month day year"`}, false}},
		},
		{Files: []string{"logs/log [old].xlsx", "logs/log.xlsx"}, Shape: "set rows", Columns: []Column{{"Set", "work", "", "values", []string{"180x5 @8", "140x3"}}}},
		{Files: []string{"logs/other.xlsx"}, Device: "south \"unit\""},
		{Files: []string{"a.csv"}},
	},
	Lifters: []Name{{"Ines Duarte", 200}, {"ines d", 40}, {"I. Duarte", 3}, {"INES DUARTE", 1}, {"Joss Alder", 90}},
	Lifts:   []Name{{"Kniebeuge", 120}, {"Sumo DL", 40}, {"SSB", 12}, {"deadlfit", 1}},
	Gaps:    []Gap{{rep.DayOf(2026, 2, 16), rep.DayOf(2026, 3, 1)}},
	First:   rep.Some(rep.DayOf(2026, 1, 5)), Last: rep.Some(rep.DayOf(2026, 4, 10)),
}

func TestDraft(t *testing.T) {
	const golden = "testdata/draft.toml"
	var got bytes.Buffer
	if err := Write(&got, draftFacts); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(golden, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Bytes(), want) {
		t.Errorf("got\n%s", got.Bytes())
	}
}

// statement fits a heading or a key with its value.
var statement = regexp.MustCompile(`^(\[\[\w+\]\]|\w+\s*=)`)

// Taking the # away from every suggestion leaves a season file that holds.
func TestDraftUncommented(t *testing.T) {
	var b bytes.Buffer
	if err := Write(&b, draftFacts); err != nil {
		t.Fatal(err)
	}
	var lines []string
	asked := 0
	for line := range strings.Lines(b.String()) {
		bare := strings.TrimPrefix(line, "# ")
		if strings.HasPrefix(bare, "date_order") {
			if asked++; asked > 1 {
				continue // keep one line
			}
		}
		if statement.MatchString(bare) {
			line = bare
		}
		lines = append(lines, line)
	}
	s, err := season.Read("season.toml", strings.NewReader(strings.Join(lines, "")))
	if err != nil {
		t.Fatal(err)
	}
	if s.Lifter("ines d") != "Ines Duarte" || len(s.Lifters) != 2 || len(s.Blocks) != 2 || s.Sources[0].DateOrder != season.DayMonthYear {
		t.Errorf("got %+v", s)
	}
	if s.Blocks[0].To != rep.DayOf(2026, 2, 15) || s.Blocks[1].From != rep.DayOf(2026, 3, 2) {
		t.Errorf("blocks are not what lies between the gaps: %+v", s.Blocks)
	}
	if l, _ := s.Lift("deadlfit"); l != "deadlift" {
		t.Errorf("the slip is read as %q", l)
	}
}

// Whatever files and cells hold, the draft is a season file, and its patterns
// take each file to its own group and no other.
func TestDraftOfAnything(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	text := func() string {
		parts := []string{"a", "B ", "\"", "\\", "#", "\n", "\x00", "\x7f", "\xff", "[", "]", "*", "?", "ü", "\u200b", "\ufeff", "\u2028", "'", "{x}", "=", "**", ".csv", "\t"}
		var b strings.Builder
		for range 1 + r.IntN(6) {
			b.WriteString(parts[r.IntN(len(parts))])
		}
		return b.String()
	}
	for range 2000 {
		var f Facts
		f.Season = text()
		owner := make(map[string]int)
		for g := range 1 + r.IntN(3) {
			group := Group{Device: text(), Shape: text(), Reading: text(), Columns: []Column{{text(), text(), text(), text(), []string{text()}}}, Asks: []Ask{{text(), []string{text()}, r.IntN(2) == 0}}}
			for range 1 + r.IntN(4) {
				name := "f" + strings.ReplaceAll(text(), "/", "")
				if r.IntN(2) == 0 {
					name = "d/" + name
				}
				if _, taken := owner[name]; !taken {
					owner[name] = g
					group.Files = append(group.Files, name)
				}
			}
			f.Groups = append(f.Groups, group)
		}
		f.Lifters = []Name{{text(), 1}, {text(), 2}}
		f.Lifts = []Name{{text(), 1}, {text(), 2}}
		var b bytes.Buffer
		if err := Write(&b, f); err != nil {
			t.Fatalf("%v\n%s", err, b.Bytes())
		}
		s, err := season.Read("season.toml", strings.NewReader(b.String()))
		if err != nil {
			t.Fatal(err)
		}
		for i, g := range slices.DeleteFunc(f.Groups, func(g Group) bool { return len(g.Files) == 0 }) {
			for _, name := range g.Files {
				if !slices.ContainsFunc(s.Sources[i].Files, func(p string) bool { return season.Matches(p, name) }) {
					t.Fatalf("%q is not matched by %q", name, s.Sources[i].Files)
				}
			}
		}
	}
}

func TestPatterns(t *testing.T) {
	for _, c := range []struct{ files, others, want []string }{
		{[]string{"a/x.csv", "a/y.csv"}, nil, []string{"a/*.csv"}},
		{[]string{"x.csv", "y.csv"}, []string{"a/z.csv"}, []string{"*.csv"}},
		{[]string{"a/north1.csv", "a/north2.csv"}, []string{"a/south1.csv"}, []string{"a/north*.csv"}},
		{[]string{"a/1.csv", "a/2.csv"}, []string{"a/3.csv"}, []string{"a/1.csv", "a/2.csv"}},
		{[]string{"a/x.csv"}, nil, []string{"a/x.csv"}},
		{[]string{"a/x.csv", "b/y.csv", "b/z.csv", "b/z.xlsx"}, nil, []string{"a/x.csv", "b/*.csv", "b/z.xlsx"}},
		{[]string{"log [2].csv"}, nil, []string{"log [[]2].csv"}},
		{[]string{"é1.csv", "è2.csv"}, []string{"o.csv"}, []string{"è2.csv", "é1.csv"}},
	} {
		if got := Patterns(c.files, c.others); !slices.Equal(got, c.want) {
			t.Errorf("%q without %q: %q, want %q", c.files, c.others, got, c.want)
		}
	}
}
