package words

import "testing"

func TestParse(t *testing.T) {
	set := func(cs ...Concept) (s Concepts) {
		for _, c := range cs {
			s = s.With(c)
		}
		return s
	}
	for _, c := range []struct {
		heading string
		want    Heading
	}{
		{"Mean Velocity", Heading{Has: set(Mean, Velocity), Words: 2}},
		{"Durchschnittsgeschwindigkeit", Heading{Has: set(Mean, Velocity), Words: 1}},
		{"mittlere Geschw.", Heading{Has: set(Mean, Velocity), Words: 2}},
		{"Velocidad media", Heading{Has: set(Mean, Velocity), Words: 2}},
		{"velocidade média", Heading{Has: set(Mean, Velocity), Words: 2}},
		{"Vitesse moyenne", Heading{Has: set(Mean, Velocity), Words: 2}},
		{"velocità media", Heading{Has: set(Mean, Velocity), Words: 2}},
		{"Gemiddelde snelheid", Heading{Has: set(Mean, Velocity), Words: 2}},
		{"gjennomsnittshastighet", Heading{Has: set(Mean, Velocity), Words: 1}},
		{"Medelhastighet", Heading{Has: set(Mean, Velocity), Words: 1}},
		{"Prędkość średnia", Heading{Has: set(Mean, Velocity), Words: 2}},
		{"Средняя скорость", Heading{Has: set(Mean, Velocity), Words: 2}},
		{"meanVelocity", Heading{Has: set(Mean, Velocity), Words: 2}},
		{"mean_velocity", Heading{Has: set(Mean, Velocity), Words: 2}},
		{"Rep 3", Heading{Has: set(Rep), Number: 3, Words: 1}},
		{"V12", Heading{Has: set(Velocity), Number: 12, Words: 1}},
		{"Reps", Heading{Has: set(Rep), Words: 1, Plural: true}},
		{"Wdh.-Nr.", Heading{Has: set(Rep, Ordinal), Words: 2}},
		{"Hubweg", Heading{Has: set(Travel), Words: 1}},
		{"Range of Motion", Heading{Has: set(Travel), Words: 3}},
		{"%1RM", Heading{Has: set(Percent, OneRM), Words: 2}},
		{"Letzte Wdh", Heading{Has: set(Last, Rep), Words: 2}},
		{"Athletenname", Heading{Has: set(Lifter, Name), Words: 1}},
		{"Plate colour", Heading{Words: 2, Unknown: 2}},
	} {
		if got := Parse(c.heading); got != c.want {
			t.Errorf("Parse(%q) = %+v, want %+v", c.heading, got, c.want)
		}
	}
}

func TestMarkOf(t *testing.T) {
	for text, want := range map[string]Mark{"x": Miss, "No lift": Miss, "FAIL": Miss, "ungültig": Miss, "✓": Yes, "yes": Yes,
		"nein": No, "good lift": Made, "0.41": NoMark, "": NoMark, "squat": NoMark} {
		if got := MarkOf(text); got != want {
			t.Errorf("MarkOf(%q) = %v, want %v", text, got, want)
		}
	}
}
