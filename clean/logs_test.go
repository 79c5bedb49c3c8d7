package clean_test

import (
	"slices"
	"strings"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
)

// setsOf returns the sets of a lift on a day.
func setsOf(res *clean.Result, lift string, day rep.Day) []rep.Set {
	var out []rep.Set
	for _, s := range res.Sets.All() {
		if s.Lift == lift && s.Date == day {
			out = append(out, s)
		}
	}
	return out
}

func rpe(v float64) func(n *rep.SetNote) {
	return func(n *rep.SetNote) { n.RPE = rep.Some(v) }
}

// TestJoin: logged sets give their RPE to the sets they belong to, and to every
// rep of them.
func TestJoin(t *testing.T) {
	var b batch
	b.day(rep.Squat, day0, "60x5", "100x3", "140x1", "120x5", "120x5")
	b.note(rep.Squat, day0, 140, 1, rpe(8))
	b.note(rep.Squat, day0, 120, 5, rpe(7))
	b.note(rep.Squat, day0, 120, 5, rpe(8.5))
	res := b.run(t, nil)
	sets := setsOf(res, rep.Squat, day0)
	if len(sets) != 5 {
		t.Fatalf("%d sets", len(sets))
	}
	for i, want := range []float64{0, 0, 8, 7, 8.5} {
		s := sets[i]
		if s.RPE.V != want || (want > 0) != (s.RPEFrom == rep.RPEHandLog) || (want > 0) != (s.Log != nil) {
			t.Errorf("set %d: RPE %v from %q, log %v", i+1, s.RPE, s.RPEFrom, s.Log)
		}
		for _, r := range s.Rows {
			if res.Reps.RPE.At(r) != s.RPE {
				t.Errorf("set %d: a rep has RPE %v", i+1, res.Reps.RPE.At(r))
			}
		}
	}
	if l := ledgerOf(t, res, "log.csv"); l.Joined != 3 || l.Alone != 0 {
		t.Errorf("%+v", l)
	}
}

func ledgerOf(t *testing.T, res *clean.Result, source string) rep.Ledger {
	t.Helper()
	for _, l := range res.Ledger {
		if l.Source == source {
			return l
		}
	}
	t.Fatalf("no ledger of %s", source)
	return rep.Ledger{}
}

// TestSeveralSetsOneRPE: "3x5@8" is three logged sets, the RPE of the last.
func TestSeveralSetsOneRPE(t *testing.T) {
	var b batch
	b.day(rep.Squat, day0, "60x5", "120x5", "120x5", "120x5")
	b.note(rep.Squat, day0, 120, 5, func(n *rep.SetNote) { n.Sets, n.RPE = 3, rep.Some(8.0) })
	sets := setsOf(b.run(t, nil), rep.Squat, day0)
	for i, want := range []bool{false, false, false, true} {
		if sets[i].RPE.OK != want || (i > 0) != (sets[i].Log != nil) {
			t.Errorf("set %d: RPE %v, log %v", i+1, sets[i].RPE, sets[i].Log)
		}
	}
}

// TestAmbiguousJoin: one logged set beside two alike is left apart, and said.
func TestAmbiguousJoin(t *testing.T) {
	var b batch
	b.day(rep.Squat, day0, "60x5", "120x5", "120x5")
	b.note(rep.Squat, day0, 120, 5, rpe(8))
	res := b.run(t, nil)
	sets := setsOf(res, rep.Squat, day0)
	if len(sets) != 4 || sets[3].Number.OK || sets[3].RPE != rep.Some(8.0) || sets[3].Log == nil || sets[3].Session != 1 {
		t.Fatalf("%+v", sets)
	}
	if len(res.Doubts) != 1 || res.Doubts[0].Topic != clean.JoinAmbiguous {
		t.Errorf("%+v", res.Doubts)
	}
	if l := ledgerOf(t, res, "log.csv"); l.Joined != 0 || l.Alone != 1 {
		t.Errorf("%+v", l)
	}
}

// TestLoggedSpeedDecides: the log's last speed tells two sets alike apart.
func TestLoggedSpeedDecides(t *testing.T) {
	var b batch
	b.day(rep.Squat, day0, "60x5", "120x5", "120x5")
	for i := 5; i < 10; i++ {
		b.reps.MeanVelocity.Set(int32(i), b.reps.MeanVelocity.Get(int32(i))+0.06)
		b.reps.Concentric.Put(int32(i), rep.Null[float64]{})
	}
	b.note(rep.Squat, day0, 120, 5, func(n *rep.SetNote) { n.RPE, n.Last = rep.Some(8.0), rep.Some(0.48) })
	sets := setsOf(b.run(t, nil), rep.Squat, day0)
	if sets[1].RPE.V != 8 && sets[2].RPE.V == 8 {
		t.Errorf("joined to the slower set")
	}
	if sets[1].RPE.V != 8 {
		t.Errorf("%+v", sets[1])
	}
}

