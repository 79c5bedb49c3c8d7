package text

import (
	"slices"
	"strings"

	"repsift/ingest/table/cell"
)

// trial is a dialect tried on a sample.
type trial struct {
	d       Dialect
	score   float64
	rows    int
	width   int  // usual number of cells
	quoted  int  // cells in quotes
	escaped bool // with escaped quotes
	stray   int  // cells with quotes of no meaning at their start
	keys    int  // rows whose first cell ends with a colon
	opened  int  // of a dialect without quotes: cells that begin, and those that end, with one
	closed  int
	torn    int // rows with quotes in quoted cells that are not escaped
	whole   int // rows with quotes that are all right
	cells   int
	typed   int  // of them numbers and dates
	gluedUp int  // cells of two numbers with a possible delimiter between
	wrapped int  // rows in quotes as a whole
	even    bool // all rows have as many cells, three or more
	lead    bool // every cell but the first of a row begins with a blank
	trim    bool // likewise, and every cell but the last ends with one
	framed  bool // likewise, and rows begin and end with the delimiter
}

// tried is a row of the sample.
type tried struct {
	width int
	look  float64
	looks []cell.Look
}

// oneCell is what a row of one cell gains.
const oneCell = 0.1

// try reads the sample by a dialect and scores it.
func try(body string, d Dialect) trial {
	t := trial{d: d}
	rows := t.read(body)
	if t.width > 1 && t.d.Quote != 0 {
		// Stray quotes are read better once the usual width is known.
		width, wrapped := t.width, t.wrapped
		t = trial{d: d}
		t.d.Width = width
		rows = t.read(body)
		t.d.Width = 0
		t.wrapped = wrapped - t.wrapped
	}
	if len(rows) == 0 {
		return t
	}
	if d.Name() != "" && !slices.ContainsFunc(rows, func(r tried) bool { return r.width > 1 }) {
		return t // it parts nothing
	}
	purity := purityOf(rows)
	sum := 0.0
	for i, r := range rows {
		k := float64(r.width)
		gain := (k - 1) / k
		if r.width == 1 {
			gain = oneCell
		}
		alike := 0.5
		if len(rows) == 1 || i > 0 && rows[i-1].width == r.width || i+1 < len(rows) && rows[i+1].width == r.width {
			alike = 1
		}
		sum += gain * r.look * alike * purity[r.width]
	}
	t.score = sum / float64(len(rows)) * weightOf(d)
	if d.Delimiter == "," && d.Blanks == 0 && tornDecimals(rows, body) {
		t.score *= 0.001
	}
	if d.Delimiter == " " && (strings.Contains(body, "  ") || strings.Contains(body, " \n") || strings.Contains(body, " \r")) && padded(rows, t.width) {
		t.score = 0
	}
	if d.Blanks == 2 && t.typed*10 >= t.cells*9 {
		t.score *= 0.96 // numbers hold no blanks: below the sample one may part them
	}
	if d.Delimiter == "#" && 2*hashLines(body) > strings.Count(body, "#") {
		t.score = 0 // it begins comments
	}
	if d.Delimiter == ":" && tornTimes(body) {
		t.score *= 0.1
	}
	if whole := 1 - float64(t.gluedUp)/float64(t.cells); t.width < 3 || d.Delimiter == "," || !t.regular(rows) {
		t.score *= whole * whole
	}
	if t.sentences(rows, body) {
		t.score *= 0.01
	}
	if t.torn > 0 {
		t.score *= 0.998 - 0.02*float64(t.torn)/float64(t.torn+t.whole)
	}
	if (d.Delimiter == " " || d.Blanks == 1) && t.keys == len(rows) {
		t.score *= 0.5 // "name: value" in each
	}
	if t.opened > 0 && t.opened == t.closed {
		t.score *= 0.95 // as many quotes open cells as close some: they are quotes
	}
	if d.Escape == '\\' {
		t.score *= 0.999 // doubled quotes are the rule
	}
	return t
}

