package screen

import (
	"fmt"
	"strings"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
)

// club returns a result of so many lifters of two lifts: of the last lifter's
// squats most is set aside.
func club(lifters int) *clean.Result {
	res := &clean.Result{Reps: new(rep.Table)}
	for i := range lifters {
		for _, lift := range []string{rep.Squat, rep.BenchPress} {
			for k := range 4 {
				row := res.Reps.Append(&rep.Rep{Lifter: fmt.Sprintf("Lifter %04d", i), Lift: lift, Source: fmt.Sprintf("%d.csv", i)})
				if k == 0 || i == lifters-1 && lift == rep.Squat && k < 3 {
					res.Aside = append(res.Aside, clean.Aside{Row: row, Filter: rep.ShortTravel})
				} else {
					res.Kept = append(res.Kept, row)
				}
			}
		}
		res.Ledger = append(res.Ledger, rep.Ledger{Source: fmt.Sprintf("%d.csv", i), Rows: 8, RepRows: 8, Unread: i % 2, Reps: 8, Kept: 6, SetAside: 2})
	}
	return res
}

// TestLongTables: a club's tables are shown whole, a federation's in forty lines
// that hold what matters most, with all reps counted and where the rest is.
func TestLongTables(t *testing.T) {
	for _, lifters := range []int{3, 20, 21, 3000} {
		res := club(lifters)
		var b strings.Builder
		s := &Screen{W: &b, Width: 100}
		s.Kept(res)
		kept := b.String()
		b.Reset()
		s.Ledger(res.Ledger)
		ledger := b.String()
		if n := strings.Count(kept, "\n") + strings.Count(ledger, "\n"); n > 2*mostRows+20 {
			t.Errorf("%d lifters: %d lines", lifters, n)
		}
		last := fmt.Sprintf("Lifter %04d", lifters-1)
		line := kept[strings.Index(kept, last):]
		if line, _, _ = strings.Cut(line, "\n"); lifters > 20 && !strings.Contains(line, "short travel 3") {
			t.Errorf("%d lifters: the last, of whom most was set aside, is not shown so: %q", lifters, line)
		}
		whole := lifters <= 20
		if all := strings.Count(kept, "Lifter 0") == lifters; all != whole {
			t.Errorf("%d lifters: all shown is %v\n%s", lifters, all, kept)
		}
		if !whole && (!strings.Contains(kept, "squat") || !strings.Contains(kept, Count(3*lifters)) || !strings.Contains(kept, "the table of sets tells")) {
			t.Errorf("%d lifters: bench presses of all are not counted:\n%s", lifters, kept)
		}
		if !strings.Contains(ledger, Count(6*lifters)) || (lifters > mostRows) != strings.Contains(ledger, "run.json tells") {
			t.Errorf("%d sources:\n%s", lifters, ledger)
		}
	}
}
