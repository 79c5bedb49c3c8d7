package shorthand

import (
	"fmt"
	"testing"
)

func TestHabit(t *testing.T) {
	tests := []struct {
		idea  string
		texts []string
		want  Order
	}{
		{"nothing tells", []string{"5x3@140", "3x5@130"}, Undecided},
		{"one number above 12 tells", []string{"5x3@140", "3x15@60"}, SetsReps},
		{"the other way", []string{"5x3@140", "15x3@60"}, RepsSets},
		{"words tell", []string{"5x3@140", "3 sets of 5 @ 100"}, SetsReps},
		{"a list tells", []string{"5x3@140", "5x3 (5,5,4)"}, RepsSets},
		{"RPEs tell", []string{"3x5@140 @7, 8, 8.5"}, SetsReps},
		{"contradiction", []string{"3x15@60", "15x3@60"}, Undecided},
		{"single sets of many kinds, 1 in front", []string{"1x1@200", "1x3@180", "1x5@160", "1x8@140"}, SetsReps},
		{"1 behind", []string{"1x1@200", "3x1@180", "5x1@160", "8x1@140"}, RepsSets},
		{"1 on both sides", []string{"1x3@180", "1x5@160", "1x8@140", "5x1@160"}, Undecided},
		{"too few of them", []string{"1x3@180", "1x5@160"}, Undecided},
		{"only small ones: doubles and triples in sets of many", []string{"1x1@180", "1x2@160", "1x3@150", "1x4@140"}, Undecided},
		{"what is no shorthand tells nothing", []string{"felt good", "12O x 15", "", "180x5 @8"}, Undecided},
		{"the load in front is another habit", []string{"100x15x3", "140x5x3"}, Undecided},
	}
	for _, tt := range tests {
		var h, a, b Habit
		for i, text := range tt.texts {
			h.Add(text, Options{})
			if i%2 == 0 {
				a.Add(text, Options{Order: RepsSets}) // which is not asked
			} else {
				b.Add(text, Options{LoadFirst: SetsReps})
			}
		}
		if got := h.Order(); got != tt.want {
			t.Errorf("%s: %q: %q, want %q (%+v)", tt.idea, tt.texts, got, tt.want, h)
		}
		if a.Merge(b); a != h {
			t.Errorf("%s: merged %+v, added %+v", tt.idea, a, h)
		}
	}
}

// A slip among many does not unsettle a log; one among nine does.
func TestHabitOutvotes(t *testing.T) {
	var h Habit
	for range 10 {
		h.Add("3x15@60", Options{})
	}
	h.Add("15x3@60", Options{})
	if h.Order() != SetsReps {
		t.Errorf("ten to one: %q", h.Order())
	}
	h.Add("15x3@60", Options{})
	if h.Order() != Undecided {
		t.Errorf("ten to two: %q", h.Order())
	}
}

func TestHabitSettle(t *testing.T) {
	var h Habit
	h.Add("3x15@60", Options{})
	h.Add("100x15x3", Options{})
	opt := h.Settle(Options{HasLoad: true})
	if opt != (Options{Order: SetsReps, LoadFirst: RepsSets, HasLoad: true}) {
		t.Errorf("%+v", opt)
	}
	if opt := h.Settle(Options{Order: RepsSets}); opt.Order != RepsSets {
		t.Errorf("a declared order is kept: %+v", opt)
	}
	if h.Either != 0 {
		t.Errorf("pairs with two readings: %d", h.Either)
	}
	h.Add("5x3@140", Options{})
	if h.Either != 1 {
		t.Errorf("pairs with two readings: %d", h.Either)
	}
}

func ExampleParse() {
	for _, text := range []string{"180x5 @8", "3 x 5 x 102,5kg RPE 8.5", "140/5/5/4", "60, 100, 140x3", "180x1x", "200x1 0.18 m/s", "12O x 5"} {
		entries, err := Parse(text, Options{Order: SetsReps})
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(entries)
	}
	// Output:
	// [180 x 5 @8]
	// [3 sets x 5 @ 102.5 kg @8.5]
	// [5, 5, 4 @ 140]
	// [60 100 140 x 3]
	// [180 x 1 missed 1]
	// [200 x 1 0.18 m/s]
	// "12O x 5": "12O" is not a number
}

func ExampleHabit() {
	log := []string{"5x3@140", "4x4@130", "3x15@60"}
	var h Habit
	for _, text := range log {
		h.Add(text, Options{})
	}
	entries, _ := Parse(log[0], h.Settle(Options{}))
	fmt.Println(h.Order(), "->", entries[0].Sets, "sets of", entries[0].Reps)
	// Output: sets x reps -> 5 sets of 3
}
