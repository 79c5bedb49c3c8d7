package rep

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync"
	"testing"
)

// A table says what was put in, whatever that takes: more texts than fit two
// bytes, days and times far off or finer than a second, numbers of any size,
// more different values than there are codes, all of it beginning anywhere.
func TestTableKeepsAnything(t *testing.T) {
	odd := map[string]func(r *rand.Rand, i int, rep *Rep){
		"nothing": func(*rand.Rand, int, *Rep) {},
		"many texts": func(r *rand.Rand, i int, rep *Rep) {
			rep.Lifter, rep.Sheet = fmt.Sprint("lifter ", i), fmt.Sprint("sheet ", i%9)
		},
		"days":  func(r *rand.Rand, i int, rep *Rep) { rep.Date = DayOf(1900+r.IntN(300), 1, 1) },
		"times": func(r *rand.Rand, i int, rep *Rep) { rep.PerformedAt = Some(Instant(r.Int64N(1e13) - 5e12)) },
		"numbers": func(r *rand.Rand, i int, rep *Rep) {
			rep.SetMark, rep.RepRecorded = Some(r.Int32()), Some(int32(r.IntN(70_000)-3))
		},
		"values": func(r *rand.Rand, i int, rep *Rep) {
			rep.LoadKg, rep.MeanVelocity, rep.ROM, rep.RPE = r.NormFloat64(), math.Copysign(0, -1), Some(r.Float64()), Some(float64(i))
		},
		"missing": func(r *rand.Rand, i int, rep *Rep) { *rep = Rep{Row: rep.Row} },
		"numbering": func(r *rand.Rand, i int, rep *Rep) {
			rep.Session, rep.Set, rep.Rep, rep.Role = int32(i), int32(r.IntN(1e6)), 3, BackOff
		},
	}
	for _, from := range []int{0, 67_000} { // the second from when on values are codes
		for name, spoil := range odd {
			rows := from + 8000
			if name == "values" || name == "many texts" {
				rows = from + 70_000 // more than two bytes tell apart
			}
			r := rand.New(rand.NewPCG(5, uint64(from)))
			var all, piece Table
			var want []Rep
			var coders Coders
			if from == 0 && name != "nothing" {
				all.Grow(70_000) // codes from the first row on
			}
			for len(want) < rows {
				piece.Reset()
				coded := r.IntN(3) > 0
				if coded {
					piece.Code(&coders)
				}
				for n := range 1 + r.IntN(4_000) {
					rep := randomRep(r)
					like := coded && n > 0 && r.IntN(2) == 0
					if rep.LoadKg, rep.MeanVelocity = float64(r.IntN(300))*0.45359237, float64(r.IntN(2000))/1000; len(want) >= from {
						spoil(r, len(want), &rep)
					}
					if like {
						b := &want[len(want)-1]
						rep.Lifter, rep.Lift, rep.Variant, rep.Bar, rep.Tether = b.Lifter, b.Lift, b.Variant, b.Bar, b.Tether
						rep.Device, rep.Source, rep.Sheet = b.Device, b.Source, b.Sheet
					}
					want = append(want, rep)
					codes := Codes{coders[0].Code(rep.LoadKg), coders[1].Code(rep.MeanVelocity)}
					if rep.ROM.OK && r.IntN(2) == 0 {
						codes[3] = coders[3].Code(rep.ROM.V)
					}
					piece.AppendCoded(&rep, &coders, &codes, like)
				}
				piece.Seal()
				all.Extend(&piece)
			}
			for i := int32(0); i < int32(rows); {
				next := all.Lifter.Same(i)
				for row := i + 1; row < next; row++ {
					if want[row].Lifter != want[i].Lifter {
						t.Fatalf("%s from row %d: row %d is not the same lifter as row %d", name, from, row, i)
					}
				}
				if next <= i || next < int32(rows) && want[next].Lifter == want[i].Lifter {
					t.Fatalf("%s from row %d: the lifter of row %d ends before row %d", name, from, i, next)
				}
				i = next
			}
			gathered(t, &all, r.Perm(rows)[:1000])
			for i, w := range want {
				if got := all.Rep(int32(i)); got != w || math.Signbit(got.MeanVelocity) != math.Signbit(w.MeanVelocity) {
					t.Fatalf("%s from row %d, row %d:\n got %+v\nwant %+v", name, from, i, got, w)
				}
			}
		}
	}
}

