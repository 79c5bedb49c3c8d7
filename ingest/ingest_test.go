package ingest

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/source"
)

// read reads files given as text; "season.toml" is the season file.
func read(t *testing.T, files map[string]string) *Reading {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, text := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	var s *season.Season
	if text, ok := files["season.toml"]; ok {
		var err error
		if s, err = season.Read("season.toml", strings.NewReader(text)); err != nil {
			t.Fatal(err)
		}
	}
	r, err := Read(context.Background(), fsys, nil, s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range r.Ledger {
		l := r.Ledger[i]
		l.Kept, l.Alone = l.Reps, l.SetNotes // cleaning's part
		if err := l.Balance(); err != nil {
			t.Error(err)
		}
	}
	return r
}

// one reads a single file and fails the test where it could not be read.
func one(t *testing.T, name, text, seasonText string) *Reading {
	t.Helper()
	r := read(t, map[string]string{name: text, "season.toml": seasonText})
	if r.Sources[0].Err != nil {
		t.Fatal(r.Sources[0].Err)
	}
	return r
}

// asked reads a single file that stops with a question and returns it.
func asked(t *testing.T, text, seasonText string) *source.Ask {
	t.Helper()
	r := read(t, map[string]string{"may.csv": text, "season.toml": seasonText})
	var ask *source.Ask
	if !errors.As(r.Sources[0].Err, &ask) {
		t.Fatalf("error is %v, want a question", r.Sources[0].Err)
	}
	if r.Reps.Len() > 0 || len(r.Notes) > 0 {
		t.Errorf("a source that stops gave %d reps and %d notes", r.Reps.Len(), len(r.Notes))
	}
	return ask
}

// show writes a rep in short.
func show(r rep.Rep) string {
	s := fmt.Sprintf("%s %s %s", r.Lifter, r.Date, r.Lift)
	if r.Variant != "" {
		s += " (" + r.Variant + ")"
	}
	s += fmt.Sprintf(" %.5g kg", r.LoadKg)
	if r.SetMark.OK {
		s += fmt.Sprintf(" set %d", r.SetMark.V)
	}
	if r.RepRecorded.OK {
		s += fmt.Sprintf(" rep %d", r.RepRecorded.V)
	}
	s += fmt.Sprintf(" %.4g m/s", r.MeanVelocity)
	for _, m := range []struct {
		name string
		v    rep.Null[float64]
	}{{"peak", r.PeakVelocity}, {"rom", r.ROM}, {"con", r.Concentric}, {"rpe", r.RPE}} {
		if m.v.OK {
			s += fmt.Sprintf(" %s %.4g", m.name, m.v.V)
		}
	}
	if r.Missed {
		s += " missed"
	}
	return s
}

func showAll(r *Reading) []string {
	var out []string
	for i := range r.Reps.Len() {
		out = append(out, show(r.Reps.Rep(int32(i))))
	}
	return out
}

func equal(t *testing.T, what string, got, want []string) {
	t.Helper()
	for i := range max(len(got), len(want)) {
		g, w := "nothing", "nothing"
		if i < len(got) {
			g = got[i]
		}
		if i < len(want) {
			w = want[i]
		}
		if g != w {
			t.Errorf("%s %d: got  %s\n%*swant %s", what, i+1, g, len(what)+6, "", w)
		}
	}
}

func TestRepRows(t *testing.T) {
	for _, c := range []struct {
		name, text, season string
		want               []string
	}{
		{"plain", "Date,Lifter,Lift,Load (kg),Set,Rep,Mean velocity (m/s),Peak velocity (m/s),ROM (m),Concentric time (s),RPE\n" +
			"2026-01-05,Ines Duarte,Squat,100,1,1,0.61,1.02,0.58,0.95,7.5\n" +
			"2026-01-05,Ines Duarte,Squat,100,1,2,0.58,1.00,0.57,0.99,7.5\n", "", []string{
			"Ines Duarte 2026-01-05 squat 100 kg set 1 rep 1 0.61 m/s peak 1.02 rom 0.58 con 0.95 rpe 7.5",
			"Ines Duarte 2026-01-05 squat 100 kg set 1 rep 2 0.58 m/s peak 1 rom 0.57 con 0.99 rpe 7.5"}},
		{"German", "Datum;Heber;Übung;Gewicht (kg);Satz;Wdh.;mittlere Geschw. (cm/s);Spitze (cm/s);Hubweg (cm);Dauer (ms)\r\n" +
			"05.01.2026;Käthe Brandl;Kniebeuge;62,5;1;1;58,2;99,5;56,3;950\r\n" +
			"13.01.2026;Käthe Brandl;Kreuzheben sumo;80;1;2;45,2;91,5;46,2;1020\r\n", "", []string{
			"Käthe Brandl 2026-01-05 squat 62.5 kg set 1 rep 1 0.582 m/s peak 0.995 rom 0.563 con 0.95",
			"Käthe Brandl 2026-01-13 deadlift (sumo) 80 kg set 1 rep 2 0.452 m/s peak 0.915 rom 0.462 con 1.02"}},
		{"pounds", "date,athlete,exercise,weight (lbs),rep,avg velocity m/s\n2026-01-05,Ines,bench,135,1,0.5\n", "", []string{
			"Ines 2026-01-05 bench press 61.235 kg rep 1 0.5 m/s"}},
		{"units declared", "date,athlete,exercise,weight,rep,velocity\n2026-01-05,Ines,bench,135,1,50\n",
			"[[source]]\nfiles = [\"*\"]\nunits = { load = \"lb\", mean_velocity = \"cm/s\" }\n", []string{
				"Ines 2026-01-05 bench press 61.235 kg rep 1 0.5 m/s"}},
		{"units in cells", "date,athlete,exercise,weight,rep,velocity\n2026-01-05,Ines,bench,135 lb,1,0.5 m/s\n2026-01-05,Ines,bench,60kg,2,45 cm/s\n", "", []string{
			"Ines 2026-01-05 bench press 61.235 kg rep 1 0.5 m/s", "Ines 2026-01-05 bench press 60 kg rep 2 0.45 m/s"}},
		{"carried by the season file", "rep,velocity (m/s)\n1,0.5\n2,0.45\n",
			"[[source]]\nfiles = [\"*\"]\nlifter = \"Ines Duarte\"\nlift = \"squat\"\ndate = 2026-01-05\nload = 100\nset = 3\n", []string{
				"Ines Duarte 2026-01-05 squat 100 kg set 3 rep 1 0.5 m/s", "Ines Duarte 2026-01-05 squat 100 kg set 3 rep 2 0.45 m/s"}},
		{"columns declared", "date,who,what,how heavy (kg),Tempo (m/s)\n2026-01-05,Ines,squat,100,0.5\n",
			"[[source]]\nfiles = [\"*\"]\ncolumns = { lifter = \"who\", lift = \"what\", load = \"how heavy (kg)\", mean_velocity = \"tempo (m/s)\" }\n", []string{
				"Ines 2026-01-05 squat 100 kg 0.5 m/s"}},
		{"blanks filled downwards", "date,lifter,lift,load (kg),set,rep,velocity (m/s)\n" +
			"2026-01-05,Ines,squat,100,1,1,0.5\n,,,,,2,0.48\n,,,,,3,0.46\n,,,110,2,1,0.44\n,,,,,2,0.4\n", "", []string{
			"Ines 2026-01-05 squat 100 kg set 1 rep 1 0.5 m/s", "Ines 2026-01-05 squat 100 kg set 1 rep 2 0.48 m/s",
			"Ines 2026-01-05 squat 100 kg set 1 rep 3 0.46 m/s", "Ines 2026-01-05 squat 110 kg set 2 rep 1 0.44 m/s",
			"Ines 2026-01-05 squat 110 kg set 2 rep 2 0.4 m/s"}},
		{"missed", "date,lifter,lift,load (kg),rep,velocity (m/s),missed\n2026-01-05,Ines,squat,100,1,0.5,\n2026-01-05,Ines,squat,100,2,0.1,x\n2026-01-05,Ines,squat,100,3,0.4,no\n", "", []string{
			"Ines 2026-01-05 squat 100 kg rep 1 0.5 m/s", "Ines 2026-01-05 squat 100 kg rep 2 0.1 m/s missed", "Ines 2026-01-05 squat 100 kg rep 3 0.4 m/s"}},
		{"made", "date,lifter,lift,load (kg),rep,velocity (m/s),gültig\n2026-01-05,Ines,squat,100,1,0.5,ja\n2026-01-05,Ines,squat,100,2,0.1,nein\n", "", []string{
			"Ines 2026-01-05 squat 100 kg rep 1 0.5 m/s", "Ines 2026-01-05 squat 100 kg rep 2 0.1 m/s missed"}},
		{"RIR", "date,lifter,lift,load (kg),rep,velocity (m/s),RIR\n2026-01-05,Ines,squat,100,1,0.5,2\n", "", []string{
			"Ines 2026-01-05 squat 100 kg rep 1 0.5 m/s rpe 8"}},
		{"units in a column", "date,athlete,exercise,weight,unit,rep,velocity (m/s)\n2026-01-05,Ines,bench,135,lbs,1,0.5\n2026-01-05,Ines,bench,60,kg,2,0.45\n", "", []string{
			"Ines 2026-01-05 bench press 61.235 kg rep 1 0.5 m/s", "Ines 2026-01-05 bench press 60 kg rep 2 0.45 m/s"}},
		{"a full name in two columns", "first name,last name,date,exercise,load (kg),rep,velocity (m/s)\nInes,Duarte,2026-01-05,bench,60,1,0.5\n", "", []string{
			"Ines Duarte 2026-01-05 bench press 60 kg rep 1 0.5 m/s"}},
		{"a title", "Session: Squat 2026-01-05\nExported: 7 March 2026\nrep,load (kg),velocity (m/s)\n1,100,0.5\n",
			"[[lifter]]\nname = \"Ines Duarte\"\n", []string{"Ines Duarte 2026-01-05 squat 100 kg rep 1 0.5 m/s"}},
		{"Unix times", "timestamp,athlete,exercise,load (kg),rep,velocity (m/s)\n1767636000,Ines,bench,60,1,0.5\n1767636003,Ines,bench,60,2,0.45\n", "", []string{
			"Ines 2026-01-05 bench press 60 kg rep 1 0.5 m/s", "Ines 2026-01-05 bench press 60 kg rep 2 0.45 m/s"}},
		{"serial days", "day,athlete,exercise,load (kg),rep,velocity (m/s)\n46027,Ines,bench,60,1,0.5\n46028,Ines,bench,60,2,0.45\n", "", []string{
			"Ines 2026-01-05 bench press 60 kg rep 1 0.5 m/s", "Ines 2026-01-06 bench press 60 kg rep 2 0.45 m/s"}},
		{"what is not needed", "id,date,lifter,lift,body weight (kg),planned load (kg),load (kg),%1RM,rep,mean power (W),velocity (m/s),eccentric velocity (m/s),velocity loss (%)\n" +
			"7,2026-01-05,Ines,squat,71,105,100,80,1,400,0.5,0.6,0\n", "", []string{"Ines 2026-01-05 squat 100 kg rep 1 0.5 m/s"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			equal(t, "rep", showAll(one(t, "may.csv", c.text, c.season)), c.want)
		})
	}
}

func TestUnitColumnUnread(t *testing.T) {
	r := one(t, "may.csv", "date,lifter,lift,weight,unit,rep,velocity (m/s)\n"+strings.Repeat("2026-01-05,Ines,squat,225,lb,1,0.5\n", 20)+
		strings.Repeat("2026-01-05,Ines,squat,100,kg,1,0.5\n", 20)+"2026-01-05,Ines,squat,100,kq,1,0.5\n2026-01-05,Ines,squat,100,,1,0.5\n", "")
	equal(t, "unread", showUnread(r), []string{
		`row may.csv:42: column "weight": "100" has no unit: the column for it does not say kg or lb; the row is lost: correct it there, or by a [[correction]] with field = "load" in the season file`,
		`row may.csv:43: column "weight": "100" has no unit: the column for it does not say kg or lb; the row is lost: correct it there, or by a [[correction]] with field = "load" in the season file`})
}

func TestUnreadCellsAndRows(t *testing.T) {
	r := one(t, "may.csv", "date,lifter,lift,load (kg),rep,velocity (m/s),rom (m),rpe\n"+
		"2026-01-05,Ines,squat,100,1,0.5,--,8\n"+ // null
		"2026-01-05,Ines,squat,100,2,0.48,0.5x,\n"+ // lost cell
		"2026-01-05,Ines,squat,1O0,3,0.46,0.5,\n"+ // lost row
		"2026-01-05,Ines,squat,100,4,,0.5,\n"+ // no speed
		"2026-13-05,Ines,squat,100,5,0.4,0.5,\n"+ // no such month
		"2026-01-05,,squat,100,6,0.4,0.5,\n"+ // no lifter
		"2026-01-05,Ines,squat,100,7,0.4,0.5,11\n"+ // no RPE
		"2026-01-05,Ines,squat,100,8,miss,0.5,\n"+
		"2026-01-05,Ines,squat,102,5,9,0.4,0.5,8\n", "") // a decimal comma between commas
	equal(t, "rep", showAll(r), []string{
		"Ines 2026-01-05 squat 100 kg rep 1 0.5 m/s rpe 8",
		"Ines 2026-01-05 squat 100 kg rep 2 0.48 m/s",
		"Ines 2026-01-05 squat 100 kg rep 7 0.4 m/s rom 0.5"})
	var got []string
	for _, u := range r.Unread {
		got = append(got, u.Lost.String()+" "+u.String())
	}
	equal(t, "unread", got, []string{
		`cell may.csv:3: column "rom (m)": "0.5x" is not a number; left empty`,
		`row may.csv:4: column "load (kg)": "1O0" is not a number; the row is lost: correct it there, or by a [[correction]] with field = "load" in the season file`,
		`row may.csv:5: column "velocity (m/s)": no mean velocity; the row is lost: fill it in there, or by a [[correction]] with field = "mean_velocity" in the season file`,
		`row may.csv:6: column "date": "2026-13-05" is no day of the calendar; the row is lost: correct it there, or by a [[correction]] with field = "date" in the season file`,
		`row may.csv:7: column "lifter": no lifter; the row is lost: fill it in there, or by a [[correction]] with field = "lifter" in the season file`,
		`cell may.csv:8: column "rpe": "11" is not an RPE from 1 to 10; left empty`,
		`row may.csv:9: column "velocity (m/s)": "miss" says that the rep was missed, but there is no speed; the row is lost: correct it there, or by a [[correction]] with field = "mean_velocity" in the season file`,
		"row may.csv:10: the row has more cells than the table's 8 columns; put the cell that holds a delimiter in quotes",
	})
	l := r.Ledger[0]
	if l.Rows != 10 || l.RepRows != 3 || l.Unread != 6 || l.NotData != 1 || l.Reps != 3 {
		t.Errorf("ledger %+v", l)
	}
}

// TestAlike: a log's "ines" is told to be perhaps the unit's Ines Duarte, unless
// one source has both or the season file says who is who.
func TestAlike(t *testing.T) {
	unit := "Date,Lifter,Lift,Load (kg),Set,Rep,Mean velocity (m/s)\n2026-01-05,Ines Duarte,squat,100,1,1,0.61\n2026-01-05,Ines Duarte,squat,100,1,2,0.58\n"
	log := "Date,Name,Lift,kg,Reps,RPE\n2026-01-05,ines,squat,100,2,8\n"
	told := `"ines" may be "Ines Duarte", and is another lifter until season.toml says under [[lifter]]: name = "Ines Duarte" and spelled = ["ines"]`
	for _, c := range []struct {
		name  string
		files map[string]string
		told  bool
	}{
		{"apart", map[string]string{"unit.csv": unit, "log.csv": log}, true},
		{"both in one", map[string]string{"unit.csv": unit, "log.csv": log + "2026-01-06,Ines Duarte,squat,100,2,8\n"}, false},
		{"declared", map[string]string{"unit.csv": unit, "log.csv": log, "season.toml": "[[lifter]]\nname = \"Ines Duarte\"\n[[lifter]]\nname = \"ines\"\n"}, false},
	} {
		if got := slices.Contains(read(t, c.files).Said, told); got != c.told {
			t.Errorf("%s: told %v", c.name, got)
		}
	}
}
