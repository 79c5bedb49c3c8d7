package located

import (
	"strings"
	"testing"
)

// Every value is found at its place, whatever stands around it.
func TestPlaces(t *testing.T) {
	const text = "a = 1 # one\n\n[[b]]\nc = { d = \"é\", e = [1, \"two\"] }\n[b.f]\ng.h = true\n"
	f, root := Parse([]byte(text))
	if err := f.Faults("x"); err != nil {
		t.Fatal(err)
	}
	b := root.Get("b").Val
	c := b.Items[0].Get("c").Val
	for _, want := range []struct {
		n    *Node
		kind Kind
		text string
		line int
	}{
		{root.Get("a").Val, Integer, "1", 1},
		{c.Get("d").Val, String, `"é"`, 4},
		{c.Get("e").Val.Items[1], String, `"two"`, 4},
		{b.Items[0].Get("f").Val.Get("g").Val.Get("h").Val, Bool, "true", 6},
	} {
		if got := text[want.n.Off:want.n.End]; want.n.Kind != want.kind || got != want.text || f.Line(want.n.Off) != want.line {
			t.Errorf("%s %q on line %d, want %s %q on line %d", want.n.Kind, got, f.Line(want.n.Off), want.kind, want.text, want.line)
		}
	}
	if g := b.Items[0].Get("f").Val; !b.Items[0].Headed() || !g.Headed() || g.Get("g").Val.Headed() || c.Headed() {
		t.Error("which tables stand below a heading is told wrong")
	}
}

// Faults are told all at once, those of meaning among them, with a caret.
func TestFaults(t *testing.T) {
	f, root := Parse([]byte("a = 1,5\nb = 2\nb = 3\n"))
	f.At(root.Get("b").Val, "too small")
	const want = `x.toml:1:5: decimals are written with a point: 0.20
  1 | a = 1,5
    |     ^^^
x.toml:2:5: b: too small
  2 | b = 2
    |     ^
x.toml:3:1: "b" is there already, on line 2
  3 | b = 3
    | ^`
	if got := f.Faults("x.toml").Error(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if f, _ := Parse([]byte(strings.Repeat("[[a]\n", 2*MaxFaults))); len(f.Faults("x").List) != MaxFaults || !f.Faults("x").More {
		t.Error("reading does not stop at the most faults")
	}
}
