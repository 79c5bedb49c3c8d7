package main

import (
	"context"
	"flag"
	"io"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"repsift/clean"
	"repsift/ingest"
	"repsift/profile"
	"repsift/report"
	"repsift/report/book"
	"repsift/report/card"
	"repsift/report/tidy"
)

var size = flag.Int("rows", 100_000, "rows to measure with")

// BenchmarkStage measures each stage of tidy for itself, on the same rows:
//
//	go test ./testdata/bench -bench . -rows 1000000
func BenchmarkStage(b *testing.B) {
	dir := b.TempDir()
	if err := writeRows(filepath.Join(dir, "rows.csv"), *size, 1); err != nil {
		b.Fatal(err)
	}
	var reading *ingest.Reading
	var result *clean.Result
	var profiles *profile.Profiles
	stage := func(name string, do func() error) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			before := processor()
			for b.Loop() {
				if err := do(); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(*size)*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
			b.ReportMetric(float64(processor()-before)/float64(*size)/float64(b.N), "proc-ns/row")
		})
	}
	read := func() (err error) {
		reading, err = ingest.Read(context.Background(), os.DirFS(dir), nil, nil, ingest.Options{})
		return err
	}
	stage("read", read)
	sift := func() (err error) {
		result, err = clean.Run(&reading.Batch, nil)
		return err
	}
	if reading == nil {
		if err := read(); err != nil {
			b.Fatal(err)
		}
	}
	stage("clean", sift)
	if result == nil {
		if err := sift(); err != nil {
			b.Fatal(err)
		}
	}
	stage("profile", func() error {
		profiles = profile.All(result, nil)
		return nil
	})
	if profiles == nil {
		profiles = profile.All(result, nil)
	}
	stage("reps.parquet", func() error { return tidy.RepsParquet(io.Discard, result.Reps, result.Kept) })
	stage("set_aside.parquet", func() error { return tidy.AsideParquet(io.Discard, result.Reps, result.Aside) })
	stage("sets.parquet", func() error { return tidy.SetsParquet(io.Discard, &result.Sets) })
	stage("reps.csv", func() error { return tidy.RepsCSV(io.Discard, result.Reps, result.Kept) })
	stage("pages", func() error {
		for i := range profiles.Lifters {
			page := card.Page{Lifter: &profiles.Lifters[i], All: profiles, Result: result.Of(profiles.Lifters[i].Name), Index: card.IndexFile}
			if err := card.Write(io.Discard, page); err != nil {
				return err
			}
		}
		return nil
	})
	stage("workbook", func() error {
		return book.Write(context.Background(), io.Discard, &book.Book{Result: result, Profiles: profiles, TmpDir: dir})
	})
	stage("all that is written", func() error {
		return report.Write(context.Background(), filepath.Join(dir, "out"), &report.Run{Version: "bench", Result: result, Profiles: profiles})
	})
}

// processor returns the processor time of this process so far: what a stage
// costs, whatever else the machine does.
func processor() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
