package chart

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"
)

func sample() Chart {
	return Chart{
		Alt: `Speed falls as load rises; <b>"R&D"</b>`,
		X:   Axis{Label: "load (kg)"}, Y: Axis{Label: "mean velocity (m/s)", Min: 0, Max: 1.2},
		Bands:  []Band{{Name: "95 % band", Ink: First, Low: []XY{{60, 0.8}, {140, 0.1}}, High: []XY{{60, 1}, {140, 0.3}}}},
		Lines:  []Line{{Name: "line", Ink: First, At: []XY{{60, 0.9}, {140, 0.2}}}, {Ink: Plain, Dashed: true, At: []XY{{60, 0.2}, {140, 0.2}}}},
		Points: []Points{{Name: "days", Ink: First, At: []XY{{60, 0.93}, {100, 0.55}}}, {Name: "top", Ink: Second, At: []XY{{140, 0.21}}}},
		Marks:  []Mark{{XY{140, 0.2}, "e1RM"}},
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
	d := xml.NewDecoder(bytes.NewReader(a))
	for {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
	}
	text := string(a)
	if !strings.HasPrefix(text, "<svg") || !strings.Contains(text, `role="img"`) {
		t.Errorf("not an element with a role: %.200s", text)
	}
	if strings.Contains(text, "<b>") {
		t.Error("markup of the alternative text is not escaped")
	}
	if strings.Contains(text, "#000000") || strings.Contains(text, "Liberation") {
		t.Error("ink or typeface is not the page's")
	}
	for _, want := range []string{"load (kg)", "mean velocity (m/s)", "e1RM", "95 % band"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the chart", want)
		}
	}
}

func TestSVGRefusesWhatHasNoPlace(t *testing.T) {
	if _, err := SVG(Chart{Lines: []Line{{Name: "nowhere", At: nil}}}); err == nil {
		t.Error("a line without points is drawn")
	}
}
