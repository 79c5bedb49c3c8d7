// Package pack writes what makes an output folder a data set that a stranger
// can use: datapackage.json (Frictionless Data Package v2), README.md (the
// codebook in plain words) and run.json (what ran, on which sources, with
// which filters, and what became of every row).
//
// All three are drawn from the column tables of package rep and from one
// [Run], so they cannot say different things. There is no clock in any of
// them: the same run gives the same bytes.
package pack

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// RunFile is the name of the file that says what ran. It is written last and
// marks a folder as ours.
const RunFile = "run.json"

// KeptFile is the name of the file that holds what was read of the sources, for
// the next run into the folder. It is no part of the data: no list of files has
// it, and a hand-over has none.
const KeptFile = ".read"

// Format is the first field of run.json.
const Format = "repsift run 1"

// Run is the content of run.json.
type Run struct {
	Format     string       `json:"format"`
	Version    string       `json:"version"` // of repsift
	Season     string       `json:"season"`  // its name in the season file; may be empty
	SeasonFile *File        `json:"season_file"`
	Sources    []rep.Ledger `json:"sources"`
	Totals     Totals       `json:"totals"`
	Inferred   []Inferred   `json:"inferred"` // what was taken from the data because nobody declared it
	Filters    []Filter     `json:"filters"`  // in running order
	Devices    []ReadAs     `json:"device_corrections"`
	Doubts     []Doubt      `json:"doubts"`
	Declared   *Declared    `json:"declared,omitempty"`
	Handover   *Handover    `json:"handover,omitempty"`
	Files      []File       `json:"files"` // all others of the folder
}

// Declared is what the season file says beyond the data, without which the
// profiles cannot be worked out again.
type Declared struct {
	Lifters []Lifter  `json:"lifters,omitempty"`
	Blocks  []Block   `json:"blocks,omitempty"`
	Maxima  []Maximum `json:"maxima,omitempty"`
}

// Lifter is a lifter's name and its other spellings.
type Lifter struct {
	Name    string   `json:"name"`
	Spelled []string `json:"spelled,omitempty"`
}

// Block is a declared stretch of training; both days belong to it.
type Block struct {
	Name string  `json:"name"`
	From rep.Day `json:"from"`
	To   rep.Day `json:"to"`
}

// Maximum is a declared maximum.
type Maximum struct {
	Lifter  string  `json:"lifter"`
	Lift    string  `json:"lift"`
	Variant string  `json:"variant,omitempty"`
	LoadKg  float64 `json:"load_kg"`
	Date    rep.Day `json:"date"`
}

// Handover says what was done to names and dates in a folder that was made to
// be handed on.
type Handover struct {
	Names   string `json:"names"`
	Dates   string `json:"dates"`
	Shifted bool   `json:"dates_shifted"`
	Sources string `json:"sources"`
	Text    string `json:"text"`
	Key     string `json:"key"`      // tells whether two hand-overs were made with the same key
	LeftOut int    `json:"left_out"` // lifters; the ledger still counts their rows
}

// File is a file with what proves that it is the same one.
type File struct {
	Name   string `json:"name"` // relative to its folder, with slashes
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"` // hex
}

// Totals is the ledger of all sources together.
type Totals struct {
	Sources  int `json:"sources"`
	Rows     int `json:"rows"`
	RepRows  int `json:"rep_rows"`
	SetNotes int `json:"set_notes"`
	Unread   int `json:"unread"`
	NotData  int `json:"not_data"`
	Reps     int `json:"reps_read"`
	Kept     int `json:"kept"`
	SetAside int `json:"set_aside"`
	Joined   int `json:"joined"`
	Alone    int `json:"alone"`
}

// Inferred is something that was taken from the data of a source, in one
// sentence.
type Inferred struct {
	Source string `json:"source"`
	Text   string `json:"text"`
}

// Filter is a filter that ran.
type Filter struct {
	Kind     string  `json:"kind"`
	Declared bool    `json:"declared"` // in the season file; else a default
	Line     int     `json:"line,omitempty"`
	Where    string  `json:"where"`
	Action   string  `json:"action"`
	Does     string  `json:"does"`
	Limits   []Limit `json:"limits"`
	SetAside int     `json:"set_aside"`
	Flagged  int     `json:"flagged"`
}

// Limit is one limit of a filter.
type Limit struct {
	Name   string   `json:"name"`
	Lift   string   `json:"lift,omitempty"` // empty: every lift that has no value of its own
	Value  *float64 `json:"value"`          // null: none
	Source string   `json:"source"`
}

// ReadAs is a unit whose mean velocities stand as another's: intercept_m_s +
// slope × what it showed, as the season file declares.
type ReadAs struct {
	Device    string  `json:"device"`
	As        string  `json:"as"`
	Slope     float64 `json:"slope"`
	Intercept float64 `json:"intercept_m_s"`
	Sets      int32   `json:"sets,omitempty"`        // paired sets behind it
	Scatter   float64 `json:"scatter_m_s,omitempty"` // SD of one corrected speed
	Error     float64 `json:"error_m_s,omitempty"`   // SD of what all may be off together
	Line      int     `json:"line"`
}

