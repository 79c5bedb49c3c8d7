package shorthand

import (
	"fmt"
	"strings"
	"testing"
)

// show writes entries so that a table can hold them.
func show(entries []Entry) string {
	var out []string
	for _, e := range entries {
		var s []string
		if e.Load.Kind != NoLoad {
			s = append(s, e.Load.String())
		}
		if e.Sets > 0 {
			s = append(s, fmt.Sprintf("sets=%d", e.Sets))
		}
		if e.Reps > 0 {
			s = append(s, fmt.Sprintf("reps=%d", e.Reps))
		}
		if e.RepsList != nil {
			s = append(s, fmt.Sprintf("reps=%v", e.RepsList))
		}
		if e.Ambiguous {
			s = append(s, "or swapped")
		}
		if e.Missed > 0 {
			s = append(s, fmt.Sprintf("missed=%d", e.Missed))
		}
		if e.RPEList != nil {
			s = append(s, fmt.Sprintf("rpe=%v", e.RPEList))
		} else if e.RPE > 0 {
			s = append(s, fmt.Sprintf("rpe=%v", e.RPE))
		}
		if e.RPEHigh > 0 {
			s = append(s, fmt.Sprintf("to %v", e.RPEHigh))
		}
		for _, v := range e.Speeds {
			name := [...]string{"unsaid", "", "first", "last", "fastest", "slowest", "mean", "peak"}[v.Which]
			s = append(s, strings.TrimSpace(fmt.Sprintf("v=%v%s %s", v.V, v.Unit, name)))
		}
		if e.Comment != "" {
			s = append(s, fmt.Sprintf("%q", e.Comment))
		}
		out = append(out, strings.Join(s, " "))
	}
	return strings.Join(out, " | ")
}

type parseTest struct {
	idea string
	text string
	want string
}

func run(t *testing.T, opt Options, tests []parseTest) {
	t.Helper()
	for _, tt := range tests {
		entries, err := Parse(tt.text, opt)
		got := show(entries)
		if err != nil {
			got = "error: " + err.(*Error).Problem
		}
		if got != tt.want {
			t.Errorf("%s: Parse(%q)\n got %s\nwant %s", tt.idea, tt.text, got, tt.want)
		}
	}
}

