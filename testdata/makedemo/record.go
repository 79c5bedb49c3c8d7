package main

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
	"time"
)

// record is a movement as a unit recorded it, with what became of it.
type record struct {
	*move
	of                          *set
	num                         int // as the unit counts within the set
	setStart                    time.Time
	mean, peak, travel, seconds float64 // as written, SI
	right                       float64 // mean as it should have been written

	fate, filter, why string
	twin              *record           // the rep that stands for this one
	cells             map[string]string // other text in some cells of the monthly file
	lost              bool              // the row cannot be read
	lostCell          string            // heading of a cell that cannot be read

	at place
}

// measure returns the records of the sets that went to one unit, in time
// order, rounded to 0.001 m/s, 0.001 m and 0.01 s.
func measure(sets []*set, to ...destination) []*record {
	var records []*record
	for _, s := range sets {
		for _, t := range to {
			if s.to == t {
				records = append(records, s.records(1, 0, 0)...)
			}
		}
	}
	sortByTime(records)
	return records
}

func sortByTime(records []*record) {
	sort.SliceStable(records, func(i, j int) bool { return records[i].start.Before(records[j].start) })
}

// records returns what a unit makes of the set: speeds times gain plus bias,
// its clock late.
func (s *set) records(gain, bias float64, late time.Duration) []*record {
	var records []*record
	for i := range s.reps {
		m := s.reps[i]
		m.start = m.start.Add(late)
		r := &record{
			move: &m, of: s, num: i + 1, setStart: s.reps[0].start.Add(late), why: m.what, fate: kept,
			mean: round(m.v*gain+bias, 3), peak: round(m.peak*gain+bias, 3),
			travel: round(m.travel, 3), seconds: round(m.travel/(m.v*gain+bias), 2),
		}
		r.right = r.mean
		if !m.rep() {
			r.fate, r.filter = setAside, byShortTravel
			if m.travel > 0.1 {
				r.filter = byUsualTravel
			}
		}
		records = append(records, r)
	}
	return records
}

func round(x float64, digits int) float64 {
	p := math.Pow(10, float64(digits))
	return math.Round(x*p)/p + 0 // no negative zero
}

// text returns a cell: x with digits after the point, or what overrides it.
func (r *record) text(column string, x float64, digits int) string {
	if t, ok := r.cells[column]; ok {
		return t
	}
	return strconv.FormatFloat(x, 'f', digits, 64)
}

// tell writes the truth of the record, which stands at p.
func (d *demo) tellRecord(r *record, p place) {
	r.at = p
	t := truth{place: p, rep: r.num, what: isRep, fate: r.fate, filter: r.filter, of: r.of, mean: r.right, why: r.why}
	if r.twin != nil {
		t.belongs = r.twin.at
	}
	if r.lost {
		t.what, t.fate, t.filter, t.rep = unreadRow, "", "", 0
	}
	d.tell(t)
	if r.lostCell != "" {
		d.tell(truth{place: p, what: unreadCell, of: r.of, why: r.lostCell})
	}
	if r.of.at.row == 0 && !r.lost && r.fate == kept {
		r.of.at = p
	}
}

// text is a text file under construction.
type text struct {
	name  string
	lines []string
}

// add appends a line and returns its place.
func (t *text) add(cells string) place {
	t.lines = append(t.lines, cells)
	return place{source: t.name, row: len(t.lines)}
}

// other appends a line that holds no data.
func (t *text) other(d *demo, line, why string) {
	d.tell(truth{place: t.add(line), what: notData, why: why})
}

func (t *text) save(d *demo, end string, encode func(string) ([]byte, error)) error {
	all := strings.Join(t.lines, end) + end
	content := []byte(all)
	if encode != nil {
		var err error
		if content, err = encode(all); err != nil {
			return fmt.Errorf("%s: %w", t.name, err)
		}
	}
	d.out[t.name] = content
	return nil
}

// loadText writes kilograms as a lifter does.
func loadText(kg float64) string { return strconv.FormatFloat(round(kg, 2), 'f', -1, 64) }
