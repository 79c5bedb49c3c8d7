package shape

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
)

// TestLongColumns: far down a table, where texts are known from rows above,
// each row is still read as it is read alone: numbers, numbers with units of
// their own, marks of a miss, texts that are no numbers, and loads whose unit
// stands beside them.
func TestLongColumns(t *testing.T) {
	loads := []string{"225", "225", "100 kg", "102.5", "1,000.5", "12O", "", "-", "45%"}
	speeds := []string{"50", "48.5", "0.41 m/s", "41,3", "12 x", "x", "missed", "", "n/a", "1.2345678", "48.50"}
	units := []string{"", "kg", "lb", "stones"}
	r := rand.New(rand.NewPCG(3, 4))
	var lines []string
	for range 4000 {
		lines = append(lines, strings.Join([]string{"Ines", "5/3/2026", "squat", loads[r.IntN(len(loads))], speeds[r.IntN(len(speeds))], units[r.IntN(len(units))]}, "|"))
	}
	data := rows(lines...)
	for _, beside := range []bool{false, true} {
		p := repRowPlan(t)
		if beside {
			p.Cells = append([]Cell{{Index: 5, Field: column.LoadUnit, Heading: "unit"}}, p.Cells...)
		}
		long, alone := Sink{Reps: &rep.Table{}}, Sink{Reps: &rep.Table{}}
		d := NewDecoder(p, &long)
		for i := range data {
			before, lost := long.Reps.Len(), len(long.Unread)
			beforeAlone, lostAlone := alone.Reps.Len(), len(alone.Unread)
			a, b := d.Row(&data[i]), NewDecoder(p, &alone).Row(&data[i])
			if a != b || long.Reps.Len()-before != alone.Reps.Len()-beforeAlone || fmt.Sprint(long.Unread[lost:]) != fmt.Sprint(alone.Unread[lostAlone:]) {
				t.Fatalf("row %q: %v, %v; alone %v, %v", lines[i], a, long.Unread[lost:], b, alone.Unread[lostAlone:])
			}
			if n := int32(before); a == RepRow && long.Reps.Rep(n) != alone.Reps.Rep(n) {
				t.Fatalf("row %q: %+v; alone %+v", lines[i], long.Reps.Rep(n), alone.Reps.Rep(n))
			}
		}
		if long.Reps.Len() < 500 || len(long.Unread) < 500 {
			t.Fatalf("%d reps, %d lost: the rows are not what they should be", long.Reps.Len(), len(long.Unread))
		}
	}
}
