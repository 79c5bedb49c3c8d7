package number

import (
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"sync"
)

// AppendJSON adds what p points to, as [json.Marshal] writes it, in a third of
// the time: that looks twice over everything that writes itself, and of profiles
// that is every number. A test holds it to the bytes of json.Marshal.
func AppendJSON(b []byte, p any) ([]byte, error) {
	v := reflect.ValueOf(p).Elem()
	return writerOf(v.Type())(b, v)
}

// writer adds a value, which can be addressed.
type writer func(b []byte, v reflect.Value) ([]byte, error)

var writers sync.Map // reflect.Type → writer

func writerOf(t reflect.Type) writer {
	if w, ok := writers.Load(t); ok {
		return w.(writer)
	}
	w := newWriter(t)
	writers.Store(t, w)
	return w
}

func newWriter(t reflect.Type) writer {
	pointer := reflect.PointerTo(t)
	switch {
	case t == reflect.TypeFor[Number]():
		return func(b []byte, v reflect.Value) ([]byte, error) { return Number(v.Float()).append(b), nil }
	case t == reflect.TypeFor[Estimate]():
		return func(b []byte, v reflect.Value) ([]byte, error) { return v.Addr().Interface().(*Estimate).append(b) }
	case pointer.Implements(reflect.TypeFor[json.Marshaler]()):
		return marshal
	case pointer.Implements(reflect.TypeFor[encoding.TextAppender]()): // of digits and signs that need no escape
		return func(b []byte, v reflect.Value) ([]byte, error) {
			b, err := v.Addr().Interface().(encoding.TextAppender).AppendText(append(b, '"'))
			return append(b, '"'), err
		}
	case pointer.Implements(reflect.TypeFor[encoding.TextMarshaler]()):
		return marshal
	}
	switch t.Kind() {
	case reflect.Bool:
		return func(b []byte, v reflect.Value) ([]byte, error) { return strconv.AppendBool(b, v.Bool()), nil }
	case reflect.Int, reflect.Int32, reflect.Int64:
		return func(b []byte, v reflect.Value) ([]byte, error) { return strconv.AppendInt(b, v.Int(), 10), nil }
	case reflect.Float64:
		return func(b []byte, v reflect.Value) ([]byte, error) {
			if x := v.Float(); !math.IsNaN(x) && !math.IsInf(x, 0) {
				return appendNumber(b, x), nil
			}
			return nil, fmt.Errorf("JSON has no %v", v.Float())
		}
	case reflect.String:
		return func(b []byte, v reflect.Value) ([]byte, error) { return appendString(b, v.String()) }
	case reflect.Slice:
		return sliceWriter(t)
	case reflect.Struct:
		return structWriter(t)
	}
	return marshal
}

// marshal leaves a value to the library.
func marshal(b []byte, v reflect.Value) ([]byte, error) {
	text, err := json.Marshal(v.Addr().Interface())
	return append(b, text...), err
}

func appendString(b []byte, s string) ([]byte, error) {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || strings.IndexByte(`"\<>&`, c) >= 0 {
			text, err := json.Marshal(s)
			return append(b, text...), err
		}
	}
	return append(append(append(b, '"'), s...), '"'), nil
}

func sliceWriter(t reflect.Type) writer {
	if t.Elem().Kind() == reflect.Uint8 {
		return marshal
	}
	one := writerOf(t.Elem())
	return func(b []byte, v reflect.Value) ([]byte, error) {
		if v.IsNil() {
			return append(b, "null"...), nil
		}
		b = append(b, '[')
		var err error
		for i := range v.Len() {
			if i > 0 {
				b = append(b, ',')
			}
			if b, err = one(b, v.Index(i)); err != nil {
				return nil, err
			}
		}
		return append(b, ']'), nil
	}
}

// field is one field of a struct, those of an embedded one among them.
type field struct {
	at        []int
	key       string // with quotes and colon
	omitEmpty bool
	write     writer
}

func structWriter(t reflect.Type) writer {
	fields := fieldsOf(t, nil)
	return func(b []byte, v reflect.Value) ([]byte, error) {
		b = append(b, '{')
		start := len(b)
		var err error
		for i := range fields {
			f := &fields[i]
			x := v.Field(f.at[0])
			for _, k := range f.at[1:] {
				x = x.Field(k)
			}
			if f.omitEmpty && (x.IsZero() || x.Kind() == reflect.Slice && x.Len() == 0) {
				continue
			}
			if len(b) > start {
				b = append(b, ',')
			}
			if b, err = f.write(append(b, f.key...), x); err != nil {
				return nil, err
			}
		}
		return append(b, '}'), nil
	}
}

func fieldsOf(t reflect.Type, above []int) []field {
	var out []field
	for i := range t.NumField() {
		f := t.Field(i)
		at := append(append([]int{}, above...), i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case name == "-" && options == "" || !f.IsExported() && !f.Anonymous:
		case f.Anonymous && name == "" && f.Type.Kind() == reflect.Struct:
			out = append(out, fieldsOf(f.Type, at)...)
		default:
			if name == "" {
				name = f.Name
			}
			out = append(out, field{at, strconv.Quote(name) + ":", options == "omitempty", writerOf(f.Type)})
		}
	}
	return out
}
