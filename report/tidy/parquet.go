package tidy

import (
	"encoding/binary"
	"fmt"
	"io"
	"runtime"
	"sync"

	"github.com/parquet-go/parquet-go/deprecated"
	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"

	"repsift/clean"
	"repsift/ingest/rep"
)

// RepsParquet writes the named rows of t, in that order.
func RepsParquet(w io.Writer, t *rep.Table, rows []int32) error {
	return writeParquet(w, rep.Columns, repSources(t, func(i int) int32 { return rows[i] }), 0, len(rows), rowGroup)
}

// AsideParquet writes reps set aside, in the order given.
func AsideParquet(w io.Writer, t *rep.Table, aside []clean.Aside) error {
	return writeParquet(w, rep.AsideColumns, asideSources(t, func(i int) *clean.Aside { return &aside[i] }), 0, len(aside), rowGroup)
}

// SetsParquet writes sets, in the order given.
func SetsParquet(w io.Writer, sets *rep.Sets) error {
	return writeParquet(w, rep.SetColumns, setSources(sets, func(i int) int { return i }), 0, sets.Len(), rowGroup)
}

// rowGroup is the number of rows a group holds: large enough for dictionaries
// to pay, small enough that a reader of a few lifters skips the rest and that
// a page stays near a megabyte.
const rowGroup = 1 << 17

const magic = "PAR1"

// writeParquet writes rows first to n-1 of columns, whose values are drawn from
// the sources of the same names. Row groups of rowGroup rows are encoded side by
// side and written in order; the bytes do not depend on how many at a time.
//
// The file is put together here, from the format's structures and encodings as
// the library has them. The library's own writers take rows; through structs
// that takes seven times as long (BenchmarkReps).
func writeParquet(w io.Writer, columns []rep.Column, sources map[string]any, first, n, rowGroup int) error {
	meta := format.FileMetaData{Version: 2, NumRows: int64(n - first), CreatedBy: "repsift version 1 (build 1)", Schema: schemaOf(columns)}
	for range columns {
		meta.ColumnOrders = append(meta.ColumnOrders, format.ColumnOrder{Value: new(format.TypeDefinedOrder)})
	}
	if _, err := io.WriteString(w, magic); err != nil {
		return err
	}
	offset := int64(len(magic))
	workers := make([]encoder, min(runtime.GOMAXPROCS(0), (n-first)/rowGroup+1))
	for at := first; at < n; at += len(workers) * rowGroup {
		var wg sync.WaitGroup
		for k := range workers {
			if from := at + k*rowGroup; from < n {
				wg.Go(func() { workers[k].group(columns, sources, from, min(from+rowGroup, n)) })
			}
		}
		wg.Wait()
		for k := range workers {
			if from := at + k*rowGroup; from >= n {
				break
			}
			e := &workers[k]
			if e.err != nil {
				return e.err
			}
			if _, err := w.Write(e.out.Bytes()); err != nil {
				return err
			}
			meta.RowGroups = append(meta.RowGroups, e.metadata(offset, len(meta.RowGroups)))
			offset += int64(e.out.Len())
		}
	}
	footer, err := thrift.Marshal(new(thrift.CompactProtocol), &meta)
	if err != nil {
		return err
	}
	footer = binary.LittleEndian.AppendUint32(footer, uint32(len(footer)))
	_, err = w.Write(append(footer, magic...))
	return err
}

// schemaOf returns the schema: a root, and a leaf a column; a list is a group
// of three, as the format asks.
func schemaOf(columns []rep.Column) []format.SchemaElement {
	elements := []format.SchemaElement{{Name: "repsift", NumChildren: thrift.New(int32(len(columns)))}}
	for _, c := range columns {
		e := format.SchemaElement{Name: c.Name, RepetitionType: thrift.New(format.Required)}
		if c.Null {
			e.RepetitionType = thrift.New(format.Optional)
		}
		if c.Type == rep.StringList {
			e.NumChildren = thrift.New(int32(1))
			e.ConvertedType = thrift.New(deprecated.List)
			e.LogicalType.Value = new(format.ListType)
			elements = append(elements, e, format.SchemaElement{Name: "list", RepetitionType: thrift.New(format.Repeated), NumChildren: thrift.New(int32(1))})
			e = format.SchemaElement{Name: "element", RepetitionType: thrift.New(format.Required)}
			c.Type = rep.String
		}
		e.Type = thrift.New(physical(c.Type))
		switch c.Type {
		case rep.String:
			e.ConvertedType = thrift.New(deprecated.UTF8)
			e.LogicalType.Value = new(format.StringType)
		case rep.Date:
			e.ConvertedType = thrift.New(deprecated.Date)
			e.LogicalType.Value = new(format.DateType)
		case rep.Timestamp:
			e.ConvertedType = thrift.New(deprecated.TimestampMillis)
			e.LogicalType.Value = &format.TimestampType{IsAdjustedToUTC: true, Unit: format.TimeUnit{Value: new(format.MilliSeconds)}}
		}
		elements = append(elements, e)
	}
	return elements
}

func physical(t rep.Type) format.Type {
	switch t {
	case rep.Date, rep.Int32:
		return format.Int32
	case rep.Timestamp:
		return format.Int64
	case rep.Float64:
		return format.Double
	case rep.Bool:
		return format.Boolean
	}
	return format.ByteArray
}

// path returns the path of a column's leaf.
func path(c rep.Column) []string {
	if c.Type == rep.StringList {
		return []string{c.Name, "list", "element"}
	}
	return []string{c.Name}
}

// group encodes one row group into e.out and e.chunks.
func (e *encoder) group(columns []rep.Column, sources map[string]any, from, to int) {
	e.out.Reset()
	e.chunks = e.chunks[:0]
	e.rows = to - from
	e.err = nil
	for _, c := range columns {
		if err := e.column(c, sources[c.Name], from, to); err != nil {
			e.err = fmt.Errorf("column %s: %w", c.Name, err)
			return
		}
	}
}

// metadata returns what the footer says of the group, which begins at offset
// of the file.
func (e *encoder) metadata(offset int64, ordinal int) format.RowGroup {
	g := format.RowGroup{NumRows: int64(e.rows), FileOffset: offset, TotalCompressedSize: int64(e.out.Len()), Ordinal: int16(ordinal)}
	for _, c := range e.chunks {
		c.MetaData.DataPageOffset += offset
		if c.MetaData.Encoding[0] == format.RLEDictionary {
			c.MetaData.DictionaryPageOffset += offset
		}
		g.TotalByteSize += c.MetaData.TotalUncompressedSize
		g.Columns = append(g.Columns, c)
	}
	return g
}
