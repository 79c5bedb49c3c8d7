package tidy

import (
	"fmt"
	"reflect"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
)

// Every column finds its way back: each is filled, taken back to a rep or set,
// and laid out again.
func TestBackEveryColumn(t *testing.T) {
	var r Rep
	fill(reflect.ValueOf(&r).Elem())
	q, err := r.Rep()
	if err != nil {
		t.Fatal(err)
	}
	table := new(rep.Table)
	table.Append(&q)
	table.GiveIDs([]uint64{0xabc})
	same(t, rep.Columns, cells(nil, r), cells(nil, repOf(table, 0)))

	var a Aside
	fill(reflect.ValueOf(&a).Elem())
	a.Session, a.Set, a.Number, a.Role = nil, nil, nil, ""
	shared := a.Rep()
	if q, err = shared.Rep(); err != nil {
		t.Fatal(err)
	}
	table = new(rep.Table)
	table.Append(&q)
	table.GiveIDs([]uint64{0xabc})
	same(t, rep.AsideColumns, cells(nil, a), cells(nil, asideOf(table, &clean.Aside{Filter: rep.ShortTravel, Reason: string(a.Reason),
		Measured: rep.FromPtr(a.Measured), Limit: rep.FromPtr(a.Limit)})))

	var s Set
	fill(reflect.ValueOf(&s).Elem())
	set, err := s.Set()
	if err != nil {
		t.Fatal(err)
	}
	same(t, rep.SetColumns, cells(nil, s), cells(nil, setOf(&set)))
}

func same(t *testing.T, columns []rep.Column, want, got []any) {
	t.Helper()
	for i, c := range columns {
		if !reflect.DeepEqual(got[i], want[i]) {
			t.Errorf("%s: %v came back as %v", c.Name, want[i], got[i])
		}
	}
}

// fill gives every field a value of its own that its column may have.
func fill(row reflect.Value) {
	for i := range row.NumField() {
		f := row.Field(i)
		if f.Kind() == reflect.Pointer {
			f.Set(reflect.New(f.Type().Elem()))
			f = f.Elem()
		}
		switch row.Type().Field(i).Tag.Get("csv") {
		case "rep_id":
			f.SetString("0000000000000abc")
			continue
		case "set_role":
			f.SetString(rep.BackOff.String())
			continue
		case "rpe_from":
			f.SetString(rep.RPEHandLog.String())
			continue
		case "filter":
			f.SetString(rep.ShortTravel.String())
			continue
		}
		switch v := f.Addr().Interface().(type) {
		case *List:
			*v = List{rep.SplitRep.String(), rep.LoadCheck.String()}
		default:
			switch f.Kind() {
			case reflect.String:
				f.SetString(fmt.Sprint("text ", i))
			case reflect.Int32, reflect.Int64:
				f.SetInt(int64(100 + i))
			case reflect.Float64:
				f.SetFloat(float64(i) + 0.25)
			case reflect.Bool:
				f.SetBool(true)
			default:
				panic(f.Kind())
			}
		}
	}
}

// Names that no version of the program writes are refused.
func TestBackRefuses(t *testing.T) {
	for _, r := range []Rep{{Role: "warmup"}, {RPEFrom: "guess"}, {Flags: List{"magic"}}} {
		if _, err := r.Rep(); err == nil {
			t.Errorf("%+v is taken", r)
		}
	}
	if _, err := (&Set{Role: "warmup"}).Set(); err == nil {
		t.Error("a set of an unknown role is taken")
	}
}
