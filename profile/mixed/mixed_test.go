package mixed

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g ± %g", what, got, want, tol)
	}
}

// line returns the data of a straight line without days or priors, x taken
// from centre.
func line(x, y []float64, centre float64) Data {
	one, dx := make([]float64, len(x)), make([]float64, len(x))
	for i := range x {
		one[i], dx[i] = 1, x[i]-centre
	}
	return Data{Y: y, Columns: []Column{{X: one}, {X: dx}}}
}

// TestToluca: Kutner, Nachtsheim, Neter, Li, Applied Linear Statistical Models
// (5th ed. 2005), chapters 1 and 2: fit, 90 % interval of the mean and of a
// new observation at x = 65.
func TestToluca(t *testing.T) {
	x := []float64{80, 30, 50, 90, 70, 60, 120, 80, 100, 50, 40, 70, 90, 20, 110, 100, 30, 50, 90, 110, 30, 90, 40, 80, 70}
	y := []float64{399, 121, 221, 376, 361, 224, 546, 352, 353, 157, 160, 252, 389, 113, 435, 420, 212, 268, 377, 421, 273, 468, 244, 342, 323}
	f, err := New(line(x, y, 70))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "slope", f.Coefficient(1).Mean(), 3.57020202020, 1e-9)
	at := []float64{1, 65 - 70}
	v, lo, hi := f.At(at, OfLine).Interval(0.90)
	near(t, "fit at 65", v, 294.428989899, 1e-6)
	near(t, "mean low", lo, 277.431534197, 1e-3)
	near(t, "mean high", hi, 311.426445601, 1e-3)
	_, lo, hi = f.At(at, OfValue).Interval(0.90)
	near(t, "prediction low", lo, 209.043195124, 1e-3)
	near(t, "prediction high", hi, 379.814784674, 1e-3)
	b := f.Coefficient(1)
	_, lo, hi = b.Interval(0.95)
	tq := distuv.StudentsT{Sigma: 1, Nu: 23}.Quantile(0.975)
	near(t, "slope low", lo, 3.57020202020-tq*0.346972156849, 1e-5)
	near(t, "slope high", hi, 3.57020202020+tq*0.346972156849, 1e-5)
}

// TestFewValues holds the integration over σ against Student's t where its
// tails are longest: three values, one degree of freedom, and four, two.
func TestFewValues(t *testing.T) {
	for _, y := range [][]float64{{1, 2.2, 2.9}, {1, 2.2, 2.9, 4.4}} {
		n := len(y)
		var x []float64
		for i := range y {
			x = append(x, float64(i))
		}
		f, err := New(line(x, y, float64(n-1)/2))
		if err != nil {
			t.Fatal(err)
		}
		var rss, sxx float64
		b := f.Coefficient(1).Mean()
		a := f.Coefficient(0).Mean()
		for i := range y {
			d := x[i] - float64(n-1)/2
			r := y[i] - a - b*d
			rss, sxx = rss+r*r, sxx+d*d
		}
		se := math.Sqrt(rss / float64(n-2) / sxx)
		_, _, hi := f.Coefficient(1).Interval(0.95)
		want := distuv.StudentsT{Sigma: 1, Nu: float64(n - 2)}.Quantile(0.975)
		near(t, "t", (hi-b)/se/want, 1, 1e-2/math.Pow(5, float64(n-3)))
	}
	if _, err := New(line([]float64{1, 2}, []float64{1, 2}, 0)); !errors.Is(err, ErrTooFew) {
		t.Errorf("two values: error %v", err)
	}
	if _, err := New(line([]float64{1, 2, 3, 4, 5}, []float64{0.4, 0.4, 0.4, 0.4, 0.4}, 3)); !errors.Is(err, ErrTooFew) {
		t.Errorf("no scatter: error %v", err)
	}
	if _, err := New(line([]float64{1, 1, 1, 1}, []float64{1, 2, 3, 4}, 0)); !errors.Is(err, ErrTooFew) {
		t.Errorf("equal x: error %v", err)
	}
}

