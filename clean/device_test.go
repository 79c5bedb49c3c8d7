package clean_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// TestDeviceCorrection: the speeds of a unit stand as another's, those recorded
// beside them and flagged; what filters decided, other units, and the story of a
// row rest on what was recorded.
func TestDeviceCorrection(t *testing.T) {
	var b batch
	b.season(rep.Squat, 6, 0.55)
	first := b.all()
	second := b.secondUnit("red", 0.94, 0.005, func(int32) bool { return false })
	alone := b.set(rep.Squat, day0+200, 1, 100, 0.6, 0.55, 3)
	for _, r := range alone {
		b.reps.Device.Put(r, b.reps.Device.At(second[0]))
	}
	var shown []float64
	for i := range b.reps.Len() {
		shown = append(shown, b.reps.MeanVelocity.Get(int32(i)))
	}
	s := &season.Season{Devices: []season.DeviceCorrection{{Device: "Red", As: "north", Slope: 1.06, Intercept: 0.01}}}
	res := b.run(t, s)
	wantKept(t, res, append(first, alone...)...)
	for _, r := range first {
		if b.reps.MeanVelocity.Get(r) != shown[r] || b.reps.Recorded(r) != (rep.Recorded{}) {
			t.Fatalf("a rep of the other unit was changed: %v", b.reps.Rep(r))
		}
	}
	for _, r := range append(second, alone...) {
		x := b.reps.Rep(r)
		if math.Abs(x.MeanVelocity-(0.01+1.06*shown[r])) > 1e-12 || x.Recorded.MeanVelocity.V != shown[r] || !x.Flags.Has(rep.Correction) {
			t.Fatalf("%v m/s stands as %+v", shown[r], x)
		}
	}
	last := res.Sets.At(res.Sets.Len() - 1)
	if last.Device != "red" || math.Abs(last.Fastest.V-(0.01+1.06*shown[alone[0]])) > 1e-12 || len(res.Devices) != 1 || len(res.Twins) != 6*5 {
		t.Errorf("set %+v, %d corrections, %d pairs", last, len(res.Devices), len(res.Twins))
	}
	story, err := res.Why(alone[0])
	if err != nil {
		t.Fatal(err)
	}
	if said := strings.Join(story.Lines, "\n"); !strings.Contains(said, fmt.Sprintf("read as mean %.3f m/s", shown[alone[0]])) {
		t.Errorf("story %q", said)
	}
	if math.Abs(b.reps.MeanVelocity.Get(alone[0])-(0.01+1.06*shown[alone[0]])) > 1e-12 {
		t.Error("telling the story changed a speed")
	}
}
