package ingest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"repsift/ingest/rep"
)

// showNote writes a note in short.
func showNote(n rep.SetNote) string {
	s := fmt.Sprintf("%s %s %s", n.Lifter, n.Date, n.Lift)
	if n.Variant != "" {
		s += " (" + n.Variant + ")"
	}
	if n.LoadKg.OK {
		s += fmt.Sprintf(" %.5g kg", n.LoadKg.V)
	}
	s += fmt.Sprintf(" %d", n.Sets)
	if n.Reps.OK {
		s += fmt.Sprintf("x%d", n.Reps.V)
	}
	if n.MissedReps > 0 {
		s += fmt.Sprintf(" (%d missed)", n.MissedReps)
	}
	if n.RPE.OK {
		s += fmt.Sprintf(" @%g", n.RPE.V)
	}
	if n.RPEHigh.OK {
		s += fmt.Sprintf("-%g", n.RPEHigh.V)
	}
	for _, v := range []struct {
		name string
		v    rep.Null[float64]
	}{{"first", n.First}, {"fastest", n.Fastest}, {"last", n.Last}, {"slowest", n.Slowest}, {"mean", n.Mean}} {
		if v.v.OK {
			s += fmt.Sprintf(" %s %.4g", v.name, v.v.V)
		}
	}
	return s
}

func showNotes(r *Reading) []string {
	var out []string
	for _, n := range r.Notes {
		out = append(out, showNote(n))
	}
	return out
}

func showUnread(r *Reading) []string {
	var out []string
	for _, u := range r.Unread {
		out = append(out, u.Lost.String()+" "+u.String())
	}
	return out
}

func TestRepsAcross(t *testing.T) {
	r := one(t, "may.csv", "Date,Lifter,Lift,Load (kg),RPE,Rep 1 (m/s),Rep 2 (m/s),Rep 3 (m/s)\n"+
		"2026-01-05,Ines,squat,100,8,0.61,0.58,0.5l\n"+
		"2026-01-05,Ines,squat,100,,0.60,--,0.55\n"+
		"2026-01-05,Ines,squat,100,9,0.59,x,\n"+
		"2026-01-05,Ines,squat,100,,err,,\n"+
		"2026-01-05,Ines,squat,90,6,,,\n"+
		"2026-01-05,Ines,squat,120,10,0.3,0.1x,\n", "")
	equal(t, "rep", showAll(r), []string{
		"Ines 2026-01-05 squat 100 kg set 2 rep 1 0.61 m/s rpe 8", "Ines 2026-01-05 squat 100 kg set 2 rep 2 0.58 m/s rpe 8",
		"Ines 2026-01-05 squat 100 kg set 3 rep 1 0.6 m/s", "Ines 2026-01-05 squat 100 kg set 3 rep 3 0.55 m/s",
		"Ines 2026-01-05 squat 100 kg set 4 rep 1 0.59 m/s rpe 9",
		"Ines 2026-01-05 squat 120 kg set 7 rep 1 0.3 m/s rpe 10", "Ines 2026-01-05 squat 120 kg set 7 rep 2 0.1 m/s rpe 10 missed"})
	equal(t, "note", showNotes(r), []string{"Ines 2026-01-05 squat 90 kg 1 @6"})
	equal(t, "unread", showUnread(r), []string{
		`cell may.csv:2: column "Rep 3 (m/s)": "0.5l" is not a number; this rep is lost`,
		`cell may.csv:4: column "Rep 2 (m/s)": "x" says that the rep was missed, but there is no speed; this rep is lost`,
		`row may.csv:5: column "Rep 1 (m/s)": "err" is not a number; the row is lost: correct it there, or by a [[correction]] with field = "mean_velocity" in the season file`})
	if d := r.Reps.Rep(0).Device; d != "may" {
		t.Errorf("device %q, want that of the file's name", d)
	}
}

// TestNewestFirst: reps that are counted down the page are numbered reps too, no
// numbers of reps.
func TestNewestFirst(t *testing.T) {
	lines := "Date,Time,Lifter,Lift,Load (kg),Set,Rep,Mean velocity (m/s)\n"
	for set := 3; set > 0; set-- {
		for i := set + 2; i > 0; i-- {
			lines += fmt.Sprintf("2026-05-04,18:%02d:%02d,Mira Holt,squat,100,%d,%d,0.%d\n", 10*set, 3*i, set, i, 60-i)
		}
	}
	r := one(t, "may.csv", lines, "")
	if n := r.Reps.Len(); n != 12 {
		t.Fatalf("%d reps", n)
	}
	if first := r.Reps.Rep(0); first.RepRecorded != rep.Some[int32](5) || first.MeanVelocity != 0.55 {
		t.Errorf("first %+v", first)
	}
}

