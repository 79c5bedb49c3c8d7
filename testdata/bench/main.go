// Command bench measures repsift at the size of a federation. Run it from the
// top of the project:
//
//	go run ./testdata/bench -rows 100000,1000000,10000000
//	go run ./testdata/bench -rows 10000000 -peer testdata/duckdb
//
// For each number of rows it writes a CSV of that many invented rep rows (the
// same ones for the same seed) into a temporary folder, runs there
//
//   - "encoding/csv": the file read by the standard library, cells unused;
//   - "one core": repsift tidy with GOMAXPROCS=1;
//   - "tidy": repsift tidy as a user runs it, on the processors that -procs says;
//   - "peer": the same work as SQL by the program in the folder of -peer,
//     with as many threads;
//
// each as a process of its own, and prints the time on the clock, the
// processor time, rows a second, the most memory held at once for each row,
// and times beside that of tidy.
//
// With -rich it is a season as clubs have it instead of one file (rich.go): a
// hand log for every lifter, a second unit that records a third of the sets,
// exports that overlap by a week, a file for every club, unit and month. Then
// only repsift is measured:
//
//	go run ./testdata/bench -rich -rows 100000,1000000 -options --tables
//
// -each says how many rows are of one lifter there: 500 makes 2,000 lifters of a
// million rows.
//
// Each is run as often as -times says and the quickest run counts: other
// programs on the machine only ever make one slower.
package main

import (
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

func main() {
	var b bench
	counts := flag.String("rows", "100000,1000000", "numbers of rows")
	flag.BoolVar(&b.rich, "rich", false, "logs, two units and overlapping exports instead of one file")
	flag.IntVar(&b.each, "each", repsOfYear, "with -rich: rows of one lifter")
	flag.Uint64Var(&b.seed, "seed", 1, "of the rows")
	flag.IntVar(&b.procs, "procs", 2, "processors")
	flag.IntVar(&b.times, "times", 3, "runs of each; the quickest counts")
	flag.StringVar(&b.peer, "peer", "", "folder of a program that does the same as SQL")
	flag.StringVar(&b.options, "options", "", "further options of tidy")
	flag.StringVar(&b.keep, "dir", "", "folder to work in, which is kept")
	plain := flag.String("plain", "", "only read this file with encoding/csv")
	only := flag.String("write", "", "only write the rows to this file, or the season to this folder")
	flag.Parse()
	var err error
	switch {
	case *plain != "":
		err = readPlain(*plain)
	default:
		err = b.run(strings.Split(*counts, ","), *only)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

type bench struct {
	rich          bool
	each          int
	seed          uint64
	procs, times  int
	peer, options string
	keep          string
	dir           string
}

func (b *bench) run(counts []string, only string) (err error) {
	if only != "" {
		n, err := strconv.Atoi(counts[0])
		if err != nil {
			return err
		}
		return b.write(only, n)
	}
	if b.dir = b.keep; b.keep == "" {
		if b.dir, err = os.MkdirTemp("", "bench"); err != nil {
			return err
		}
		defer os.RemoveAll(b.dir)
	}
	if b.dir, err = filepath.Abs(b.dir); err != nil {
		return err
	}
	if err := build(".", "./cmd/repsift", filepath.Join(b.dir, "repsift")); err != nil {
		return err
	}
	if b.peer != "" {
		if err := build(b.peer, ".", filepath.Join(b.dir, "peer")); err != nil {
			return err
		}
	}
	fmt.Printf("%-13s %11s %8s %8s %10s %9s %9s\n", "", "rows", "clock s", "proc. s", "rows/s", "bytes/row", "× tidy")
	for _, text := range counts {
		n, err := strconv.Atoi(text)
		if err != nil {
			return err
		}
		if err := b.size(n); err != nil {
			return err
		}
	}
	return nil
}

// write writes the rows to a file, or the season to a folder.
func (b *bench) write(to string, n int) error {
	if b.rich {
		return writeRich(to, n, b.each, b.seed)
	}
	return writeRows(to, n, b.seed)
}

func build(folder, pkg, to string) error {
	cmd := exec.Command("go", "build", "-o", to, pkg)
	cmd.Dir, cmd.Stderr = folder, os.Stderr
	return cmd.Run()
}

// size measures all programs on a file of n rows. Their runs take turns, so
// that what else the machine does meets them alike.
func (b *bench) size(n int) error {
	file := filepath.Join(b.dir, fmt.Sprintf("rows-%d.csv", n))
	if b.rich {
		file = filepath.Join(b.dir, fmt.Sprintf("season-%d", n))
	}
	if _, err := os.Stat(file); err != nil {
		if err := b.write(file, n); err != nil {
			return err
		}
	}
	if b.keep == "" {
		defer os.RemoveAll(file)
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	out := filepath.Join(b.dir, "out")
	tidy := append([]string{filepath.Join(b.dir, "repsift"), "tidy", file, "--out", out, "--quiet"}, strings.Fields(b.options)...)
	cores := strconv.Itoa(b.procs)
	whole := &program{name: "tidy", procs: cores, args: tidy}
	programs := []*program{{name: "one core", procs: "1", args: tidy}, whole}
	if !b.rich {
		programs = append(programs, &program{name: "encoding/csv", procs: "1", args: []string{self, "-plain", file}})
	}
	if b.peer != "" && !b.rich {
		programs = append(programs, &program{name: "peer", procs: cores,
			args: []string{filepath.Join(b.dir, "peer"), file, filepath.Join(b.dir, "peer-out"), cores}})
	}
	for range b.times {
		for _, p := range programs {
			if err := os.RemoveAll(out); err != nil { // a second run would take from the first what did not change
				return err
			}
			if err := p.run(); err != nil {
				return fmt.Errorf("%s: %w", p.name, err)
			}
		}
	}
	for _, p := range programs {
		fmt.Printf("%-13s %11d %8.2f %8.2f %10.0f %9.0f %9.2f\n", p.name, n, p.clock.Seconds(), p.busy.Seconds(),
			float64(n)/p.clock.Seconds(), float64(p.memory)/float64(n), p.clock.Seconds()/whole.clock.Seconds())
	}
	return nil
}

// program is what is measured, and its quickest run.
type program struct {
	name  string
	procs string
	args  []string

	clock, busy time.Duration
	memory      int64 // most bytes held at once
}

func (p *program) run() error {
	cmd := exec.Command(p.args[0], p.args[1:]...)
	cmd.Env = append(os.Environ(), "GOMAXPROCS="+p.procs)
	cmd.Stderr = os.Stderr
	start := time.Now()
	err := cmd.Run()
	clock := time.Since(start)
	if exit := new(exec.ExitError); errors.As(err, &exit) && exit.ExitCode() == 3 {
		err = nil // done, and something was not read whole
	}
	if err != nil {
		return err
	}
	if p.clock == 0 || clock < p.clock {
		p.clock, p.busy = clock, cmd.ProcessState.UserTime()+cmd.ProcessState.SystemTime()
		p.memory = cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss << 10
	}
	return nil
}

func readPlain(name string) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.ReuseRecord = true
	for {
		if _, err := r.Read(); err == io.EOF {
			return nil
		} else if err != nil {
			return err
		}
	}
}
