package stored

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"

	"github.com/parquet-go/parquet-go"
)

// Texts calls visit with every text that a Parquet file holds, and where it
// stands: the values of every page of texts, its dictionary (also entries that
// no row uses), and all of the footer: names of columns, least and greatest
// values, key-value pairs, who made it.
func Texts(b []byte, visit func(where, text string)) (err error) {
	defer func() {
		if p := recover(); p != nil { // the library's way with some broken files
			err = fmt.Errorf("not readable as Parquet: %v", p)
		}
	}()
	f, err := parquet.OpenFile(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		return err
	}
	inside(reflect.ValueOf(f.Metadata()), func(text string) { visit("footer", text) })
	for _, group := range f.RowGroups() {
		for i, chunk := range group.ColumnChunks() {
			if chunk.Type().Kind() != parquet.ByteArray && chunk.Type().Kind() != parquet.FixedLenByteArray {
				continue
			}
			where := "column " + strings.Join(f.Schema().Columns()[i], ".")
			if err := chunkTexts(chunk, func(text string) { visit(where, text) }); err != nil {
				return fmt.Errorf("%s: %w", where, err)
			}
		}
	}
	return nil
}

func chunkTexts(chunk parquet.ColumnChunk, visit func(text string)) error {
	pages := chunk.Pages()
	defer pages.Close() // read only
	values := make([]parquet.Value, 1024)
	for {
		page, err := pages.ReadPage()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		if d := page.Dictionary(); d != nil {
			// Every value of such a page is an entry of it.
			for i := range d.Len() {
				visit(string(d.Index(int32(i)).ByteArray()))
			}
		} else {
			for r := page.Values(); ; {
				n, err := r.ReadValues(values)
				for _, v := range values[:n] {
					if !v.IsNull() {
						visit(string(v.ByteArray()))
					}
				}
				if errors.Is(err, io.EOF) {
					break
				}
				if err != nil {
					return err
				}
			}
		}
		parquet.Release(page)
	}
}

// inside calls visit with every text inside a value.
func inside(v reflect.Value, visit func(text string)) {
	switch v.Kind() {
	case reflect.String:
		visit(v.String())
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			inside(v.Elem(), visit)
		}
	case reflect.Struct:
		for _, f := range v.Fields() {
			inside(f, visit)
		}
	case reflect.Slice, reflect.Array:
		if v.Type().Elem().Kind() == reflect.Uint8 && v.Kind() == reflect.Slice {
			visit(string(v.Bytes()))
			return
		}
		for i := range v.Len() {
			inside(v.Index(i), visit)
		}
	case reflect.Map:
		for it := v.MapRange(); it.Next(); {
			inside(it.Key(), visit)
			inside(it.Value(), visit)
		}
	}
}