// TestDisagreements: both values and both places.
func TestDisagreements(t *testing.T) {
	var b batch
	b.day(rep.Squat, day0, "60x5", "100x5", "120x4@7.5")
	b.note(rep.Squat, day0, 60, 5, nil)
	b.note(rep.Squat, day0, 220.5, 5, nil) // 100 kg in lb
	b.note(rep.Squat, day0, 120, 5, rpe(8))
	res := b.run(t, nil)
	want := map[clean.Topic]string{
		clean.LogDisagrees: "the hand log has 220.5 kg, the unit 100 kg",
		clean.FewerReps:    "the hand log has 5 reps, the unit 4 reps",
		clean.RPEDisagrees: "the hand log has RPE 8, the export 7.5, which stands",
	}
	for _, d := range res.Doubts {
		if want[d.Topic] != d.Text || len(d.Places) != 2 || d.Places[0].Source != "log.csv" || d.Places[1].Source != "unit.csv" {
			t.Errorf("%s: %q at %v", d.Topic, d.Text, d.Places)
		}
		delete(want, d.Topic)
	}
	if len(want) != 0 {
		t.Errorf("not told: %v", want)
	}
	if s := setsOf(res, rep.Squat, day0)[2]; s.RPE.V != 7.5 || s.RPEFrom != rep.RPEExport {
		t.Errorf("RPE %v from %s", s.RPE, s.RPEFrom)
	}
}

// TestLogAlone: a day, a lift and a lifter that only the log knows.
func TestLogAlone(t *testing.T) {
	var b batch
	b.day(rep.Squat, day0+1, "60x5", "100x3")
	b.note(rep.Squat, day0, 150, 1, rpe(9))
	b.note("row", day0+1, 80, 8, nil)
	b.note(rep.Squat, day0+3, 150, 1, func(n *rep.SetNote) { n.Lifter = "Abel Roth" })
	res := b.run(t, nil)
	if res.Sets.Len() != 5 {
		t.Fatalf("%d sets", res.Sets.Len())
	}
	if s := res.Sets.At(0); s.Lifter != "Abel Roth" || s.Session != 1 || s.LoadKg.V != 150 {
		t.Errorf("%+v", s)
	}
	if s := setsOf(res, rep.Squat, day0+1); s[0].Session != 2 {
		t.Errorf("the day after a logged one is session %d", s[0].Session)
	}
	if l := ledgerOf(t, res, "log.csv"); l.Alone != 3 {
		t.Errorf("%+v", l)
	}
}

// TestSeveralNotesOneRow: a row counts as joined if any of its sets is.
func TestSeveralNotesOneRow(t *testing.T) {
	var b batch
	b.day(rep.Squat, day0, "100x3", "140x1")
	for part, load := range []float64{60, 100, 140} {
		b.note(rep.Squat, day0, load, []int32{5, 3, 1}[part], func(n *rep.SetNote) { n.Row, n.Part = 2, int32(part+1) })
	}
	if l := ledgerOf(t, b.run(t, nil), "log.csv"); l.SetNotes != 1 || l.Joined != 1 || l.Alone != 0 {
		t.Errorf("%+v", l)
	}
}

// TestAnotherLift: the same sets under another lift's name are told, and left
// apart.
func TestAnotherLift(t *testing.T) {
	var b batch
	b.day(rep.BenchPress, day0, "60x5", "80x3", "90x1")
	b.note("press", day0, 80, 3, nil)
	b.note("press", day0, 90, 1, rpe(9))
	res := b.run(t, nil)
	if len(res.Doubts) != 1 || res.Doubts[0].Text != "the hand log calls this press, the unit bench press: loads and reps agree" ||
		len(res.Doubts[0].Places) != 2 {
		t.Errorf("%+v", res.Doubts)
	}
	if l := ledgerOf(t, res, "log.csv"); l.Alone != 2 {
		t.Errorf("%+v", l)
	}
}

