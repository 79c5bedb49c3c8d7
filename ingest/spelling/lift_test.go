package spelling

import (
	"strings"
	"testing"

	"golang.org/x/text/unicode/norm"
)

// How lifts are written, language by language. Common practice, no source.
func TestKnownLift(t *testing.T) {
	for lift, list := range map[string]string{
		"squat": `SQ|Squat|back squat|BACK  SQUATS|Back-Squat|barbell squat|comp squat|Squat (competition)|Squat - top set|Squat back off|light squat
			|Kniebeuge|Kniebeugen|KB|Sentadilla|sentadilla trasera|Agachamento|Agachamento livre|Flexion de jambes|Accosciata|Kniebuiging|Knebøy|Knäböj|knabojning|Knebøjning
			|Jalkakyykky|Kyykky|Hnébeygja|Przysiad|Przysiad ze sztangą|Присед|приседания со штангой`,
		"squat/low bar":                   `low bar squat|LB squat|Squat (low bar)|low-bar back squat|Sentadilla barra baja|Kniebeuge, low bar`,
		"squat/high bar":                  `high bar squat|HB Squat|highbar squat|Agachamento barra alta`,
		"squat/paused":                    `pause squat|paused squats|Squat w/pause|2ct pause squat|3 sec pause squat|Squat 2-count pause|Kniebeuge mit Pause|присед с паузой`,
		"squat/tempo":                     `tempo squat|Squat tempo 3-1-0|tempo squat 310`,
		"squat/box":                       `Box Squat`,
		"bench press":                     `bench|Bench Press|BENCHPRESS|BP|flat bench|Bankdrücken|Bankdruecken|bankdrucken|BD|Press banca|press de banca|Supino|Supino reto|Développé couché|developpe couche|DC|Panca piana|Distensioni su panca|Bankdrukken|Benkpress|Bänkpress|Bænkpres|Penkkipunnerrus|Bekkpressa|Wyciskanie leżąc|Жим лёжа|жим лежа|жим штанги лёжа`,
		"bench press/paused":              `paused bench|Bench (paused)|Bankdrücken pausiert|Supino com pausa|2ct paused bench press|жим лёжа с паузой`,
		"bench press/close grip":          `close grip bench|CG bench|close-grip bench press|Bankdrücken eng|press banca agarre cerrado`,
		"bench press/touch and go":        `TnG bench|touch & go bench|touch-and-go bench press|T&G bench`,
		"bench press/close grip, paused":  `paused close grip bench|close grip paused bench`,
		"bench press/feet up":             `feet up bench|Larsen press bench`,
		"deadlift":                        `Deadlift|DL|dead lift|Dead-Lift|Kreuzheben|KH|Peso muerto|Levantamento terra|Terra|Peso morto|Soulevé de terre|SDT|Stacco|Stacco da terra|Markløft|Marklyft|Dødløft|Maastaveto|Mave|Réttstöðulyfta|Martwy ciąg|Становая тяга|тяга`,
		"deadlift/sumo":                   `sumo deadlift|Sumo DL|deadlift (sumo)|Kreuzheben Sumo|Peso muerto sumo|Stacco sumo|тяга сумо|sumo style deadlift`,
		"deadlift/conventional":           `conventional deadlift|conv DL|Deadlift, conventional|Kreuzheben klassisch|Terra convencional`,
		"deadlift/deficit":                `deficit deadlift|Deficit DLs`,
		"deadlift/block":                  `block pull deadlift|deadlift from blocks`,
		"deadlift/beltless, paused, sumo": `beltless paused sumo deadlift|sumo pause dl (no belt)`,
	} {
		want, variant, _ := strings.Cut(lift, "/")
		for w := range strings.SplitSeq(list, "|") {
			for _, w := range []string{w, strings.ToUpper(w), norm.NFD.String(w)} {
				if l, v, ok := KnownLift(w); !ok || l != want || v != variant {
					t.Errorf("%q: %q, %q, %v", strings.TrimSpace(w), l, v, ok)
				}
			}
		}
	}
}

// What sounds like one of the three lifts and is another exercise, or a
// person, or nothing.
func TestKnownLiftIsNot(t *testing.T) {
	for _, w := range []string{"", " ", "front squat", "belt squat", "hack squat", "split squat", "Romanian deadlift", "RDL", "stiff leg deadlift", "trap bar deadlift",
		"incline bench", "bench row", "bench dip", "overhead press", "press militar", "peso muerto rumano", "supino inclinado", "Жим стоя", "тяга в наклоне", "жим ногами",
		"squat bench", "Mark", "sumo", "paused", "the", "squat 2", "bench 225 lb", "3", strings.Repeat("squat ", 100)} {
		if l, v, ok := KnownLift(w); ok {
			t.Errorf("%q: %q, %q", w, l, v)
		}
	}
}

func TestKnownVariant(t *testing.T) {
	for w, want := range map[string]string{"Sumo": "sumo", "PAUSED": "paused", "2ct pause": "paused", "Low-Bar": "low bar", "conv.": "conventional", "close grip, paused": "close grip, paused",
		"squat": "", "sumo squat": "", "": "", "competition": "", "block 1": "", "red": ""} {
		if v, ok := KnownVariant(w); ok != (want != "") || ok && v != want {
			t.Errorf("%q: %q, %v", w, v, ok)
		}
	}
}

// A phrase longer than takeWords looks at would never be found, and one in two
// lists would be found by the order of a map.
func TestVocabulary(t *testing.T) {
	for _, m := range []map[string]string{liftWords(), variantWords()} {
		for p := range m {
			if n := len(strings.Fields(p)); n > longestPhrase {
				t.Errorf("%q has %d words", p, n)
			}
		}
	}
	for p := range liftWords() {
		if v, both := variantWords()[p]; both {
			t.Errorf("%q is a lift and the variant %q", p, v)
		}
	}
	for _, lists := range []map[string]string{liftLists, variantLists} {
		where := make(map[string]string)
		for meaning, list := range lists {
			for p := range strings.SplitSeq(list, "|") {
				p = Unmarked(Fold(p))
				if other, seen := where[p]; seen && other != meaning {
					t.Errorf("%q means %q and %q", p, other, meaning)
				}
				where[p] = meaning
			}
		}
	}
}
