// Package pseudonym replaces names of people by codes before a season is handed
// on.
//
//   - Codes of lifters are made from a key ([Key], HMAC-SHA-256), so that a
//     lifter keeps the code from one hand-over to the next while nobody without
//     the key can find the code of a name.
//   - Files and sheets get codes too, whether or not a name is in theirs.
//   - What people wrote freely goes: the words of the hand log, the text of what
//     could not be read. What is left of texts, and the nicknames of units,
//     bars and lifts, is searched for names.
//   - Dates can be moved, each lifter's by a number of weeks of their own.
//
// [Codes] holds who becomes what; Result and Profiles return changed copies.
// That nothing is left is for package leak to say, which looks at the files.
package pseudonym

import (
	"cmp"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/report/pack"
)

// Options of a hand-over.
type Options struct {
	Shift   bool     // move dates
	Without []string // lifters who are left out, as the tables have them
	Others  []string // names of people who are no lifters
}

// Codes says who and what becomes which code.
type Codes struct {
	key     *Key
	opt     Options
	people  []person
	names   *Names
	lifters map[string]int    // name in the tables → index of people
	sources map[string]string // file → code
	ordered []string          // files, longest first
	without map[string]bool
	labels  map[[2]string]string // what label made of a text of a lifter
}

type person struct {
	code  string // empty: is no lifter
	names []string
}

// Of returns the codes for everybody and every file that a season names. The
// error is of two lifters that got one code, or of a lifter to leave out who is
// not there.
func Of(key *Key, res *clean.Result, run *pack.Run, opt Options) (*Codes, error) {
	c := &Codes{key: key, opt: opt, lifters: map[string]int{}, sources: map[string]string{}, without: map[string]bool{}, labels: map[[2]string]string{}}
	for _, spellings := range Spellings(res, run) {
		c.lifters[spellings[0]] = len(c.people)
		c.people = append(c.people, person{"L-" + key.digits("lifter", canonical(spellings[0])), spellings})
	}
	for i, p := range c.people {
		for _, q := range c.people[:i] {
			if p.code == q.code {
				return nil, fmt.Errorf("%q and %q get the same code from this key, %s: use another key file", q.names[0], p.names[0], p.code)
			}
		}
	}
	for _, name := range opt.Without {
		i := slices.IndexFunc(c.people, func(p person) bool {
			return slices.ContainsFunc(p.names, func(n string) bool { return canonical(n) == canonical(name) })
		})
		if i < 0 {
			return nil, fmt.Errorf("there is no lifter %q to leave out", name)
		}
		c.without[c.people[i].names[0]] = true
	}
	for _, name := range opt.Others {
		c.people = append(c.people, person{names: []string{name}})
	}
	var all [][]string
	for _, p := range c.people {
		all = append(all, p.names)
	}
	c.names = NewNames(all, nil)
	for _, s := range sourcesOf(res) {
		c.sources[s] = "source-" + key.digits("source", s) + ending(s)
		c.ordered = append(c.ordered, s)
	}
	slices.SortFunc(c.ordered, func(a, b string) int { return cmp.Or(cmp.Compare(len(b), len(a)), cmp.Compare(a, b)) })
	return c, nil
}

// Spellings returns the spellings of every lifter a season knows, the name in
// the tables first, by name. res may be nil.
func Spellings(res *clean.Result, run *pack.Run) [][]string {
	spelled := map[string][]string{}
	add := func(name string, others ...string) {
		if name != "" {
			spelled[name] = append(spelled[name], others...)
		}
	}
	if res != nil {
		seen := map[rep.Sym]bool{}
		for i := range int32(res.Reps.Len()) {
			s := res.Reps.Lifter.At(i)
			if !seen[s] {
				seen[s] = true
				add(res.Reps.Text.Text(s))
			}
		}
		for i := range res.Sets.Len() {
			add(res.Sets.Lifter(i))
		}
	}
	for _, d := range run.Doubts {
		add(d.Lifter)
	}
	if run.Declared != nil {
		for _, l := range run.Declared.Lifters {
			add(l.Name, l.Spelled...)
		}
		for _, m := range run.Declared.Maxima {
			add(m.Lifter)
		}
	}
	var out [][]string
	for name, others := range spelled {
		slices.Sort(others)
		out = append(out, append([]string{name}, slices.Compact(others)...))
	}
	slices.SortFunc(out, func(a, b []string) int { return cmp.Compare(a[0], b[0]) })
	return out
}

// sourcesOf returns every file that is named anywhere.
func sourcesOf(res *clean.Result) []string {
	set := map[string]bool{}
	for _, l := range res.Ledger {
		set[l.Source] = true
	}
	seen := map[rep.Sym]bool{}
	for i := range int32(res.Reps.Len()) {
		s := res.Reps.Source.At(i)
		if !seen[s] {
			seen[s] = true
			set[res.Reps.Text.Text(s)] = true
		}
	}
	for i := range res.Sets.Len() {
		if whole := res.Sets.Whole(i); whole != nil {
			set[whole.Source] = true
		}
		if l := res.Sets.Log(i); l != nil {
			set[l.Source] = true
		}
	}
	for _, u := range res.Unread {
		set[u.Source] = true
	}
	delete(set, "")
	var out []string
	for s := range set {
		out = append(out, s)
	}
	slices.Sort(out)
	return out
}