// TestCrossing: Graybill FA, Iyer HK (1994) Regression Analysis, chapter 6,
// pp. 431–434, thermometer, chamber and crystals; the exact limits.
func TestCrossing(t *testing.T) {
	thermX := []float64{96, 98, 100, 102, 104, 106, 108, 110}
	thermY := []float64{95.71, 98.16, 99.52, 102.09, 103.79, 106.18, 108.14, 110.21}
	chamX := []float64{0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100}
	chamY := []float64{206.36, 225.52, 252.18, 289.33, 318.11, 349.49, 383.03, 410.70, 444.40, 469.14, 501.16}
	cryX := []float64{2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28}
	cryY := []float64{0.08, 1.12, 4.43, 4.98, 4.92, 7.18, 5.57, 8.40, 8.81, 10.81, 11.16, 10.12, 13.12, 15.04}
	for _, c := range []struct {
		name        string
		x, y        []float64
		y0, level   float64
		scope       Scope
		x0, lo, hi  float64
		least, most float64
	}{
		{"thermometer 104", thermX, thermY, 104, 0.95, OfValue, 103.994915646, 103.404051142, 104.589459385, 80, 130},
		{"thermometer 100", thermX, thermY, 100, 0.90, OfValue, 100.112318003, 99.6294028953, 100.588503132, 80, 130},
		{"chamber 400", chamX, chamY, 400, 0.99, OfLine, 66.5200432069, 65.0708935303, 68.0258324997, -50, 200},
		{"crystal 5", cryX, cryY, 5, 0.90, OfLine, 9.9290578888, 8.6502591028, 11.0478965165, -50, 80},
		{"crystal 5, one reading", cryX, cryY, 5, 0.95, OfValue, 9.9290578888, 4.9313252630, 14.6858574811, -50, 80},
	} {
		// The lines rise; turned over they fall, as load-velocity lines do.
		down := make([]float64, len(c.y))
		for i, v := range c.y {
			down[i] = -v
		}
		f, err := New(line(c.x, down, 0))
		if err != nil {
			t.Fatal(err)
		}
		v, lo, hi, ok := f.Along([]float64{1, 0}, []float64{0, 1}).Crossing(-c.y0, 0, c.least, c.most, c.level, c.scope)
		if !ok {
			t.Fatalf("%s: no interval", c.name)
		}
		near(t, c.name, v, c.x0, 1e-4)
		near(t, c.name+" low", lo, c.lo, 2e-3)
		near(t, c.name+" high", hi, c.hi, 2e-3)
	}
	// A line that may as well rise has no finite interval.
	f, err := New(line([]float64{1, 2, 3, 4}, []float64{1, 3, 2, 1.5}, 0))
	if err != nil {
		t.Fatal(err)
	}
	if _, _, _, ok := f.Along([]float64{1, 0}, []float64{0, 1}).Crossing(2, 0, -100, 100, 0.95, OfLine); ok {
		t.Error("a level line has a crossing")
	}
}

// days returns subjects × trials as values with the subject as the day.
func days(table [][]float64) (y []float64, trial []float64, day []int) {
	for i, row := range table {
		for j, v := range row {
			y, trial, day = append(y, v), append(trial, float64(j)), append(day, i)
		}
	}
	return
}

