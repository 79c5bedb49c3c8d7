package date

import (
	"math/rand/v2"
	"testing"
	"time"

	"repsift/ingest/rep"
)

// TestZone holds what is looked up for months to what package time says of each
// moment, also around changes of the clocks and before there were zones.
func TestZone(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, name := range []string{"UTC", "Europe/Lisbon", "America/St_Johns", "Australia/Lord_Howe", "Asia/Kathmandu", "Pacific/Apia", "Africa/Casablanca"} {
		loc, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		z, local := ZoneOf(loc), ZoneOf(loc)
		at := rep.InstantOf(time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC))
		for range 30_000 {
			switch r.IntN(50) {
			case 0:
				at = rep.Instant(r.Int64N(4e12) - 1e12)
			default:
				at += rep.Instant(r.Int64N(2*3600_000*24) - 86_400_000/2)
			}
			is := at.Time().In(loc)
			h, m, s := is.Clock()
			if want := time.Duration((h*60+m)*60+s) * time.Second; z.Clock(at) != want {
				t.Fatalf("%s, %s: the clock shows %s, want %s", name, at, z.Clock(at), want)
			}
			if want := rep.DayOf(is.Date()); z.Day(at) != want {
				t.Fatalf("%s, %s: it is %s, want %s", name, at, z.Day(at), want)
			}
			_, change := is.ZoneBounds()
			switch end := z.Tomorrow(at); {
			case end <= at || z.Day(end-1) != z.Day(at):
				t.Fatalf("%s, %s: the day lasts till %s", name, at, end)
			case is.Year() < 2038 && z.Day(end) == z.Day(at) && end != rep.InstantOf(change):
				t.Fatalf("%s, %s: the day ends at %s", name, at, end)
			}
			day, ms := rep.DayOf(is.Date()), int32(r.IntN(86_400_000))
			if want := (Stamp{Day: day, Clock: rep.Some(ms)}).In(loc).Instant.V; local.Instant(day, ms) != want {
				t.Fatalf("%s, %s and %d ms: %s, want %s", name, day, ms, local.Instant(day, ms), want)
			}
		}
	}
}
