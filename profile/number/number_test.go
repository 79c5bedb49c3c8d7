package number

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// TestJSON: numbers are written as encoding/json writes them, to seven digits.
func TestJSON(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 20_000 {
		x := (r.Float64() - 0.5) * math.Pow(10, float64(r.IntN(60)-30))
		if i%10 == 0 {
			x = float64(r.IntN(2000)) / 8
		}
		seven, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', 6, 64), 64)
		if err != nil {
			t.Fatal(err)
		}
		got, err := json.Marshal(Number(x))
		if err != nil {
			t.Fatal(err)
		}
		var back float64
		if err := json.Unmarshal(got, &back); err != nil || math.Abs(back-seven) > 2e-7*math.Abs(seven) {
			t.Fatalf("%v is written as %s, seven digits are %v (%v)", x, got, seven, err)
		}
		if want, _ := json.Marshal(back); string(got) != string(want) {
			t.Fatalf("%v is written as %s, by encoding/json as %s", x, got, want)
		}
	}
	got, err := json.Marshal(Known(1e-9, 0, 1e-7, 3, "sets <b>"))
	want := `{"value":1e-9,"lo":0,"hi":1e-7,"level":0.95,"n":3,"of":"sets \u003cb\u003e"}`
	if err != nil || string(got) != want {
		t.Errorf("%s, %v; want %s", got, err, want)
	}
	if _, err := json.Marshal(Known(math.NaN(), 0, 1, 3, "sets")); err == nil {
		t.Error("NaN is written")
	}
	if got, err := json.Marshal([]Number{Unsaid, Number(math.Inf(1)), 0}); err != nil || string(got) != "[null,null,0]" {
		t.Errorf("%s, %v", got, err)
	}
}

// day writes itself as text.
type day int

func (d day) AppendText(b []byte) ([]byte, error) { return fmt.Appendf(b, "2026-01-%02d", int(d)), nil }
func (d day) MarshalText() ([]byte, error)        { return d.AppendText(nil) }

type Inner struct {
	From day `json:"from"`
	Days int `json:"days"`
}

type sample struct {
	Name  string `json:"name"`
	Inner        // its fields are those of the whole
	Plain float64
	N     Number            `json:"n"`
	E     Estimate          `json:"e"`
	Not   Estimate          `json:"not"`
	Empty string            `json:"empty,omitempty"`
	None  []string          `json:"none,omitempty"`
	Nil   []Number          `json:"nil"`
	Own   bool              `json:"own"`
	Skip  float64           `json:"-"`
	Count int32             `json:"count"`
	Rows  []Inner           `json:"rows"`
	Map   map[string]Number `json:"map"`
	Any   any               `json:"any"`
	inner int               // not written
}

// TestAppendJSON: what is appended is what encoding/json writes.
func TestAppendJSON(t *testing.T) {
	for _, s := range []sample{
		{},
		{Name: "Zoë \"<b>\" \u2028\x01\xff", Inner: Inner{3, 4}, Plain: 1e-7, N: Unsaid, E: Known(0.1+0.2, 0, 1e21, 3, "a & b"), Not: NotYet(3, 1, "sets"),
			Empty: "x", None: []string{"a", "ö"}, Nil: []Number{1, Unsaid}, Own: true, Skip: math.NaN(), Count: -5, Rows: []Inner{{1, 2}, {2, 3}},
			Map: map[string]Number{"b": 2, "a": 1}, Any: []int{1}, inner: 1},
		{None: []string{}, Rows: []Inner{}},
	} {
		want, err := json.Marshal(&s)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := AppendJSON([]byte("before"), &s); err != nil || string(got) != "before"+string(want) {
			t.Errorf("%s, %v\nencoding/json: %s", got, err, want)
		}
	}
	if _, err := AppendJSON(nil, &sample{Plain: math.Inf(1)}); err == nil {
		t.Error("JSON of an infinite number")
	}
}
