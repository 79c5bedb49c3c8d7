package trace

import (
	"encoding/binary"
	"math"
	"testing"

	"repsift/ingest/rep"
)

// FuzzSegmenter feeds arbitrary times and positions: nothing panics, times of
// movements rise and do not overlap, every number that is there is one, and the
// same trace gives the same movements again.
func FuzzSegmenter(f *testing.F) {
	ts, xs := sensor{hz: 20}.sample(rng(), squats(2)...)
	var seed []byte
	for i := range ts {
		seed = binary.LittleEndian.AppendUint16(seed, 50)
		seed = binary.LittleEndian.AppendUint16(seed, uint16(int16(xs[i]*1000)))
	}
	f.Add(seed, uint8(0))
	f.Add(seed[:400], uint8(7))
	f.Fuzz(func(t *testing.T, data []byte, how uint8) {
		run := func() (found []Found) {
			opt := Options{Lift: []string{"", rep.Squat, rep.Deadlift, rep.BenchPress}[how&3], LoadKg: 180}
			if how&4 != 0 {
				opt.Bar, opt.Tether = rep.DeadliftBar, rep.TetherCentre
			}
			if how&8 != 0 {
				opt.Tether = rep.TetherSleeveEnd
			}
			s := New(opt, func(f Found) { found = append(found, f) })
			now := 0.0
			for i := 0; i+4 <= len(data); i += 4 {
				step := int16(binary.LittleEndian.Uint16(data[i:]))
				now += float64(step) / 1000
				x := float64(int16(binary.LittleEndian.Uint16(data[i+2:]))) / 1000
				at := rep.Some(now)
				switch step {
				case math.MaxInt16:
					at = rep.Some(math.NaN())
				case math.MinInt16:
					at = rep.Null[float64]{}
				}
				position, speed := rep.Some(x), rep.Null[float64]{}
				if how&16 != 0 {
					position, speed = speed, position
				}
				if s.Add(int32(i), at, position, speed) != nil {
					return nil
				}
			}
			if s.Close() != nil {
				return nil
			}
			return found
		}
		found := run()
		for i, k := range found {
			for _, v := range []float64{k.At, k.Concentric, k.ROM, k.MeanVelocity, k.PeakVelocity.V, k.TimeToPeak.V, k.MeanPropulsive.V,
				k.StickingMin.V, k.Eccentric.V, k.SlackTime, k.SlackTravel, k.RingHz, k.RingTravel, k.RingTime} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("movement %d: %+v", i, k)
				}
			}
			if k.Concentric <= 0 || k.LastRow < k.Row {
				t.Fatalf("movement %d takes no time: %+v", i, k)
			}
		}
		again := run()
		if len(again) != len(found) {
			t.Fatalf("%d movements, then %d", len(found), len(again))
		}
		for i := range again {
			if again[i] != found[i] {
				t.Fatalf("movement %d: %+v, then %+v", i, found[i], again[i])
			}
		}
	})
}
