package tidy

import (
	"io"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/compress/zstd"

	"repsift/clean"
	"repsift/ingest/rep"
)

// RepsParquet writes the named rows of t, in that order.
func RepsParquet(w io.Writer, t *rep.Table, rows []int32) error {
	return writeParquet(w, len(rows), func(i int) Rep { return repOf(t, rows[i]) })
}

// AsideParquet writes reps set aside, in the order given.
func AsideParquet(w io.Writer, t *rep.Table, aside []clean.Aside) error {
	return writeParquet(w, len(aside), func(i int) Aside { return asideOf(t, &aside[i]) })
}

// SetsParquet writes sets, in the order given.
func SetsParquet(w io.Writer, sets []rep.Set) error {
	return writeParquet(w, len(sets), func(i int) Set { return setOf(&sets[i]) })
}

// rowGroup is the number of rows a group holds: large enough for dictionaries
// to pay, small enough that a reader of a few lifters skips the rest.
const rowGroup = 1 << 17

func writeParquet[T any](w io.Writer, n int, row func(int) T) error {
	out := parquet.NewGenericWriter[T](w,
		parquet.Compression(&zstd.Codec{Level: zstd.SpeedFastest}),
		parquet.MaxRowsPerRowGroup(rowGroup),
		parquet.CreatedBy("repsift", "1", ""), // the default holds the build
	)
	rows := make([]T, 0, min(n, batch))
	for at := 0; at < n; at += batch {
		rows = rows[:0]
		for i := at; i < min(at+batch, n); i++ {
			rows = append(rows, row(i))
		}
		if _, err := out.Write(rows); err != nil {
			return err
		}
	}
	return out.Close() // writes the footer
}
