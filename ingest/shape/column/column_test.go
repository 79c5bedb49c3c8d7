package column

import (
	"strings"
	"testing"

	"repsift/ingest/table"
)

// columns returns the columns of a table given as lines of cells parted by
// bars, the first of headings, with their fields.
func columns(lines ...string) []*Column {
	var out []*Column
	for i, h := range strings.Split(lines[0], "|") {
		out = append(out, &Column{Index: i, Heading: h, Named: h != "", Stats: &Stats{}})
	}
	for _, line := range lines[1:] {
		for i, text := range strings.Split(line, "|") {
			out[i].Stats.Add(&table.Cell{Text: text, Kind: table.Text})
		}
	}
	for _, c := range out {
		c.Guess()
	}
	Across(out)
	Assign(out)
	return out
}

func TestFields(t *testing.T) {
	for _, c := range []struct {
		lines []string
		want  string // fields of the columns
	}{
		{[]string{"Date|Athlete|Exercise|Load (kg)|Set|Rep|Avg velocity (m/s)|Peak velocity (m/s)|ROM (cm)|Duration (s)|RPE|Notes",
			"2026-01-05|Ines|squat|100|1|1|0.5|0.8|55|1.1|8|", "2026-01-05|Ines|squat|100|1|2|0.48|0.8|55|1.2|8|felt good"},
			"date lifter lift load set rep mean_velocity peak_velocity rom concentric rpe note"},
		{[]string{"Gewicht|Körpergewicht (kg)|Tempo (m/s)|Exz. Dauer (s)|Pause", "100|70|0.5|1.0|3:00", "105|70|0.4|1.2|3:00"},
			"load  mean_velocity eccentric "},
		{[]string{"Mean propulsive velocity (m/s)|MPV (m/s)|Mean velocity (m/s)|Time to peak velocity (s)|Sticking point velocity (m/s)|Eccentric time (s)|Eccentric mean velocity (m/s)|Sticking point (s)",
			"0.52||0.5|0.4|0.3|1.4|0.6|0.7", "0.51||0.5|0.4|0.3|1.4|0.6|0.8"},
			"mean_propulsive_velocity  mean_velocity time_to_peak sticking_velocity eccentric  "},
		{[]string{"MPV|Velocity|Peak velocity", "0.52|0.5|0.7", "0.51|0.5|0.8"}, "mean_propulsive_velocity mean_velocity peak_velocity"},
		// "Reps" counts where the values do not run, "Rep" numbers where they do.
		{[]string{"Reps|Velocity (m/s)", "5|0.5", "5|0.4", "3|0.3", "5|0.3"}, "reps mean_velocity"},
		{[]string{"Reps|Velocity (m/s)", "1|0.5", "2|0.4", "3|0.3", "1|0.3", "2|0.2"}, "rep mean_velocity"},
		{[]string{"Rep|Velocity (m/s)", "1|0.5", "2|0.4", "3|0.3", "1|0.3"}, "rep mean_velocity"},
		// A time of day, a date and how long: told by values.
		{[]string{"Time|Time (s)", "18:05|1.1", "18:06|1.2"}, "time concentric"},
		{[]string{"Time|Velocity", "2026-01-05 18:05|0.5", "2026-01-05 18:06|0.4"}, "date mean_velocity"},
		// A unit that does not fit takes a meaning away.
		{[]string{"Mean (W)|Mean (m/s)", "400|0.5", "380|0.45"}, " mean_velocity"},
		// Without headings: what values alone tell.
		{[]string{"||", "2026-01-05|squat|0.41 / 0.38", "2026-01-06|bench press|0.35 / 0.30"}, "date lift speeds"},
		{[]string{"Rep 1|Rep 2|Rep 3", "0.5|0.4|0.3", "0.5|0.45|"}, "mean_velocity mean_velocity mean_velocity"},
		{[]string{"Set 1|Set 2|Set 3", "5|5|4", "5|5|5"}, "  "},
		{[]string{"Name|Velocity (m/s)", "Kniebeuge|0.5", "Bankdrücken|0.4"}, "lift mean_velocity"},
	} {
		var got []string
		for _, x := range columns(c.lines...) {
			got = append(got, x.Field.String())
		}
		if g := strings.Join(got, " "); g != c.want {
			t.Errorf("%s:\n got %q\nwant %q", c.lines[0], g, c.want)
		}
	}
}

