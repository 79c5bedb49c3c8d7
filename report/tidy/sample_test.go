package tidy

import (
	"fmt"
	"math/rand/v2"

	"repsift/clean"
	"repsift/ingest/rep"
)

// sample returns n invented reps with everything in them that a file can get
// wrong: nulls beside zeros, days before 1970, texts of every script, quotes,
// line ends, formulas, values with many digits.
func sample(n int) *clean.Result {
	r := rand.New(rand.NewPCG(1, 2))
	t := new(rep.Table)
	maybe := func(v float64) rep.Null[float64] {
		if r.IntN(4) == 0 {
			return rep.Null[float64]{}
		}
		return rep.Some(v)
	}
	pick := func(of ...string) string { return of[r.IntN(len(of))] }
	res := &clean.Result{Reps: t}
	for i := range n {
		q := rep.Rep{
			Lifter: pick("Ines Duarte", "=HYPERLINK(\"x\")", "Zoë, \"Z\"", "李娜", "-1 + 2;=3"),
			Date:   rep.Day(19000 + i*700/n), Lift: pick("squat", "bench press", "deadlift"),
			Variant: pick("", "", "sumo"), Bar: pick("", "stiff"), Tether: pick("", "centre"), Device: pick("north unit", ""),
			LoadKg: float64(r.IntN(100)) * 2.5, RepRecorded: rep.Some(int32(i%5 + 1)),
			MeanVelocity: float64(r.IntN(1200)) / 1000, PeakVelocity: maybe(float64(r.IntN(2000)) / 1000),
			ROM: maybe(0.1 + 0.2), Concentric: maybe(float64(r.IntN(3000)) / 1000), RPE: maybe(0),
			Further: rep.Further{MeanPropulsive: maybe(0.5), Sticking: maybe(0), TimeToPeak: maybe(float64(r.IntN(3000)) / 1000), Eccentric: maybe(1.25)},
			Missed:  r.IntN(9) == 0, Source: "exports/\u00e4 'b'.csv", Sheet: pick("", "May", "@x\r\ny"), Row: int32(i + 2),
			Session: int32(i*700/n + 1), Set: int32(i/5%8 + 1), Rep: int32(i%5 + 1), Role: rep.Role(1 + r.IntN(4)),
		}
		if r.IntN(3) > 0 {
			q.PerformedAt = rep.Some(rep.Instant(-5000 + int64(i)*86_400_123))
		}
		if q.RPE.OK {
			q.RPEFrom = rep.RPEHandLog
		}
		if i == 0 {
			q.Date = -1
		}
		if r.IntN(5) == 0 {
			q.Flags = q.Flags.With(rep.LoadCheck)
		}
		if r.IntN(9) == 0 {
			q.Flags = q.Flags.With(rep.FlexAllowance)
			q.Recorded.ROM = rep.Some(0.625)
		}
		if r.IntN(50) == 0 {
			q.Recorded.LoadKg = rep.Some(102.05828325)
		}
		aside := r.IntN(10) == 0
		if aside {
			q.Session, q.Set, q.Rep, q.Role = 0, 0, 0, 0
		}
		row := t.Append(&q)
		if aside {
			res.Aside = append(res.Aside, clean.Aside{Row: row, Filter: rep.ShortTravel,
				Reason: fmt.Sprintf("travel %d cm, below the floor", i%20), Measured: maybe(float64(i%20) / 100), Limit: rep.Some(0.2)})
		} else {
			res.Kept = append(res.Kept, row)
		}
	}
	t.SetContent("exports/\u00e4 'b'.csv", [32]byte{1, 2, 3, 4, 5, 6, 7, 8})
	res.Sets = rep.NewSets(
		rep.Set{Lifter: "Ines Duarte", Date: 20500, Session: 1, Lift: "squat", LoadKg: rep.Some(0.0), Number: rep.Some[int32](1), Role: rep.Top,
			Reps: 3, Missed: 1, First: rep.Some(0.5), Fastest: rep.Some(0.51), Last: rep.Some(0.4), Slowest: rep.Some(0.4),
			Loss: rep.Some(0.21568627450980396), RPE: rep.Some(8.5), RPEFrom: rep.RPEHandLog, Device: "north unit",
			Log: &rep.Logged{LoadKg: rep.Some(140.0), Reps: rep.Some[int32](3), RPE: rep.Some(8.5), RPEHigh: rep.Some(9.0),
				Text: "140x3 @8.5-9\tlast one\nslow", Source: "log.xlsx", Sheet: "Ines", Row: 14}, Source: "a.csv", Row: 3},
		rep.Set{Lifter: "Zoë", Date: 20501, Lift: "deadlift", Log: &rep.Logged{Text: "+5 than last week", Source: "log.xlsx", Sheet: "Z", Row: 2},
			Source: "log.xlsx", Sheet: "Z", Row: 2},
	)
	res.Unread = []rep.Unread{
		{Lost: rep.LostRow, Place: rep.Place{Source: "a.csv", Row: 214, Column: "Gewicht"}, Text: "12O", Problem: `"12O" is not a number`},
		{Lost: rep.LostCell, Place: rep.Place{Source: "b.xlsx", Sheet: "May"}, Text: "=1+2\";=1+2", Problem: "a formula without a value"},
		{Lost: rep.LostCell, Place: rep.Place{Source: "b.xlsx"}, Problem: "empty"},
	}
	return res
}
