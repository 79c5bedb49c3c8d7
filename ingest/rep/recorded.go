package rep

import (
	"iter"
	"maps"
)

// AllRecorded yields every row that was changed, in no order, and what the
// source said of it.
func (t *Table) AllRecorded() iter.Seq2[int32, Recorded] { return maps.All(t.recorded) }
