package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"runtime"
	"testing"
	"time"
)

var seasons = flag.Int("seasons", 30, "seasons read in a row in one process")

// TestSoak reads one season after the other in one process: memory stays flat,
// and no file or goroutine is left.
func TestSoak(t *testing.T) {
	t.Chdir(t.TempDir())
	const warm = 10
	var flat []uint64 // live bytes after each season
	var goroutines, files int
	for i := range max(*seasons, 2*warm) {
		dir := fmt.Sprint("in", i%3)
		if i < 3 {
			seasonOf(t, dir+"/may.csv", []string{"Ines Duarte", fmt.Sprint("Vera ", i)}, lift, asIs)
			zipOf("june.zip", entry{"june.csv", text(rowsOf("0.5", "fast"))})(t, dir)
			bookOf("july.xlsx", sheet(`<row><c t="str"><v>a</v></c></row>`))(t, dir)
			gzOf("cut.csv.gz", text("a"))(t, dir)
			file("broken.zip", "PK\x03\x04")(t, dir)
		}
		var out bytes.Buffer
		if status := run(context.Background(), []string{"tidy", dir, "--out", "out"}, &console{out: &out, err: &out, width: 80}); status != statusPartly {
			t.Fatalf("season %d: exit status %d: %s", i, status, out.String())
		}
		runtime.GC()
		runtime.GC() // what finalizers let go
		flat = append(flat, inUse())
		if i == warm {
			goroutines, files = runtime.NumGoroutine(), openFiles()
		}
	}
	first, last := mean(flat[warm:warm+5]), mean(flat[len(flat)-5:])
	time.Sleep(10 * time.Millisecond) // for goroutines on their way out
	t.Logf("%d seasons: %.2f MB in use after the first, %.2f MB after the last; goroutines %d and %d; open files %d and %d",
		len(flat), first, last, goroutines, runtime.NumGoroutine(), files, openFiles())
	if last > 1.05*first+0.5 {
		t.Errorf("memory grows from %.2f MB to %.2f MB", first, last)
	}
	if runtime.NumGoroutine() > goroutines || openFiles() > files {
		t.Errorf("goroutines %d → %d, open files %d → %d", goroutines, runtime.NumGoroutine(), files, openFiles())
	}
	onlyIn(t, ".", "in0", "in1", "in2", "out")
}

func mean(bytes []uint64) float64 {
	sum := 0.0
	for _, b := range bytes {
		sum += float64(b) / float64(len(bytes)) / (1 << 20)
	}
	return sum
}

// openFiles counts the files of this process; 0 where the system does not tell.
func openFiles() int {
	entries, _ := os.ReadDir("/proc/self/fd")
	return len(entries)
}

func lift(string) string { return "squat" }
