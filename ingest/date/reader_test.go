package date

import (
	"math/rand/v2"
	"testing"
	"time"

	"repsift/ingest/rep"
)

// A Reader says of every text what Parse says, whatever it read before.
func TestReaderIsParse(t *testing.T) {
	days := []string{"2026-04-05", "2026-04-06", "5.4.2026", "05.04.26", "4/5/2026", "31.4.2026", "26-04-05", "2026-4-5", "2026-04", "20260405", "5 Apr 2026"}
	clocks := []string{"", "T10:15", " 10:15:30", "T10:15:30.250", "T23:59:59Z", "T00:30:00+02:00", " 24:00", " 10.15", " 6:05 PM", "T", " ", " 10:15:61", "x"}
	places := []*time.Location{time.UTC, time.FixedZone("east", 11*3600), time.FixedZone("west", -9*3600)}
	seen := make(map[bool]int)
	r := rand.New(rand.NewPCG(1, 2))
	for order := AnyOrder; order <= YearMonthDay; order++ {
		reader := Reader{Order: order}
		place := places[int(order)%len(places)]
		zone := ZoneOf(place)
		for range 20_000 {
			text := days[r.IntN(len(days))] + clocks[r.IntN(len(clocks))]
			day, at, on := reader.On(text, &zone)
			got, err := reader.Parse(text)
			if s := got.In(place); on && (err != nil || s.Day != day || s.Instant != rep.Some(at)) {
				t.Fatalf("%q, order %q: on %s at %s; Parse says %+v, %v", text, order, day, at, s, err)
			}
			seen[on]++
			want, wrong := Parse(text, order)
			if got != want || (err == nil) != (wrong == nil) || err != nil && err.Error() != wrong.Error() {
				t.Fatalf("%q, order %q: %+v, %v; Parse says %+v, %v", text, order, got, err, want, wrong)
			}
		}
	}
	if seen[true] < 1000 || seen[false] < 1000 {
		t.Errorf("on the day before or not: %v", seen)
	}
}