// TestShuffled: sorted by anything, here at random, numbered reps stay so.
func TestShuffled(t *testing.T) {
	var lines []string
	for set := range 12 {
		for i := range 3 + set%3 {
			lines = append(lines, fmt.Sprintf("2026-05-04,Mira Holt,squat,%d,%d,%d,0.%d\n", 60+5*set, set+1, i+1, 70-4*set-i))
		}
	}
	r := rand.New(rand.NewPCG(4, 2))
	r.Shuffle(len(lines), func(i, k int) { lines[i], lines[k] = lines[k], lines[i] })
	got := one(t, "may.csv", "Date,Lifter,Lift,Load (kg),Set,Rep,Mean velocity (m/s)\n"+strings.Join(lines, ""), "")
	if got.Reps.Len() != len(lines) || !got.Reps.Rep(0).RepRecorded.OK {
		t.Errorf("%d reps of %d, the first %+v", got.Reps.Len(), len(lines), got.Reps.Rep(0))
	}
}

func TestRepsInACell(t *testing.T) {
	r := one(t, "log.csv", "Datum;Heber;Übung;Last;RPE;Geschwindigkeiten\n"+
		"05.01.2026;Käthe;Kniebeuge;62,5 kg;8;0,41 / 0,38 / 0,35 m/s\n"+
		"13.01.2026;;Kniebeuge;65 kg;@8,5;\"0,40; 0,37x\"\n"+
		"14.01.2026;Käthe;Kniebeuge;65 kg;;0,40 / 0,3b / x\n", "")
	equal(t, "rep", showAll(r), []string{
		"Käthe 2026-01-05 squat 62.5 kg set 2 rep 1 0.41 m/s rpe 8", "Käthe 2026-01-05 squat 62.5 kg set 2 rep 2 0.38 m/s rpe 8", "Käthe 2026-01-05 squat 62.5 kg set 2 rep 3 0.35 m/s rpe 8",
		"Käthe 2026-01-13 squat 65 kg set 3 rep 1 0.4 m/s rpe 8.5", "Käthe 2026-01-13 squat 65 kg set 3 rep 2 0.37 m/s rpe 8.5 missed",
		"Käthe 2026-01-14 squat 65 kg set 4 rep 1 0.4 m/s"})
	equal(t, "unread", showUnread(r), []string{
		`cell log.csv:4: column "Geschwindigkeiten": "0,3b" is not a number; this rep is lost`,
		`cell log.csv:4: column "Geschwindigkeiten": "x" says that rep 3 was missed, but there is no speed; this rep is lost`})
	if x := r.Reps.Rep(0); x.Device != rep.HandLog || x.RPEFrom != rep.RPEHandLog {
		t.Errorf("device %q, RPE from %s", x.Device, x.RPEFrom)
	}
}

func TestSetRows(t *testing.T) {
	for _, c := range []struct {
		name, text, season string
		want               []string
	}{
		{"columns", "Date,Lifter,Lift,Load (kg),Sets,Reps,RPE,Last rep (m/s)\n2026-01-05,Ines,squat,100,3,5,8,0.41\n2026-01-06,Ines,bench,60,1,5,,\n", "", []string{
			"Ines 2026-01-05 squat 100 kg 3x5 @8 last 0.41", "Ines 2026-01-06 bench press 60 kg 1x5"}},
		{"shorthand", "Date,Lifter,Lift,Work,Note\n2026-01-05,Ines,squat,180x5 @8,\n,,,3 x 5 x 102.5kg RPE 8.5,heavy\n2026-01-07,Ines,bench,140/5/5/4 @9,\n2026-01-08,Ines,deadlift,180x5(4),\n2026-01-09,Ines,deadlift,200x1 @8-8.5 0.31 last,\n", "[[source]]\nfiles = [\"*\"]\nshorthand = \"sets x reps\"\n", []string{
			"Ines 2026-01-05 squat 180 kg 1x5 @8", "Ines 2026-01-05 squat 102.5 kg 3x5 @8.5",
			"Ines 2026-01-07 bench press 140 kg 1x5", "Ines 2026-01-07 bench press 140 kg 1x5", "Ines 2026-01-07 bench press 140 kg 1x4 @9",
			"Ines 2026-01-08 deadlift 180 kg 1x5 (1 missed)", "Ines 2026-01-09 deadlift 200 kg 1x1 @8-8.5 last 0.31"}},
		{"reps listed", "Date,Lifter,Lift,Load (kg),Reps,RPE\n2026-01-05,Ines,squat,100,5/5/4,9\n2026-01-06,Ines,squat,100,5,8\n", "", []string{
			"Ines 2026-01-05 squat 100 kg 1x5", "Ines 2026-01-05 squat 100 kg 1x5", "Ines 2026-01-05 squat 100 kg 1x4 @9", "Ines 2026-01-06 squat 100 kg 1x5 @8"}},
		{"a mean speed of the set", "Date,Lifter,Lift,Load (kg),Reps,RPE,Mean velocity (m/s),Best rep (m/s)\n2026-01-05,Ines,squat,100,5,8,0.45,0.5\n2026-01-05,Ines,squat,110,3,9,0.4,0.44\n", "", []string{
			"Ines 2026-01-05 squat 100 kg 1x5 @8 fastest 0.5 mean 0.45", "Ines 2026-01-05 squat 110 kg 1x3 @9 fastest 0.44 mean 0.4"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := one(t, "log.csv", c.text, c.season)
			equal(t, "note", showNotes(r), c.want)
			if r.Reps.Len() > 0 {
				t.Errorf("%d reps", r.Reps.Len())
			}
		})
	}
}

