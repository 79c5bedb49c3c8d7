package card

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile"
)

// The numbers here are invented: they fill every part of a page.

func est(value, half float64, n int, of string) profile.Estimate {
	return profile.Estimate{Known: true, Value: value, Lo: value - half, Hi: value + half, Level: 0.95, N: n, Of: of}
}

func notEnough(have, need int, of string) profile.Estimate {
	return profile.Estimate{Need: need, Have: have, Of: of}
}

const monday = rep.Day(20458) // 2026-01-05

// fullLift is a lift with all there can be, over so many weeks of three
// sessions.
func fullLift(name string, weeks int) profile.Lift {
	to := monday + rep.Day(7*weeks)
	span := profile.Span{From: monday, To: to, Days: 3 * weeks}
	l := profile.Lift{Lift: name, Sets: 9 * weeks, Reps: 40 * weeks, Span: span,
		Main:    profile.Group{Variant: "paused", Bar: "stiff", Tether: "inside sleeve", Device: "north unit"},
		E1RMNow: est(152.4, 4, 20, "sessions"), E1RMOn: to, Cautions: []string{"One caution.", "The same twice."},
		E1RMNotes: []string{"The same twice."}, E1RMTrend: profile.E1RMTrend{From: profile.FromRepSet, PerWeek: est(0.6, 0.3, 19, "sessions"), P: 0.01}}
	l.Effort = profile.EffortChart{EffortLine: profile.EffortLine{Sets: 53, Days: 22, AtRPE8: est(0.35, 0.01, 53, "sets with RPE and speed"),
		PerRPE: est(-0.034, 0.008, 53, "sets with RPE and speed"), PriorSay: "before any set something is assumed"}, DriftPerWeek: notEnough(3, 12, "sets with RPE and speed")}
	for r := 6.0; r <= 10; r += 0.5 {
		v := 0.35 - 0.034*(r-8)
		l.Effort.ByRPE = append(l.Effort.ByRPE, profile.AtRPE{RPE: r, Speed: est(v, 0.06, 53, "sets")})
		l.Effort.Levels = append(l.Effort.Levels, profile.EffortLevel{RPE: r, Sets: 5, Slowest: profile.Number(v), SD: 0.02, Last: profile.Number(v), LastSD: profile.Number(math.NaN())})
		l.Effort.BySpeed = append(l.Effort.BySpeed, profile.ToRPE{Speed: profile.Number(v), RPE: est(r, 1, 53, "sets")})
		l.VelocityLoss.ByRPE = append(l.VelocityLoss.ByRPE, profile.LossAtRPE{RPE: r, Sets: 4, Loss: 0.2, SD: 0.05})
	}
	l.LoadVelocity = profile.LoadVelocity{Points: 8 * weeks, Span: span, Intercept: est(1.3, 0.03, 8*weeks, "loads × days"), Slope: est(-0.007, 0.0004, 8*weeks, "loads × days"),
		DaySD: 0.02, DaySDLo: 0.012, DaySDHi: 0.031, Scatter: 0.02, V1RM: est(0.24, 0.05, 9, "sessions"), V1RMFrom: "own top singles"}
	for p := 100; p >= 50; p -= 5 {
		kg := 1.524 * float64(p)
		l.LoadVelocity.Table = append(l.LoadVelocity.Table, profile.PercentRow{Percent: p, LoadKg: profile.Number(kg), LoadLo: profile.Number(kg - 4), LoadHi: profile.Number(kg + 4), Fastest: profile.Number(1.3 - 0.007*kg), Lo: profile.Number(1.25 - 0.007*kg), Hi: profile.Number(1.35 - 0.007*kg), Outside: p == 100})
		l.LoadVelocity.Curve = append(l.LoadVelocity.Curve, profile.CurvePoint{LoadKg: profile.Number(kg), Speed: profile.Number(1.3 - 0.007*kg), NextLo: profile.Number(1.25 - 0.007*kg), NextHi: profile.Number(1.35 - 0.007*kg)})
	}
	points := []profile.DayPoint{}
	for d := range 3 * weeks {
		day := monday + rep.Day(d*7/3)
		wave := profile.Number(0.02 * math.Sin(float64(d)))
		for i, kg := range []profile.Number{40, 60, 85, 100, 115, 130, 140} {
			role := rep.WarmUp
			if i > 4 {
				role = rep.Top
			}
			l.LoadVelocity.At = append(l.LoadVelocity.At, profile.DayPoint{Date: day, LoadKg: kg, Speed: 1.3 - 0.007*kg + wave, Role: role.String()})
		}
		points = append(points, profile.DayPoint{Date: day, LoadKg: 100, Speed: 0.6 + wave})
		l.Effort.Points = append(l.Effort.Points, profile.EffortPoint{Date: day, Set: 3, LoadKg: 130, Reps: 3, RPE: 6 + float64(d%9)/2, Slowest: 0.35 + wave, InLine: true})
		verdict := []profile.Verdict{profile.AsUsual, profile.Slower, profile.Faster}[d%3]
		l.Readiness = append(l.Readiness, profile.Readiness{Date: day, LoadKg: 100, Speed: 0.6 + wave, Usual: est(0.6, 0.05, 12, "earlier days"), Verdict: verdict})
		for _, from := range []string{profile.FromSingle, profile.FromRepSet, profile.FromLine} {
			l.E1RM = append(l.E1RM, profile.E1RM{Date: day, From: from, Kg: est(150+10*float64(wave), 5, 1, "sessions"), What: "140 kg × 2 at RPE 9"})
		}
	}
	l.E1RMFrom = []profile.Evidence{{From: profile.FromSingle, N: 4, Latest: to, Kg: est(153, 9, 4, "sessions"), Weight: 0.6}, {From: profile.FromDeclared, N: 1, Latest: monday, Kg: est(150, 8, 1, "maxima"), Weight: 0.4}}
	l.ReadinessNow = profile.Readiness{Date: to, LoadKg: 100, Speed: 0.58, Usual: est(0.6, 0.05, 12, "earlier days"), Verdict: profile.AsUsual, AsSlow: 0.3, TypicalError: 0.03, MDC: 0.08}
	for _, kg := range []profile.Number{60, 100} {
		l.Progress = append(l.Progress, profile.SpeedTrend{LoadKg: kg, Span: span, PerWeek: est(0.005, 0.002, 26, "days"), First: 0.8, Last: 0.86, Points: points})
	}
	l.Progress = append(l.Progress, profile.SpeedTrend{LoadKg: 142.5, PerWeek: notEnough(2, 4, "days")})
	l.PersonalBests = []profile.PersonalBest{{LoadKg: 60, Speed: 0.99, Date: to, Latest: true, Before: 0.98}}
	l.Blocks = []profile.Block{
		{Name: "volume", Declared: true, Span: span, Sessions: 16, Sets: 54, HardSets: 32, Reps: 285, Tonnage: 29170, MeanRPE: est(7.6, 0.6, 40, "sets"), Loss: est(0.21, 0.03, 40, "sets"), E1RM: est(142.5, 3, 9, "sessions")},
		{Name: "peak", Span: span, Sessions: 10, Sets: 36, HardSets: 22, Reps: 109, Tonnage: 13165, MeanRPE: notEnough(2, 4, "sets"), Loss: notEnough(1, 4, "sets"), E1RM: est(154, 9, 9, "sessions"), Against: "volume",
			E1RMChange: est(10.9, 6, 9, "sessions"), SpeedChange: est(0.047, 0.016, 12, "days"), EffortChange: notEnough(2, 8, "sets"), Cautions: []string{"Blocks of other length."}}}
	l.VelocityLoss.Mean, l.VelocityLoss.LossPerRep = est(0.18, 0.03, 82, "sets"), est(0.05, 0.01, 82, "sets")
	for r := 6.0; r < 10; r++ {
		l.VelocityLoss.Stop = append(l.VelocityLoss.Stop, profile.StopAtRPE{RPE: r, Speed: est(0.35-0.034*(r-8), 0.06, 53, "sets")})
		l.VelocityLoss.ByLeft = append(l.VelocityLoss.ByLeft, profile.SpeedLeft{Left: int(r) - 6, Reps: 12, Sets: 6, Speed: profile.Number(0.28 + 0.04*(r-6)), SD: 0.03})
	}
	l.VelocityLoss.StopAtLoss = []profile.StopAtLoss{{Percent: 80, LoadKg: 122, Fastest: 0.44, At: []profile.LossTo{{Loss: 0.1, Speed: 0.4}, {Loss: 0.2, Speed: 0.35}}}}
	l.Splits = []profile.Split{{Group: profile.Group{Bar: "deadlift"}, Sets: 6, Reps: 20, Span: span, Offset: notEnough(0, 4, "loads × days")}}
	return l
}

