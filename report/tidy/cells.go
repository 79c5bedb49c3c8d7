package tidy

import (
	"reflect"

	"repsift/clean"
	"repsift/ingest/rep"
)

// RepCells returns row i of t as the cells of a row of reps: one a column of
// rep.Columns, each a string, bool, int32, float64, [rep.Day] or
// [rep.Instant], or nil for null. Lists are joined as in CSV; texts are as
// they are. dst is used again where it is large enough.
func RepCells(dst []any, t *rep.Table, i int32) []any { return cells(dst, repOf(t, i)) }

// AsideCells does the same for a rep set aside and rep.AsideColumns.
func AsideCells(dst []any, t *rep.Table, a *clean.Aside) []any { return cells(dst, asideOf(t, a)) }

// SetCells does the same for a set and rep.SetColumns.
func SetCells(dst []any, s *rep.Set) []any { return cells(dst, setOf(s)) }

// UnreadCells does the same for a loss and rep.UnreadColumns.
func UnreadCells(dst []any, u *rep.Unread) []any { return cells(dst, unreadOf(u)) }

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
