// Package number is how every figure of a profile is told: an [Estimate] with
// its interval or with what is still lacking, or a plain [Number] that may be
// unsaid. Both write themselves as JSON without NaN and with the same digits
// on every machine.
package number

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"repsift/clean/robust"
)

// Level is the probability with which intervals hold what they are about,
// unless a field says otherwise. The programs in calibrate measure how often
// they do.
const Level = 0.95

// Estimate is a number with how wrong it may be, or the statement that there
// is not enough data for it yet: exactly one of the two. In JSON it is
//
//	{"value":0.31,"lo":0.28,"hi":0.34,"level":0.95,"n":14}
//	{"need":8,"have":3,"of":"sets with RPE and speed"}
type Estimate struct {
	Known  bool    // the number is there; else Need, Have and Of are
	Value  float64 // best single guess
	Lo, Hi float64 // the interval that holds the truth with probability Level
	Level  float64
	N      int // how many of what Of names stand behind it

	Need, Have int    // there is not enough yet: Have of Need
	Of         string // what is counted, plural: "sets with RPE and speed"
}

// Known returns an estimate from a value and its interval at [Level].
func Known(value, lo, hi float64, n int, of string) Estimate {
	return Estimate{Known: true, Value: value, Lo: lo, Hi: hi, Level: Level, N: n, Of: of}
}

// NotYet returns the statement that have of need are there.
func NotYet(need, have int, of string) Estimate {
	return Estimate{Need: need, Have: have, Of: of}
}

// More returns the statement that have do not settle it though they are many:
// they are too much alike.
func More(have int, of string) Estimate { return NotYet(have+1, have, of) }

// NotNegative keeps a speed at standstill or above.
func (e Estimate) NotNegative() Estimate { return e.Within(0, math.Inf(1)) }

// Within keeps an estimate, and its interval, on the scale that it is read on.
func (e Estimate) Within(lo, hi float64) Estimate {
	if !e.Known {
		return e
	}
	on := func(x float64) float64 { return math.Min(math.Max(x, lo), hi) }
	e.Value, e.Lo, e.Hi = on(e.Value), on(e.Lo), on(e.Hi)
	return e
}

// String returns the estimate for a log line or a test: "0.31 (0.28 to 0.34)"
// or "not enough yet: 3 of 8 sets with RPE and speed".
func (e Estimate) String() string {
	if !e.Known {
		return fmt.Sprintf("not enough yet: %d of %d %s", e.Have, e.Need, e.Of)
	}
	return fmt.Sprintf("%.4g (%.4g to %.4g)", e.Value, e.Lo, e.Hi)
}

// MarshalJSON writes one of the two forms.
func (e Estimate) MarshalJSON() ([]byte, error) {
	if !e.Known {
		return json.Marshal(struct {
			Need int    `json:"need"`
			Have int    `json:"have"`
			Of   string `json:"of,omitempty"`
		}{e.Need, e.Have, e.Of})
	}
	b := make([]byte, 0, 128)
	for _, part := range []struct {
		key string
		x   float64
	}{{`{"value":`, significant(e.Value)}, {`,"lo":`, significant(e.Lo)}, {`,"hi":`, significant(e.Hi)}, {`,"level":`, e.Level}} {
		if math.IsNaN(part.x) || math.IsInf(part.x, 0) {
			return nil, fmt.Errorf("an estimate of %v", part.x)
		}
		b = appendNumber(append(b, part.key...), part.x)
	}
	b = strconv.AppendInt(append(b, `,"n":`...), int64(e.N), 10)
	if e.Of != "" {
		of, err := json.Marshal(e.Of)
		if err != nil {
			return nil, err
		}
		b = append(append(b, `,"of":`...), of...)
	}
	return append(b, '}'), nil
}

