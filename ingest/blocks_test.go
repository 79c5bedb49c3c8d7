package ingest

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
)

// TestBlocksSideBySide: a large text gives the same reading with one worker and
// with several.
func TestBlocksSideBySide(t *testing.T) {
	var b strings.Builder
	b.WriteString("date,lifter,lift,load (kg),set,rep,velocity (m/s),rom (m)\n")
	for i := range 120_000 {
		speed := fmt.Sprintf("0.%03d", 100+i%800)
		if i%997 == 0 {
			speed = "0.4l"
		}
		fmt.Fprintf(&b, "2026-%02d-%02d,Lifter %d,squat,%d,%d,%d,%s,0.5\n", i/20000+1, i/1000%28+1, i%7, 60+i%50, i/5%8+1, i%5+1, speed)
	}
	fsys := fstest.MapFS{"may.csv": &fstest.MapFile{Data: []byte(b.String())}}
	var want string
	for _, workers := range []int{1, 2, 5} {
		r, err := Read(context.Background(), fsys, nil, nil, Options{Workers: workers})
		if err != nil || r.Sources[0].Err != nil {
			t.Fatal(err, r.Sources[0].Err)
		}
		var reps strings.Builder
		for i := 0; i < r.Reps.Len(); i += 31 {
			fmt.Fprintf(&reps, "%v %x\n", r.Reps.Rep(int32(i)), r.Reps.ID(int32(i)))
		}
		got := fmt.Sprint(r.Ledger, r.Unread, r.Reps.Len(), reps.String())
		if want == "" {
			want = got
		}
		if got != want {
			t.Errorf("%d workers read something else than one", workers)
		}
		if l := r.Ledger[0]; l.Rows != 120_001 || l.RepRows != 120_000-121 || l.Unread != 121 {
			t.Errorf("ledger %+v", l)
		}
	}
}