func TestParse(t *testing.T) {
	run(t, Options{}, []parseTest{
		{"load × reps and an RPE", "180x5 @8", "180 reps=5 rpe=8"},
		{"the same with blanks and a unit", "180 kg x 5 @ 8", "180 kg reps=5 rpe=8"},
		{"multiplication sign", "180×5@8", "180 reps=5 rpe=8"},
		{"star", "180*5 @8", "180 reps=5 rpe=8"},
		{"Cyrillic ha", "180х5 @8", "180 reps=5 rpe=8"},
		{"capital", "180X5 @8", "180 reps=5 rpe=8"},
		{"unit and x written together", "180kgx5", "180 kg reps=5"},
		{"reps × load", "5x140", "140 reps=5"},
		{"reps @ load", "5 @ 140", "140 reps=5"},
		{"@ and a load with a unit", "5 @ 180 kg", "180 kg reps=5"},
		{"light load with a unit", "15kg x 12", "15 kg reps=12"},
		{"a fraction makes a load", "17.5x8", "17.5 reps=8"},
		{"pounds", "405lbs x 3 @9", "405 lbs reps=3 rpe=9"},
		{"pound sign", "225# x 5", "225# reps=5"},
		{"load alone", "180", "180"},
		{"load and RPE", "180 @8", "180 rpe=8"},
		{"load and reps without x", "180 5 @8", "180 reps=5 rpe=8"},
		{"hundred by twenty: the first is the load", "100x20", "100 reps=20"},
		{"decimal comma in the load", "102,5x3", "102.5 reps=3"},
		{"half", "82½ x 5", "82.5 reps=5"},
		{"empty bar", "bar x 10", "bar reps=10"},
		{"bodyweight", "bw x 8", "bw reps=8"},
		{"bodyweight and more", "bw+10 x 8", "bw+10 reps=8"},
		{"bodyweight with help", "bw-20kg x 8", "bw-20 kg reps=8"},
		{"percent of the maximum", "5x5@80%", "80% sets=5 reps=5"},
		{"percent in front", "80% x 3", "80% reps=3"},
		{"more than the set before", "+20", "+20"},
		{"less", "-10% x 5", "-10% reps=5"},
		{"more, with reps", "+20x3 @8", "+20 reps=3 rpe=8"},
		{"sets unsaid, a list of reps", "140/5/5/4", "140 sets=3 reps=[5 5 4]"},
		{"list with commas", "140x5,5,4", "140 sets=3 reps=[5 5 4]"},
		{"list with blanks", "140: 5 5 4", "140 sets=3 reps=[5 5 4]"},
		{"list with dashes", "140 kg 5-5-4", "140 kg sets=3 reps=[5 5 4]"},
		{"list before its load", "5/5/4 @140", "140 sets=3 reps=[5 5 4]"},
		{"load over reps", "140/5", "140 reps=5"},

		{"sets or reps: two readings", "5x3@140", "140 sets=5 reps=3 or swapped"},
		{"blanks", "5 x 3 @ 140", "140 sets=5 reps=3 or swapped"},
		{"and an RPE", "5x3@140 @8", "140 sets=5 reps=3 or swapped rpe=8"},
		{"three numbers, the load last", "3 x 5 x 102.5kg RPE 8.5", "102.5 kg sets=3 reps=5 or swapped rpe=8.5"},
		{"three numbers, the load first", "140x5x3", "140 sets=5 reps=3 or swapped"},
		{"the load between", "2x180x5", "180 sets=2 reps=5 or swapped"},
		{"the load before a pair", "140kg 3x5", "140 kg sets=3 reps=5 or swapped"},
		{"no load", "5x3", "sets=5 reps=3 or swapped"},
		{"equal numbers have one reading", "5x5@140", "140 sets=5 reps=5"},
		{"more than 12 are reps", "3x15@60", "60 sets=3 reps=15"},
		{"in front too", "15x3@60", "60 sets=3 reps=15"},
		{"a light load: both small", "15x5", "sets=5 reps=15"},
		{"three numbers, reps of 20", "3x20x60", "60 sets=3 reps=20"},
		{"words tell", "3 sets of 5 @ 140", "140 sets=3 reps=5"},
		{"words tell, the other way", "5 reps x 3 sets @ 140", "140 sets=3 reps=5"},
		{"words without x", "3 sets 5 reps 140 kg", "140 kg sets=3 reps=5"},
		{"a list tells", "3x5 (5,5,4) @140", "140 sets=3 reps=[5 5 4]"},
		{"a list behind tells", "3x5/5/4 @140", "140 sets=3 reps=[5 5 4]"},
		{"RPEs tell", "3x5@140 @7, 8, 8.5", "140 sets=3 reps=5 rpe=[7 8 8.5]"},
		{"loads tell", "3x5 @ 100, 110, 120", "100 reps=5 | 110 reps=5 | 120 reps=5"},
		{"loads with one RPE: of the last", "3x5 @ 100/110/120kg @8", "100 kg reps=5 | 110 kg reps=5 | 120 kg reps=5 rpe=8"},
		{"reps made tell", "3x5(4) @140", "140 sets=3 reps=5 missed=1"},
		{"sets behind", "180x5 @8 x3", "180 sets=5 reps=3 or swapped rpe=8"},

		{"decimal comma in the RPE", "180x5 @7,5", "180 reps=5 rpe=7.5"},
		{"range", "180x5 @8-8.5", "180 reps=5 rpe=8 to 8.5"},
		{"range with commas", "180x5 @8,5-9", "180 reps=5 rpe=8.5 to 9"},
		{"range with a slash", "180x5 @8/9", "180 reps=5 rpe=8 to 9"},
		{"range in words", "180x5 RPE 8 to 9", "180 reps=5 rpe=8 to 9"},
		{"word, no blank", "180x5 RPE8", "180 reps=5 rpe=8"},
		{"word behind", "180x5 8 RPE", "180 reps=5 rpe=8"},
		{"word with a colon", "180 x 5, RPE: 8.5", "180 reps=5 rpe=8.5"},
		{"at and word", "180x5 @rpe8", "180 reps=5 rpe=8"},
		{"effort in front", "@8 180x5", "180 reps=5 rpe=8"},
		{"in brackets", "180x5 (RPE 8)", "180 reps=5 rpe=8"},
		{"half a point", "180x5 @8½", "180 reps=5 rpe=8.5"},
		{"RIR: Zourdos et al. 2016, 1 is RPE 9", "180x5 1 RIR", "180 reps=5 rpe=9"},
		{"RIR written together: 2 is RPE 8", "180x5 2RIR", "180 reps=5 rpe=8"},
		{"RIR 0 is RPE 10", "180x5 RIR 0", "180 reps=5 rpe=10"},
		{"RIR range", "180x5 1-2 RIR", "180 reps=5 rpe=8 to 9"},
		{"at RIR", "180x5 @2RIR", "180 reps=5 rpe=8"},
		{"about", "180x5 @~8", "180 reps=5 rpe=8"},
		{"sets unsaid, RPEs told", "180x5 @7, 8, 9", "180 sets=3 reps=5 rpe=[7 8 9]"},
		{"tight list of RPEs", "180x5 @7,8,9", "180 sets=3 reps=5 rpe=[7 8 9]"},
		{"RPE behind a separator belongs to the set before", "180x5; @8", "180 reps=5 rpe=8"},
		{"a plus is kept as a word", "180x5 @8+", `180 reps=5 rpe=8 "@8+"`},

		{"five tried, four made", "180x5(4)", "180 reps=5 missed=1"},
		{"and an RPE", "180x5(4) @10", "180 reps=5 missed=1 rpe=10"},
		{"x behind: missed", "180x1x", "180 reps=1 missed=1"},
		{"x behind a load", "180x", "180 reps=1 missed=1"},
		{"two of them", "180x1x 185x1", "180 reps=1 missed=1 | 185 reps=1"},
		{"a word", "180x1 miss", "180 reps=1 missed=1"},
		{"F", "180x1F", "180 reps=1 missed=1"},
		{"none made", "180x0", "180 reps=1 missed=1"},
		{"x and F", "180xF", "180 reps=1 missed=1"},
		{"one more tried", "180x3+1F", "180 reps=4 missed=1"},
		{"one more tried, in a word", "180x3 + miss", "180 reps=4 missed=1"},
		{"a count behind", "180x5 missed 2", "180 reps=5 missed=2"},
		{"a count in front", "180x5, 1 missed", "180 reps=5 missed=1"},
		{"which one", "180x5 missed 5th", "180 reps=5 missed=1"},
		{"the last of a list", "140/5/5/5 miss", "140 sets=3 reps=[5 5 5] missed=1"},
		{"a count behind a list", "140/5/5/5, 1 miss", "140 sets=3 reps=[5 5 5] missed=1"},
		{"no misses", "180x5 no misses", "180 reps=5"},
		{"cross", "180x1 ✗", "180 reps=1 missed=1"},

		{"ramp: reps belong to the load they stand at", "60, 100, 140x3", "60 | 100 | 140 reps=3"},
		{"ramp without blanks", "60,100,140x3", "60 | 100 | 140 reps=3"},
		{"ramp of two without blanks", "60,100x3", "60 | 100 reps=3"},
		{"ramp with slashes", "60/100/140x3", "60 | 100 | 140 reps=3"},
		{"ramp with arrows", "60 > 100 > 140x3", "60 | 100 | 140 reps=3"},
		{"ramp with a real arrow", "60→100→140x3", "60 | 100 | 140 reps=3"},
		{"ramp with dashes", "60-100-140x3", "60 | 100 | 140 reps=3"},
		{"ramp with reps", "60x5, 100x3, 140x1 @7", "60 reps=5 | 100 reps=3 | 140 reps=1 rpe=7"},
		{"ramp with blanks only", "60x5 100x3 140x1", "60 reps=5 | 100 reps=3 | 140 reps=1"},
		{"ramp of fractions", "100,5, 102,5, 105x1", "100.5 | 102.5 | 105 reps=1"},
		{"ramp in steps", "60x5, +20x3, +20x1", "60 reps=5 | +20 reps=3 | +20 reps=1"},
		{"drop", "180x3 @9, -10% x5", "180 reps=3 rpe=9 | -10% reps=5"},
		{"same load again", "100x5, x3, x2", "100 reps=5 | 100 reps=3 | 100 reps=2"},
		{"sets with an RPE each", "180x5 @7; 185x5 @8", "180 reps=5 rpe=7 | 185 reps=5 rpe=8"},
		{"lines", "180x5 @7\n185x5 @8", "180 reps=5 rpe=7 | 185 reps=5 rpe=8"},
		{"plus between sets", "180x5 + 170x3", "180 reps=5 | 170 reps=3"},

		{"speed with its place behind", "180x5 @8 0.31 last", "180 reps=5 rpe=8 v=0.31 last"},
		{"in front", "180x5, last rep: 0.31", "180 reps=5 v=0.31 last"},
		{"first and last", "180x5 first 0.45 last 0.31", "180 reps=5 v=0.45 first v=0.31 last"},
		{"both behind", "180x5 0.45 first, 0.31 last", "180 reps=5 v=0.45 first v=0.31 last"},
		{"joined by a dash", "180x5 0.45-0.31", "180 reps=5 v=0.45 first v=0.31 last"},
		{"an arrow of two signs", "180x5 0.45 -> 0.31 m/s", "180 reps=5 v=0.45m/s first v=0.31m/s last"},
		{"all reps", "180x3 0.41 / 0.38 / 0.35", "180 reps=3 v=0.41 v=0.38 v=0.35"},
		{"all reps, decimal comma", "180x3 0,41 / 0,38 / 0,35", "180 reps=3 v=0.41 v=0.38 v=0.35"},
		{"all reps, commas and decimal comma", "180x3: 0,41, 0,38, 0,35", "180 reps=3 v=0.41 v=0.38 v=0.35"},
		{"commas without blanks", "180x3 0,41,0,38,0,35", "180 reps=3 v=0.41 v=0.38 v=0.35"},
		{"all reps, blanks", "180x3 .41 .38 .35", "180 reps=3 v=0.41 v=0.38 v=0.35"},
		{"speeds alone", "0.41 / 0.38 / 0.35", "v=0.41 v=0.38 v=0.35"},
		{"one unit for all", "180x3 41/38/35 cm/s", "180 reps=3 v=41cm/s v=38cm/s v=35cm/s"},
		{"at a speed", "180x1 @0.31", "180 reps=1 v=0.31"},
		{"at a speed, RPE too", "180x1 @8 @ 0.31 m/s", "180 reps=1 rpe=8 v=0.31m/s"},
		{"one speed of several reps", "180x5 0.31", "180 reps=5 v=0.31 unsaid"},
		{"best", "180x5 best 0.45", "180 reps=5 v=0.45 fastest"},
		{"a single and its peak", "180x1 0.31, peak 0.60", "180 reps=1 v=0.31 v=0.6 peak"},
		{"a peak is no mean", "180x1 peak 1.10", "180 reps=1 v=1.1 peak"},
		{"mean of the set", "180x5 avg 0.38 m/s", "180 reps=5 v=0.38m/s mean"},
		{"fast speeds need two digits", "60x3 1.02/0.99/0.97", "60 reps=3 v=1.02 v=0.99 v=0.97"},
		{"speed before the set", "0.31 last 180x5", "180 reps=5 v=0.31 last"},

		{"words are a comment", "180x5 @8 felt heavy", `180 reps=5 rpe=8 "felt heavy"`},
		{"words in front", "Squat: 180x5 @8", `180 reps=5 rpe=8 "Squat"`},
		{"words and a bare number", "180x5 knee 3/10", `180 reps=5 "knee 3 10"`},
		{"an RPE behind words", "180x5 belt @8", `180 reps=5 rpe=8 "belt"`},
		{"a set behind words", "180x5 easy, 190x3", `180 reps=5 "easy" | 190 reps=3`},
		{"a label", "Set 1: 180x5", "180 reps=5"},
		{"a number with a bracket", "1) 180x5", "180 reps=5"},
		{"top set", "Top set 180x1 @8", `180 reps=1 rpe=8 "Top"`},
		{"amrap", "140xAMRAP 8", "140 reps=8"},
		{"amrap", "140xAMRAP (9)", "140 reps=9"},
		{"a plus set", "140x8+", "140 reps=8"},
		{"check mark", "180x1 ✓", "180 reps=1"},
		{"unsure", "180x5 @8?", "180 reps=5 rpe=8"},
		{"empty", "  ", ""},

		{"sets at one load, an RPE each", "180x5@8, 5@8.5, 4@9", "180 reps=5 rpe=8 | 180 reps=5 rpe=8.5 | 180 reps=4 rpe=9"},
		{"load with a colon, reps with RPEs", "180: 5@8, 4@9", "180 reps=5 rpe=8 | 180 reps=4 rpe=9"},
		{"commas without blanks between sets", "140x5,140x5,140x4", "140 reps=5 | 140 reps=5 | 140 reps=4"},
		{"RPE, dash, set", "RPE 8 - 180x5", "180 reps=5 rpe=8"},
		{"miss in front", "failed 200x1", "200 reps=1 missed=1"},
		{"miss behind a separator", "200x1; miss", "200 reps=1 missed=1"},
		{"two crosses", "100x3 x x", "100 reps=3 missed=2"},
		{"a word with digits", "180x5 e1rm 205", `180 reps=5 "e1rm 205"`},
		{"a letter and number in front", "A1: 180x5", `180 reps=5 "A1"`},
		{"digits with letters behind a set", "180x5 2ct pause", `180 reps=5 "2ct pause"`},
		{"a time of day", "10:30 180x5", `180 reps=5 "10:30"`},
		{"rest", "180x5, rest 3:00", `180 reps=5 "rest 3:00"`},
		{"the unit last", "405x5 lb", "405 lb reps=5"},
		{"the unit first", "lb 405 x 5", "405 lb reps=5"},
		{"for", "100 for 5", "100 reps=5"},
		{"a dash before the reps", "180 kg - 5 reps", "180 kg reps=5"},
		{"units everywhere", "120kgx5x3sets", "120 kg sets=3 reps=5"},

		{"German", "3 Sätze à 5 Wdh mit 140 kg", "140 kg sets=3 reps=5"},
		{"German, speed", "180x5 letzte 0,31", "180 reps=5 v=0.31 last"},
		{"German, miss", "180x1 Fehlversuch", "180 reps=1 missed=1"},
		{"Spanish", "3 series de 5 con 140 kg", "140 kg sets=3 reps=5"},
		{"Spanish, speed", "180x5 última 0,31", "180 reps=5 v=0.31 last"},
		{"Portuguese, speed", "180x5 melhor 0,45", "180 reps=5 v=0.45 fastest"},
		{"French", "3 séries de 5 à 140 kg", "140 kg sets=3 reps=5"},
		{"Italian", "3 serie di 5 con 140 kg", "140 kg sets=3 reps=5"},
		{"Dutch", "180x1 gemist", "180 reps=1 missed=1"},
		{"Swedish", "180x5 sista 0,31", "180 reps=5 v=0.31 last"},
		{"Finnish", "180x5 viimeinen 0,31", "180 reps=5 v=0.31 last"},
		{"Polish", "180x1 spalone", "180 reps=1 missed=1"},
		{"Russian", "3 подхода по 5 повторений 140 кг", "140 кг sets=3 reps=5"},
	})
}

