package join_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"repsift/clean/join"
	"repsift/ingest/rep"
)

// The sets of these tests are invented.

// sets reads "100x5 120x3": load and reps; "?" is unknown.
func sets(text string) []join.Set {
	var out []join.Set
	for _, w := range strings.Fields(text) {
		s := join.Set{LoadStep: 0.5}
		load, reps, _ := strings.Cut(w, "x")
		var x float64
		if n, _ := fmt.Sscan(load, &x); n == 1 {
			s.Load = rep.Some(x)
		}
		var k int32
		if n, _ := fmt.Sscan(reps, &k); n == 1 {
			s.Reps = rep.Some(k)
		}
		out = append(out, s)
	}
	return out
}

// account writes matches as "logged→done", those that are not sure with "?".
func account(ms []join.Match) string {
	var out []string
	for _, m := range ms {
		s := fmt.Sprintf("%d→%d", m.Logged, m.Done)
		if !m.Sure() {
			s += "?"
		}
		out = append(out, s)
	}
	return strings.Join(out, " ")
}

func TestAlign(t *testing.T) {
	for _, c := range []struct{ name, logged, done, want string }{
		{"all", "60x5 100x3 140x1", "60x5 100x3 140x1", "0→0 1→1 2→2"},
		{"work sets only", "140x1 120x5 120x5", "60x5 100x3 140x1 120x5 120x5", "0→2 1→3 2→4"},
		{"one of two alike", "120x5", "60x5 120x5 120x5", "0→1?"},
		{"two of three alike", "120x5 120x5", "120x5 120x5 120x5", "0→0? 1→1?"},
		{"reps tell them apart", "120x4", "120x5 120x4 120x2", "0→1"},
		{"a false rep too many", "100x5", "60x5 100x6", "0→1"},
		{"other loads", "83x5", "60x5 100x5", ""},
		{"plates rounded", "100x5 121x3", "100x5 120x3", "0→0 1→1"},
		{"pounds", "60x5 220.5x3", "60x5 100x3", "0→0 1→1"},
		{"decimal mark", "60x5 10x3", "60x5 100x3", "0→0 1→1"},
		{"a digit, told by its place", "60x5 150x3 120x2", "60x5 100x3 120x2", "0→0 1→1 2→2"},
		{"a digit, not told", "150x3", "100x3", "0→0?"},
		{"a slip among like sets", "100x1 120x5 12.5x5 120x5", "100x1 120x5 120x5 120x5", "0→0 1→1 2→2 3→3"},
		{"no load in the log", "60x5 ?x3 140x1", "60x5 100x3 140x1", "0→0 1→1 2→2"},
		{"in another order, but nothing else fits", "140x1 60x5", "60x5 140x1", "0→1 1→0"},
		{"two lines changed places", "60x5 140x1 100x3 120x2", "60x5 100x3 140x1 120x2", "0→0 1→2 2→1 3→3"},
		{"in another order, and not alone", "140x1 60x5", "60x5 140x1 140x1", "1→0"},
		{"nothing", "", "60x5", ""},
	} {
		if got := account(new(join.Aligner).Align(sets(c.logged), sets(c.done))); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// TestAlignByTime: times tell sets alike apart.
func TestAlignByTime(t *testing.T) {
	logged, done := sets("120x5"), sets("120x5 120x5 120x5")
	const minute = 60_000
	for i := range done {
		done[i].At = rep.Some(rep.Instant(i * 4 * minute))
	}
	logged[0].At = rep.Some(rep.Instant(4 * minute))
	ms := new(join.Aligner).Align(logged, done)
	if len(ms) != 1 || ms[0].Done != 1 {
		t.Errorf("%+v", ms)
	}
}

// TestAlignBySpeed: the log's last speed tells sets alike apart.
func TestAlignBySpeed(t *testing.T) {
	logged, done := sets("120x5"), sets("120x5 120x5")
	done[0].Last, done[1].Last = rep.Some(0.31), rep.Some(0.38)
	logged[0].Last = rep.Some(0.38)
	if got := account(new(join.Aligner).Align(logged, done)); got != "0→1" {
		t.Errorf("%q", got)
	}
}

// TestAlignByCalls: the RPE that both have tells sets alike apart.
func TestAlignByCalls(t *testing.T) {
	logged, done := sets("120x5"), sets("120x5 120x5")
	done[0].RPE, done[1].RPE = rep.Some(7.0), rep.Some(9.0)
	logged[0].RPE = rep.Some(9.0)
	if got := account(new(join.Aligner).Align(logged, done)); got != "0→1" {
		t.Errorf("%q", got)
	}
}

// TestAlignUnits: two units' sets by the speeds of their reps, false reps and
// a mistyped load between.
func TestAlignUnits(t *testing.T) {
	first, second := sets("60x3 100x3 120x3"), sets("60x3 100x4 12x3")
	speeds := [][]float64{{0.90, 0.91, 0.88}, {0.60, 0.58, 0.55}, {0.42, 0.40, 0.37}}
	for i := range first {
		first[i].Speeds = speeds[i]
	}
	second[0].Speeds = []float64{0.91, 0.90, 0.89}
	second[1].Speeds = []float64{0.20, 0.61, 0.57, 0.55}
	second[2].Speeds = []float64{0.41, 0.40, 0.38}
	ms := new(join.Aligner).Align(second, first)
	if got := account(ms); !strings.HasPrefix(got, "0→0 1→1") {
		t.Errorf("%q", got)
	}
}

// TestAlignInOrder: whatever the input, matches are one to one and, but for
// lines that say they moved, in order.
func TestAlignInOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	random := func() []join.Set {
		out := make([]join.Set, r.IntN(9))
		for i := range out {
			if r.IntN(4) > 0 {
				out[i].Load = rep.Some(float64(r.IntN(5)) * 20)
			}
			if r.IntN(4) > 0 {
				out[i].Reps = rep.Some(int32(r.IntN(6)))
			}
			if r.IntN(3) == 0 {
				out[i].Last = rep.Some(r.Float64())
			}
			out[i].Extra = int32(r.IntN(2))
		}
		return out
	}
	for range 3000 {
		logged, done := random(), random()
		last, lastDone := -1, -1
		taken := make(map[int]bool)
		for _, m := range new(join.Aligner).Align(logged, done) {
			if taken[m.Done] || taken[^m.Logged] {
				t.Fatalf("%+v: one of the two is matched already", m)
			}
			taken[m.Done], taken[^m.Logged] = true, true
			if m.Moved {
				continue
			}
			if m.Logged <= last || m.Done <= lastDone || m.Logged >= len(logged) || m.Done >= len(done) {
				t.Fatalf("%d→%d after %d→%d of %d and %d", m.Logged, m.Done, last, lastDone, len(logged), len(done))
			}
			last, lastDone = m.Logged, m.Done
		}
	}
}

// TestCompareLoads: 1 lb = 0.45359237 kg exactly (NIST SP 811).
func TestCompareLoads(t *testing.T) {
	for _, c := range []struct {
		l, d float64
		want join.Load
	}{
		{100, 100, join.SameLoad}, {100, 100.2, join.SameLoad}, {100, 102.5, join.NearLoad},
		{225, 102.06, join.PoundsSlip}, {102.5, 225, join.PoundsSlip}, {20, 200, join.TenfoldSlip}, {1400, 140, join.TenfoldSlip},
		{140, 104, join.DigitSlip}, {140, 120, join.DigitSlip}, {140, 105, join.OtherLoad},
	} {
		if got := join.CompareLoads(rep.Some(c.l), 0.5, rep.Some(c.d), 0.5); got != c.want {
			t.Errorf("%v and %v: %d, want %d", c.l, c.d, got, c.want)
		}
	}
	if got := join.CompareLoads(rep.Null[float64]{}, 0, rep.Some(100.0), 0.5); got != join.NoLoad {
		t.Errorf("no load: %d", got)
	}
}
