package columnar

import (
	"encoding/binary"
	"hash/crc32"
	"math/bits"
	"slices"
	"sync"

	"github.com/klauspost/compress/zstd"
	"github.com/parquet-go/parquet-go/encoding/rle"
	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"

	"repsift/ingest/rep"
)

// pages are those of one column chunk.
type pages struct {
	out  []byte                // not used again: it goes to the file
	meta format.ColumnMetaData // offsets count from the chunk's beginning

	plain   []byte // values or dictionary, encoded
	page    []byte // the data page, not yet compressed
	scratch []byte
	packed  []byte
}

// write writes a column chunk. With a dictionary, e.plain is the dictionary and
// e.index the values; else e.plain is the values.
func (e *encoder) write(c rep.Column, s format.Statistics, encoding format.Encoding) (err error) {
	e.out = nil
	e.page = e.page[:0]
	list := c.Type == rep.StringList
	values := e.rows
	if list {
		values = len(e.defined)
		if err = e.addLevels(e.repeated); err != nil {
			return err
		}
	}
	if c.Null || list {
		if err = e.addLevels(e.defined); err != nil {
			return err
		}
		s.NullCount = int64(len(e.defined) - max(len(e.index), len(e.numbers)))
	}
	e.meta = format.ColumnMetaData{Type: physical(c.Type), PathInSchema: path(c), Codec: format.Zstd, NumValues: int64(values), Statistics: s,
		Encoding: []format.Encoding{encoding, format.RLE}}
	page := e.plain
	if encoding == format.RLEDictionary {
		e.meta.Encoding = []format.Encoding{encoding, format.Plain, format.RLE}
		entries := max(len(e.distinct), len(e.names))
		header := format.PageHeader{Type: format.DictionaryPage, DictionaryPageHeader: thrift.New(
			format.DictionaryPageHeader{NumValues: int32(entries), Encoding: format.Plain})}
		if err := e.append(&header, e.plain); err != nil {
			return err
		}
		width := bits.Len(uint(max(entries, 1) - 1)) // the library would look for the greatest of all numbers
		if e.scratch, err = (&rle.Encoding{BitWidth: width}).EncodeInt32(e.scratch, e.index); err != nil {
			return err
		}
		e.page, page = append(e.page, byte(width)), e.scratch
	}
	if len(e.page) > 0 { // levels, the width of numbers
		e.page = append(slices.Grow(e.page, len(page)), page...)
		page = e.page
	}
	e.meta.DataPageOffset = int64(len(e.out))
	header := format.PageHeader{Type: format.DataPage, DataPageHeader: thrift.New(format.DataPageHeader{NumValues: int32(values),
		Encoding: encoding, DefinitionLevelEncoding: format.RLE, RepetitionLevelEncoding: format.RLE})}
	if err := e.append(&header, page); err != nil {
		return err
	}
	e.meta.TotalCompressedSize = int64(len(e.out))
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
	compress := plainly
	if d := header.DataPageHeader; d.Valid && d.V.Encoding == format.DeltaLengthByteArray {
		compress = weighed
	}
	e.packed = compress().EncodeAll(page, slices.Grow(e.packed[:0], len(page)+len(page)/64+64))
	header.UncompressedPageSize, header.CompressedPageSize = int32(len(page)), int32(len(e.packed))
	header.CRC = int32(crc32.ChecksumIEEE(e.packed))
	head, err := thrift.Marshal(new(thrift.CompactProtocol), header)
	if err != nil {
		return err
	}
	e.meta.TotalUncompressedSize += int64(len(head) + len(page))
	e.out = append(append(slices.Grow(e.out, len(head)+len(e.packed)), head...), e.packed...)
	return nil
}

// plainly compresses by what repeats. Of what does not, such as digits by
// chance, it takes no notice of how often each comes; weighed does that.
var plainly, weighed = compressor(false), compressor(true)

func compressor(weighed bool) func() *zstd.Encoder {
	return sync.OnceValue(func() *zstd.Encoder {
		e, err := zstd.NewWriter(nil, zstd.WithEncoderLevel(zstd.SpeedFastest), zstd.WithZeroFrames(true), zstd.WithEncoderCRC(false),
			zstd.WithAllLitEntropyCompression(weighed))
		if err != nil {
			panic(err) // our own bug: the options do not fit each other
		}
		return e
	})
}

// chunk is a column chunk as it goes into a file.
type chunk struct {
	bytes []byte
	meta  format.ColumnMetaData
	err   error
}

// chunk returns what was encoded last.
func (e *encoder) chunk(err error) chunk { return chunk{e.out, e.meta, err} }
