package tidy

import (
	"errors"
	"fmt"
	"io"

	"github.com/parquet-go/parquet-go"
)

// Select reads one of the Parquet tables of this package and returns the rows
// for which keep holds, in file order.
func Select[R Rep | Aside | Set](r io.ReaderAt, size int64, keep func(*R) bool) (found []R, err error) {
	file, err := parquet.OpenFile(r, size)
	if err != nil {
		return nil, err
	}
	rows := parquet.NewGenericReader[R](file)
	defer func() { err = errors.Join(err, rows.Close()) }()
	batch := make([]R, 256)
	for {
		clear(batch)
		n, err := rows.Read(batch)
		for i := range batch[:n] {
			if keep(&batch[i]) {
				found = append(found, batch[i])
			}
		}
		switch {
		case errors.Is(err, io.EOF):
			return found, nil
		case err != nil:
			return nil, fmt.Errorf("after %d rows that match: %w", len(found), err)
		}
	}
}
