package pack

import (
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"repsift/ingest/rep"
)

// WriteCodebook writes README.md of a run: what each file and column is, in
// plain words, what ran, and what to be careful with.
func WriteCodebook(w io.Writer, run *Run) error {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\n", inline(title(run)))
	b.WriteString(`Bar speed of every rep of a training season. Exports of speed units and hand logs were
merged into one table; false reps were set aside by the filters below; nothing was deleted.

Every row of every source is kept, set aside with a reason, or listed as unread. Units are
SI and stand in the column names; loads are in kilograms. An empty cell means "not known",
never zero.

`)
	if run.Handover != nil {
		handedOn(&b, run)
	}
	b.WriteString("## What became of the data\n\n")
	t := run.Totals
	fmt.Fprintf(&b, "%s: %s.\n\n", plural(t.Sources, "source"), plural(t.Rows, "row"))
	fmt.Fprintf(&b, "- rows: %d = %d with reps + %d set notes + %d unread + %d not data (headings, blanks, totals, samples)\n",
		t.Rows, t.RepRows, t.SetNotes, t.Unread, t.NotData)
	fmt.Fprintf(&b, "- reps read: %d = %d kept + %d set aside\n", t.Reps, t.Kept, t.SetAside)
	fmt.Fprintf(&b, "- set notes of hand logs: %d = %d joined to a unit's set + %d standing alone\n\n", t.SetNotes, t.Joined, t.Alone)
	b.WriteString("The same per source is in run.json.\n\n## Files\n\n| file | what it is |\n|---|---|\n")
	for _, c := range cuts(run.Files) {
		fmt.Fprintf(&b, "| %s/ | %s |\n", c.table.name, c.about())
	}
	pages := false
	for _, f := range run.Files {
		if path.Dir(f.Name) == "profiles" {
			pages = true
			continue
		}
		if _, _, part := partOf(f.Name); part {
			continue
		}
		fmt.Fprintf(&b, "| %s | %s |\n", f.Name, about(f.Name))
	}
	if pages {
		b.WriteString("| profiles/ | a page a lifter: speed card, charts and sets; open in a browser, prints on A4 |\n")
	}
	fmt.Fprintf(&b, "| datapackage.json | all of this for programs: fields, units, checksums (Data Package v2) |\n")
	fmt.Fprintf(&b, "| %s | what ran: version, season file, sources, filters, corrections, counts, doubts |\n", RunFile)
	if run.Handover == nil {
		fmt.Fprintf(&b, "| %s | if there: what was read of the sources, which saves the next run into this folder reading them again; for repsift alone, and may be deleted |\n", KeptFile)
	}
	b.WriteString("\n")
	b.WriteString(csvNotes)
	for _, t := range tables {
		t.describe(&b, run)
	}
	if slices.ContainsFunc(run.Files, func(f File) bool { return f.Name == "profiles.json" }) {
		b.WriteString(profilesNotes)
	}
	filters(&b, run)
	b.WriteString(beforeUse)
	if run.Handover == nil {
		b.WriteString(consent)
	}
	b.WriteString(cautions)
	_, err := io.WriteString(w, b.String())
	return err
}

const csvNotes = `## Reading the files

Parquet keeps types: dates are DATE, moments are TIMESTAMP in UTC, missing values are null,
flags are a list of texts.

CSV is UTF-8, comma-separated, quoted as RFC 4180 has it. Dates are 2026-01-31, moments
2026-01-31T17:05:00.000Z, lists are joined by "; ", a decimal point is a point. ` + defused + `
To undo it, take one single quote away wherever one or more of them stand before such a sign
at the start of a text, or behind one of , ; | tab and line end in it.

`

const profilesNotes = `## profiles.json

Of each lifter, lift by lift, the numbers that the pages show, those behind the charts
included. Names end in their unit; shares lie in 0 to 1; null means "cannot be said".

An estimate is {"value", "lo", "hi", "level", "n", "of"}: lo to hi holds the truth with
probability level, and it rests on n of what "of" names. Where there is not enough yet it is
{"need", "have", "of"} instead.

What has a row a day or a point is a table in columns: lists of equal length, and beside them,
as single values, what is the same in all rows. pandas.DataFrame and R's as.data.frame take
such an object as it is. A column of which nothing is known is left out; an empty table is {}.

| table | a row is |
|---|---|
| points: a list of tables, by load and role of the set | the fastest rep of a load on a day |
| readiness: a list of tables, as days that could not be compared yet (need, have) stand apart | the last warm-up of a day |
| load\_velocity.curve | the line at a load, where it may lie (mean) and where the next day's rep (next) |
| effort\_chart.points | a set with RPE |
| effort\_chart.by\_rpe, by\_speed, and in last\_rep | the line at an RPE, or read backwards at a speed |
| velocity\_loss.stop\_at\_loss: a list of tables, by load | the speed at which a loss is reached |

- session is the number of a session as in reps and sets. Its date is in the session\_dates
  of the lifter, that of session 1 first.
- The load-velocity line rests on the points from its first day on (load\_velocity.from); a line
  of progress on the points less than 0.3 kg from one another, of each day the fastest. Sets
  kept apart from the others (splits) have points of their own.
- n of an entry of e1rm counts loads of the day where it comes from the load-velocity line,
  maxima where they were declared, else sets. What entries from the line rest on stands once,
  in e1rm\_line.

In Python, the days of the first lift in order:

    import json
    lift = json.load(open("profiles.json", encoding="utf-8"))["lifters"][0]["lifts"][0]
    days = sorted(d for t in lift["readiness"] for d in zip(t["date"], t["load_kg"], t["speed_m_s"], t["verdict"]))

`

