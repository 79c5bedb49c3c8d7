package ingest

import "testing"

func TestMidnight(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       [][2]string // session day, moment
	}{
		{"timestamps", "time,lifter,lift,load (kg),rep,velocity (m/s)\n2026-01-05 23:50,Ines,squat,100,1,0.5\n2026-01-06 00:10,Ines,squat,100,1,0.5\n2026-01-06 05:30,Ines,squat,100,1,0.5\n2026-01-06 18:00,Ines,squat,100,1,0.5\n", [][2]string{
			{"2026-01-05", "2026-01-05T23:50:00.000Z"}, {"2026-01-05", "2026-01-06T00:10:00.000Z"}, {"2026-01-06", "2026-01-06T05:30:00.000Z"}, {"2026-01-06", "2026-01-06T18:00:00.000Z"}}},
		{"the session's day and a clock", "date,time of day,lifter,lift,load (kg),rep,velocity (m/s)\n2026-01-05,23:50,Ines,squat,100,1,0.5\n2026-01-05,00:10,Ines,squat,100,1,0.5\n2026-01-05,00:14,Ines,squat,100,1,0.5\n", [][2]string{
			{"2026-01-05", "2026-01-05T23:50:00.000Z"}, {"2026-01-05", "2026-01-06T00:10:00.000Z"}, {"2026-01-05", "2026-01-06T00:14:00.000Z"}}},
		{"newest first", "time,lifter,lift,load (kg),rep,velocity (m/s)\n2026-01-06 00:10,Ines,squat,100,1,0.5\n2026-01-05 23:50,Ines,squat,100,1,0.5\n", [][2]string{
			{"2026-01-05", "2026-01-06T00:10:00.000Z"}, {"2026-01-05", "2026-01-05T23:50:00.000Z"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := one(t, "may.csv", c.text, "")
			for i, want := range c.want {
				x := r.Reps.Rep(int32(i))
				if got := [2]string{x.Date.String(), x.PerformedAt.V.String()}; got != want {
					t.Errorf("rep %d: got %v, want %v", i+1, got, want)
				}
			}
		})
	}
}
