package tidy

import (
	"encoding/binary"
	"fmt"
	"io"
	"sync"

	"github.com/parquet-go/parquet-go/deprecated"
	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/report/ahead"
)

// RepsParquet writes the named rows of t, in that order.
func RepsParquet(w io.Writer, t *rep.Table, rows []int32) error {
	return writeParquet(w, rep.Columns, drawn{t, rows}.reps(), 0, len(rows), rowGroup)
}

// AsideParquet writes reps set aside, in the order given.
func AsideParquet(w io.Writer, t *rep.Table, aside []clean.Aside) error {
	return writeParquet(w, rep.AsideColumns, asideSources(t, len(aside), func(i int) *clean.Aside { return &aside[i] }), 0, len(aside), rowGroup)
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

// encoders are at hand for the next chunks.
var encoders = sync.Pool{New: func() any { return new(encoder) }}

// writeParquet writes rows first to n-1 of columns, whose values are drawn from
// the sources of the same names. Column chunks are encoded side by side and
// written in order; the bytes do not depend on how many at a time.
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
	groups := (n - first + rowGroup - 1) / rowGroup
	for k, chunk := range ahead.Most(groups*len(columns), 2*len(columns), func(k int) chunk {
		c := columns[k%len(columns)]
		from := first + k/len(columns)*rowGroup
		e := encoders.Get().(*encoder)
		defer encoders.Put(e)
		return e.chunk(e.column(c, sources[c.Name], from, min(from+rowGroup, n)))
	}) {
		if chunk.err != nil {
			return fmt.Errorf("column %s: %w", columns[k%len(columns)].Name, chunk.err)
		}
		if _, err := w.Write(chunk.bytes); err != nil {
			return err
		}
		if k%len(columns) == 0 {
			rows := min(rowGroup, n-first-k/len(columns)*rowGroup)
			meta.RowGroups = append(meta.RowGroups, format.RowGroup{NumRows: int64(rows), FileOffset: offset, Ordinal: int16(len(meta.RowGroups))})
		}
		add(&meta.RowGroups[len(meta.RowGroups)-1], chunk.meta, offset)
		offset += int64(len(chunk.bytes))
	}
	footer, err := thrift.Marshal(new(thrift.CompactProtocol), &meta)
	if err != nil {
		return err
	}
	footer = binary.LittleEndian.AppendUint32(footer, uint32(len(footer)))
	_, err = w.Write(append(footer, magic...))
	return err
}

// add adds a column chunk that stands at offset of the file to its row group.
func add(g *format.RowGroup, m format.ColumnMetaData, offset int64) {
	m.DataPageOffset += offset
	if m.Encoding[0] == format.RLEDictionary {
		m.DictionaryPageOffset += offset
	}
	g.TotalByteSize += m.TotalUncompressedSize
	g.TotalCompressedSize += m.TotalCompressedSize
	g.Columns = append(g.Columns, format.ColumnChunk{MetaData: m})
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
