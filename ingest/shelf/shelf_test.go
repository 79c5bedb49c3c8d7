package shelf

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"repsift/ingest/rep"
)

// fill gives every field of a rep a value, or none where it may be missing:
// fields that come later are filled too.
func fill(v reflect.Value, rnd *rand.Rand) {
	if ok := v.Kind() == reflect.Struct && v.NumField() == 2 && v.Type().Field(1).Name == "OK"; ok {
		if rnd.IntN(2) == 0 {
			return
		}
		v.Field(1).SetBool(true)
		fill(v.Field(0), rnd)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), rnd)
		}
	case reflect.String:
		v.SetString([]string{"", "Ana", "Bo", "çé"}[rnd.IntN(4)])
	case reflect.Float64:
		v.SetFloat([]float64{0, 0.41, -1.5, 1e-300, 1e300}[rnd.IntN(5)]) // a table knows 255 steps
	case reflect.Int32, reflect.Int64:
		v.SetInt(rnd.Int64N(1 << 20))
	case reflect.Uint8:
		v.SetUint(rnd.Uint64N(3)) // where an RPE is from, a role
	case reflect.Uint16:
		v.SetUint(rnd.Uint64N(1 << 14))
	case reflect.Bool:
		v.SetBool(rnd.IntN(2) == 0)
	default:
		panic(v.Type())
	}
}

func shelfOf(t *testing.T) *Shelf {
	f, err := os.Create(filepath.Join(t.TempDir(), "reps"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return On(f)
}

// Every field of every rep comes back as it was, in its place in the order.
func TestReps(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	s := shelfOf(t)
	whole := &rep.Table{}
	var pages []Page
	for range 704 {
		var r rep.Rep
		fill(reflect.ValueOf(&r).Elem(), rnd)
		whole.Append(&r)
	}
	for _, rows := range [][2]int{{0, 1}, {1, 701}, {701, 704}} {
		p, err := s.Put(whole, rows[0], rows[1])
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, p)
	}
	for _, asked := range []string{"Ana Bo çé", "Ana", "Bo", "Cy"} {
		var want, got []string
		for i := range int32(whole.Len()) {
			if r := whole.Rep(i); strings.Contains(asked, r.Lifter) && r.Lifter != "" {
				r.Lifter += "!"
				want = append(want, fmt.Sprintf("%+v", r))
			}
		}
		back := &rep.Table{}
		for _, p := range pages {
			err := s.Add(back, p, func(name string) (string, bool) { return name + "!", name != "" && strings.Contains(asked, name) })
			if err != nil {
				t.Fatal(err)
			}
		}
		for i := range int32(back.Len()) {
			got = append(got, fmt.Sprintf("%+v", back.Rep(i)))
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %d reps came back, not the %d that were put", asked, len(got), len(want))
		}
	}
	total := map[[2]string]int{}
	for _, p := range pages {
		for _, w := range p.Who {
			total[[2]string{w.Lifter, w.Source}] += w.Reps
		}
	}
	for i := range int32(whole.Len()) {
		r := whole.Rep(i)
		total[[2]string{r.Lifter, r.Source}]--
	}
	for who, n := range total {
		if n != 0 {
			t.Errorf("%q: %+d reps on the pages", who, n)
		}
	}
}

// A file that is cut short is an error, not fewer reps.
func TestCutShort(t *testing.T) {
	s := shelfOf(t)
	page := &rep.Table{}
	for i := range 1000 {
		page.Append(&rep.Rep{Lifter: "Ana", Row: int32(i)})
	}
	p, err := s.Put(page, 0, page.Len())
	if err != nil {
		t.Fatal(err)
	}
	if err := s.file.(*os.File).Truncate(s.Size() - 10); err != nil {
		t.Fatal(err)
	}
	if err := s.Add(&rep.Table{}, p, func(name string) (string, bool) { return name, true }); err == nil {
		t.Error("no error")
	}
}

func BenchmarkPage(b *testing.B) {
	f, err := os.Create(filepath.Join(b.TempDir(), "reps"))
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	s := On(f)
	rnd := rand.New(rand.NewPCG(1, 1))
	t := &rep.Table{}
	const rows = 1 << 14
	for i := range rows {
		t.Append(&rep.Rep{Lifter: "Ana", Lift: "squat", Source: "a.csv", Row: int32(i), RepRecorded: rep.Some(int32(i % 5)),
			LoadKg: float64(100 + i/5%50), MeanVelocity: float64(300+rnd.IntN(400)) / 1000, ROM: rep.Some(float64(500+rnd.IntN(100)) / 1000)})
	}
	for b.Loop() {
		p, err := s.Put(t, 0, t.Len())
		if err != nil {
			b.Fatal(err)
		}
		if err := s.Add(&rep.Table{}, p, func(name string) (string, bool) { return name, true }); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/rows, "ns/rep")
	b.ReportMetric(float64(s.Size())/float64(b.N)/rows, "bytes/rep")
}

// Columns that were damaged are no reps.
func TestUnsound(t *testing.T) {
	good := func() *Columns {
		var reps rep.Table
		reps.Append(&rep.Rep{Lifter: "Ana", Row: 1})
		reps.Append(&rep.Rep{Lifter: "Bo", Row: 2})
		return Of(&reps, 0, 2)
	}
	for name, damage := range map[string]func(*Columns){
		"a row more":          func(c *Columns) { c.Row = append(c.Row, 3) },
		"a number of no text": func(c *Columns) { c.Lifter.Numbers[1] = 9 },
		"no values":           func(c *Columns) { c.LoadKg.Values = nil },
		"an unknown RPE":      func(c *Columns) { c.RPEFrom.Values[0] = 7 },
		"an unknown role":     func(c *Columns) { c.Role.Values[0] = 9 },
	} {
		c := good()
		damage(c)
		var to rep.Table
		if n, err := c.AddTo(&to); err == nil || n != 0 || to.Len() != 0 {
			t.Errorf("%s: %d reps, %v", name, n, err)
		}
	}
	var to rep.Table
	if n, err := good().AddTo(&to); err != nil || n != 2 || to.Rep(1).Lifter != "Bo" {
		t.Errorf("%d reps, %v", n, err)
	}
}