func TestParseErrors(t *testing.T) {
	run(t, Options{}, []parseTest{
		{"a letter for a digit", "12O x 5", `error: "12O" is not a number`},
		{"a letter in front", "180 x O5", `error: "O5" is not a number`},
		{"between RPE and load", "5x3@15", `error: "@15" is no RPE (1 to 10) and no load (20 or more, or with a unit)`},
		{"RPE 0", "180x5 @0", `error: "@0" is no RPE (1 to 10)`},
		{"RPE 11 in words", "180x5 RPE 11", `error: "RPE 11" is no RPE (1 to 10)`},
		{"RIR 10", "180x5 10RIR", `error: "10RIR" is no RIR (0 to 9)`},
		{"no load among three", "3x5x10", `error: "3x5x10": which number is the load? None is 20 or more or has a unit`},
		{"two loads among three", "60x3x20", `error: "60x3x20": which number is the load?`},
		{"two marked loads", "60kg x 20kg", `error: "60kg x 20kg": which number is the load?`},
		{"four numbers", "3x5x100x2", `error: "3x5x100x2": more than load, sets and reps`},
		{"a range of reps", "140x3-5", "error: 3-5: a range of reps or two sets?"},
		{"made of, or two sets", "180x3/5", "error: 3/5: two sets, or 3 reps made of 5?"},
		{"tempo is no list", "180x5 3-1-0 tempo", `error: what does "3" count?`},
		{"a fraction alone", "8.5", `error: "8.5": a load, an RPE or a speed?`},
		{"an x alone", "3x", `error: "3x": what does the x count?`},
		{"the unit last, either could be", "25x15 kg", `error: "25x15 kg": which number is the load?`},
		{"a letter for a digit, in a list", "140/5/5/4O", `error: "4O" is not a number`},
		{"a letter for a digit, in the RPE", "180x5 @O8", `error: "O8" is not a number`},
		{"neither counts sets", "15x20kg x 16", "error: 15x16: which number counts the sets?"},
		{"list and sets disagree", "3x5 (5,4) @140", "error: 3 sets, but the reps of 2"},
		{"RPEs and sets disagree", "3x5@140 @7, 8", "error: 2 RPEs for 3 sets"},
		{"made more than tried", "180x5(8)", "error: (8) beside 5 reps: reps made, or an RPE?"},
		{"missed more than tried", "180x2 missed 3", "error: 3 missed of 2 reps"},
		{"a number too many", "180x5 @8 3", `error: what does "3" count?`},
		{"two things added", "180+20", `error: "180+20": what is added to what?`},
		{"of which rep?", "180x5 0.45, 0.31 last", "error: of which rep is each speed?"},
		{"no set", "felt good", "error: no set in it"},
		{"an effort alone", "@8", `error: "@8" belongs to no set`},
		{"a date", "5.4.2026", `error: "5.4.2026" is no number`},
		{"a long number", "1234567x5", `error: "1234567" is too large for a load or a count`},
		{"endless", strings.Repeat("180x5 ", 100), "error: is too long for a set"},
		{"loads and sets disagree", "4x5 @ 100, 110, 120", "error: 3 loads for 4 sets"},
	})
}

