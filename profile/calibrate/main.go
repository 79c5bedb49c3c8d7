// Command calibrate measures how often the intervals of a profile hold the
// truth, and how far its numbers are off beside the way coaches do it by hand,
// on simulated lifters whose truth is known.
//
//	go run ./profile/calibrate [-runs N] [-seed N] effort|lines|e1rm|readiness|agreement|blocks …
//
// Without a name it runs all. The simulated lifters go through [profile.All]
// like real ones. Equal arguments print equal figures. The figures quoted in
// doc comments come from the default number of runs and seed.
package main

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"sync"
)

// programs in the order in which they run.
var programs = []struct {
	name string
	run  func(runs int, seed uint64)
}{
	{"effort", effort},
	{"lines", lines},
	{"e1rm", e1rm},
	{"readiness", readiness},
	{"agreement", agreement},
	{"blocks", blocks},
}

func main() {
	runs := flag.Int("runs", 1000, "simulated lifters a line of figures")
	seed := flag.Uint64("seed", 1, "seed of the simulation")
	flag.Parse()
	for _, name := range flag.Args() {
		if !slices.ContainsFunc(programs, func(p struct {
			name string
			run  func(int, uint64)
		}) bool {
			return p.name == name
		}) {
			fmt.Fprintf(os.Stderr, "calibrate: there is no %q\n", name)
			os.Exit(2)
		}
	}
	for _, p := range programs {
		if flag.NArg() == 0 || slices.Contains(flag.Args(), p.name) {
			p.run(*runs, *seed)
		}
	}
}

// each calls f for runs 0 … n−1 on all cores, each with a random source of its
// own, so that figures do not depend on the number of cores.
func each(n int, seed uint64, f func(run int, r *rand.Rand)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				f(i, rand.New(rand.NewPCG(scramble(seed), scramble(seed+uint64(i)<<20))))
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}

// scramble spreads neighbouring seeds over all bits (Steele, Lea, Flood 2014,
// Fast splittable pseudorandom number generators, the finishing mix).
func scramble(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
