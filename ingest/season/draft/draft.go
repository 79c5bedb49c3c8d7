// Package draft writes a commented season file from what was found in a folder
// of exports.
package draft

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/spelling"
)

// Facts is what was found out about a folder of exports, for [Write].
// Texts may hold anything a file can hold.
type Facts struct {
	Season  string // name of the season; empty: the coach is asked for one
	Groups  []Group
	Lifters []Name // as written
	Lifts   []Name // as written
	Gaps    []Gap  // stretches without a session, in order
	// First and last day of a session; both or neither.
	First, Last rep.Null[rep.Day]
}

// Group is files that are alike: of one unit, or one hand log.
type Group struct {
	Files   []string // names relative to the input root
	Device  string   // what the unit would be called without a nickname; empty for hand logs
	Shape   string   // as recognised; empty where none was
	Reading string   // one line: "semicolons, windows-1252, decimal comma"
	Columns []Column
	Asks    []Ask
}

// Column is how one column was understood.
type Column struct {
	Heading string
	Field   string // empty: not read
	Unit    string
	Why     string // where field or unit come from: "heading", "values 45 to 120", …
	Samples []string
}

// Ask is something ambiguous and the lines that would settle it.
type Ask struct {
	Problem string
	Lines   []string // one of which to keep
	All     bool     // … or all of them
}

// Name is a lifter or lift as written, and how often.
type Name struct {
	Written string
	Reps    int
}

// Gap is a stretch without a session, both days included.
type Gap struct{ From, To rep.Day }

// Write writes a season file for what was found: sources by the fewest
// patterns that tell them apart, and in comments how each column was read,
// what is ambiguous with the line that settles it, spellings that may be one
// lifter or a known lift, and stretches without sessions. Nothing is merged or
// decided by it: what the coach has to confirm stands behind a #. season.Read accepts
// what Write writes.
func Write(w io.Writer, facts Facts) error {
	var b draft
	b.line("# Season file: what the exports do not say of themselves. Everything is optional.")
	b.line("# A line that begins with # is a comment. Take the # away where a suggestion is right.")
	b.line("")
	if name := spelling.Tidy(plainText(facts.Season)); name != "" {
		b.line("season = %s", quoted(name))
	} else {
		b.line(`# season = "Winter block"`)
	}
	b.line(`# timezone = "Europe/Lisbon"   # zone of the times in the exports; UTC where none is declared`)
	all := facts.Groups
	for i := range all {
		var others []string
		for j := range all {
			if j != i {
				others = append(others, all[j].Files...)
			}
		}
		b.group(&all[i], others)
	}
	b.lifters(facts.Lifters)
	b.lifts(facts.Lifts)
	b.blocks(&facts)
	if _, err := season.Read("draft", bytes.NewReader(b.Bytes())); err != nil {
		return fmt.Errorf("the draft is no season file: %w", err)
	}
	_, err := w.Write(b.Bytes())
	return err
}

type draft struct{ bytes.Buffer }

func (b *draft) line(format string, args ...any) {
	fmt.Fprintf(b, format, args...)
	b.WriteByte('\n')
}

// remark writes a comment whose text comes from a file.
func (b *draft) remark(format string, args ...any) {
	b.line("%s", strings.TrimSpace("# "+plainText(fmt.Sprintf(format, args...))))
}

func (b *draft) group(g *Group, others []string) {
	if len(g.Files) == 0 {
		return
	}
	b.line("\n[[source]]")
	b.line("files  = [%s]", strings.Join(quotedAll(Patterns(g.Files, others)), ", "))
	if name := spelling.Tidy(plainText(g.Device)); name != "" {
		b.line("device = %s   # your own nickname for the unit", quoted(name))
	}
	files := "1 file"
	if n := len(g.Files); n != 1 {
		files = strconv.Itoa(n) + " files"
	}
	what := []string{files}
	for _, s := range []string{g.Shape, g.Reading} {
		if s != "" {
			what = append(what, s)
		}
	}
	b.remark("%s", strings.Join(what, "; "))
	if len(g.Columns) > 0 {
		rows := [][]string{{"heading", "field", "unit", "why", "samples"}}
		for _, c := range g.Columns {
			field := c.Field
			if field == "" {
				field = "not read"
			}
			rows = append(rows, []string{quoted(plainText(c.Heading)), field, c.Unit, c.Why, strings.Join(c.Samples, " | ")})
		}
		b.columns(rows)
	}
	for _, a := range g.Asks {
		b.remark("")
		keep := "Keep one line:"
		switch {
		case len(a.Lines) == 0:
			keep = ""
		case a.All || len(a.Lines) == 1:
			keep = "Fill in and keep:"
		}
		b.remark("To be settled: %s. %s", strings.TrimRight(a.Problem, ". "), keep)
		for _, l := range a.Lines {
			b.remark("%s", l)
		}
	}
}

