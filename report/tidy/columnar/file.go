package columnar

import (
	"encoding/binary"
	"fmt"
	"io"
	"sync"

	"github.com/parquet-go/parquet-go/deprecated"
	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"

	"repsift/ingest/rep"
	"repsift/report/ahead"
)

// RowGroup is the number of rows a group holds: large enough for dictionaries
// to pay, small enough that a reader of a few lifters skips the rest and that
// a page stays near a megabyte.
const RowGroup = 1 << 17

const magic = "PAR1"

// encoders are at hand for the next chunks.
var encoders = sync.Pool{New: func() any { return new(encoder) }}

// Write writes a file of rows first to n-1 of columns, whose values are drawn
// from the sources of the same names, in groups of so many rows.
func Write(w io.Writer, columns []rep.Column, sources map[string]any, first, n, rowGroup int) error {
	f := NewFile(w, columns, rowGroup)
	if err := f.Rows(sources, first, n); err != nil {
		return err
	}
	return f.Close()
}

// File is a Parquet file on its way.
type File struct {
	w        io.Writer
	columns  []rep.Column
	rowGroup int
	meta     format.FileMetaData
	offset   int64
}

// NewFile returns a file without rows, whose groups have so many.
func NewFile(w io.Writer, columns []rep.Column, rowGroup int) *File {
	return &File{w: w, columns: columns, rowGroup: rowGroup}
}

// Rows writes rows first to n-1 in row groups of their own, of which the last
// may be short. Column chunks are encoded side by side and written in order; the
// bytes do not depend on how many at a time.
func (f *File) Rows(sources map[string]any, first, n int) error {
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
func (f *File) begin() error {
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

// Close writes what stands behind all rows.
func (f *File) Close() error {
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
