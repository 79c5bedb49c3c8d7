package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"sort"
	"strconv"
	"strings"
	"time"
)

// place is where a rep stands.
type place struct {
	source, sheet string
	row           int
}

func (p place) String() string {
	if p.row == 0 {
		return ""
	}
	return p.source + ":" + strconv.Itoa(p.row)
}

// truth is one line of demo-truth.csv; the package comment says what each
// field means.
type truth struct {
	place
	rep                int // 0: none
	what, fate, filter string
	of                 *set // lifter, date, lift, variant, load
	mean               float64
	why                string
	belongs            place
}

const (
	isRep      = "rep"
	isNote     = "note"
	notData    = "not data"
	unreadRow  = "unread row"
	unreadCell = "unread cell"
	movement   = "movement"

	kept     = "kept"
	setAside = "set aside"
	joined   = "joined"
	alone    = "alone"

	byDuplicate    = "duplicate"
	bySecondDevice = "second device"
	bySpeedLimits  = "speed limits"
	byShortTravel  = "short travel"
	byUsualTravel  = "usual travel"
	byTravelCheck  = "travel check"
	byPeakCheck    = "peak check"
)

// demo gathers the files and the truth.
type demo struct {
	out    map[string][]byte // below demo/
	truths []truth
}

func (d *demo) tell(t truth) { d.truths = append(d.truths, t) }

// files returns all that is written, by name below testdata.
func (d *demo) files() map[string][]byte {
	files := map[string][]byte{"demo-truth.csv": d.truthCSV()}
	for name, content := range d.out {
		files["demo/"+name] = content
	}
	return files
}

func (d *demo) truthCSV() []byte {
	sort.SliceStable(d.truths, func(i, j int) bool {
		a, b := d.truths[i], d.truths[j]
		switch {
		case a.source != b.source:
			return a.source < b.source
		case a.sheet != b.sheet:
			return a.sheet < b.sheet
		case a.row != b.row:
			return a.row < b.row
		}
		return a.rep < b.rep
	})
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	records := [][]string{strings.Fields("source sheet row rep_recorded what fate filter lifter date lift variant load_kg mean_velocity_m_s why belongs_to")}
	for _, t := range d.truths {
		r := []string{t.source, t.sheet, strconv.Itoa(t.row), "", t.what, t.fate, t.filter, "", "", "", "", "", "", t.why, t.belongs.String()}
		if t.rep > 0 {
			r[3] = strconv.Itoa(t.rep)
		}
		if s := t.of; s != nil {
			r[7], r[8], r[9], r[10] = s.lifter.name, s.date.Format(time.DateOnly), s.lift, s.variant
			r[11] = number(s.kg)
		}
		if t.mean > 0 {
			r[12] = number(t.mean)
		}
		records = append(records, r)
	}
	if err := w.WriteAll(records); err != nil {
		panic(err) // a buffer takes all
	}
	return b.Bytes()
}

// number writes x as short as it is exact to nine digits after the point.
func number(x float64) string {
	s := strconv.FormatFloat(x, 'f', 9, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// summary prints what the season holds.
func (d *demo) summary(w io.Writer) {
	counts := make(map[string]map[string]int)
	filters := make(map[string]int)
	for _, t := range d.truths {
		c := counts[t.source]
		if c == nil {
			c = make(map[string]int)
			counts[t.source] = c
		}
		c[t.what]++
		c[t.fate]++
		if t.filter != "" {
			filters[t.filter+" ("+t.why+")"]++
		}
	}
	fmt.Fprintf(w, "%-32s %8s %6s %6s %6s %6s %6s %6s %6s %6s\n", "source", "bytes", "reps", "kept", "aside", "joined", "alone", "unread", "cells", "other")
	for _, s := range sortedKeys(counts) {
		c := counts[s]
		fmt.Fprintf(w, "%-32s %8d %6d %6d %6d %6d %6d %6d %6d %6d\n", s, len(d.out[s]), c[isRep], c[kept], c[setAside],
			c[joined], c[alone], c[unreadRow], c[unreadCell], c[notData])
	}
	for _, f := range sortedKeys(filters) {
		fmt.Fprintf(w, "%6d %s\n", filters[f], f)
	}
}