func TestParseWithLoadElsewhere(t *testing.T) {
	run(t, Options{HasLoad: true}, []parseTest{
		{"reps", "5", "reps=5"},
		{"reps and RPE", "5 @8", "reps=5 rpe=8"},
		{"a list", "5/5/4", "sets=3 reps=[5 5 4]"},
		{"a list, commas", "5,5,4", "sets=3 reps=[5 5 4]"},
		{"two sets, a comma", "5,4", "sets=2 reps=[5 4]"},
		{"a list, blanks", "5 5 4", "sets=3 reps=[5 5 4]"},
		{"twenty reps", "3x20", "sets=3 reps=20"},
		{"twenty in front", "20x3", "sets=3 reps=20"},
		{"a load all the same", "140x5", "140 reps=5"},
		{"a pair", "3x5 @8", "sets=3 reps=5 or swapped rpe=8"},
		{"at a light load", "3x5@40", "40 sets=3 reps=5 or swapped"},
	})
}

func TestParseWithOrder(t *testing.T) {
	run(t, Options{Order: SetsReps}, []parseTest{
		{"sets first", "5x3@140", "140 sets=5 reps=3"},
		{"the load last", "5x3x140", "140 sets=5 reps=3"},
		{"a pair of its own behind the load", "140 kg 5x3", "140 kg sets=5 reps=3"},
		{"behind its load another order counts", "140x5x3", "140 sets=5 reps=3 or swapped"},
		{"words overrule", "5 reps x 3 @140", "140 sets=3 reps=5"},
		{"a declared order overrules size", "15x3@60", "60 sets=15 reps=3"},
	})
	run(t, Options{Order: RepsSets}, []parseTest{
		{"reps first", "5x3@140", "140 sets=3 reps=5"},
		{"one top set", "1x1@180", "180 sets=1 reps=1"},
	})
	run(t, Options{LoadFirst: RepsSets}, []parseTest{
		{"load × reps × sets", "140x5x3", "140 sets=3 reps=5"},
		{"alone, unknown", "5x3@140", "140 sets=5 reps=3 or swapped"},
	})
}

