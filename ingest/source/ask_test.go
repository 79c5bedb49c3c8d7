package source

import "testing"

func TestAskQuotes(t *testing.T) {
	a := &Ask{Problem: "p", Lines: []string{"x = 1", "x = 2"}}
	a.Source = `a [1] "b".csv`
	if got, want := a.Error(), `a [1] "b".csv: p; add to season.toml under [[source]] files = ['a [[]1] "b".csv']: x = 1 or x = 2`; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}
