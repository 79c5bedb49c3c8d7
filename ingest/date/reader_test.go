package date

import (
	"math/rand/v2"
	"testing"

	"repsift/ingest/rep"
)

// A Reader says of every text what Parse says, whatever it read before.
func TestReaderIsParse(t *testing.T) {
	days := []string{"2026-04-05", "2026-04-06", "5.4.2026", "05.04.26", "4/5/2026", "31.4.2026", "26-04-05", "2026-4-5", "2026-04", "20260405", "5 Apr 2026"}
	clocks := []string{"", "T10:15", " 10:15:30", "T10:15:30.250", "T23:59:59Z", "T00:30:00+02:00", " 24:00", " 10.15", " 6:05 PM", "T", " ", " 10:15:61", "x"}
	r := rand.New(rand.NewPCG(1, 2))
	for order := AnyOrder; order <= YearMonthDay; order++ {
		reader := Reader{Order: order}
		for range 20_000 {
			text := days[r.IntN(len(days))] + clocks[r.IntN(len(clocks))]
			day, ms, local := reader.Local(text)
			got, err := reader.Parse(text)
			if local && (err != nil || got != Stamp{Day: day, Clock: rep.Some(ms)}) {
				t.Fatalf("%q, order %q: local %v, %d; Parse says %+v, %v", text, order, day, ms, got, err)
			}
			want, wrong := Parse(text, order)
			if got != want || (err == nil) != (wrong == nil) || err != nil && err.Error() != wrong.Error() {
				t.Fatalf("%q, order %q: %+v, %v; Parse says %+v, %v", text, order, got, err, want, wrong)
			}
		}
	}
}
