package tidy

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"slices"

	"github.com/parquet-go/parquet-go/compress/zstd"
	"github.com/parquet-go/parquet-go/encoding/rle"
	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"

	"repsift/ingest/rep"
)

// pages are those of one column chunk.
type pages struct {
	out  bytes.Buffer
	meta format.ColumnMetaData // offsets count from the chunk's beginning

	codec   zstd.Codec
	plain   []byte // values or dictionary, encoded
	page    []byte // the data page, not yet compressed
	scratch []byte
	packed  []byte
}

// write writes a column chunk: with a dictionary of so many entries, e.plain
// is the dictionary and e.index the values; with none, e.plain is the values.
func (e *encoder) write(c rep.Column, s format.Statistics, entries int) error {
	values := e.rows
	e.out.Reset()
	e.page = e.page[:0]
	var err error
	if c.Type == rep.StringList {
		values = len(e.defined)
		if err = e.addLevels(e.repeated); err != nil {
			return err
		}
	}
	if c.Null || c.Type == rep.StringList {
		if err = e.addLevels(e.defined); err != nil {
			return err
		}
		s.NullCount = int64(len(e.defined) - max(len(e.index), len(e.numbers)))
	}
	e.meta = format.ColumnMetaData{Type: physical(c.Type), PathInSchema: path(c), Codec: format.Zstd, NumValues: int64(values), Statistics: s}
	encoding := format.Plain
	page := e.plain
	if entries > 0 {
		encoding = format.RLEDictionary
		e.meta.Encoding = []format.Encoding{format.RLEDictionary, format.Plain, format.RLE}
		header := format.PageHeader{Type: format.DictionaryPage, DictionaryPageHeader: thrift.New(
			format.DictionaryPageHeader{NumValues: int32(entries), Encoding: format.Plain})}
		if err := e.append(&header, e.plain); err != nil {
			return err
		}
		if e.scratch, err = new(rle.DictionaryEncoding).EncodeInt32(e.scratch, e.index); err != nil {
			return err
		}
		e.page = append(e.page, e.scratch...)
		page = e.page
	} else {
		e.meta.Encoding = []format.Encoding{format.Plain, format.RLE}
		if len(e.page) > 0 {
			e.page = append(e.page, e.plain...)
			page = e.page
		}
	}
	e.meta.DataPageOffset = int64(e.out.Len())
	header := format.PageHeader{Type: format.DataPage, DataPageHeader: thrift.New(format.DataPageHeader{NumValues: int32(values),
		Encoding: encoding, DefinitionLevelEncoding: format.RLE, RepetitionLevelEncoding: format.RLE})}
	if err := e.append(&header, page); err != nil {
		return err
	}
	e.meta.TotalCompressedSize = int64(e.out.Len())
	return nil
}

// addLevels adds levels of 0 and 1 to the page.
func (e *encoder) addLevels(levels []byte) error {
	var err error
	if e.scratch, err = (&rle.Encoding{BitWidth: 1}).EncodeLevels(e.scratch, levels); err != nil {
		return err
	}
	e.page = append(binary.LittleEndian.AppendUint32(e.page, uint32(len(e.scratch))), e.scratch...)
	return nil
}

// append compresses a page and adds it to the chunk.
func (e *encoder) append(header *format.PageHeader, page []byte) error {
	var err error
	e.codec.Level = zstd.SpeedFastest
	if e.packed, err = e.codec.Encode(e.packed, page); err != nil {
		return err
	}
	header.UncompressedPageSize, header.CompressedPageSize = int32(len(page)), int32(len(e.packed))
	header.CRC = int32(crc32.ChecksumIEEE(e.packed))
	head, err := thrift.Marshal(new(thrift.CompactProtocol), header)
	if err != nil {
		return err
	}
	e.meta.TotalUncompressedSize += int64(len(head) + len(page))
	e.out.Write(head)
	e.out.Write(e.packed)
	return nil
}

// chunk is a column chunk as it goes into a file.
type chunk struct {
	bytes []byte
	meta  format.ColumnMetaData
	err   error
}

// chunk returns what was encoded last.
func (e *encoder) chunk(err error) chunk { return chunk{slices.Clone(e.out.Bytes()), e.meta, err} }