// ending returns the ending of a file name where it is a common one, which
// tells of what kind the file was.
func ending(name string) string {
	switch e := strings.ToLower(path.Ext(name)); e {
	case ".csv", ".txt", ".tsv", ".xlsx":
		return e
	}
	return ""
}

// Person is a lifter and the code the lifter gets.
type Person struct{ Name, Code string }

// People lists who gets which code, by name; those left out are not among them.
func (c *Codes) People() []Person {
	var out []Person
	for _, p := range c.people {
		if p.code != "" && !c.without[p.names[0]] {
			out = append(out, Person{p.names[0], p.code})
		}
	}
	return out
}

// Spellings returns all spellings of all people, for the search of what is left.
func (c *Codes) Spellings() [][]string {
	var out [][]string
	for _, p := range c.people {
		out = append(out, p.names)
	}
	return out
}

// Lifter returns the code of a lifter.
func (c *Codes) Lifter(name string) string {
	if i, ok := c.lifters[name]; ok {
		return c.people[i].code
	}
	return ""
}

// Source returns the code of a file.
func (c *Codes) Source(name string) string { return c.sources[name] }

// Sheet returns the code of a sheet.
func (c *Codes) Sheet(name string) string {
	if name == "" {
		return ""
	}
	return "sheet-" + c.key.digits("sheet", name)
}

// Day moves a day of a lifter; the zero day means none and stays.
func (c *Codes) Day(d rep.Day, lifter string) rep.Day {
	if !c.opt.Shift || d == 0 {
		return d
	}
	return d + rep.Day(c.key.Shift(lifter))
}

// instant moves a moment of a lifter.
func (c *Codes) instant(v rep.Null[rep.Instant], lifter string) rep.Null[rep.Instant] {
	const day = 24 * 60 * 60 * 1000
	if c.opt.Shift && v.OK {
		v.V += rep.Instant(c.key.Shift(lifter)) * day
	}
	return v
}

var (
	quoted  = regexp.MustCompile(`"(?:[^"\\]|\\.)*"`)
	isoDate = regexp.MustCompile(`\b\d{4}-\d{2}-\d{2}\b`)
)

// Text returns a text without files, names and, where dates are moved, with
// those moved that are written as 2026-01-31; or left out where no lifter is
// given whose they are.
func (c *Codes) Text(text, lifter string) string {
	text = c.places(text)
	text = c.names.Replace(text, func(p int) string {
		if p < 0 || c.people[p].code == "" {
			return "[name]"
		}
		return c.people[p].code
	})
	if !c.opt.Shift {
		return text
	}
	return isoDate.ReplaceAllStringFunc(text, func(s string) string {
		var d rep.Day
		if lifter == "" || d.UnmarshalText([]byte(s)) != nil {
			return "[date]"
		}
		return c.Day(d, lifter).String()
	})
}

// label is Text for the few texts that every row repeats.
func (c *Codes) label(text, lifter string) string {
	if text == "" {
		return ""
	}
	if !c.opt.Shift {
		lifter = ""
	}
	k := [2]string{text, lifter}
	out, ok := c.labels[k]
	if !ok {
		out = c.Text(text, lifter)
		c.labels[k] = out
	}
	return out
}

// unquoted returns a text without what stands in quotes, which people wrote.
func unquoted(text string) string { return quoted.ReplaceAllString(text, `"…"`) }

// places replaces files and sheets where a text names a place, as [rep.Place]
// writes it.
func (c *Codes) places(text string) string {
	for _, s := range c.ordered {
		for from := 0; ; {
			i := strings.Index(text[from:], s)
			if i < 0 {
				break
			}
			i += from
			before, after := text[:i], text[i+len(s):]
			if !opens(before) || !closes(after) {
				from = i + len(s)
				continue
			}
			code := c.sources[s]
			if rest, ok := strings.CutPrefix(after, " ["); ok {
				if sheet, rest, ok := strings.Cut(rest, "]"); ok {
					code += " [" + c.Sheet(sheet) + "]"
					after = rest
				}
			}
			text = before + code + after
			from = len(before) + len(code)
		}
	}
	return text
}

// opens and closes report whether a place may begin behind, and end before,
// what stands there.
func opens(before string) bool {
	return before == "" || strings.ContainsAny(before[len(before)-1:], " \"'([,;:")
}

func closes(after string) bool {
	return after == "" || strings.HasPrefix(after, " [") || strings.ContainsAny(after[:1], ":,;)\"'")
}

// canonical returns what all writings of one name have in common: case, blanks
// and Unicode form put aside.
func canonical(name string) string {
	return norm.NFC.String(cases.Fold().String(norm.NFD.String(strings.Join(strings.Fields(name), " "))))
}