func TestBlocks(t *testing.T) {
	r := one(t, "session.txt", "Saturday group\n\nLifter: Ruben Aske\nDate: 2026-03-21\nLift: deadlift\nLoad: 40 kg\nRPE: 7\n"+
		"Rep\tMean velocity (m/s)\tROM (cm)\n1\t0.858\t51.7\n2\t0.873\t52.1\n\n"+
		"Lifter: Ruben Aske\nDate: 2026-03-21\nLift: deadlift\nLoad: 110 lb\n"+
		"Rep\tMean velocity (m/s)\tROM (cm)\n1\t0.7\t51.0\n", "")
	got := showAll(r)
	for i := range got { // which number marks a set is not promised, only that sets differ
		got[i] = strings.Replace(strings.Replace(got[i], "set 1", "set a", 1), "set 2", "set b", 1)
	}
	equal(t, "rep", got, []string{
		"Ruben Aske 2026-03-21 deadlift 40 kg set a rep 1 0.858 m/s rom 0.517 rpe 7",
		"Ruben Aske 2026-03-21 deadlift 40 kg set a rep 2 0.873 m/s rom 0.521 rpe 7",
		"Ruben Aske 2026-03-21 deadlift 49.895 kg set b rep 1 0.7 m/s rom 0.51"})
}

// TestKeysInCells: lines above tables as cells of their own, key and value.
func TestKeysInCells(t *testing.T) {
	r := one(t, "session.csv", "Lifter,Ruben Aske,\nDate,2026-03-21,\nExercise,Deadlift,\nLoad (kg),140,\nRep,Velocity (m/s),ROM (cm)\n1,0.51,51\n2,0.5,52\n\n"+
		"Lifter,Ruben Aske,\nDate,2026-03-21,\nExercise,Deadlift,\nLoad (kg),160,\nRep,Velocity (m/s),ROM (cm)\n1,0.41,51\n", "")
	got := showAll(r)
	for i := range got {
		before, after, _ := strings.Cut(got[i], " set ")
		got[i] = before + after[1:]
	}
	equal(t, "rep", got, []string{
		"Ruben Aske 2026-03-21 deadlift 140 kg rep 1 0.51 m/s rom 0.51", "Ruben Aske 2026-03-21 deadlift 140 kg rep 2 0.5 m/s rom 0.52",
		"Ruben Aske 2026-03-21 deadlift 160 kg rep 1 0.41 m/s rom 0.51"})
}

func TestNames(t *testing.T) {
	r := one(t, "exports/2026-01-05_Ines Duarte_squat_100kg_set3.csv", "rep,velocity (m/s),rom (m)\n1,0.5,0.6\n",
		"[[source]]\nfiles = [\"exports/*\"]\nname_parts = \"{date}_{lifter}_{lift}_{load}kg_set{set}\"\n")
	equal(t, "rep", showAll(r), []string{"Ines Duarte 2026-01-05 squat 100 kg set 3 rep 1 0.5 m/s rom 0.6"})
	if d := r.Reps.Rep(0).Device; d != "exports" {
		t.Errorf("device %q, want the folder's name", d)
	}
}

