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
func RepsParquet(w io.Writer, t *rep.Table, rows []int32) error { return whole(w, RepsGrid(t, rows)) }

// AsideParquet writes reps set aside, in the order given.
func AsideParquet(w io.Writer, t *rep.Table, aside []clean.Aside) error {
	return whole(w, AsideGrid(t, aside))
}

// SetsParquet writes sets, in the order given.
func SetsParquet(w io.Writer, sets *rep.Sets) error { return whole(w, SetsGrid(sets)) }

func whole(w io.Writer, g *Grid) error {
	return writeParquet(w, g.Columns, g.sources, 0, g.Rows, rowGroup)
}

// rowGroup is the number of rows a group holds: large enough for dictionaries
// to pay, small enough that a reader of a few lifters skips the rest and that
// a page stays near a megabyte.
const rowGroup = 1 << 17

// MostHeld is how many rows a [Parquet] holds at most, and one more.
const MostHeld = rowGroup

const magic = "PAR1"

// encoders are at hand for the next chunks.
var encoders = sync.Pool{New: func() any { return new(encoder) }}

// writeParquet writes a file of rows first to n-1 of columns, whose values are
// drawn from the sources of the same names.
func writeParquet(w io.Writer, columns []rep.Column, sources map[string]any, first, n, rowGroup int) error {
	f := parquetFile{w: w, columns: columns, rowGroup: rowGroup}
	if err := f.rows(sources, first, n); err != nil {
		return err
	}
	return f.close()
}

// parquetFile is a file on its way.
//
// It is put together here, from the format's structures and encodings as the
// library has them. The library's own writers take rows; through structs that
// takes ten times as long (BenchmarkReps).
type parquetFile struct {
	w        io.Writer
	columns  []rep.Column
	rowGroup int
	meta     format.FileMetaData
	offset   int64
}

// rows writes rows first to n-1 in row groups of their own, of which the last
// may be short. Column chunks are encoded side by side and written in order; the
// bytes do not depend on how many at a time.
func (f *parquetFile) rows(sources map[string]any, first, n int) error {
	if err := f.begin(); err != nil {
		return err
	}
	columns, rowGroup := f.columns, f.rowGroup
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
		if _, err := f.w.Write(chunk.bytes); err != nil {
			return err
		}
		if k%len(columns) == 0 {
			rows := min(rowGroup, n-first-k/len(columns)*rowGroup)
			f.meta.RowGroups = append(f.meta.RowGroups, format.RowGroup{NumRows: int64(rows), FileOffset: f.offset, Ordinal: int16(len(f.meta.RowGroups))})
		}
		add(&f.meta.RowGroups[len(f.meta.RowGroups)-1], chunk.meta, f.offset)
		f.offset += int64(len(chunk.bytes))
	}
	f.meta.NumRows += int64(n - first)
	return nil
}

// begin writes what stands before all rows, once.
func (f *parquetFile) begin() error {
	if f.offset > 0 {
		return nil
	}
	f.meta = format.FileMetaData{Version: 2, CreatedBy: "repsift version 1 (build 1)", Schema: schemaOf(f.columns)}
	for range f.columns {
		f.meta.ColumnOrders = append(f.meta.ColumnOrders, format.ColumnOrder{Value: new(format.TypeDefinedOrder)})
	}
	f.offset = int64(len(magic))
	_, err := io.WriteString(f.w, magic)
	return err
}

// close writes what stands behind all rows.
func (f *parquetFile) close() error {
	if err := f.begin(); err != nil {
		return err
	}
	footer, err := thrift.Marshal(new(thrift.CompactProtocol), &f.meta)
	if err != nil {
		return err
	}
	footer = binary.LittleEndian.AppendUint32(footer, uint32(len(footer)))
	_, err = f.w.Write(append(footer, magic...))
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
