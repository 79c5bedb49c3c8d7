package profile_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/profile/simulate"
)

// TestRandomLogs: whatever a log holds, the profile is a file that can be
// written, every number lies in its interval, and every lack says what of.
func TestRandomLogs(t *testing.T) {
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(11, seed))
		log := randomLog(r)
		p := profile.All(&log.Result, nil)
		sound(t, fmt.Sprintf("seed %d", seed), reflect.ValueOf(p))
		readBack(t, fmt.Sprintf("seed %d", seed), p)
	}
}

// randomLog is hostile: equal speeds, absurd loads, days far apart or one.
func randomLog(r *rand.Rand) *simulate.Log {
	log := simulate.NewLog("A", []string{rep.Squat, rep.BenchPress, rep.Deadlift, "overhead press"}[r.IntN(4)])
	day := simulate.FirstDay
	flat, span := r.IntN(4) == 0, 1+r.IntN(20)
	loads := []float64{20, 60, 60, 60.1, 100, 140, 1e-3, 0, 5000}[:1+r.IntN(9)]
	for range r.IntN(120) {
		if r.IntN(4) == 0 {
			day += rep.Day(r.IntN(span))
		}
		rpe := simulate.Uncalled
		if r.IntN(2) == 0 {
			rpe = float64(2+r.IntN(19)) / 2
		}
		speeds := make([]float64, r.IntN(7))
		for i := range speeds {
			speeds[i] = 0.4
			if !flat {
				speeds[i] = 0.02 + 1.5*r.Float64()*r.Float64()
			}
		}
		log.Device = []string{"unit", "unit", "second unit", ""}[r.IntN(4)]
		s := log.Set(day, loads[r.IntN(len(loads))], rep.Role(r.IntN(5)), rpe, speeds...)
		if r.IntN(10) == 0 {
			s.LoadKg = rep.Null[float64]{}
		}
		for _, row := range s.Rows {
			if r.IntN(10) == 0 {
				log.Result.Reps.SetMissed(row, true)
				s.Missed++
			}
			if r.IntN(15) == 0 {
				log.Result.Reps.Flags[row] = rep.Kinds(0).With(rep.Kind(r.IntN(15)))
			}
		}
	}
	return log
}

// sound walks a profile and fails the test on a number that says nothing.
func sound(t *testing.T, path string, v reflect.Value) {
	t.Helper()
	switch v.Kind() {
	case reflect.Pointer:
		sound(t, path, v.Elem())
	case reflect.Slice:
		if v.IsNil() {
			t.Errorf("%s is nil: it would be written as null", path)
		}
		for i := range v.Len() {
			sound(t, fmt.Sprintf("%s[%d]", path, i), v.Index(i))
		}
	case reflect.Struct:
		if e, ok := v.Interface().(profile.Estimate); ok {
			switch {
			case e.Known && !(e.Lo <= e.Value && e.Value <= e.Hi && !math.IsInf(e.Lo, 0) && !math.IsInf(e.Hi, 0)):
				t.Errorf("%s = %+v", path, e)
			case !e.Known && (e.Need <= e.Have || e.Of == ""):
				t.Errorf("%s: need %d of %q, have %d", path, e.Need, e.Of, e.Have)
			}
			return
		}
		if e, ok := v.Interface().(profile.Evidence); ok && !(e.Weight > -1e-9 && e.Weight < 1+1e-9) {
			t.Errorf("%s has weight %v", path, e.Weight)
		}
		for i := range v.NumField() {
			sound(t, path+"."+v.Type().Field(i).Name, v.Field(i))
		}
	case reflect.Float64:
		if _, ok := v.Interface().(profile.Number); !ok && (math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0)) {
			t.Errorf("%s = %v", path, v.Float())
		}
	}
}
