package card

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"repsift/ingest/rep"
	"repsift/profile"
)

// dash stands where a number cannot be said.
const dash = "–"

// speed returns m/s as it is said in a gym: two digits.
func speed(v any) string { return fixed(v, 2, 1) }

// kg returns a load to the half kilogram, without an idle zero.
func kg(v any) string { return strings.TrimSuffix(fixed(math.Round(2*float(v))/2, 1, 1), ".0") }

// share returns a share of 1 as a whole percentage.
func share(v any) string {
	if s := fixed(v, 0, 100); s != dash {
		return s + " %"
	}
	return dash
}

// num returns a number with as many digits as asked.
func num(digits int, v any) string { return fixed(v, digits, 1) }

// chance is a probability as journals print it: never 0.
func chance(v any) string {
	if p := float(v); p < 0.001 {
		return "< 0.001"
	}
	return num(3, v)
}

func fixed(v any, digits int, scale float64) string {
	x := float(v) * scale
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return dash
	}
	text := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return strings.Replace(text, "-", "−", 1)
}

// float returns the number in any of the forms the template meets; NaN where
// there is none.
func float(v any) float64 {
	switch v := v.(type) {
	case float64:
		return v
	case profile.Number:
		return float64(v)
	case rep.Null[float64]:
		return v.Or(math.NaN())
	case profile.Estimate:
		if v.Known {
			return v.Value
		}
	case int:
		return float64(v)
	}
	return math.NaN()
}

// speedOf returns the speed of an estimate with its range, or a dash.
func speedOf(e profile.Estimate) string {
	if !e.Known {
		return dash
	}
	return fmt.Sprintf("%s (%s)", speed(e.Value), spread(2, e.Lo, e.Hi))
}

// estimate returns value and range with digits places and a unit, or what is
// still needed.
func estimate(digits int, unit string, e profile.Estimate) string {
	if !e.Known {
		return notYet(e)
	}
	if unit != "" {
		unit = " " + unit
	}
	return fmt.Sprintf("%s%s (%s)", fixed(e.Value, digits, 1), unit, spread(digits, e.Lo, e.Hi))
}

// kgOf returns a load with its range, to the half kilogram.
func kgOf(e profile.Estimate) string {
	if !e.Known {
		return notYet(e)
	}
	return fmt.Sprintf("%s kg (%s to %s)", kg(e.Value), kg(e.Lo), kg(e.Hi))
}

func notYet(e profile.Estimate) string {
	if e.Need == 0 {
		return "not enough yet"
	}
	return strings.TrimSpace(fmt.Sprintf("not enough yet: %d of %d %s", e.Have, e.Need, e.Of))
}

// brief is estimate for a cell of a table: without unit and, where there is not
// enough yet, without what is counted.
func brief(digits int, e profile.Estimate) string {
	switch {
	case e.Known:
		return estimate(digits, "", e)
	case e.Need == 0:
		return dash
	}
	return fmt.Sprintf("not yet: %d of %d", e.Have, e.Need)
}

// briefKg is brief for a load.
func briefKg(e profile.Estimate) string {
	if !e.Known {
		return brief(1, e)
	}
	return fmt.Sprintf("%s (%s to %s)", kg(e.Value), kg(e.Lo), kg(e.Hi))
}

// briefShare is brief for a share of 1, in percent.
func briefShare(e profile.Estimate) string {
	if !e.Known {
		return brief(2, e)
	}
	return fmt.Sprintf("%s (%s to %s)", share(e.Value), share(e.Lo), share(e.Hi))
}

// from returns what an estimate rests on: "53 sets with RPE and speed".
func from(e profile.Estimate) string {
	if !e.Known {
		return dash
	}
	return strings.TrimSpace(fmt.Sprintf("%d %s", e.N, e.Of))
}

// spread returns "0.28 to 0.34".
func spread(digits int, lo, hi any) string {
	return fixed(lo, digits, 1) + " to " + fixed(hi, digits, 1)
}

// day returns a day as a coach writes it without doubt about the order.
func day(d rep.Day) string { return d.Time().Format("2 Jan 2006") }

// count returns a number with its noun in the right form.
func count(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// odds says how usual a day is, given the share of usual days that are as slow
// or slower.
func odds(asSlow any) string {
	x, side := float(asSlow), "slow or slower"
	if x > 0.5 {
		x, side = 1-x, "fast or faster"
	}
	n := math.Round(100 * x)
	switch {
	case math.IsNaN(x):
		return ""
	case n < 1:
		return fmt.Sprintf("Fewer than 1 of 100 usual days is this %s.", side)
	}
	return fmt.Sprintf("Of 100 usual days about %.0f are this %s.", n, side)
}

func joined(parts []string) string { return strings.Join(parts, ", ") }
