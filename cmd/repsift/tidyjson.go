package main

import (
	"encoding/json"
	"path/filepath"

	"repsift/ingest"
	"repsift/ingest/rep"
	"repsift/report"
	"repsift/report/card"
	"repsift/report/pack"
	"repsift/report/screen"
)

// tidySummary is what tidy --json prints: the whole of run.json is in the
// folder, this is what a script decides by.
type tidySummary struct {
	Out       string       `json:"out"`
	Index     string       `json:"index"`
	Partly    bool         `json:"partly"` // some source was not read whole: exit status 3
	Total     rep.Ledger   `json:"total"`
	Sources   []tidySource `json:"sources"`
	Lifters   []tidyLifter `json:"lifters"`
	Unread    int          `json:"unread"` // lines of unread.csv
	Doubts    []pack.Doubt `json:"doubts"`
	NotRead   []tidyFile   `json:"not_read"` // files that are no tables
	Said      []string     `json:"said"`
	SinceLast *sinceLast   `json:"since_last_run,omitempty"`
}

type tidySource struct {
	rep.Ledger
	Error    string   `json:"error,omitempty"`
	Warnings []string `json:"warnings,omitempty"`
	SameAs   string   `json:"same_as,omitempty"`
}

type tidyFile struct {
	Name string `json:"name"`
	Why  string `json:"why"`
}

type tidyLifter struct {
	Name string     `json:"lifter"`
	Page string     `json:"page"`
	Lift []tidyLift `json:"lifts"`
}

type tidyLift struct {
	Lift string `json:"lift"`
	Sets int    `json:"sets"`
	Reps int    `json:"reps"`
	E1RM any    `json:"e1rm_now_kg"`
}

// tellJSON prints the summary of a run. reading is nil where tables of our own
// were read back.
func tellJSON(c *console, o tidyOptions, run *report.Run, reading *ingest.Reading) error {
	t := tidySummary{
		Out: o.out, Index: filepath.Join(o.out, "profiles", card.IndexFile), Total: screen.Total(run.Result.Ledger),
		Sources: []tidySource{}, Lifters: []tidyLifter{}, Unread: len(run.Result.Unread), Doubts: pack.Of(run.Result).Doubts,
		NotRead: []tidyFile{}, Said: []string{}, SinceLast: o.since,
	}
	pages := report.Pages(run.Profiles)
	for i := range run.Profiles.Lifters {
		l := &run.Profiles.Lifters[i]
		out := tidyLifter{Name: l.Name, Page: filepath.Join(o.out, filepath.FromSlash(pages[i])), Lift: []tidyLift{}}
		for k := range l.Lifts {
			out.Lift = append(out.Lift, tidyLift{l.Lifts[k].Lift, l.Lifts[k].Sets, l.Lifts[k].Reps, l.Lifts[k].E1RMNow})
		}
		t.Lifters = append(t.Lifters, out)
	}
	ledger := map[string]rep.Ledger{}
	for _, l := range run.Result.Ledger {
		ledger[l.Source] = l
		if reading == nil {
			t.Sources = append(t.Sources, tidySource{Ledger: l})
		}
	}
	var err error
	if reading != nil {
		for _, src := range reading.Sources {
			out := tidySource{Ledger: ledger[src.Name], Warnings: src.Warnings, SameAs: src.SameAs}
			out.Source, out.SHA256 = src.Name, src.SHA256
			if src.Err != nil {
				out.Error = src.Err.Error()
			}
			t.Sources = append(t.Sources, out)
		}
		for _, n := range reading.NotRead {
			t.NotRead = append(t.NotRead, tidyFile{n.Name, n.Why})
		}
		t.Said = append(t.Said, reading.Said...)
		err = wholly(reading)
	}
	t.Partly = err != nil
	e := json.NewEncoder(c.out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if failed := e.Encode(t); failed != nil {
		return failed
	}
	return err
}
