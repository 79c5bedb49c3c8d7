package ingest

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/text/encoding/charmap"

	"repsift/ingest/source"
)

var exports = flag.Int("exports", 400, "how many generated exports TestRecognition reads")

// TestRecognition reads exports of random shape, language, units, date style and
// decimal mark, and counts those that were read exactly right, that were asked
// about, and that were read wrong. What the generator knows of headings is in
// its own tables (languages_test.go), not the recogniser's.
func TestRecognition(t *testing.T) {
	right, asked, wrong := 0, 0, 0
	for seed := range *exports {
		e := newExport(rand.New(rand.NewPCG(uint64(seed), 2026)))
		r, err := Read(context.Background(), fstest.MapFS{e.name: &fstest.MapFile{Data: e.data}}, nil, nil, Options{})
		if err != nil {
			t.Fatal(err)
		}
		var ask *source.Ask
		switch problem := e.differs(r); {
		case errors.As(r.Sources[0].Err, &ask):
			asked++
			t.Logf("asked %d (%s): %v\n%s", seed, e.style, ask, e.head())
		case problem != "":
			wrong++
			t.Logf("wrong %d (%s): %s\n%s", seed, e.style, problem, e.head())
		default:
			right++
		}
	}
	n := float64(*exports)
	t.Logf("%d exports: %.2f %% right, %.2f %% asked, %.2f %% wrong", *exports, 100*float64(right)/n, 100*float64(asked)/n, 100*float64(wrong)/n)
	if float64(wrong) > 0.001*n {
		t.Errorf("%d of %d exports were read wrong", wrong, *exports)
	}
	if float64(asked) > 0.05*n {
		t.Errorf("%d of %d exports were asked about", asked, *exports)
	}
}

// export is a generated export and what it holds.
type export struct {
	name  string
	data  []byte
	style string
	sets  []genSet
	shape string
}

type genSet struct {
	day                     int // of 2026
	minute                  int
	lifter, lift            string // lift: the trade's English name
	kg                      float64
	lb                      float64 // > 0: plates in pounds
	speeds, peaks, rom, con []float64
	rpe                     float64
}

func (e *export) head() string {
	lines := strings.SplitN(string(e.data), "\n", 9)
	return strings.Join(lines[:len(lines)-1], "\n")
}

// newExport makes up an export.
func newExport(rng *rand.Rand) *export {
	g := &generator{Rand: rng, lang: languages[rng.IntN(len(languages))]}
	return g.export()
}

type generator struct {
	*rand.Rand
	lang      language
	comma     bool
	delim     string
	date      func(day int) string
	load      string // unit
	speed     string
	rom       string
	con       string
	named     [4]bool // load, speed, rom, con: unit in the heading
	style     []string
	clock     string            // layout; "": none
	inCells   bool              // units stand behind the numbers
	cellUnits map[string]string // heading → unit
	extras    bool              // columns that are not needed
	gaps      bool              // optional cells are missing here and there
	preamble  bool
}

func (g *generator) pick(list string) string {
	words := strings.Split(list, "|")
	return words[g.IntN(len(words))]
}

func (g *generator) choose(list ...string) string {
	s := list[g.IntN(len(list))]
	g.style = append(g.style, s)
	return s
}

func (g *generator) sets() []genSet {
	lifters := []string{"Ines Duarte", "Tomás Reis", "Käthe Brandl", "R. Aske", "Zoë Öberg"}
	g.Shuffle(len(lifters), func(i, j int) { lifters[i], lifters[j] = lifters[j], lifters[i] })
	lifters = lifters[:1+g.IntN(3)]
	var out []genSet
	day := 3 + g.IntN(60)
	for range 5 + g.IntN(4) {
		day += 1 + g.IntN(4)
		for _, lifter := range lifters {
			minute := 17*60 + g.IntN(60)
			for _, lift := range []string{"squat", "bench press", "deadlift"} {
				if g.IntN(3) == 0 {
					continue
				}
				lo, hi, travel := 60.0, 180.0, 0.6
				switch lift {
				case "bench press":
					lo, hi, travel = 40, 120, 0.35
				case "deadlift":
					lo, hi, travel = 70, 220, 0.5
				}
				step := 2.5
				for k := range 3 + g.IntN(4) {
					s := genSet{day: day, minute: minute, lifter: lifter, lift: lift}
					minute += 3 + g.IntN(4)
					kg := lo + (hi-lo)*float64(k)/6
					if g.load == "lb" {
						s.lb = 45 + 5*math.Round((kg/0.45359237-45)/5)
						if g.IntN(2) == 0 {
							s.lb = 45 + 90*math.Round((kg/0.45359237-45)/90)
						}
						s.lb = max(45, s.lb)
						kg = s.lb * 0.45359237
					} else {
						kg = step * math.Round(kg/step)
						if k == 0 && g.IntN(2) == 0 {
							kg = 20
						}
					}
					s.kg = kg
					v := 1.2 - 0.9*(kg-lo)/(hi-lo) + 0.05*g.NormFloat64()
					v = min(1.4, max(0.15, v))
					for range 1 + g.IntN(6) {
						speed := g.round(max(0.1, v+0.03*g.NormFloat64()), 3)
						s.speeds = append(s.speeds, speed)
						s.peaks = append(s.peaks, g.round(speed*(1.4+0.2*g.Float64()), 3))
						s.rom = append(s.rom, g.round(travel+0.02*g.NormFloat64(), 3))
						s.con = append(s.con, g.round(travel/speed, 2))
						v -= 0.02
					}
					s.rpe = 6 + float64(g.IntN(9))/2
					out = append(out, s)
				}
			}
		}
	}
	return out
}

