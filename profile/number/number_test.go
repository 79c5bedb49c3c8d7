package number

import (
	"encoding/json"
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
