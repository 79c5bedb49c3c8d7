package text

import (
	"cmp"
	"strings"
	"unicode"

	"repsift/ingest/table/cell"
)

// Declared is what is known of a dialect beforehand; zero values are not.
type Declared struct {
	Delimiter string // "blanks" for runs of blanks
	Quote     string // one character, or "none"
	Decimal   string // "," rules out the comma between digits
}

// Found is a recognised dialect and what speaks for it.
type Found struct {
	Dialect
	Quoted  bool    // cells in quotes were seen
	Escaped bool    // escaped quotes were seen
	LineEnd string  // "LF", "CRLF", "CR", "mixed", or "" where there is one line
	Sep     bool    // the first line declares the delimiter: "sep=;"
	Front   int32   // lines of front matter above the table: YAML between lines of "---"
	Wrapped int     // rows that are in quotes as a whole
	Score   float64 // of the dialect, in [0,1]
	Next    Dialect // the next best with another delimiter
	Margin  float64 // its score, 0 if there is none
}

// Limits of the sample that dialects are tried on: enough rows to tell, few
// enough not to be felt at the start of a run.
const (
	sampleBytes = 96 << 10
	sampleRows  = 300
)

// rivals is the share of the best score from which on another dialect is a rival
// worth telling of: what cannot have that is not tried.
const rivals = 0.9

// Rivalled reports whether another delimiter is nearly as likely as the one found.
func (f *Found) Rivalled() bool { return f.Margin > rivals*f.Score }

// Recognise finds the dialect of a text from its beginning. final says that the
// sample is the whole text.
//
// The idea: in the right dialect neighbouring rows have as many cells, the cells
// look like values (numbers, dates, short texts) rather than like glued or torn
// pieces, and a column holds one kind of value. Each row of the sample earns
//
//	(k-1)/k × look of its cells × likeness to its neighbours × purity of its columns
//
// for its k cells; the mean over the rows, times a weight for how usual the
// delimiter is, is the score, and the best score wins. Patterns of row lengths
// and cell types as evidence: G. van den Burg, A. Nazábal, C. Sutton, Wrangling
// messy CSV files by detecting row and type patterns, Data Mining and Knowledge
// Discovery 33 (2019); the formula here is our own.
func Recognise(sample string, final bool, known Declared) Found {
	sample = cutSample(sample, final)
	f := Found{LineEnd: lineEndOf(sample)}
	body := sample
	if sep, rest, ok := sepLine(sample); ok {
		f.Sep = true
		body = rest
		if known.Delimiter == "" {
			known.Delimiter = sep
		}
	}
	body, f.Front = pastFront(body)
	var best trial
	aligned := false // blanks part all rows into as many cells
	for _, c := range candidates(body, known) {
		if aligned && (c.Blanks == 1 || c.Delimiter == " " || c.Cuts != nil) {
			continue
		}
		if best.rows > 0 && mostOf(c) < rivals*best.score {
			continue
		}
		t := try(body, c)
		aligned = aligned || (c.Blanks == 2 || c.Delimiter == " ") && t.even
		switch {
		case t.score > best.score || best.rows == 0:
			if best.rows > 0 && best.d.Name() != t.d.Name() {
				f.Next, f.Margin = best.d, best.score
			}
			best = t
		case t.score > f.Margin && best.d.Name() != t.d.Name():
			f.Next, f.Margin = t.d, t.score
		}
	}
	f.Dialect, f.Score = best.d, best.score
	f.Quoted, f.Escaped = best.quoted > 0, best.escaped
	if f.Quote == 0 && known.Quote == "" && best.stray == 0 && f.Cuts == nil {
		f.Quote = '"' // quotes may come below the sample
	}
	f.Width = best.width
	if f.Width > 1 {
		f.Wrapped = best.wrapped
	}
	f.Lead, f.Trim, f.Framed = best.lead, best.trim, best.framed
	return f
}

// cutSample returns the whole rows at the start of a sample.
func cutSample(sample string, final bool) string {
	if final && len(sample) <= sampleBytes {
		return sample
	}
	sample = sample[:min(len(sample), sampleBytes)]
	if i := strings.LastIndexAny(sample, "\r\n"); i > 0 {
		sample = sample[:i+1]
	}
	return sample
}

// lineEndOf names the line ends of a text.
func lineEndOf(s string) string {
	var lf, crlf, cr int
	for i := 0; i < len(s); i++ {
		if s[i] == '\n' {
			lf++
		} else if s[i] == '\r' {
			if n := breakLen(s[i:]); n > 1 {
				crlf++
				i += n - 1
			} else {
				cr++
			}
		}
	}
	switch {
	case lf+crlf+cr == 0:
		return ""
	case crlf+cr == 0:
		return "LF"
	case lf+cr == 0:
		return "CRLF"
	case lf+crlf == 0:
		return "CR"
	}
	return "mixed"
}

// sepLine reads a first line that declares the delimiter.
func sepLine(s string) (sep, rest string, ok bool) {
	end := strings.IndexAny(s, "\r\n")
	if end < 0 {
		return "", s, false
	}
	line := strings.Trim(s[:end], `"`)
	if len(line) < 5 || !strings.EqualFold(line[:4], "sep=") || len([]rune(line[4:])) != 1 {
		return "", s, false
	}
	return line[4:], s[end+breakLen(s[end:]):], true
}

// mostFront is how many lines of front matter are looked through for its end.
const mostFront = 200

// pastFront returns what follows front matter, and how many lines that has: a
// first line of "---", lines of names and values, and a line of "---" again, all
// of them after # or not.
func pastFront(s string) (rest string, lines int32) {
	for rest, lines = s, 0; lines < mostFront && rest != ""; {
		end := strings.IndexAny(rest, "\r\n")
		if end < 0 {
			break
		}
		line := strings.TrimRight(strings.TrimLeft(rest[:end], "#"), " ")
		rest = rest[end+breakLen(rest[end:]):]
		lines++
		if line = strings.TrimLeft(line, " "); line != "---" && lines == 1 {
			break
		} else if line == "---" && lines > 1 {
			return rest, lines
		}
	}
	return s, 0
}

// mode returns the most frequent key, the larger of equals.
func mode(counts map[int]int) int {
	best := 0
	for k, n := range counts {
		if c := cmp.Compare(n, counts[best]); c > 0 || c == 0 && k > best {
			best = k
		}
	}
	return best
}

// lookOf returns how much a cell looks like a value, in [0,1].
func lookOf(c *cell.Cell, look cell.Look) float64 {
	switch look {
	case cell.Numeric, cell.Temporal:
		return 1
	case cell.Null:
		return 0.95
	case cell.Nothing:
		return 0.8
	case cell.Words:
		return 0.9 * glue(c.Text)
	case cell.Mixed:
		if !strings.ContainsFunc(c.Text, unicode.IsLetter) {
			return 0.4 // numbers with something between: perhaps two cells
		}
		return 0.75 * glue(c.Text)
	case cell.Prose:
		return 0.6
	}
	return 0.1
}

// glue is below 1 for a text that has the usual delimiters between other
// characters without a blank: a sign that they part cells.
func glue(s string) float64 {
	g := 1.0
	for i := 1; i+1 < len(s); i++ {
		switch s[i] {
		case ';', '|', '\t':
			if s[i] == '\t' || s[i-1] != ' ' && s[i+1] != ' ' {
				g *= 0.5
			}
		case ',':
			if s[i-1] != ' ' && s[i+1] != ' ' {
				g *= 0.8
			}
		}
		if g < 0.1 {
			return 0.1
		}
	}
	return g
}