// TestREMLOneWay: Shrout PE, Fleiss JL (1979) Psychol Bull 86:420–428: on
// balanced data REML equals the analysis of variance, ICC(1,1) = 0.165741768.
func TestREMLOneWay(t *testing.T) {
	y, _, day := days([][]float64{{9, 2, 5, 8}, {6, 1, 3, 2}, {8, 4, 6, 8}, {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7}})
	one := make([]float64, len(y))
	for i := range one {
		one[i] = 1
	}
	b, w, err := REML(Data{Y: y, Day: day, Columns: []Column{{X: one}}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "within MS", w*w, 6.26388888889, 1e-6)
	near(t, "between variance", b*b, (11.2416666667-6.26388888889)/4, 1e-6)
	near(t, "ICC(1,1)", b*b/(b*b+w*w), 0.165741768405, 1e-7)
}

// TestREMLTwoWay: Weir JP (2005) J Strength Cond Res 19(1):231–240, set A,
// trial as a column: MS error 57.1071428571, ICC(3,1) = 0.947016137, mean
// difference of trials 2.75.
func TestREMLTwoWay(t *testing.T) {
	y, trial, day := days([][]float64{{146, 140}, {148, 152}, {170, 152}, {90, 99}, {157, 145}, {156, 153}, {176, 167}, {205, 218}})
	d := line(trial, y, 0)
	d.Day = day
	b, w, err := REML(d)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "MS error", w*w, 57.1071428571, 1e-4)
	near(t, "ICC(3,1)", b*b/(b*b+w*w), 0.947016137, 1e-7)
	f, err := New(d)
	if err != nil {
		t.Fatal(err)
	}
	v, lo, hi := f.Coefficient(1).Interval(0.95)
	near(t, "change", v, -2.75, 1e-6)
	// The paired t test: ± t(7)·SD(d)/√8, a tenth wider since ρ is averaged.
	half := distuv.StudentsT{Sigma: 1, Nu: 7}.Quantile(0.975) * math.Sqrt2 * 7.556926813 / math.Sqrt(8)
	near(t, "half width over paired t", (hi-lo)/2/half, 1, 0.1)
}

// TestWeights: a weight of two counts as two values on the line.
func TestWeights(t *testing.T) {
	x, y, w := []float64{0, 1, 2, 4, 5}, []float64{2, 1, 4, 3, 6}, []float64{1, 2, 1, 2, 1}
	d := line(x, y, 2)
	d.Weight = w
	f, err := New(d)
	if err != nil {
		t.Fatal(err)
	}
	var xx, yy []float64
	for i := range x {
		for range int(w[i]) {
			xx, yy = append(xx, x[i]), append(yy, y[i])
		}
	}
	g, err := New(line(xx, yy, 2))
	if err != nil {
		t.Fatal(err)
	}
	for k := range 2 {
		near(t, "coefficient", f.Coefficient(k).Mean(), g.Coefficient(k).Mean(), 1e-9)
	}
}

// TestPriorPulls: with nothing but the prior to go by the slope is the prior's;
// with much data the prior does not matter.
func TestPriorPulls(t *testing.T) {
	d := line([]float64{8, 8, 8}, []float64{0.30, 0.33, 0.31}, 8)
	d.Columns[1].Mean, d.Columns[1].SD = -0.04, 0.02
	f, err := New(d)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "prior mean", f.Coefficient(1).Mean(), -0.04, 1e-9)
	near(t, "prior SD", f.Coefficient(1).SD(), 0.02, 1e-9)
	r := rand.New(rand.NewPCG(1, 2))
	var x, y []float64
	for i := range 400 {
		x = append(x, float64(i%9))
		y = append(y, 0.6-0.08*x[i]+0.01*r.NormFloat64())
	}
	d = line(x, y, 4)
	d.Columns[1].Mean, d.Columns[1].SD = -0.04, 0.02
	f, err = New(d)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "slope of data", f.Coefficient(1).Mean(), -0.08, 0.001)
}

// TestNoNumbers: values that are no numbers settle nothing.
func TestNoNumbers(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), 1e200} {
		d := line([]float64{1, 2, 3, 4, 5, 6}, []float64{2, 3, bad, 4, 6, 5}, 3)
		for _, day := range [][]int{nil, {0, 0, 1, 1, 2, 2}} {
			d.Day = day
			if _, err := New(d); !errors.Is(err, ErrTooFew) {
				t.Errorf("with %g and days %v: error %v", bad, day, err)
			}
		}
	}
}

func BenchmarkNew(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	var x, y []float64
	var day []int
	for d := range 40 {
		u := 0.03 * r.NormFloat64()
		for i := range 6 {
			x, day = append(x, float64(60+20*i)), append(day, d)
			y = append(y, 1-0.004*float64(20*i)+u+0.03*r.NormFloat64())
		}
	}
	d := line(x, y, 110)
	d.Day = day
	b.Run("fit", func(b *testing.B) {
		for b.Loop() {
			if _, err := New(d); err != nil {
				b.Fatal(err)
			}
		}
	})
	f, err := New(d)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("interval", func(b *testing.B) {
		for b.Loop() {
			f.At([]float64{1, 20}, OfValue).Interval(0.95)
		}
	})
}