func TestInferLoad(t *testing.T) {
	for _, c := range []struct {
		name  string
		loads []float64
		want  string // "" asks
	}{
		{"plates of 1.25 kg", []float64{60, 82.5, 102.5, 120}, "kg"},
		{"a bar of 20 kg", []float64{20, 60, 80, 100, 120}, "kg"},
		{"the ladder of pounds", []float64{45, 135, 185, 225, 275}, "lb"},
		{"more than anyone lifts", []float64{225, 405, 605}, "lb"},
		{"pounds written in kg", []float64{61.2, 83.9, 102.1, 142.9}, "kg"},
		{"kilograms written in lb", []float64{132.3, 220.5, 308.6}, "lb"},
		{"either", []float64{45, 60, 90, 120}, ""},
		{"either, heavier", []float64{60, 100, 140, 180}, ""},
		{"nothing", nil, "kg"},
	} {
		got, ok := InferLoad(c.loads)
		if name := got.Unit.Name; ok != (c.want != "") || name != c.want {
			t.Errorf("%s: %q, %v; want %q", c.name, name, ok, c.want)
		}
	}
}

func TestInferUnit(t *testing.T) {
	for _, c := range []struct {
		field  Field
		values []float64
		want   string // "" asks
	}{
		{MeanVelocity, []float64{0.3, 0.5, 0.8}, "m/s"},
		{MeanVelocity, []float64{30, 50, 80}, "cm/s"},
		{MeanVelocity, []float64{300, 500, 800}, "mm/s"},
		{MeanVelocity, []float64{3, 5, 8}, ""},
		{ROM, []float64{0.3, 0.5, 0.6}, "m"},
		{ROM, []float64{30, 50, 60}, "cm"},
		{ROM, []float64{300, 500, 600}, "mm"},
		{Concentric, []float64{0.7, 1.1, 3}, "s"},
		{Concentric, []float64{700, 1100, 3000}, "ms"},
	} {
		got, ok := InferUnit(c.field, &Stats{Values: c.values})
		if ok != (c.want != "") || ok && got.Unit.Name != c.want {
			t.Errorf("%s %v: %q, %v; want %q", c.field, c.values, got.Unit.Name, ok, c.want)
		}
	}
}

func TestCutSpeeds(t *testing.T) {
	for text, want := range map[string]string{
		"0.41 / 0.38 / 0.35": "0.41|0.38|0.35", "0,41/0,38": "0,41|0,38", "0.41, 0.38": "0.41|0.38", "0.41,0.38": "0.41|0.38",
		"0,41; 0,38": "0,41|0,38", "0.41 0.38": "0.41|0.38", "0.41-0.38": "0.41|0.38", "0.41 m/s": "0.41 m∕s", "0.41": "0.41",
		"0.41 m/s / 0.38 m/s": "0.41 m∕s|0.38 m∕s", "0.41 / x": "0.41|x", "(0.41 / 0.38)": "0.41|0.38",
	} {
		if got := strings.Join(CutSpeeds(text), "|"); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestRivals(t *testing.T) {
	var cs []*Column
	for i, h := range []string{"Mean velocity (m/s)", "Average velocity (m/s)", "Load (kg)"} {
		c := &Column{Index: i, Heading: h, Named: true, Stats: &Stats{}}
		for _, v := range []string{"0.5", "0.4"} {
			c.Stats.Add(&table.Cell{Text: v, Kind: table.Text})
		}
		c.Guess()
		cs = append(cs, c)
	}
	rivals := Assign(cs)
	if len(rivals) != 1 || rivals[0].Field != MeanVelocity || rivals[0].First != cs[0] || rivals[0].Second != cs[1] {
		t.Errorf("rivals %+v", rivals)
	}
}
