package main

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

// The same bytes come out however many processors work on them: of an export
// long enough to be read in blocks, with copies and false reps, and a hand log.
func TestSameBytesOnAnyCores(t *testing.T) {
	if testing.Short() {
		t.Skip("several megabytes")
	}
	in := t.TempDir()
	var rows, log bytes.Buffer
	rows.WriteString("Date,Lifter,Lift,Load (lb),Set,Rep,Mean velocity (m/s),Peak velocity (m/s),ROM (m)\n")
	log.WriteString("date,lifter,lift,sets\n")
	for n := 0; rows.Len() < 5<<20; n++ {
		day, lifter := fmt.Sprintf("2026-%02d-%02d", 1+n/28%12, 1+n%28), fmt.Sprintf("Lifter %d", n/336)
		first := rows.Len()
		for set := range 4 {
			load := 135 + 40*set
			for i := range 5 {
				v := 0.95 - 0.15*float64(set) - 0.02*float64(i) + 0.001*float64(n*7%23)
				rom := 0.55 + 0.001*float64((n+3*i)%17)
				if (n+i)%19 == 0 {
					rom = 0.04
				}
				fmt.Fprintf(&rows, "%s,%s,squat,%d,%d,%d,%.3f,%.3f,%.3f\n", day, lifter, load, set+1, i+1, v, 1.6*v, rom)
			}
		}
		if n%50 == 0 {
			rows.Write(bytes.Clone(rows.Bytes()[first:]))
		}
		if n < 100 {
			fmt.Fprintf(&log, "%s,%s,squat,255 lb x 5 @%d\n", day, lifter, 7+n%3)
		}
	}
	for name, text := range map[string][]byte{"unit.csv": rows.Bytes(), "log.csv": log.Bytes()} {
		if err := os.WriteFile(filepath.Join(in, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	demo := filepath.Join("..", "..", "testdata", "demo")
	for _, args := range [][]string{
		{in, "--tables"},
		{demo}, // pages and workbook
		{demo, "--csv", "--partition", "lifter"},
		{demo, "--tables", "--partition", "month"},
	} {
		one := made(t, 1, args...)
		for _, cores := range []int{2, 7} {
			sameFiles(t, fmt.Sprintf("%v with %d cores", args, cores), one, made(t, cores, args...))
		}
	}
}

// made runs tidy on so many processors and returns the folder that it wrote.
func made(t *testing.T, cores int, args ...string) string {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
	out := filepath.Join(t.TempDir(), "out")
	var said bytes.Buffer
	all := append([]string{"tidy", "--out", out, "--quiet"}, args...)
	if status := run(context.Background(), all, &console{out: &said, err: &said, width: 80}); status != statusDone && status != statusPartly {
		t.Fatalf("%v, %d cores: exit status %d\n%s", args, cores, status, said.String())
	}
	return out
}

// sameFiles compares what two runs wrote.
func sameFiles(t *testing.T, what, one, other string) {
	files := 0
	err := filepath.WalkDir(one, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		files++
		name, _ := filepath.Rel(one, file)
		a, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		b, err := os.ReadFile(filepath.Join(other, name))
		if err == nil && !bytes.Equal(a, b) {
			t.Errorf("%s: %s is another", what, name)
		}
		return err
	})
	if err != nil || files < 8 {
		t.Errorf("%s: %d files, %v", what, files, err)
	}
}