// read scans the sample and notes what its quotes do.
func (t *trial) read(body string) []tried {
	rows := make([]tried, 0, min(sampleRows, 1+strings.Count(body, "\n")))
	var looks []cell.Look // of several rows
	widths := map[int]int{}
	led, cells, trailed, ends, framed := 0, 0, 0, 0, 0
	var row cell.Row
	hash := hashLines(body) < strings.Count(body, "\n")/2+strings.Count(body, "\r")/2
	s := t.d.Scan(body, 1)
	s.strict = true
	for len(rows) < sampleRows {
		start := s.pos
		if !s.Next(&row) {
			break
		}
		raw := body[start:s.pos]
		if row.Blank() || hash && raw[0] == '#' {
			continue
		}
		r := tried{width: len(row.Cells)}
		if cap(looks)-len(looks) < r.width {
			looks = make([]cell.Look, 0, max(256, r.width))
		}
		for i := range row.Cells {
			c := &row.Cells[i]
			look := cell.Of(c)
			r.look += lookOf(c, look)
			looks = append(looks, look)
			t.cells++
			if look.Typed() {
				t.typed++
			}
			if (look == cell.Mixed || look == cell.Odd) && glued(c.Text) {
				t.gluedUp++
			}
			if c.Text != "" && !cell.IsRule(c.Text) {
				if i > 0 {
					cells++
					if c.Text[0] == ' ' {
						led++
					}
				}
				if i+1 < len(row.Cells) {
					ends++
					if strings.HasSuffix(c.Text, " ") {
						trailed++
					}
				}
			}
			switch q := t.d.Quote; {
			case c.Text == "":
			case q != 0 && c.Text[0] == q:
				t.stray++
			case q == 0:
				if c.Text[0] == '"' || c.Text[0] == ' ' && strings.HasPrefix(strings.TrimLeft(c.Text, " "), `"`) {
					t.opened++
				}
				if last := c.Text[len(c.Text)-1]; last == '"' || last == ' ' && strings.HasSuffix(strings.TrimRight(c.Text, " "), `"`) {
					t.closed++
				}
			}
		}
		r.looks, looks = looks, looks[len(looks):]
		r.look /= float64(r.width)
		if row.Err != nil {
			r.look = 0
		}
		if q := t.d.Quote; q != 0 {
			t.countQuotes(raw, q)
			led += strings.Count(raw, t.d.Delimiter+" "+string(q))
		}
		if q := t.d.Quote; r.width == 1 && q != 0 && raw[0] == q && t.d.Delimiter != "" && strings.Contains(row.Cells[0].Text, t.d.Delimiter) {
			t.wrapped++ // says nothing of the usual width
		} else {
			widths[r.width]++
		}
		if strings.HasSuffix(row.Cells[0].Text, ":") {
			t.keys++
		}
		if n := len(row.Cells); n > 2 && row.Cells[0].Blank() && row.Cells[n-1].Blank() {
			framed++
		}
		rows = append(rows, r)
	}
	t.rows = len(rows)
	t.width = mode(widths)
	t.even = len(rows) > 2 && t.width > 2 && widths[t.width] == len(rows)
	t.lead = t.d.Blanks == 0 && t.d.Delimiter != " " && cells >= 4 && led >= cells
	t.trim = t.lead && t.quoted == 0 && trailed == ends && ends >= 4
	t.framed = t.trim && t.d.Delimiter == "|" && framed > 1 && framed*10 >= widths[t.width]*9
	return rows
}

// countQuotes notes cells in quotes and escaped quotes of a row as written.
func (t *trial) countQuotes(raw string, q byte) {
	i := strings.IndexByte(raw, q)
	if i < 0 {
		return
	}
	s := &Scanner{d: t.d, text: raw}
	r := s.read(nil, 0, len(raw), beforeEnd)
	if r.stray || !r.closed {
		t.torn++
	} else {
		t.whole++
	}
	if !r.closed {
		return
	}
	body := raw[:r.end]
	for i := 0; i < len(body); {
		open := s.pad(body, i)
		if open < len(body) && body[open] == q {
			r := reading{closed: true}
			if end, ok := s.inQuotes(&r, body, open, beforeEnd); ok {
				t.quoted++
				if t.d.Escape == '\\' {
					t.escaped = t.escaped || strings.Contains(body[open:end], `\`+string(q))
				} else {
					t.escaped = t.escaped || strings.Contains(body[open+1:end], string(q)+string(q)) && strings.TrimSpace(body[open:end]) != string(q)+string(q)
				}
				i = end
			}
		}
		for i < len(body) && !s.delimits(body, i) {
			i++
		}
		if i < len(body) {
			i = s.past(body, i)
		}
	}
}