func (g *generator) round(v float64, digits int) float64 {
	p := math.Pow10(digits)
	return math.Round(v*p) / p
}

// num writes a number in the export's decimal mark.
func (g *generator) num(v float64, digits int) string {
	s := fmt.Sprintf("%.*f", digits, v)
	if g.comma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

func (g *generator) loadText(s *genSet) string {
	v, digits := s.kg, 1
	if g.load == "lb" {
		v = s.lb
	}
	if v == math.Trunc(v) {
		digits = 0
	}
	return g.num(v, digits)
}

func (g *generator) in(v float64, unit string) string {
	switch unit {
	case "cm/s", "cm":
		return g.num(v*100, 1)
	case "mm/s", "mm", "ms":
		return g.num(v*1000, 0)
	}
	return g.num(v, 3)
}

func (g *generator) heading(words, unit string, named bool) string {
	h := g.pick(words)
	if !named {
		return h
	}
	if g.inCells {
		g.cellUnits[h] = unit
		return h
	}
	if unit == "m/s" && g.IntN(4) == 0 {
		unit = g.pick("m·s⁻¹|m.s-1|m s-1")
	}
	return h + strings.Replace(g.pick(" (U)| [U]| in U|_U|, U| (U)"), "U", unit, 1)
}

func (g *generator) export() *export {
	e := &export{shape: g.choose("rep rows", "rep rows", "rep rows", "reps across", "reps in a cell", "set rows", "shorthand", "blocks")}
	g.style = append(g.style, g.lang.name)
	g.comma = g.choose("point", "comma") == "comma"
	g.delim = ";"
	if !g.comma {
		g.delim = map[string]string{"comma-separated": ",", "semicolons": ";", "tabs": "\t"}[g.choose("comma-separated", "semicolons", "tabs")]
	}
	g.load = g.choose("kg", "kg", "kg", "lb")
	g.speed = g.choose("m/s", "m/s", "cm/s", "mm/s")
	g.rom = g.choose("m", "cm", "mm")
	g.con = g.choose("s", "ms")
	for i := range g.named {
		g.named[i] = g.IntN(4) > 0
	}
	if g.load == "lb" || g.rom == "cm" {
		g.named[0], g.named[2] = true, true // an inch or a pound that nobody named is not to be told
	}
	g.inCells = g.IntN(8) == 0
	g.cellUnits = make(map[string]string)
	g.extras, g.gaps, g.preamble = g.IntN(3) == 0, g.IntN(3) == 0, g.IntN(4) == 0
	g.clock = []string{"", "", "15:04", "3:04 PM", "15:04:05"}[g.IntN(5)]
	months := g.lang.months
	dmy := func(sep string, pad bool) func(int) string {
		return func(d int) string {
			y, m, day := civil(d)
			if pad {
				return fmt.Sprintf("%02d%s%02d%s%d", day, sep, m, sep, y)
			}
			return fmt.Sprintf("%d%s%d%s%d", day, sep, m, sep, y)
		}
	}
	switch g.choose("ISO", "ISO", "d.m.y", "d/m/y", "m/d/y", "y/m/d", "month name") {
	case "ISO":
		g.date = func(d int) string { y, m, day := civil(d); return fmt.Sprintf("%d-%02d-%02d", y, m, day) }
	case "d.m.y":
		g.date = dmy(".", true)
	case "d/m/y":
		g.date = dmy("/", g.IntN(2) == 0)
	case "m/d/y":
		g.date = func(d int) string { y, m, day := civil(d); return fmt.Sprintf("%d/%d/%d", m, day, y) }
	case "y/m/d":
		g.date = func(d int) string { y, m, day := civil(d); return fmt.Sprintf("%d/%02d/%02d", y, m, day) }
	case "month name":
		g.date = func(d int) string {
			y, m, day := civil(d)
			return fmt.Sprintf("%d %s %d", day, strings.Split(months, "|")[m-1], y)
		}
	}
	e.sets = g.sets()
	var text string
	switch e.shape {
	case "rep rows":
		text = g.repRows(e.sets)
	case "reps across":
		text = g.across(e.sets)
	case "reps in a cell":
		text = g.inCell(e.sets)
	case "set rows":
		text = g.setRows(e.sets)
	case "shorthand":
		text = g.shorthand(e.sets)
	case "blocks":
		text = g.blocks(e.sets)
	}
	e.name = "export.csv"
	e.data = []byte(text)
	if g.IntN(4) == 0 {
		if b, err := charmap.Windows1252.NewEncoder().Bytes(e.data); err == nil {
			e.data = b
			g.style = append(g.style, "Windows-1252")
		}
	}
	e.style = strings.Join(g.style, ", ")
	return e
}

// civil returns the date of a day of 2026.
func civil(d int) (y, m, day int) {
	for m, n := range []int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31} {
		if d <= n {
			return 2026, m + 1, d
		}
		d -= n
	}
	return 2027, 1, d
}
