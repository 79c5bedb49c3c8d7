package main

import (
	"bytes"
	"fmt"
	"os"
	"runtime/debug"
	"strconv"
	"strings"

	"repsift/ingest"
)

// bytesPerRep is how much memory a run holds at once for each rep read. Measured
// with 10 million reps of lifters of 5,000, and a million of a rich season, where
// half of the reps are set aside and one in thirteen has a logged set:
//
//	go run ./testdata/bench -rows 10000000 -options --tables
//	go run ./testdata/bench -rich -rows 1000000 -options '--tables --memory 400MB'
//
// the first at 120, the room of the garbage collector among them, where the rest is
// for profiles, which stay where pages are written; the second within its limit.
const bytesPerRep = 380

// Where reps are on disk and the lifters are worked on in groups, what a run
// holds at once: that much whatever there is, and that much for each rep of the
// group. So chosen that 3 million reps hold less than their limit, and 10 million
// with 300MB too:
//
//	go run ./testdata/bench -rows 3000000 -options '--tables --memory 150MB'
const (
	groupsBytes      memory = 100 << 20
	groupBytesPerRep        = 120
	// of seasons where many reps are told twice and set aside, each with its reason:
	// a million of -rich hold less than 200MB and 300MB
	groupBytesPerRichRep = 300
	// a logged set, which stays in memory, and what its group makes of it
	bytesPerNote = 500
)

// A workbook holds the sheets of up to 200 lifters until it is saved: measured
// with 1 million reps of so many, 1,262 bytes a rep with all that is written
// (without --tables above).
const (
	bookBytesPerRep = 1100
	bookReps        = 1_000_000 // that at most count
)

// manyBytes is from where on memory counts more than the time of collecting it:
// most of it is columns, which the collector need not look through. Below, a run
// is over before it holds much. With 200 for 100, 10,000 rows of one file take
// 0.95 of the processor time, 100,000 take 0.98, and a thousand files of 90 rows
// 0.92; these hold 245 MB rather than 190, the others no more than before. With
// GOGC=400 the files held 310 MB and took as long as with 200.
const (
	manyBytes     = 32 << 20 // of sources
	collectSooner = 50       // percent of growth between collections; usual is 100
	collectLater  = 200

	// leastLimit is what the program itself needs: below it, collecting would be
	// all it does.
	leastLimit memory = 96 << 20

	// programBytes are what the program's own code takes, of which the collector
	// knows nothing.
	programBytes memory = 24 << 20
)

// memory is how many bytes a run may hold; 0: as many as there are.
type memory uint64

// parseMemory reads "4GB", "500 MB", "1.5GiB".
func parseMemory(text string) (memory, error) {
	if text == "" {
		return machineMemory() / 10 * 8, nil
	}
	number := strings.TrimRight(strings.ToUpper(text), "IB ")
	unit := 1.0
	if n := len(number); n > 0 {
		if exponent := strings.IndexByte("KMGT", number[n-1]); exponent >= 0 {
			number = number[:n-1]
			for range exponent + 1 {
				unit *= 1024
			}
		}
	}
	n, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if err != nil || !(n*unit >= 1 && n*unit < 1e18) {
		return 0, usagef("tidy: --memory takes a size such as 4GB or 500MB, not %q", text)
	}
	return memory(n * unit), nil
}

func (m memory) String() string {
	for _, u := range []struct {
		name string
		size memory
	}{{"GB", 1 << 30}, {"MB", 1 << 20}} {
		if m >= u.size {
			return strconv.FormatFloat(float64(m)/float64(u.size), 'f', 1, 64) + " " + u.name
		}
	}
	return fmt.Sprintf("%d bytes", uint64(m))
}

// limit makes the garbage collector work less often than usual, but harder as the
// limit comes near, until the returned function is called.
func (m memory) limit() (lift func()) {
	before := debug.SetMemoryLimit(-1)
	if m > 0 {
		debug.SetMemoryLimit(int64(max(m, leastLimit+programBytes) - programBytes))
	}
	percent := debug.SetGCPercent(collectLater)
	return func() {
		debug.SetMemoryLimit(before)
		debug.SetGCPercent(percent)
	}
}

// expect keeps memory low where there is much to read.
func (m memory) expect(bytes int64) {
	if bytes > manyBytes {
		debug.SetGCPercent(collectSooner)
	}
}

// most returns how many reps may be held in memory at once; 0: all.
func (m memory) most(workbook bool) int {
	switch {
	case m == 0:
		return 0
	case !workbook:
		return max(1, int(m/bytesPerRep))
	case m/(bytesPerRep+bookBytesPerRep) < bookReps:
		return max(1, int(m/(bytesPerRep+bookBytesPerRep)))
	}
	return int((m - bookReps*bookBytesPerRep) / bytesPerRep)
}

// shelved is what there is where all reps are too many to be held at once.
type shelved struct {
	reps, notes int
	rich        bool
	largest     ingest.Some // who has most reps
}

// group returns how many reps of some lifters are held at once. The error is of
// what takes too much even so. Of a limit that is below what the program itself
// takes, the reps are all that is limited.
func (m memory) group(all shelved, workbook bool) (int, error) {
	most := m.most(workbook)
	if m <= groupsBytes {
		return most, nil
	}
	left := int64(m - groupsBytes)
	if workbook {
		book := int64(min(all.reps, bookReps)) * bookBytesPerRep
		if left -= book; left <= 0 {
			return 0, fmt.Errorf("the workbook of %d reps takes about %s of memory, and %s may be taken in all; leave out pages and workbook with --tables, or allow more with --memory",
				all.reps, memory(book)+groupsBytes, m)
		}
	}
	if notes := int64(all.notes) * bytesPerNote; notes > 0 {
		if left -= notes; left <= 0 {
			return 0, fmt.Errorf("the %d logged sets take about %s of memory beside the reps, and %s may be taken in all; allow more with --memory, or read some clubs or years in runs of their own",
				all.notes, memory(notes)+groupsBytes, m)
		}
	}
	each, largest := int64(groupBytesPerRep), all.largest
	if all.rich {
		each = groupBytesPerRichRep
	}
	if need := int64(largest.Reps) * each; need > left {
		return 0, fmt.Errorf("%s has %d reps, which take about %s of memory at once, and %s may be taken; allow more with --memory, or read the years of this lifter in runs of their own",
			lifterName(largest.From), largest.Reps, memory(need)+groupsBytes, m)
	}
	return max(int(left/each), largest.Reps), nil
}

func lifterName(name string) string {
	if name == "" {
		return "a lifter without a name"
	}
	return name
}

// machineMemory returns the memory of the machine, 0 where the system does not
// tell it in a file.
func machineMemory() memory {
	text, err := os.ReadFile("/proc/meminfo")
	if err != nil {
		return 0
	}
	_, after, _ := bytes.Cut(text, []byte("MemTotal:"))
	fields := bytes.Fields(after)
	if len(fields) < 2 || string(fields[1]) != "kB" {
		return 0
	}
	kilobytes, err := strconv.ParseUint(string(fields[0]), 10, 53)
	if err != nil {
		return 0
	}
	return memory(kilobytes << 10)
}