func TestSwapped(t *testing.T) {
	entries, err := Parse("5x3@140", Options{})
	if err != nil || !entries[0].Ambiguous {
		t.Fatal(entries, err)
	}
	if e := entries[0].Swapped(); e.Sets != 3 || e.Reps != 5 {
		t.Errorf("%+v", e)
	}
}

func TestParseRPE(t *testing.T) {
	for text, want := range map[string][2]float64{
		"8": {8, 0}, "8.5": {8.5, 0}, "7,5": {7.5, 0}, "@8": {8, 0}, "@ 7,5": {7.5, 0}, "8-8.5": {8, 8.5}, "8,5-9": {8.5, 9},
		"8–9": {8, 9}, "RPE 9": {9, 0}, "9 RPE": {9, 0}, "rpe: 8": {8, 0}, "2 RIR": {8, 0}, "RIR 1-2": {8, 9}, "2RIR": {8, 0},
		"@8+": {8, 0}, "9?": {9, 0}, "8½": {8.5, 0}, "10": {10, 0},
		"11": {}, "0": {}, "": {}, "hard": {}, "180x5 @8": {}, "8, 9, 9": {}, "8 felt ok": {}, "@": {}, "80%": {},
	} {
		rpe, high, err := ParseRPE(text)
		if err != nil {
			rpe, high = 0, 0
		}
		if (err != nil) != (want == [2]float64{}) || rpe != want[0] || high != want[1] {
			t.Errorf("ParseRPE(%q) = %v, %v, %v; want %v", text, rpe, high, err, want)
		}
	}
}

