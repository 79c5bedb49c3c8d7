package rep

import (
	"crypto/sha256"
	"math/rand/v2"
	"testing"
)

// randomRep draws a rep in which every field is sometimes missing.
func randomRep(r *rand.Rand) Rep {
	text := func(from ...string) string { return from[r.IntN(len(from))] }
	maybe := func(v float64) Null[float64] { return Null[float64]{V: v, OK: true} }
	null := func() Null[float64] {
		if r.IntN(3) == 0 {
			return Null[float64]{}
		}
		return maybe(float64(r.IntN(5))) // 0 is a value, not a null
	}
	rep := Rep{
		Lifter: text("Ines Duarte", "Joss Alder"), Date: Day(r.IntN(20000)), Lift: text(Squat, Deadlift),
		Variant: text("", "sumo"), Bar: text("", StiffBar), Tether: text("", TetherCentre), Device: text("", "north unit", HandLog),
		LoadKg: float64(r.IntN(200)), MeanVelocity: r.Float64(), PeakVelocity: null(), ROM: null(), Concentric: null(),
		RPE: null(), RPEFrom: RPEFrom(r.IntN(3)), Missed: r.IntN(2) == 0,
		Further:  Further{MeanPropulsive: null(), Sticking: null(), TimeToPeak: null(), Eccentric: null()},
		LoadStep: text2step(r), MeanStep: text2step(r), PeakStep: text2step(r), ROMStep: text2step(r),
		Source: text("a.csv", "b.csv"), Sheet: text("", "May"), Row: int32(r.IntN(1000)),
	}
	if r.IntN(2) == 0 {
		rep.PerformedAt = Some(Instant(r.IntN(2) * 1e12)) // the epoch is a moment, not a null
		rep.SetMark, rep.RepRecorded = Some(int32(0)), Some(int32(r.IntN(9)))
		rep.Recorded.LoadKg = Some(0.0)
	}
	return rep
}

func text2step(r *rand.Rand) float64 { return []float64{0, 0.001, 0.01, 2.5}[r.IntN(4)] }

func TestTableKeepsEveryField(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var a, b Table
	var want []Rep
	for range 200 {
		rep := randomRep(r)
		want = append(want, rep)
		a.Append(&rep)
	}
	for range 200 {
		rep := randomRep(r)
		want = append(want, rep)
		b.Append(&rep)
	}
	a.Extend(&b)
	for i, w := range want {
		if got := a.Rep(int32(i)); got != w {
			t.Fatalf("row %d:\n got %+v\nwant %+v", i, got, w)
		}
	}
}

// A rep keeps its id when its file is renamed, and other reps are read before
// it; it changes with content, sheet, row and position.
func TestIDStable(t *testing.T) {
	id := func(source, sheet, content string, row, position int32, before int) uint64 {
		var u, all Table
		for i := range before {
			all.Append(&Rep{Source: "before.csv", Row: int32(i), Lifter: "someone else"})
		}
		u.Append(&Rep{Source: source, Sheet: sheet, Row: row, RepRecorded: Some(position)})
		u.SetContent(source, sha256.Sum256([]byte(content)))
		all.Extend(&u)
		return all.ID(int32(before))
	}
	first := id("a.csv", "", "x", 7, 1, 0)
	if got := id("renamed.csv", "", "x", 7, 1, 5); got != first {
		t.Errorf("id changed with name and company: %x, %x", got, first)
	}
	for what, other := range map[string]uint64{
		"content":  id("a.csv", "", "y", 7, 1, 0),
		"sheet":    id("a.csv", "May", "x", 7, 1, 0),
		"row":      id("a.csv", "", "x", 8, 1, 0),
		"position": id("a.csv", "", "x", 7, 2, 0),
	} {
		if other == first {
			t.Errorf("id does not depend on %s", what)
		}
	}
}

func TestBalanceNamesTheSum(t *testing.T) {
	good := Ledger{Source: "a.csv", Rows: 10, RepRows: 4, SetNotes: 3, Unread: 1, NotData: 2, Reps: 20, Kept: 15, SetAside: 5, Joined: 1, Alone: 2}
	if err := good.Balance(); err != nil {
		t.Fatal(err)
	}
	for _, spoil := range []func(*Ledger){
		func(l *Ledger) { l.NotData++ }, func(l *Ledger) { l.Kept-- }, func(l *Ledger) { l.Alone++ },
	} {
		bad := good
		spoil(&bad)
		if bad.Balance() == nil {
			t.Errorf("%+v is said to balance", bad)
		}
	}
}

// Format specification of Parquet, LogicalTypes.md: DATE is days since
// 1970-01-01; 2024-01-26 = 19748.
func TestDay(t *testing.T) {
	if d := DayOf(2024, 1, 26); d != 19748 || d.String() != "2024-01-26" {
		t.Errorf("got %d, %s", d, d)
	}
	if d := DayOf(1969, 12, 31); d != -1 {
		t.Errorf("the day before the first is %d", d)
	}
	if _, ok := ValidDay(2026, 2, 29); ok {
		t.Error("29 February 2026 passes as a day")
	}
	if Instant(172800000).String() != "1970-01-03T00:00:00.000Z" { // same source, TIMESTAMP
		t.Error(Instant(172800000))
	}
}

func TestKinds(t *testing.T) {
	for _, name := range KindNames() {
		if k, ok := KindOf(name); !ok || k.String() != name {
			t.Errorf("%q leads to %v", name, k)
		}
	}
	if s := Kinds(0).With(FlexAllowance).With(Correction); s.String() != "correction; flex allowance" {
		t.Errorf("flags read %q", s)
	}
}

func TestColumnsNamedOnce(t *testing.T) {
	for _, table := range [][]Column{Columns, AsideColumns, SetColumns, UnreadColumns} {
		seen := map[string]bool{}
		for _, c := range table {
			if seen[c.Name] || c.Meaning == "" {
				t.Errorf("column %q stands twice or means nothing", c.Name)
			}
			seen[c.Name] = true
		}
	}
}
