package motion

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"strings"
	"testing"

	"repsift/ingest/rep"
	"repsift/ingest/trace"
)

// sets returns a trace of so many sets of three squats, the last rep of each
// missed, with two minutes between sets.
func sets(t *testing.T, n int) Trace {
	t.Helper()
	tr := Trace{Source: `in/<b>"x".csv`, Of: rep.Rep{Lifter: "Ines <Duarte> & co", Lift: rep.Squat, LoadKg: 140, Date: 20500}}
	s := trace.New(trace.Options{Lift: rep.Squat, KeepSeries: true}, func(f trace.Found) { tr.Found = append(tr.Found, f) })
	const hz, every = 50.0, 140.0
	height := func(now float64) float64 {
		at := math.Mod(now, every)
		for _, p := range []struct{ from, seconds, way, back float64 }{{5, 3, 0.6, 0.6}, {10, 3, 0.6, 0.6}, {15, 4, 0.6, 0.3}} {
			if d := (at - p.from) / p.seconds; d >= 0 && d < 1 {
				x := 0.3 * (math.Cos(2*math.Pi*d) - 1)
				if d > 0.5 && p.back < p.way { // goes up half the way, and down again
					x = -0.6 + 0.15*(1-math.Cos(4*math.Pi*(d-0.5)))
				}
				return x
			}
		}
		if at >= 19 && at < 27 {
			return -0.6 * min(1, (27-at)/6)
		}
		return 0
	}
	for i := 0; float64(i)/hz < every*float64(n); i++ {
		if err := s.Add(int32(i+2), rep.Some(float64(i)/hz), rep.Some(height(float64(i)/hz)), rep.Null[float64]{}); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	tr.Summary, tr.Series = s.Summary(), s.Series()
	return tr
}

func wellFormed(t *testing.T, b []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(b))
	for {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

func TestPictures(t *testing.T) {
	tr := sets(t, 2)
	kinds := make(map[trace.Kind]int)
	for _, f := range tr.Found {
		kinds[f.Kind]++
	}
	if kinds[trace.Rep] != 4 || kinds[trace.Missed] != 2 {
		t.Fatalf("found %v", kinds)
	}
	picture := SVG([]Trace{tr})
	wellFormed(t, picture)
	page, err := HTML([]Trace{tr})
	if err != nil {
		t.Fatal(err)
	}
	for name, b := range map[string][]byte{"picture": picture, "page": page} {
		for _, want := range []string{"Ines &lt;Duarte&gt; &amp; co, squat, 140 kg, 2026-02-16", "2 reps, 1 missed rep", ">3 missed</text>",
			"position, m above the lowest shown", "velocity, m/s, upwards", "time since the first sample, s"} {
			if !bytes.Contains(b, []byte(want)) {
				t.Errorf("%s: no %q", name, want)
			}
		}
		for _, never := range []string{"<Duarte>", `<b>`, "NaN", "Inf", "http://", "https://"} {
			text := strings.ReplaceAll(string(b), `xmlns="http://www.w3.org/2000/svg"`, "")
			if strings.Contains(text, never) {
				t.Errorf("%s holds %q", name, never)
			}
		}
		if n := bytes.Count(b, []byte(`class="rep"><title>`)); n != 4 {
			t.Errorf("%s: %d reps drawn, want 4", name, n)
		}
	}
	if again := SVG([]Trace{tr}); !bytes.Equal(again, picture) {
		t.Error("the same trace, another picture")
	}
}

// A panel holds a set; rest between sets is left out; every movement is in
// one panel.
func TestPanels(t *testing.T) {
	tr := sets(t, 5)
	panels := tr.panels()
	if len(panels) != 5 {
		t.Fatalf("%d panels, want 5", len(panels))
	}
	n := 0
	for i, p := range panels {
		n += len(p.found)
		if p.to-p.from > 35 || i > 0 && p.from < panels[i-1].to {
			t.Errorf("panel %d from %.1f to %.1f s", i, p.from, p.to)
		}
		for _, f := range p.found {
			if f.At < p.from || end(&f) > p.to {
				t.Errorf("a movement at %.1f s outside its panel", f.At)
			}
		}
	}
	if n != len(tr.Found) {
		t.Errorf("%d of %d movements drawn", n, len(tr.Found))
	}
}

// The size of a picture follows its sets, not its samples.
func TestThinned(t *testing.T) {
	tr := sets(t, 1)
	small := len(SVG([]Trace{tr}))
	fine := tr
	fine.Series = nil
	for i := 0; i+1 < len(tr.Series); i++ {
		a, b := tr.Series[i], tr.Series[i+1]
		for n := range 40 {
			k := float64(n)
			s := a
			s.T += (b.T - a.T) * k / 40
			s.Position += (b.Position - a.Position) * k / 40
			fine.Series = append(fine.Series, s)
		}
	}
	if large := len(SVG([]Trace{fine})); large > 4*small {
		t.Errorf("40 times the samples make %d bytes of %d", large, small)
	}
}

func TestNothingMoves(t *testing.T) {
	tr := Trace{Source: "a.csv"}
	wellFormed(t, SVG([]Trace{tr}))
	for i := range 100 {
		tr.Series = append(tr.Series, trace.Sample{T: float64(i) / 10, Gap: i > 20 && i < 40})
	}
	wellFormed(t, SVG([]Trace{tr}))
	if p, err := HTML([]Trace{tr}); err != nil || bytes.Contains(p, []byte("NaN")) {
		t.Errorf("%v", err)
	}
}

// TestRemarks: what was taken out of a rep stands below the table, and where there
// is room for one name only, it is the rep's number.
func TestRemarks(t *testing.T) {
	tr := Trace{Source: "a.csv", Found: []trace.Found{
		{Kind: trace.Minor, Set: 1, At: 9.6, Concentric: 0.3, ROM: 0.01, Why: "rises 0.010 m"},
		{Kind: trace.Rep, Set: 1, At: 10, Concentric: 1, ROM: 0.5, MeanVelocity: 0.5, SlackTravel: 0.016, SlackTime: 0.12, RingHz: 4, RingTravel: 0.007},
	}}
	for _, at := range []float64{28, 46, 64} { // a long set leaves little room
		tr.Found = append(tr.Found, trace.Found{Kind: trace.Rep, Set: 1, At: at, Concentric: 1, ROM: 0.5, MeanVelocity: 0.5})
	}
	for i := range 1400 {
		tr.Series = append(tr.Series, trace.Sample{T: float64(i) / 20, Position: 0.5 * min(1, max(0, float64(i)/20-10))})
	}
	b, err := HTML([]Trace{tr})
	if err != nil {
		t.Fatal(err)
	}
	page := string(b)
	for _, want := range []string{">1</text>", "<li>Rep 1: slack of the bar taken out, 1.6 cm in 0.12 s before the plates left the floor; ringing after lockout taken out, 4.0 Hz, first swing 0.7 cm.</li>"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q", want)
		}
	}
	if strings.Contains(page, ">minor</text>") {
		t.Error("a movement that does not count is named where the rep's number stands")
	}
}