// bareLift is a lift of which nothing can be said yet.
func bareLift(name string) profile.Lift {
	return profile.Lift{Lift: name, Sets: 2, Reps: 4, Span: profile.Span{From: monday, To: monday, Days: 1}, E1RMNow: notEnough(0, 1, "top singles")}
}

// pageOf is a page over lifts; every text that comes from people is text.
func pageOf(text string, weeks int, lifts ...string) Page {
	lifter := profile.Lifter{Name: text, Span: profile.Span{From: monday, To: monday + rep.Day(7*weeks), Days: 3 * weeks}, Sessions: 3 * weeks}
	res := &clean.Result{Reps: &rep.Table{}}
	for _, name := range lifts {
		l := fullLift(name, weeks)
		l.Main.Variant, l.Main.Device = text, text
		l.Blocks[0].Name, l.Cautions[0] = text, text
		lifter.Lifts = append(lifter.Lifts, l)
		for i := range 10 * 3 * weeks {
			r := rep.Rep{Lifter: text, Lift: name, Date: monday + rep.Day(i/10*7/3), LoadKg: 100, MeanVelocity: 0.5 + 0.001*float64(i%100), ROM: rep.Some(0.5 + 0.001*float64(i%40)), Source: text, Row: int32(i + 2)}
			if i%10 == 0 {
				r.ROM = rep.Some(0.08)
			}
			row := res.Reps.Append(&r)
			if i%10 == 0 {
				res.Aside = append(res.Aside, clean.Aside{Row: row, Filter: rep.ShortTravel, Reason: text})
			} else {
				res.Kept = append(res.Kept, row)
			}
		}
		for i := range 9 * weeks {
			res.Sets.Add(rep.Set{Lifter: text, Lift: name, Variant: text, Date: monday + rep.Day(i), Number: rep.Some(int32(i%3 + 1)), LoadKg: rep.Some(100.0), Reps: 3, Rows: []int32{0},
				Fastest: rep.Some(0.5), Slowest: rep.Some(0.4), Loss: rep.Some(0.2), RPE: rep.Some(8.0), Device: text})
		}
	}
	lifter.Lifts = append(lifter.Lifts, bareLift("box squat"))
	// One that is far off, and a copy.
	for _, k := range []rep.Kind{rep.SpeedLimits, rep.Duplicate} {
		row := res.Reps.Append(&rep.Rep{Lifter: text, Lift: lifts[0], Date: monday, MeanVelocity: 9, ROM: rep.Some(5.0), Source: text, Row: 1})
		res.Aside = append(res.Aside, clean.Aside{Row: row, Filter: k, Reason: text})
	}
	res.Filters = []clean.InForce{{Kind: rep.ShortTravel, Sentence: text}}
	res.Doubts = []clean.Doubt{{Lifter: text, Lift: lifts[0], Date: monday, Text: text, Places: []rep.Place{{Source: text, Row: 3}}}}
	res.Ledger = []rep.Ledger{{Source: text, Rows: 12, RepRows: 10, NotData: 2, Reps: 10, Kept: 9, SetAside: 1}}
	all := &profile.Profiles{Lifters: []profile.Lifter{lifter}, Cautions: []string{"These are estimates from past sets.", text},
		Agreement: []profile.Agreement{{Reference: text, Other: "slate unit", Pairs: 6, Span: lifter.Span, Bias: est(0.02, 0.01, 6, "pairs"), LowerLimit: est(-0.02, 0.01, 6, "pairs"), UpperLimit: est(0.06, 0.01, 6, "pairs"),
			Slope: est(1.1, 0.1, 6, "pairs"), Intercept: est(0.01, 0.02, 6, "pairs"), Points: []profile.PairedReps{{Reference: 0.3, Other: 0.32}, {Reference: 0.5, Other: 0.53}, {Reference: 0.7, Other: 0.71}}, Cautions: []string{text}}}}
	return Page{Season: text, Lifter: &all.Lifters[0], All: all, Result: res, Index: IndexFile}
}

var threeLifts = []string{"squat", "bench press", "deadlift"}

func render(t testing.TB, p Page) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func renderClub(t testing.TB, p Page) string {
	t.Helper()
	c := Club{Season: p.Season, Profiles: p.All, Result: p.Result}
	for i := range p.All.Lifters {
		c.Pages = append(c.Pages, fmt.Sprintf("lifter %d.html", i+1))
	}
	var b bytes.Buffer
	if err := WriteClub(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func renderUnits(t testing.TB, p Page) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteUnits(&b, p.All); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
