package spelling

import (
	"fmt"
	"reflect"
	"testing"
)

func TestSimilar(t *testing.T) {
	for _, c := range [][2]string{
		{"Ines Duarte", "Duarte, Ines"}, {"Ines Duarte", "I. Duarte"}, {"Ines Duarte", "ines d"}, {"Ines Duarte", "Inês Duarte"},
		{"Ines Duarte", "Ines Durate"}, {"Ines Duarte", "Ines"}, {"Ines Duarte", "ID"}, {"Ines Duarte", "Ines M. Duarte"},
		{"Duarte, Ines", "I. Duarte"}, {"I Duarte", "Duarte I."}, {"Jörgen Åberg", "Jorgen Aberg"}, {"Søren Holm", "Soren Holm"},
		{"Ana-Maria Reis", "Ana Maria Reis"}, {"Alexander Berg", "Alex Berg"},
	} {
		if len(Similar(c[:])) != 1 {
			t.Errorf("%q and %q are not suggested", c[0], c[1])
		}
	}
	for _, c := range [][2]string{
		{"Ines Duarte", "Joss Alder"}, {"Ines Duarte", "Ines Costa"}, {"Ines Duarte", "Rui Duarte"}, {"I. Duarte", "I. Costa"},
		{"Alex", "Alexander"}, {"lifter 1", "lifter 2"}, {"lifter 1", "lifter 10"}, {"Ana", "Ina"}, {"", "Ines"}, {"JA", "Ines Duarte"},
	} {
		if p := Similar(c[:]); p != nil {
			t.Errorf("%q and %q are suggested: %q", c[0], c[1], p)
		}
	}
	got := Similar([]string{"ines d", "Joss Alder", "Ines Duarte", "INES DUARTE", "alder, joss"})
	if want := [][2]string{{"Ines Duarte", "ines d"}, {"Joss Alder", "alder, joss"}}; !reflect.DeepEqual(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	federation := []string{"Ines Duarte", "I. Duarte"}
	for i := range 3000 {
		federation = append(federation, fmt.Sprintf("Person%d X", i))
	}
	if got, want := Similar(federation), [][2]string{{"I. Duarte", "Ines Duarte"}}; !reflect.DeepEqual(got, want) {
		t.Errorf("of a federation: got %q, want %q", got, want)
	}
	many := make([]string, similarMost+1)
	for i := range many {
		many[i] = fmt.Sprintf("Person%d X", i)
	}
	if p := Similar(many); p != nil {
		t.Errorf("%d pairs in a column that holds no lifters", len(p))
	}
}