// UnmarshalJSON reads either form, so that profiles.json can be read back.
func (e *Estimate) UnmarshalJSON(b []byte) error {
	var f struct {
		Value, Lo, Hi, Level *float64
		N, Need, Have        int
		Of                   string
	}
	if err := json.Unmarshal(b, &f); err != nil {
		return err
	}
	if f.Value == nil {
		*e = NotYet(f.Need, f.Have, f.Of)
		return nil
	}
	if f.Lo == nil || f.Hi == nil || f.Level == nil {
		return fmt.Errorf("estimate %s: value without lo, hi and level", b)
	}
	*e = Estimate{Known: true, Value: *f.Value, Lo: *f.Lo, Hi: *f.Hi, Level: *f.Level, N: f.N, Of: f.Of}
	return nil
}

// Number is a plain number of a profile. In JSON it has seven significant
// digits, so that files are alike on every machine, and NaN, which means
// "cannot be said", is null.
type Number float64

// OK reports whether the number can be said.
func (n Number) OK() bool { return !math.IsNaN(float64(n)) && !math.IsInf(float64(n), 0) }

// Same reports whether two numbers are written alike.
func (n Number) Same(m Number) bool { return significant(float64(n)) == significant(float64(m)) }

// MarshalJSON writes the number, or null.
func (n Number) MarshalJSON() ([]byte, error) {
	if !n.OK() {
		return []byte("null"), nil
	}
	return appendNumber(make([]byte, 0, 24), significant(float64(n))), nil
}

// UnmarshalJSON reads a number or null.
func (n *Number) UnmarshalJSON(b []byte) error {
	if string(b) == "null" {
		*n = Number(math.NaN())
		return nil
	}
	return json.Unmarshal(b, (*float64)(n))
}

// Column returns a number of each row as encoding/json writes it without a call
// for each: to seven digits, nil for null. It is nil where no row has one.
func Column[Row any](rows []Row, of func(*Row) *Number) []*float64 {
	values, out, any := make([]float64, len(rows)), make([]*float64, len(rows)), false
	for i := range rows {
		if n := *of(&rows[i]); n.OK() {
			values[i] = significant(float64(n))
			out[i], any = &values[i], true
		}
	}
	if !any {
		return nil
	}
	return out
}

// Field is a [Column] of one row.
func Field(n Number) *float64 {
	if !n.OK() {
		return nil
	}
	x := significant(float64(n))
	return &x
}

// Of returns the number that [Column] or [Field] made a field of.
func Of(field *float64) Number {
	if field == nil {
		return Unsaid
	}
	return Number(*field)
}

// Unsaid is a Number that cannot be said.
var Unsaid = Number(math.NaN())

// Kilos writes a load: "102.5 kg".
func Kilos(kg float64) string { return Plain(math.Round(kg*100)/100) + " kg" }

// Plain writes a number with the digits it needs.
func Plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// appendNumber writes a number as encoding/json does: with exponents from 1e21
// on and below 1e-6, as ECMAScript has it.
func appendNumber(b []byte, x float64) []byte {
	if abs := math.Abs(x); abs == 0 || abs >= 1e-6 && abs < 1e21 {
		return strconv.AppendFloat(b, x, 'f', -1, 64)
	}
	b = strconv.AppendFloat(b, x, 'e', -1, 64)
	if n := len(b); b[n-4] == 'e' && b[n-2] == '0' { // e-09 is e-9
		b[n-2] = b[n-1]
		b = b[:n-1]
	}
	return b
}

// scales holds 10⁶⁻ⁿ for n = -32 … 31.
var scales = func() (s [64]float64) {
	for i := range s {
		s[i] = math.Pow(10, 6-float64(i-32))
	}
	return s
}()

// significant rounds to seven significant digits.
func significant(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	n := math.Floor(math.Log10(math.Abs(x)))
	scale := 0.0
	if i := int(n) + 32; i >= 0 && i < len(scales) {
		scale = scales[i]
	} else {
		scale = math.Pow(10, 6-n)
	}
	return math.Round(x*scale) / scale
}

// MeanSD returns mean and sample SD of values; unsaid where there are too few.
func MeanSD(x []float64) (mean, sd Number) {
	if len(x) == 0 {
		return Unsaid, Unsaid
	}
	m, s, ok := robust.MeanSD(x)
	if !ok {
		return Number(x[0]), Unsaid
	}
	return Number(m), Number(s)
}
