//go:build ignore

// Measure cleans simulated seasons and prints what was found, by kind, beside
// a plain baseline: one fixed travel, one fixed speed, and exact copies.
//
//	go run clean/simulate/measure.go -seasons 200 -seed 1000
//	go run clean/simulate/measure.go -seasons 200 -seed 1000 -off rack
//	go run clean/simulate/measure.go -seasons 200 -seed 1000 -each
//
// -elsewhere measures on the seasons of package elsewhere, -off leaves one filter out, -each leaves every one out in turn and prints what
// it costs; -list shows so many wrong rows.
package main

import (
	"flag"
	"fmt"
	"os"

	"repsift/clean"
	"repsift/clean/simulate"
	"repsift/clean/simulate/elsewhere"
	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// world makes a season.
var world = simulate.New

func main() {
	seasons := flag.Int("seasons", 200, "seasons")
	seed := flag.Uint64("seed", 1000, "first seed")
	off := flag.String("off", "", "filter kind to leave out")
	each := flag.Bool("each", false, "leave out every filter in turn")
	there := flag.Bool("elsewhere", false, "seasons of the other world")
	list := flag.Int("list", 0, "list so many wrong rows")
	flag.Parse()
	if *there {
		world = elsewhere.New
	}
	if *each {
		leaveOut(*seasons, *seed)
		return
	}
	full, plain := run(*seasons, *seed, *off, *list)
	show(full, plain)
}

// run cleans seasons with one filter left out, or none.
func run(seasons int, seed uint64, off string, list int) (full, plain simulate.Tally) {
	declared := new(season.Season)
	if off != "" {
		k, ok := rep.KindOf(off)
		if !ok {
			fmt.Fprintf(os.Stderr, "no filter %q\n", off)
			os.Exit(2)
		}
		declared.Filters = []season.Filter{{Kind: k, Off: true}}
	}
	for i := range seasons {
		s := world(seed + uint64(i))
		plain.Add(s, simple(s.Batch.Reps), nil)
		res, err := clean.Run(s.Batch, declared)
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		aside := make([]bool, len(s.Rows))
		for _, a := range res.Aside {
			aside[a.Row] = true
			if r := s.Rows[a.Row]; list > 0 && r.Real() && a.Filter != rep.Duplicate && a.Filter != rep.SecondDevice {
				list--
				fmt.Printf("seed %d row %d %s: %s: %s  %s\n", seed+uint64(i), a.Row, r.What, a.Filter, a.Reason, text(res.Reps.Rep(a.Row)))
			}
		}
		for _, row := range res.Kept {
			if r := s.Rows[row]; list > 0 && !r.Real() && (r.Travel || r.Time || r.Count) {
				list--
				fmt.Printf("seed %d row %d %s kept (travel %t time %t count %t): %s\n", seed+uint64(i), row, r.What, r.Travel, r.Time, r.Count,
					text(res.Reps.Rep(row)))
			}
		}
		full.Add(s, aside, res)
	}
	return full, plain
}

// leaveOut prints what each filter is worth: the same seasons without it.
func leaveOut(seasons int, seed uint64) {
	fmt.Printf("%-16s %12s %12s %12s %12s %12s\n", "without", "false found", "of all", "reps lost", "copies left", "two units")
	for _, k := range append([]string{""}, rep.KindNames()...) {
		t, _ := run(seasons, seed, k, 0)
		evident, found, all, foundAll := found(&t)
		name := k
		if k == "" {
			name = "(all run)"
		}
		fmt.Printf("%-16s %11.3f%% %11.3f%% %11.4f%% %11.3f%% %11.3f%%\n", name, share(found, evident), share(foundAll, all), share(t.Lost, t.Reps),
			share(t.CopiesLeft, t.Copied), share(t.SeenLeft, t.Seen))
	}
}

// found sums the false rows and those that were found.
func found(t *simulate.Tally) (evident, found, all, foundAll int) {
	for w := range simulate.Whats {
		if !w.Real() {
			all, foundAll = all+t.Kept[w]+t.Aside[w], foundAll+t.Aside[w]
			evident, found = evident+t.EvidentKept[w]+t.EvidentAside[w], found+t.EvidentAside[w]
		}
	}
	return
}

// show prints the table.
func show(full, plain simulate.Tally) {
	fmt.Printf("%-20s %8s %8s %9s %9s   %9s\n", "false rows", "all", "evident", "found", "of all", "baseline")
	base := 0
	for w := simulate.Whats - 1; w > 0; w-- {
		if w.Real() {
			continue
		}
		n, a := full.Kept[w]+full.Aside[w], full.EvidentKept[w]+full.EvidentAside[w]
		fmt.Printf("%-20s %8d %8d %8.2f%% %8.2f%%   %8.2f%%\n", w, n, a, share(full.EvidentAside[w], a), share(full.Aside[w], n), share(plain.Aside[w], n))
		base += plain.Aside[w]
	}
	evident, caught, all, caughtAll := found(&full)
	fmt.Printf("%-20s %8d %8d %8.2f%% %8.2f%%   %8.2f%%\n", "all", all, evident, share(caught, evident), share(caughtAll, all), share(base, all))
	fmt.Printf("\n%-34s %9s   %9s\n", "of the reps done", "repsift", "baseline")
	line := func(what string, n, of, m, mof int) {
		fmt.Printf("%-34s %8.3f%%   %8.3f%%   (%d of %d)\n", what, share(n, of), share(m, mof), n, of)
	}
	line("lost", full.Lost, full.Reps, plain.Lost, plain.Reps)
	line("lost, grinders and paused", full.SlowLost, full.Slow, plain.SlowLost, plain.Slow)
	line("copies left in", full.CopiesLeft, full.Copied, plain.CopiesLeft, plain.Copied)
	line("counted from two units", full.SeenLeft, full.Seen, plain.SeenLeft, plain.Seen)
	fmt.Printf("\nmisses recognised %.1f%% of %d; other reps marked missed %d\n", share(full.MissesSeen, full.Misses), full.Misses, full.FalseMisses)
	fmt.Printf("halves put together %.1f%% of %d\n", share(full.Halves, full.HalvesAll), full.HalvesAll)
	fmt.Printf("mistyped loads flagged %.1f%% of %d sets; right loads flagged %d sets\n", share(full.WrongFlagged, full.WrongLoads), full.WrongLoads,
		full.RightFlagged)
	fmt.Printf("logged sets of recorded sets: %d; joined right %.2f%%, wrong %.3f%%, left apart %.2f%%\n", full.Logged, share(full.Joined, full.Logged),
		share(full.Wrong, full.Logged), share(full.Logged-full.Joined-full.Wrong, full.Logged))
}

func share(n, of int) float64 {
	if of == 0 {
		return 0
	}
	return 100 * float64(n) / float64(of)
}

func text(r rep.Rep) string {
	return fmt.Sprintf("%s %s %.1f kg set %d rep %d v %.3f peak %.2f rom %.3f t %.2f", r.Date, r.Lift, r.LoadKg, r.SetMark.Or(-1),
		r.RepRecorded.Or(-1), r.MeanVelocity, r.PeakVelocity.Or(-1), r.ROM.Or(-1), r.Concentric.Or(-1))
}

// simple is the plain way: travel under 25 cm or mean speed over 1.5 m/s is no
// rep, and neither is a row whose values stand in another source already.
func simple(t *rep.Table) []bool {
	type values struct {
		day       rep.Day
		lift      rep.Sym
		load, v   float64
		peak, rom rep.Null[float64]
	}
	from := map[values]rep.Sym{}
	out := make([]bool, t.Len())
	for i := range out {
		row := int32(i)
		k := values{t.Date.At(row), t.Lift.At(row), t.LoadKg.Get(row), t.MeanVelocity.Get(row), t.PeakVelocity.At(row), t.ROM.At(row)}
		other, ok := from[k]
		out[i] = t.ROM.Get(row) < 0.25 || t.MeanVelocity.Get(row) > 1.5 || ok && other != t.Source.At(row)
		if !ok {
			from[k] = t.Source.At(row)
		}
	}
	return out
}