// Doubt is something the coach should look at.
type Doubt struct {
	Topic  string   `json:"topic"`
	Lifter string   `json:"lifter"`
	Lift   string   `json:"lift"`
	Date   *rep.Day `json:"date"`
	Text   string   `json:"text"`
	Places []string `json:"places"`
}

// Of returns the run that gave res. Files and the fields about version, season
// and inferences are the caller's to fill.
func Of(res *clean.Result) *Run {
	run := &Run{Format: Format, Sources: res.Ledger, Totals: sum(res.Ledger),
		Inferred: []Inferred{}, Filters: []Filter{}, Devices: []ReadAs{}, Doubts: []Doubt{}, Files: []File{}}
	if run.Sources == nil {
		run.Sources = []rep.Ledger{}
	}
	for _, f := range res.Filters {
		out := Filter{Kind: f.Kind.String(), Declared: f.Declared, Line: f.Line, Where: f.Where, Action: "set aside",
			Does: f.Sentence, Limits: []Limit{}, SetAside: f.SetAside, Flagged: f.Flagged}
		if f.Flag {
			out.Action = "flag"
		}
		for _, l := range f.Limits {
			limit := Limit{Name: l.Name, Lift: l.Lift, Source: l.Source}
			if !math.IsInf(l.Value, 0) && !math.IsNaN(l.Value) {
				limit.Value = &l.Value
			}
			out.Limits = append(out.Limits, limit)
		}
		run.Filters = append(run.Filters, out)
	}
	for _, d := range res.Devices {
		run.Devices = append(run.Devices, ReadAs(d))
	}
	for _, d := range res.Doubts {
		out := Doubt{Topic: d.Topic.String(), Lifter: d.Lifter, Lift: d.Lift, Text: d.Text, Places: []string{}}
		if d.Date != 0 {
			out.Date = &d.Date
		}
		for _, p := range d.Places {
			out.Places = append(out.Places, p.String())
		}
		run.Doubts = append(run.Doubts, out)
	}
	return run
}

// DeclaredIn returns what a season file declares beyond the data; nil where it
// declares nothing.
func DeclaredIn(s *season.Season) *Declared {
	if s == nil || len(s.Lifters)+len(s.Blocks)+len(s.Maxima) == 0 {
		return nil
	}
	d := new(Declared)
	for _, l := range s.Lifters {
		d.Lifters = append(d.Lifters, Lifter{l.Name, l.Spelled})
	}
	for _, b := range s.Blocks {
		d.Blocks = append(d.Blocks, Block{b.Name, b.From, b.To})
	}
	for _, m := range s.Maxima {
		d.Maxima = append(d.Maxima, Maximum{m.Lifter, m.Lift, m.Variant, m.LoadKg, m.Date})
	}
	return d
}

// Season returns a season that declares the same.
func (d *Declared) Season() *season.Season {
	s := new(season.Season)
	if d == nil {
		return s
	}
	for _, l := range d.Lifters {
		s.Lifters = append(s.Lifters, season.Lifter{Name: l.Name, Spelled: l.Spelled})
	}
	for _, b := range d.Blocks {
		s.Blocks = append(s.Blocks, season.Block{Name: b.Name, From: b.From, To: b.To})
	}
	for _, m := range d.Maxima {
		s.Maxima = append(s.Maxima, season.Maximum{Lifter: m.Lifter, Lift: m.Lift, Variant: m.Variant, LoadKg: m.LoadKg, Date: m.Date})
	}
	return s
}

func sum(ledger []rep.Ledger) Totals {
	t := Totals{Sources: len(ledger)}
	for _, l := range ledger {
		t.Rows += l.Rows
		t.RepRows += l.RepRows
		t.SetNotes += l.SetNotes
		t.Unread += l.Unread
		t.NotData += l.NotData
		t.Reps += l.Reps
		t.Kept += l.Kept
		t.SetAside += l.SetAside
		t.Joined += l.Joined
		t.Alone += l.Alone
	}
	return t
}

// WriteRun writes run.json.
func WriteRun(w io.Writer, run *Run) error { return writeJSON(w, run) }

// ReadRun reads the run.json of an output folder. The error says why the
// folder is none of ours.
func ReadRun(folder fs.FS) (*Run, error) {
	f, err := folder.Open(RunFile)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("it has no %s", RunFile)
	}
	if err != nil {
		return nil, err
	}
	defer f.Close() // read only
	var run Run
	if err := json.NewDecoder(f).Decode(&run); err != nil || run.Format != Format {
		return nil, fmt.Errorf("its %s is not of this program", RunFile)
	}
	return &run, nil
}

// writeJSON writes a value as people read it: indented, and letters as they
// are, without the escapes meant for web pages.
func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}