// gathered fails the test unless columns say of many rows at once what they say
// of each.
func gathered(t *testing.T, all *Table, which []int) {
	t.Helper()
	rows := make([]int32, len(which))
	for i, row := range which {
		rows[i] = int32(row)
	}
	all.Warm(rows)
	texts, days, at := make([]Sym, len(rows)), make([]Day, len(rows)), make([]Instant, len(rows))
	whole, values := make([]int32, len(rows)), make([]float64, len(rows))
	all.Date.Gather(days, rows)
	all.PerformedAt.Gather(at, rows)
	all.SetMark.Gather(whole, rows)
	for i, r := range rows {
		if days[i] != all.Date.At(r) || at[i] != all.PerformedAt.Get(r) || whole[i] != all.SetMark.Get(r) {
			t.Fatalf("row %d gathered: day %v, time %v, mark %v", r, days[i], at[i], whole[i])
		}
	}
	for n, c := range all.texts() {
		c.Gather(texts, rows)
		for i, r := range rows {
			if texts[i] != c.At(r) || c.Constant() && texts[i] != texts[0] {
				t.Fatalf("row %d gathered: text %d is %q", r, n, all.Text.Text(texts[i]))
			}
		}
	}
	for n, c := range all.floats() {
		c.Gather(values, rows)
		for i, r := range rows {
			if math.Float64bits(values[i]) != math.Float64bits(c.Get(r)) {
				t.Fatalf("row %d gathered: number %d is %v, want %v", r, n, values[i], c.Get(r))
			}
		}
	}
}

// Cleaning fills and corrects rows side by side, in a table short or long, with
// values that were there before and with more than there are codes for.
func TestPutSideBySide(t *testing.T) {
	for _, rows := range []int{100, 150_000} {
		r := rand.New(rand.NewPCG(7, 8))
		var all Table
		for range rows {
			all.Append(&Rep{Lifter: "Ines", LoadKg: float64(r.IntN(300)), MeanVelocity: float64(r.IntN(900)) / 1000})
		}
		all.Open(true)
		value := func(i int) float64 {
			if i%2 == 0 {
				return float64(i%700) / 1000
			}
			return 1 + float64(i)
		}
		const workers = 4
		var wg sync.WaitGroup
		for w := range workers {
			wg.Go(func() {
				for i := w; i < rows; i += workers {
					row := int32(i)
					all.MeanVelocity.Set(row, value(i))
					all.RPE.Put(row, Some(float64(6+i%4)))
					all.ROM.Put(row, Null[float64]{V: 1, OK: i%5 == 0})
					all.Session.Put(row, int32(i))
					all.Number.Put(row, int32(i%7))
					all.SetRole(row, Top)
					all.SetMissed(row, i%3 == 0)
					all.SetRPEFrom(row, RPEHandLog)
					if got := all.MeanVelocity.Get(row); got != value(i) {
						t.Errorf("row %d: %v", i, got)
					}
				}
			})
		}
		wg.Wait()
		for i := range rows {
			got := all.Rep(int32(i))
			if got.MeanVelocity != value(i) || got.RPE != Some(float64(6+i%4)) || got.ROM.OK != (i%5 == 0) || got.Session != int32(i) || got.Rep != int32(i%7) ||
				got.Role != Top || got.Missed != (i%3 == 0) || got.RPEFrom != RPEHandLog || got.Set != 0 {
				t.Fatalf("row %d of %d: %+v", i, rows, got)
			}
		}
	}
}

// What reading settles late, names, days and times of rows, is put in one by
// one, whatever stood there.
func TestPutOneByOne(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for _, names := range []int{2, 70_000} {
		var all Table
		var want []Rep
		for range 500 {
			rep := Rep{Lifter: "Ines", Date: 20_000, PerformedAt: Some(Instant(5000)), SetMark: Some(int32(1))}
			want = append(want, rep)
			all.Append(&rep)
		}
		for i := range names {
			all.Text.Intern(fmt.Sprint("lifter ", i))
		}
		for range 2000 {
			i := r.IntN(len(want))
			w := &want[i]
			switch row := int32(i); r.IntN(5) {
			case 0:
				w.Lifter = fmt.Sprint("lifter ", r.IntN(names))
				all.Lifter.Put(row, all.Text.Intern(w.Lifter))
			case 1:
				w.Date = Day(r.IntN(120_000) - 30_000)
				all.Date.Put(row, w.Date)
			case 2:
				w.PerformedAt = Null[Instant]{OK: r.IntN(3) > 0}
				if w.PerformedAt.OK {
					w.PerformedAt.V = Instant(r.Int64N(1e12))
				}
				all.PerformedAt.Put(row, w.PerformedAt)
			case 3:
				w.SetMark = Null[int32]{}
				if r.IntN(3) > 0 {
					w.SetMark = Some(r.Int32() >> r.IntN(32))
				}
				all.SetMark.Put(row, w.SetMark)
			case 4:
				w.RPE = Some(float64(r.IntN(10)))
				all.RPE.Put(row, w.RPE)
			}
			if got := all.Rep(int32(i)); got != *w {
				t.Fatalf("row %d: %+v, want %+v", i, got, *w)
			}
		}
		for i, w := range want {
			if got := all.Rep(int32(i)); got != w {
				t.Fatalf("row %d in the end: %+v, want %+v", i, got, w)
			}
		}
	}
}