func TestAsks(t *testing.T) {
	head := "date,lifter,lift,load (kg),rep,velocity (m/s)\n"
	for _, c := range []struct{ name, text, want string }{
		{"a load in shorthand", "date,lifter,lift,work\n2026-05-04,Mira Holt,squat,100x5 @8\n",
			`may.csv: column "work": no unit is given, and a load of 100 can be in kg or lb; add to season.toml under [[source]] files = ["may.csv"]: units = { load = "kg" } or units = { load = "lb" }`},
		{"loads in shorthand", "date,lifter,lift,work\n2026-05-04,Mira Holt,squat,95x5 @8\n2026-05-06,Mira Holt,squat,120x5 @8\n",
			`may.csv: column "work": no unit is given, and loads from 95 to 120 can be in kg or lb; add to season.toml under [[source]] files = ["may.csv"]: units = { load = "kg" } or units = { load = "lb" }`},
		{"date order", head + "3/4/2026,Ines,squat,100,1,0.5\n",
			`may.csv: column "date": dates such as 3/4/2026 can be read as day month year or month day year; add to season.toml under [[source]] files = ["may.csv"]: date_order = "day month year" or date_order = "month day year"`},
		{"kg or lb", "date,lifter,lift,load,rep,velocity (m/s)\n2026-01-05,Ines,squat,45,1,0.5\n2026-01-05,Ines,squat,95,1,0.5\n2026-01-05,Ines,squat,120,1,0.5\n",
			`may.csv: column "load": no unit is given, and loads from 45 to 120 can be in kg or lb; add to season.toml under [[source]] files = ["may.csv"]: units = { load = "kg" } or units = { load = "lb" }`},
		{"no lifter", "date,lift,load (kg),rep,velocity (m/s)\n2026-01-05,squat,45,1,0.5\n",
			`may.csv: nothing says the lifter: no column, no line above the table, no name; add to season.toml under [[source]] files = ["may.csv"]: lifter = "…" or columns = { lifter = "its heading" }`},
		{"a column like names", "start,who,movement,load (kg),velocity (m/s)\n2026-01-05,Ines,squat,45,0.51\n2026-01-05,Ines,squat,45,0.5\n2026-01-05,Ines,squat,45,0.48\n",
			`may.csv: nothing says the lifter: no column, no line above the table, no name; column "who" may hold it; add to season.toml under [[source]] files = ["may.csv"]: lifter = "…" or columns = { lifter = "who" }`},
		{"two speeds", "date,lifter,lift,load (kg),rep,mean velocity (m/s),average velocity (m/s)\n2026-01-05,Ines,squat,45,1,0.5,0.6\n",
			`may.csv: column "mean velocity (m/s)": this column and "average velocity (m/s)" both look like the mean velocity and differ; add to season.toml under [[source]] files = ["may.csv"]: columns = { mean_velocity = "mean velocity (m/s)" } or columns = { mean_velocity = "average velocity (m/s)" }`},
		{"one heading twice", "date,lifter,lift,load (kg),rep,velocity (m/s),velocity (m/s)\n2026-01-05,Ines,squat,45,1,0.5,0.6\n",
			`may.csv: column "velocity (m/s)": columns F and G both have this heading, look like the mean velocity, and differ; add to season.toml under [[source]] files = ["may.csv"]: columns = { mean_velocity = "F" } or columns = { mean_velocity = "G" }`},
		{"sets or reps", "date,lifter,lift,work\n2026-01-05,Ines,squat,5x3@140\n2026-01-07,Ines,squat,4x3@145\n",
			`may.csv: column "work": "5x3@140" can be sets x reps or reps x sets, and nothing in the log tells which; add to season.toml under [[source]] files = ["may.csv"]: shorthand = "sets x reps" or shorthand = "reps x sets"`},
		{"nothing of ours", "name,price,colour\nplates,30,red\nbar,200,silver\n",
			`may.csv: no table of reps or sets found: there is no column of speeds, nor of reps with loads or RPE; the headings are "name", "price", "colour"; add to season.toml under [[source]] files = ["may.csv"]: columns = { mean_velocity = "its heading", load = "its heading" } or skip = true`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := asked(t, c.text, "").Error(); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

func TestInferred(t *testing.T) {
	for _, c := range []struct {
		name, text, want, said string
	}{
		{"kg by small plates", "date,lifter,lift,load,rep,velocity\n2026-01-05,Ines,squat,102.5,1,0.5\n2026-01-05,Ines,squat,107.5,1,0.45\n2026-01-05,Ines,squat,100,1,0.45\n",
			"Ines 2026-01-05 squat 102.5 kg rep 1 0.5 m/s", `column "load": no unit given; read in kg, because 2 of 3 loads are 2.5 off a multiple of 5: plates of 1.25 kg`},
		{"lb by the bar's ladder", "date,lifter,lift,load,rep,velocity\n2026-01-05,Ines,squat,45,1,50\n2026-01-05,Ines,squat,135,1,45\n2026-01-05,Ines,squat,185,1,40\n2026-01-05,Ines,squat,225,1,30\n",
			"Ines 2026-01-05 squat 20.412 kg rep 1 0.5 m/s", `column "load": no unit given; read in lb, because 4 of 4 loads are a 45 lb bar with plates of 45 and 25`},
		{"cm/s by size", "date,lifter,lift,load (kg),rep,velocity\n2026-01-05,Ines,squat,100,1,50\n2026-01-05,Ines,squat,100,1,45\n",
			"Ines 2026-01-05 squat 100 kg rep 1 0.5 m/s", `column "velocity": no unit given; read in cm/s, because half of the values lie below 50: cm/s`},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := one(t, "may.csv", c.text, "")
			if got := show(r.Reps.Rep(0)); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
			if said := strings.Join(r.Sources[0].Said, "\n"); !strings.Contains(said, c.said) {
				t.Errorf("said %q\nwant %q", said, c.said)
			}
		})
	}
}

func TestSistersSettleDates(t *testing.T) {
	head := "date,lifter,lift,load (kg),rep,velocity (m/s)\n"
	r := read(t, map[string]string{
		"north/a.csv": head + "3/4/2026,Ines,squat,100,1,0.5\n",
		"north/b.csv": head + "25/4/2026,Ines,squat,100,1,0.5\n",
	})
	equal(t, "rep", showAll(r), []string{"Ines 2026-04-03 squat 100 kg rep 1 0.5 m/s", "Ines 2026-04-25 squat 100 kg rep 1 0.5 m/s"})
}

func TestCorrections(t *testing.T) {
	r := one(t, "may.csv", "date,lifter,lift,load (kg),rep,velocity (m/s)\n2026-01-05,Ines,squat,1000,1,0.5\n2026-01-05,Ines,squat,1OO,2,0.5\n",
		"[[correction]]\nsource = \"may.csv\"\nrow = 2\nfield = \"load\"\nvalue = 100\nwhy = \"a slip\"\n"+
			"[[correction]]\nsource = \"may.csv\"\nrow = 3\nfield = \"load\"\nvalue = 100\nwhy = \"letters\"\n"+
			"[[correction]]\nsource = \"may.csv\"\nrow = 9\nfield = \"load\"\nvalue = 100\nwhy = \"nowhere\"\n")
	equal(t, "rep", showAll(r), []string{"Ines 2026-01-05 squat 100 kg rep 1 0.5 m/s", "Ines 2026-01-05 squat 100 kg rep 2 0.5 m/s"})
	if x := r.Reps.Rep(0); x.Recorded.LoadKg != rep.Some(1000.0) || !x.Flags.Has(rep.Correction) {
		t.Errorf("recorded %v, flags %s", x.Recorded.LoadKg, x.Flags)
	}
	if len(r.Sources[0].Warnings) != 1 || !strings.Contains(r.Sources[0].Warnings[0], "row 9") {
		t.Errorf("warnings %q", r.Sources[0].Warnings)
	}
}

func TestNotSources(t *testing.T) {
	head := "date,lifter,lift,load (kg),rep,velocity (m/s)\n"
	r := read(t, map[string]string{
		"a.csv": head + "2026-01-05,Ines,squat,100,1,0.5\n", "copy of a.csv": head + "2026-01-05,Ines,squat,100,1,0.5\n",
		"empty.csv": "", "plan.pdf": "%PDF", ".hidden.csv": head, "season.toml": "",
		"out/reps.parquet": "PAR1", "out/run.json": "{}", "out/datapackage.json": "{}", "out/unread.csv": "lost\n",
	})
	var names []string
	for _, s := range r.Sources {
		names = append(names, fmt.Sprintf("%s %q %v %q", s.Name, s.SameAs, s.Err, s.Warnings))
	}
	equal(t, "source", names, []string{`a.csv "" <nil> []`, `copy of a.csv "a.csv" <nil> []`, `empty.csv "" <nil> ["the file is empty; export it again if it should not be"]`})
	if len(r.NotRead) != 2 || r.NotRead[0].Name != "out" || r.NotRead[1].Name != "plan.pdf" {
		t.Errorf("not read: %v", r.NotRead)
	}
	if len(r.Ledger) != 2 || r.Ledger[1].Rows != 0 || r.Reps.Len() != 1 {
		t.Errorf("ledger %+v, %d reps", r.Ledger, r.Reps.Len())
	}
}

// TestOrder: the same reading whatever the order of names and the number of
// workers.
func TestOrder(t *testing.T) {
	head := "date,lifter,lift,load (kg),rep,velocity (m/s)\n"
	fsys := fstest.MapFS{}
	var names []string
	for i := range 12 {
		name := fmt.Sprintf("f%02d.csv", i)
		names = append(names, name)
		fsys[name] = &fstest.MapFile{Data: fmt.Appendf(nil, "%s2026-01-%02d,Ines %d,squat,100,1,0.5%d\n2026-01-05,ines  %d,squat,1O0,1,0.5\n", head, i+1, i, i, i)}
	}
	dump := func(names []string, workers int) string {
		r, err := Read(context.Background(), fsys, names, nil, Options{Workers: workers, FirstReps: 2})
		if err != nil {
			t.Fatal(err)
		}
		return fmt.Sprint(showAll(r), r.Reps.Lifter, r.Unread, r.Ledger, r.Sources, r.Said)
	}
	want := dump(nil, 1)
	rng := rand.New(rand.NewPCG(1, 2))
	for range 5 {
		rng.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
		if got := dump(names, 4); got != want {
			t.Fatalf("order %v gave\n%s\nwant\n%s", names, got, want)
		}
	}
}

// TestLedger: rows of random tables are each counted once.
func TestLedger(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	cells := []string{"", "2026-01-05", "5/1/2026", "Ines", "squat", "100", "1O0", "0.5", "0.41 / 0.38", "--", "180x5 @8", "x", "8", "#DIV/0!", "Total", "\"a\nb\"", "1"}
	heads := []string{"date", "lifter", "lift", "load (kg)", "rep", "set", "velocity (m/s)", "rom (cm)", "rpe", "note", "rep 1", "rep 2", "reps", "work", "missed", ""}
	read1 := 0
	for n := range 300 {
		var b strings.Builder
		cols := 4 + rng.IntN(8)
		perm := rng.Perm(len(heads))[:cols]
		for _, c := range perm {
			b.WriteString(heads[c] + ",")
		}
		b.WriteString("\n")
		for range rng.IntN(40) {
			for _, c := range perm {
				cell := cells[rng.IntN(len(cells))]
				if fits := map[string]string{"date": "2026-01-05", "lifter": "Ines", "lift": "squat", "load (kg)": "100", "velocity (m/s)": "0.5"}[heads[c]]; fits != "" && rng.IntN(10) > 0 {
					cell = fits
				}
				b.WriteString(cell + ",")
			}
			b.WriteString("\n")
		}
		r := read(t, map[string]string{"may.csv": b.String(), "season.toml": "[[source]]\nfiles = [\"*\"]\nlifter = \"X\"\nlift = \"squat\"\ndate = 2026-01-01\nload = 100\n"})
		read1 += r.Reps.Len()
		if t.Failed() {
			t.Fatalf("table %d:\n%s", n, b.String())
		}
		lost := 0
		for _, u := range r.Unread {
			if u.Lost == rep.LostRow {
				lost++
			}
		}
		if l := r.Ledger[0]; r.Sources[0].Err == nil && lost != l.Unread {
			t.Fatalf("table %d: %d lines of lost rows, the ledger says %d:\n%s", n, lost, l.Unread, b.String())
		}
	}
	if read1 < 100 {
		t.Errorf("only %d reps in all: the tables test nothing", read1)
	}
}

func TestLabels(t *testing.T) {
	r := one(t, "log.csv", "Date,Load (kg),Reps,RPE\nSquat,,,\n2026-01-05,100,5,8\n2026-01-05,110,3,9\nBench,,,\n2026-01-05,60,5,7\n2026-01-05,65,5,8\n",
		"[[source]]\nfiles = [\"*\"]\nlifter = \"Ines\"\n")
	equal(t, "note", showNotes(r), []string{
		"Ines 2026-01-05 squat 100 kg 1x5 @8", "Ines 2026-01-05 squat 110 kg 1x3 @9",
		"Ines 2026-01-05 bench press 60 kg 1x5 @7", "Ines 2026-01-05 bench press 65 kg 1x5 @8"})
}