// columns writes rows as a comment, in columns.
func (b *draft) columns(rows [][]string) {
	widths := make([]int, len(rows[0]))
	for _, r := range rows {
		for i := range r {
			r[i] = clip(plainText(r[i]), 48)
			widths[i] = max(widths[i], utf8.RuneCountInString(r[i]))
		}
	}
	for _, r := range rows {
		var line strings.Builder
		for i, cell := range r {
			line.WriteString(cell + strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell)+2))
		}
		b.line("%s", strings.TrimRight("#   "+line.String(), " "))
	}
}

func (b *draft) lifters(names []Name) {
	names = merge(names)
	texts := make([]string, len(names))
	for i, n := range names {
		texts[i] = n.Written
	}
	same := make(map[string][]string)
	for _, p := range spelling.Similar(texts) {
		same[p[0]], same[p[1]] = append(same[p[0]], p[1]), append(same[p[1]], p[0])
	}
	// The fullest writing is the likeliest name: most letters, then most reps.
	slices.SortStableFunc(names, func(a, b Name) int {
		return cmp.Or(cmp.Compare(letters(b.Written), letters(a.Written)), cmp.Compare(spelling.Style(a.Written), spelling.Style(b.Written)), cmp.Compare(b.Reps, a.Reps))
	})
	var mains []Name
	isMain := make(map[string]bool)
	spelled := make(map[string][]string)
	for _, n := range names {
		alone := true
		for _, m := range same[n.Written] {
			if isMain[m] {
				spelled[m] = append(spelled[m], n.Written)
				alone = false
			}
		}
		if alone {
			mains = append(mains, n)
			isMain[n.Written] = true
		}
	}
	slices.SortFunc(mains, func(a, b Name) int { return cmp.Compare(a.Written, b.Written) })
	for _, m := range mains {
		b.line("\n[[lifter]]")
		b.line("name    = %s   # %s", quoted(m.Written), repsText(m.Reps))
		if s := spelled[m.Written]; s != nil {
			b.remark("May be the same person; suggested, not merged:")
			b.line("# spelled = [%s]", strings.Join(quotedAll(s), ", "))
		}
	}
}

func (b *draft) lifts(names []Name) {
	var known, own []Name
	for _, n := range merge(names) {
		if _, _, ok := spelling.KnownLift(n.Written); ok {
			known = append(known, n)
		} else {
			own = append(own, n)
		}
	}
	if len(known) > 0 {
		b.line("\n# Lifts that were recognised; declare a [[lift]] only to overrule.")
	}
	for _, n := range known {
		lift, variant, _ := spelling.KnownLift(n.Written)
		if variant != "" {
			lift += ", " + variant
		}
		b.remark("%s: %s (%s)", quoted(n.Written), lift, repsText(n.Reps))
	}
	for _, n := range own {
		name := spelling.Nearest(n.Written, []string{rep.Squat, rep.BenchPress, rep.Deadlift})
		b.line("")
		b.remark("%s counts as a lift of its own (%s). If it is another name of a lift:", quoted(n.Written), repsText(n.Reps))
		b.line("# [[lift]]")
		b.line("# name    = %s", quoted(cmp.Or(name, rep.Squat)))
		b.line("# spelled = [%s]", quoted(n.Written))
	}
}

// blocks suggests a block for each stretch between gaps.
func (b *draft) blocks(f *Facts) {
	if !f.First.OK || !f.Last.OK {
		return
	}
	b.line("\n# Blocks of training, to be held against each other. Sessions run from %s to %s.", f.First.V, f.Last.V)
	from := f.First.V
	for i := 0; i <= len(f.Gaps); i++ {
		to := f.Last.V
		if i < len(f.Gaps) {
			to = f.Gaps[i].From - 1
		}
		if to >= from {
			b.line("#\n# [[block]]\n# name = \"block %d\"\n# from = %s\n# to   = %s", i+1, from, to)
		}
		if i < len(f.Gaps) {
			g := f.Gaps[i]
			b.line("#\n# No session from %s to %s (%d days).", g.From, g.To, g.To-g.From+1)
			from = g.To + 1
		}
	}
}

// merge joins names that differ by case, blanks and Unicode form, in byte
// order of the better writing.
func merge(names []Name) []Name {
	best := make(map[string]Name)
	for _, n := range names {
		text := spelling.Tidy(plainText(n.Written))
		if text == "" {
			continue
		}
		old, ok := best[spelling.Fold(text)]
		if !ok || spelling.Better(text, old.Written) {
			old.Written = text
		}
		old.Reps += n.Reps
		best[spelling.Fold(text)] = old
	}
	out := make([]Name, 0, len(best))
	for _, n := range best {
		out = append(out, n)
	}
	slices.SortFunc(out, func(a, b Name) int { return cmp.Compare(a.Written, b.Written) })
	return out
}

func repsText(n int) string {
	if n == 1 {
		return "1 rep"
	}
	return strconv.Itoa(n) + " reps"
}

func letters(s string) int {
	return utf8.RuneCountInString(strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) {
			return r
		}
		return -1
	}, s))
}