func TestLoadOn(t *testing.T) {
	abs := func(v float64, unit string) Load { return Load{Kind: Absolute, V: v, Step: 1, Unit: unit} }
	for _, tt := range []struct {
		load, prev Load
		want       string
		ok         bool
	}{
		{Load{Kind: Added, V: 20, Step: 1}, abs(100, "kg"), "120 kg", true},
		{Load{Kind: Added, V: -2.5, Step: 0.1}, abs(100, "kg"), "97.5 kg", true},
		{Load{Kind: AddedPercent, V: -10, Step: 1}, abs(180, ""), "162", true},
		{Load{Kind: Added, V: 20, Unit: "lb"}, abs(100, "kg"), "", false},
		{Load{Kind: Added, V: 20}, Load{}, "", false},
		{Load{Kind: Added, V: -120}, abs(100, ""), "", false},
		{abs(140, ""), Load{}, "140", true},
	} {
		got, ok := tt.load.On(tt.prev)
		if ok != tt.ok || ok && got.String() != tt.want {
			t.Errorf("%v on %v = %v, %v; want %s, %v", tt.load, tt.prev, got, ok, tt.want, tt.ok)
		}
	}
}

func TestEntryText(t *testing.T) {
	entries, err := Parse("Squat: 60x5, 100x3 @7; 140 x 1 easy", Options{})
	if err != nil || len(entries) != 3 {
		t.Fatal(entries, err)
	}
	for i, want := range []string{"Squat: 60x5", "100x3 @7", "140 x 1 easy"} {
		if entries[i].Text != want {
			t.Errorf("entry %d: %q, want %q", i, entries[i].Text, want)
		}
	}
}