// about says in one line what a file is.
func about(name string) string {
	ending := path.Ext(name)
	for _, t := range tables {
		if name == t.name+ending {
			return t.title
		}
	}
	if what, ok := handedFiles[name]; ok {
		return what
	}
	return formats[ending].title
}

// handedFiles says what the files are that only a hand-over has.
var handedFiles = map[string]string{
	"METHODS.md": "How the numbers were made, with references",
	"start.py":   "Python script that loads the tables and draws one chart; needs nothing else",
	"start.R":    "R script that does the same; needs no package",
}

// describe writes the column list of a table that the run has files of. The
// columns that set-aside reps share with kept ones are told once.
func (t *table) describe(b *strings.Builder, run *Run) {
	var files []string
	for _, f := range run.Files {
		if strings.TrimSuffix(f.Name, path.Ext(f.Name)) == t.name {
			files = append(files, f.Name)
		}
	}
	if slices.ContainsFunc(cuts(run.Files), func(c cut) bool { return c.table.name == t.name }) {
		files = append(files, t.name+"/")
	}
	if len(files) == 0 {
		return
	}
	fmt.Fprintf(b, "## %s\n\n%s\n\n%s\n\n", t.title, strings.Join(files, ", "), t.about)
	columns := t.columns
	if t.name == "set_aside" {
		columns = columns[len(rep.Columns):]
		b.WriteString("The columns of kept reps, where session, set, rep and set_role are empty, and:\n\n")
	}
	b.WriteString("| column | type | unit | may be empty | meaning |\n|---|---|---|---|---|\n")
	for _, c := range columns {
		empty := ""
		if c.Null {
			empty = "yes"
		}
		fmt.Fprintf(b, "| `%s` | %s | %s | %s | %s |\n", c.Name, typeWords[c.Type], inline(c.Unit), empty, inline(c.Meaning))
	}
	b.WriteString("\n")
}

var typeWords = map[rep.Type]string{
	rep.String: "text", rep.Date: "date", rep.Timestamp: "moment, UTC", rep.Int32: "whole number",
	rep.Float64: "number", rep.Bool: "true or false", rep.StringList: "list of texts",
}

func filters(b *strings.Builder, run *Run) {
	b.WriteString("## Filters in force\n\nIn the order in which they look at a rep. A limit comes from the season file, from a published\nsource, or is common practice.\n\n")
	b.WriteString("| filter | where | action | what it does | limits | set aside | flagged |\n|---|---|---|---|---|---|---|\n")
	for _, f := range run.Filters {
		var limits []string
		for _, l := range f.Limits {
			value := "none"
			if l.Value != nil {
				value = fmt.Sprintf("%g", *l.Value)
			}
			of := ""
			if l.Lift != "" {
				of = " of the " + l.Lift
			}
			limits = append(limits, fmt.Sprintf("%s%s %s (%s)", l.Name, of, value, l.Source))
		}
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s | %d | %d |\n", inline(f.Kind), inline(f.Where), f.Action, inline(f.Does),
			inline(strings.Join(limits, "; ")), f.SetAside, f.Flagged)
	}
	if len(run.Devices) > 0 {
		b.WriteString("\n## Units read as another\n\nDeclared in the season file, after the filters; what was read is in mean_velocity_recorded_m_s, and the\nflag `correction` marks the reps. Peak velocities stand as read.\n\n")
		for _, d := range run.Devices {
			fmt.Fprintf(b, "- %s as %s: %g m/s + %g × mean velocity\n", inline(d.Device), inline(d.As), d.Intercept, d.Slope)
		}
	}
	if len(run.Inferred) > 0 {
		b.WriteString("\n## Taken from the data, because nobody declared it\n\n")
		for _, i := range run.Inferred {
			fmt.Fprintf(b, "- %s: %s\n", inline(i.Source), inline(i.Text))
		}
	}
}

const beforeUse = `
## Before you use it

`

const consent = `- These are personal data: names, dates and what people can lift. Ask the lifters for their
  consent before handing them on, and keep to the law where you are. "repsift handover" makes
  a copy with codes for names.
`

const cautions = `- Profiles are estimates with intervals, not prescriptions. Heavy lifting needs safeties and
  spotters; pain or illness is for a licensed professional; local rules come first.
- Speeds of different units, bars and places of the tether are not the same thing: compare
  like with like (columns device, bar, tether).
`

// plural returns "1 row", "2 rows"; the plural may be given.
func plural(n int, words ...string) string {
	switch {
	case n == 1:
		return "1 " + words[0]
	case len(words) > 1:
		return fmt.Sprintf("%d %s", n, words[1])
	}
	return fmt.Sprintf("%d %ss", n, words[0])
}

// inline returns a text that came from outside such that it stays one line and
// one cell, and is no markup.
func inline(text string) string {
	return strings.NewReplacer("\r", " ", "\n", " ", "|", `\|`, "`", "'", "<", "&lt;", "*", `\*`, "_", `\_`, "[", `\[`).Replace(text)
}
