package tidy

import "reflect"

// cells returns a row type as the values of its cells: string, bool, int32,
// float64, [rep.Day] or [rep.Instant], or nil for null.
func cells(dst []any, row any) []any {
	dst = dst[:0]
	for _, f := range reflect.ValueOf(row).Fields() {
		var cell any
		switch v := f.Interface().(type) {
		case Text:
			if v != "" {
				cell = string(v)
			}
		case string:
			if v != "" {
				cell = v
			}
		case List:
			if len(v) > 0 {
				cell, _ = v.MarshalCSV()
			}
		default:
			if f.Kind() != reflect.Pointer {
				cell = v
			} else if !f.IsNil() {
				cell = f.Elem().Interface()
			}
		}
		dst = append(dst, cell)
	}
	return dst
}
