package chart

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"image/png"
	"io"
	"regexp"
	"strings"
	"testing"

	"gonum.org/v1/plot"
)

var fixedColour = regexp.MustCompile(`"#[0-9a-f]{3}`)

func sample() Chart {
	return Chart{
		Title: "Squat <load>", Alt: `Speed falls as load rises; <b>"R&D"</b>`,
		X: Axis{Label: "load (kg)", Column: "load_kg"}, Y: Axis{Label: "mean velocity (m/s)", Column: "mean_velocity_m_s", Min: 0, Max: 1.2},
		Bands:  []Band{{Name: "95 % band", Ink: First, Low: []XY{{60, 0.8}, {140, 0.1}}, High: []XY{{60, 1}, {140, 0.3}}}},
		Lines:  []Line{{Name: "line", Ink: First, At: []XY{{60, 0.9}, {140, 0.2}}}, {Ink: Plain, Dashed: true, At: []XY{{60, 0.2}, {140, 0.2}}}},
		Points: []Points{{Name: "days", Ink: First, At: []XY{{60, 0.93}, {100, 0.55}}}, {Name: "top", Ink: Second, At: []XY{{140, 0.21}}}, {Name: "none", Ink: Third}},
	}
}

// wellFormed fails unless the text is XML, and returns its character data.
func wellFormed(t *testing.T, svg []byte) string {
	t.Helper()
	var text strings.Builder
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return text.String()
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		if chars, ok := tok.(xml.CharData); ok {
			text.Write(chars)
		}
	}
}

func TestSVG(t *testing.T) {
	a, err := SVG(sample())
	if err != nil {
		t.Fatal(err)
	}
	b, _ := SVG(sample())
	if !bytes.Equal(a, b) {
		t.Error("the same chart drawn twice differs")
	}
	text := wellFormed(t, a)
	for _, want := range []string{"load (kg)", "mean velocity (m/s)"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the chart", want)
		}
	}
	if strings.Contains(text, "95 % band") {
		t.Error("the legend lies in the picture, where it can hide points")
	}
	markup := string(a)
	if !strings.HasPrefix(markup, "<svg") || !strings.Contains(markup, `role="img"`) || !strings.Contains(markup, "R&amp;D") {
		t.Errorf("not an element with a role and a text for those who cannot see it: %.200s", markup)
	}
	if strings.Contains(markup, "<b>") || fixedColour.MatchString(markup) || strings.Contains(markup, "Liberation") {
		t.Error("markup of the text, a fixed colour or a typeface got into the page")
	}
}

func TestLegend(t *testing.T) {
	c := sample()
	var names []string
	for _, k := range c.Legend() {
		wellFormed(t, k.Mark)
		if !bytes.Contains(k.Mark, []byte("<path")) {
			t.Errorf("the key of %q shows nothing", k.Name)
		}
		names = append(names, k.Name)
	}
	if got, want := strings.Join(names, ", "), "days, top, line, 95 % band"; got != want {
		t.Errorf("legend: %s, want %s", got, want)
	}
}

// A picture that stands alone says what it shows and needs nothing of a page.
func TestFile(t *testing.T) {
	svg, err := File(sample())
	if err != nil {
		t.Fatal(err)
	}
	text := wellFormed(t, svg)
	for _, want := range []string{"Squat <load>", "days", "95 % band", "load (kg)"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in the file", want)
		}
	}
	if s := string(svg); strings.Contains(s, "var(") || strings.Contains(s, "currentColor") || !strings.Contains(s, "xmlns=") {
		t.Error("the file leans on a page")
	}
}

func TestPNG(t *testing.T) {
	a, err := PNG(sample())
	if err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(bytes.NewReader(a))
	if err != nil {
		t.Fatal(err)
	}
	if w := m.Bounds().Dx(); w != width*dotsPerInch/72 {
		t.Errorf("%d dots wide", w)
	}
	white, inked := 0, 0
	for y := range m.Bounds().Dy() {
		for x := range m.Bounds().Dx() {
			if r, g, b, _ := m.At(x, y).RGBA(); r == 0xffff && g == 0xffff && b == 0xffff {
				white++
			} else {
				inked++
			}
		}
	}
	if inked < white/100 || white < inked {
		t.Errorf("%d white dots, %d others: not a chart on paper", white, inked)
	}
	if b, _ := PNG(sample()); !bytes.Equal(a, b) {
		t.Error("the same chart drawn twice differs")
	}
}

func TestCSV(t *testing.T) {
	c := sample()
	c.X.Days = true
	var b bytes.Buffer
	if err := CSV(&b, c); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 1+3+4+2 {
		t.Fatalf("%d rows: %v", len(rows), rows)
	}
	if got := strings.Join(rows[0], ","); got != "series,kind,load_kg,mean_velocity_m_s,mean_velocity_m_s_lower,mean_velocity_m_s_upper" {
		t.Error(got)
	}
	if got := strings.Join(rows[1], ","); got != "days,points,1970-03-02,0.93,," {
		t.Error(got)
	}
	if got := strings.Join(rows[9], ","); got != "95 % band,band,1970-05-21,,0.1,0.3" {
		t.Error(got)
	}
}

func TestSVGRefusesWhatHasNoPlace(t *testing.T) {
	if _, err := SVG(Chart{Lines: []Line{{Name: "nowhere", At: nil}}}); err == nil {
		t.Error("a line without points is drawn")
	}
}

func labels(ticks []plot.Tick) string {
	var out []string
	for _, t := range ticks {
		out = append(out, t.Label)
	}
	return strings.Join(out, " ")
}

// Steps are 1, 2 or 5 times a power of ten, written with the digits they need.
func TestRoundTicks(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   string
	}{
		{0, 1.08, "0.0 0.2 0.4 0.6 0.8 1.0"},
		{23, 178, "50 100 150"},
		{20, 140, "20 40 60 80 100 120 140"},
		{0.19, 0.52, "0.2 0.3 0.4 0.5"},
		{0.21, 0.37, "0.25 0.30 0.35"},
		{-0.04, 0.05, "−0.04 −0.02 0.00 0.02 0.04"},
		{4.8, 10.2, "5 6 7 8 9 10"},
		{3, 3, "3"},
	} {
		if got := labels(round{}.Ticks(c.lo, c.hi)); got != c.want {
			t.Errorf("%g to %g: %s, want %s", c.lo, c.hi, got, c.want)
		}
	}
}

func TestCalendarTicks(t *testing.T) {
	const jan5 = 20458 // 2026-01-05, a Monday
	for _, c := range []struct {
		lo, hi float64
		want   string
	}{
		{jan5, jan5 + 3, "5 Jan 6 Jan 7 Jan 8 Jan"},
		{jan5 + 1, jan5 + 35, "12 Jan 19 Jan 26 Jan 2 Feb 9 Feb"},
		{jan5, jan5 + 96, "5 Jan 19 Jan 2 Feb 16 Feb 2 Mar 16 Mar 30 Mar"},
		{jan5, jan5 + 150, "1 Feb 1 Mar 1 Apr 1 May 1 Jun"},
		{jan5, jan5 + 730, "Jul 2026 Jan 2027 Jul 2027 Jan 2028"},
	} {
		if got := labels(calendar{}.Ticks(c.lo, c.hi)); got != c.want {
			t.Errorf("%g to %g: %s, want %s", c.lo, c.hi, got, c.want)
		}
	}
}
