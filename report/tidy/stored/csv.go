package stored

import (
	"bytes"
	"encoding"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strconv"
)

// csvRows reads the rows of a table for which keep holds, by the csv tags of its
// row type. Columns may stand in any order and others may be there; one that is
// missing is an error. An empty cell is null where the type has one.
func csvRows[T any](b []byte, keep func(*T) bool) ([]T, error) {
	in := csv.NewReader(bytes.NewReader(b))
	in.ReuseRecord = true
	head, err := in.Read()
	if err != nil {
		return nil, fmt.Errorf("no heading: %w", err)
	}
	at := map[string]int{}
	for i, name := range head {
		at[name] = i
	}
	kind := reflect.TypeFor[T]()
	columns := make([]int, kind.NumField())
	for i := range columns {
		name := kind.Field(i).Tag.Get("csv")
		k, ok := at[name]
		if !ok {
			return nil, fmt.Errorf("column %s is missing; run repsift tidy again", name)
		}
		columns[i] = k
	}
	var all []T
	for {
		record, err := in.Read()
		if errors.Is(err, io.EOF) {
			return all, nil
		}
		if err != nil {
			return nil, err
		}
		var row T
		v := reflect.ValueOf(&row).Elem()
		for i, k := range columns {
			if err := set(v.Field(i), record[k]); err != nil {
				line, _ := in.FieldPos(k)
				return nil, fmt.Errorf("line %d: column %s: %w", line, kind.Field(i).Tag.Get("csv"), err)
			}
		}
		if keep(&row) {
			all = append(all, row)
		}
	}
}

// set puts the text of a cell into a field.
func set(f reflect.Value, cell string) error {
	if f.Kind() == reflect.Pointer {
		if cell == "" {
			return nil
		}
		f.Set(reflect.New(f.Type().Elem()))
		f = f.Elem()
	}
	switch to := f.Addr().Interface().(type) {
	case interface{ UnmarshalCSV(string) error }:
		return to.UnmarshalCSV(cell)
	case encoding.TextUnmarshaler:
		return to.UnmarshalText([]byte(cell))
	}
	switch f.Kind() {
	case reflect.String:
		f.SetString(cell)
	case reflect.Bool:
		v, err := strconv.ParseBool(cell)
		if err != nil {
			return fmt.Errorf("%q is neither true nor false", cell)
		}
		f.SetBool(v)
	case reflect.Int32:
		v, err := strconv.ParseInt(cell, 10, 32)
		if err != nil {
			return fmt.Errorf("%q is no whole number", cell)
		}
		f.SetInt(v)
	case reflect.Float64:
		v, err := strconv.ParseFloat(cell, 64)
		if err != nil {
			return fmt.Errorf("%q is not a number", cell)
		}
		f.SetFloat(v)
	default:
		return fmt.Errorf("no cell is a %s", f.Type()) // our own bug
	}
	return nil
}
