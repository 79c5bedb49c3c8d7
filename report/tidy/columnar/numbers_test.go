package columnar

import (
	"bytes"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/format"

	"repsift/ingest/rep"
)

// Of numbers that are chance, the first are nearly all new, though there are few
// different ones in the end.
func TestLateRepeats(t *testing.T) {
	const n, different = 80_000, 20_000
	r := rand.New(rand.NewPCG(1, 2))
	values := make([]float64, n)
	for i := range values {
		values[i] = float64(r.IntN(different)) / different
	}
	var b bytes.Buffer
	if err := Write(&b, []rep.Column{{Name: "velocity_loss", Type: rep.Float64}}, map[string]any{
		"velocity_loss": Floats(func(i int) rep.Null[float64] { return rep.Some(values[i]) }),
	}, 0, n, n); err != nil {
		t.Fatal(err)
	}
	if most := 8*different + 2*n; b.Len() > most {
		t.Errorf("%d bytes, where a dictionary takes less than %d", b.Len(), most)
	}
}

// Whole numbers that hardly repeat come back as they were, however far apart.
func TestFarApart(t *testing.T) {
	const n = 1000
	type line struct {
		Row int32  `parquet:"row"`
		At  *int64 `parquet:"performed_at,optional"`
	}
	want := make([]line, n)
	for i := range want {
		want[i].Row = []int32{math.MaxInt32 - int32(i), math.MinInt32 + int32(i), int32(i)}[i%3]
		if at := []int64{math.MaxInt64 - int64(i), math.MinInt64 + 1 + int64(i), int64(i)}[i%3]; i%7 > 0 {
			want[i].At = &at
		}
	}
	var b bytes.Buffer
	err := Write(&b, []rep.Column{{Name: "row", Type: rep.Int32}, {Name: "performed_at", Type: rep.Timestamp, Null: true}}, map[string]any{
		"row":          Ints(func(i int) rep.Null[int32] { return rep.Some(want[i].Row) }),
		"performed_at": Instants(func(i int) rep.Null[rep.Instant] { return rep.FromPtr((*rep.Instant)(want[i].At)) }),
	}, 0, n, 300)
	if err != nil {
		t.Fatal(err)
	}
	got, err := parquet.Read[line](bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%d lines come back otherwise, %v", len(got), err)
	}
	f, err := parquet.OpenFile(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range f.Metadata().RowGroups[0].Columns {
		if !slices.Contains(c.MetaData.Encoding, format.DeltaBinaryPacked) {
			t.Errorf("%s is held as %v", c.MetaData.PathInSchema, c.MetaData.Encoding)
		}
	}
}

// A column of nothing is the same bytes whether its source has codes or cells: a
// season is the same file in whatever parts it comes.
func TestNothing(t *testing.T) {
	const n = 10
	cells := Floats(func(int) rep.Null[float64] { return rep.Null[float64]{} })
	written := func(source any) []byte {
		var b bytes.Buffer
		if err := Write(&b, []rep.Column{{Name: "rpe", Type: rep.Float64, Null: true}}, map[string]any{"rpe": source}, 0, n, n); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	coded := Coded{
		Codes: func(dst []uint32, from, to int) []uint32 { return append(dst, make([]uint32, to-from)...) },
		N:     1,
		Value: func(uint32) (int64, bool) { return 0, false },
		Cells: cells,
	}
	if !bytes.Equal(written(coded), written(cells)) || !bytes.Equal(written(Missing{}), written(cells)) {
		t.Error("written in several ways")
	}
}