// TestOneLineForSeveral: where the log has one line whenever a set was done
// several times, the line speaks of the last; where it has not, it is left apart.
func TestOneLineForSeveral(t *testing.T) {
	for _, often := range []bool{true, false} {
		var b batch
		for day := range rep.Day(4) {
			b.day(rep.Squat, day0+day, "60x5", "100x3", "120x5", "120x5", "120x5")
			b.note(rep.Squat, day0+day, 100, 3, rpe(7))
			lines := 1
			if !often && day < 3 {
				lines = 3
			}
			for range lines {
				b.note(rep.Squat, day0+day, 120, 5, rpe(8.5))
			}
		}
		sets := setsOf(b.run(t, nil), rep.Squat, day0+3)
		joined := []int{}
		for i, s := range sets {
			if s.Log != nil && len(s.Rows) > 0 && s.LoadKg.V == 120 {
				joined = append(joined, i)
			}
		}
		want := []int{}
		if often {
			want = []int{4}
		}
		if !slices.Equal(joined, want) {
			t.Errorf("always one line: %t; joined to sets %v, want %v", often, joined, want)
		}
	}
}

// TestLogCutsSets: an export with neither marks nor rep numbers nor times leaves
// sets at one load as one; the log says where each ends, though it forgot one.
// A short movement is no rep of the count.
func TestLogCutsSets(t *testing.T) {
	for _, logged := range []int{3, 2} {
		var b batch
		b.season(rep.Squat, 6, 0.55)
		var rows []int32
		for set := range 3 {
			part := b.set(rep.Squat, day0, 9, 110, 0.55, 0.55, 4)
			b.reps.ROM.Put(part[0], rep.Some(0.08)) // the bar taken out
			b.reps.MeanVelocity.Set(part[0], 0.2)
			rows = append(rows, part...)
			if set < logged {
				b.note(rep.Squat, day0, 110, 3, func(n *rep.SetNote) { n.RPE = rep.Some(7 + float64(set)) })
			}
		}
		for _, r := range rows {
			b.reps.SetMark.Put(r, rep.Null[int32]{})
			b.reps.RepRecorded.Put(r, rep.Null[int32]{})
		}
		res := b.run(t, nil)
		var reps []int32
		for _, s := range setsOf(res, rep.Squat, day0) {
			if s.LoadKg.V == 110 && s.Reps > 0 {
				reps = append(reps, s.Reps)
			}
		}
		if !slices.Equal(reps, []int32{3, 3, 3}) {
			t.Errorf("%d sets logged: reps of sets %v", logged, reps)
		}
	}
}

// TestLogLoads: a log that all season writes loads in another way than the unit
// is joined by what they mean, and the coach is told once a lift; typing slips of
// single lines are no such way.
func TestLogLoads(t *testing.T) {
	for _, c := range []struct {
		name, want string
		log        func(unit float64) float64
	}{
		{"without the bar", "the unit's and the bar's 20 kg", func(x float64) float64 { return x + 20 }},
		{"one side", "what is on one side of a bar of 20 kg", func(x float64) float64 { return (x - 20) / 2 }},
		{"as it is", "", func(x float64) float64 { return x }},
	} {
		var b batch
		for w := range 4 {
			day := day0 + rep.Day(7*w)
			b.day(rep.Squat, day, "60x5", "82.5x3", "107.5x2", "117.5x1")
			for i, x := range []float64{60, 82.5, 107.5, 117.5} {
				b.note(rep.Squat, day, c.log(x), []int32{5, 3, 2, 1}[i], rpe(5+float64(i)))
			}
		}
		res := b.run(t, nil)
		for _, s := range res.Sets.All() {
			if s.Log == nil || s.Log.Reps.V != s.Reps || s.Log.LoadKg.V != c.log(s.LoadKg.V) {
				t.Errorf("%s: %v kg joined to %+v", c.name, s.LoadKg, s.Log)
			}
		}
		told := 0
		for _, d := range res.Doubts {
			if d.Topic == clean.LogDisagrees {
				told++
				if c.want == "" || !strings.Contains(d.Text, c.want) {
					t.Errorf("%s: %s", c.name, d.Text)
				}
			}
		}
		if (told == 1) != (c.want != "") {
			t.Errorf("%s: told %d times", c.name, told)
		}
	}
}

// TestRoundedLog: loads that a log rounds are told once, not set by set.
func TestRoundedLog(t *testing.T) {
	var b batch
	for w := range 3 {
		day := day0 + rep.Day(7*w)
		b.day(rep.Squat, day, "60x5", "90x3", "107.5x2", "120x1")
		for i, x := range []float64{61.2, 90.7, 108.9, 120.2} { // 135, 200, 240, 265 lb
			b.note(rep.Squat, day, x, []int32{5, 3, 2, 1}[i], nil)
		}
	}
	told := 0
	for _, d := range b.run(t, nil).Doubts {
		if d.Topic == clean.LogDisagrees {
			told++
		}
	}
	if told > 4 { // once for all that rounding explains; 108.9 for 107.5 is more
		t.Errorf("told %d times", told)
	}
}
