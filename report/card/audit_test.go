package card

import (
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// node is an element of a parsed page.
type node struct{ *html.Node }

func parse(t testing.TB, page string) node {
	t.Helper()
	n, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	return node{n}
}

// all returns the elements of a name in document order; empty for every one.
func (n node) all(name string) []node {
	var out []node
	for c := range n.Descendants() {
		if c.Type == html.ElementNode && (name == "" || c.Data == name) {
			out = append(out, node{c})
		}
	}
	return out
}

func (n node) attr(name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

func (n node) has(name string) bool {
	for _, a := range n.Attr {
		if a.Key == name {
			return true
		}
	}
	return false
}

var blanks = regexp.MustCompile(`[ \n\t]+`)

// text returns what can be read, blanks folded.
func (n node) text() string {
	var b strings.Builder
	for c := range n.Descendants() {
		if c.Type == html.TextNode && c.Parent.Data != "style" {
			b.WriteString(c.Data)
		}
	}
	return strings.TrimSpace(blanks.ReplaceAllString(b.String(), " "))
}

// inside reports whether an element lies in one of a name.
func (n node) inside(name string) bool {
	for a := range n.Ancestors() {
		if a.Data == name {
			return true
		}
	}
	return false
}

// The rules are those of WCAG 2.2 that markup alone can keep or break: language
// (3.1.1), title (2.4.2), headings in order (1.3.1), tables with captions and
// scopes (1.3.1), names of pictures, landmarks and links (1.1.1, 2.4.4), a way
// round blocks (2.4.1), scrolling boxes by keyboard (2.1.1), unique ids.
func TestAccessible(t *testing.T) {
	p := pageOf("Ines Duarte", 14, threeLifts...)
	for name, page := range map[string]string{"lifter": render(t, p), "club": renderClub(t, p), "units": renderUnits(t, p)} {
		t.Run(name, func(t *testing.T) { audit(t, parse(t, page)) })
	}
}

func audit(t *testing.T, doc node) {
	if doc.all("html")[0].attr("lang") == "" {
		t.Error("no language")
	}
	if doc.all("title")[0].text() == "" {
		t.Error("no title")
	}
	if view := doc.all("meta"); !strings.Contains(view[1].attr("content"), "width=device-width") || strings.Contains(view[1].attr("content"), "maximum-scale") {
		t.Error("a phone cannot show it, or cannot zoom")
	}
	ids := map[string]bool{}
	for _, n := range doc.all("") {
		if id := n.attr("id"); id != "" {
			if ids[id] {
				t.Errorf("id %s twice", id)
			}
			ids[id] = true
		}
	}
	for _, n := range doc.all("") {
		if by := n.attr("aria-labelledby"); by != "" && !ids[by] {
			t.Errorf("%s is labelled by %s, which is not there", n.Data, by)
		}
		if to, ok := strings.CutPrefix(n.attr("href"), "#"); ok && !ids[to] {
			t.Errorf("link to #%s leads nowhere", to)
		}
		if tab := n.attr("tabindex"); tab != "" && tab != "0" {
			t.Errorf("%s has its own place in the order of keys", n.Data)
		}
	}
	if first := doc.all("a")[0]; first.attr("class") != "skip" {
		t.Error("the first link does not lead past the rest")
	}
	for name, want := range map[string]int{"main": 1, "h1": 1, "header": 1, "nav": 1} {
		if n := len(doc.all(name)); n != want {
			t.Errorf("%d × <%s>", n, name)
		}
	}
	level := 0
	for _, n := range doc.all("") {
		if len(n.Data) != 2 || n.Data[0] != 'h' || n.Data[1] < '1' || n.Data[1] > '6' {
			continue
		}
		now := int(n.Data[1] - '0')
		if now > level+1 {
			t.Errorf("heading %q leaps from level %d to %d", n.text(), level, now)
		}
		if n.text() == "" {
			t.Error("an empty heading")
		}
		level = now
	}
	for _, n := range doc.all("table") {
		if len(n.all("caption")) != 1 {
			t.Errorf("a table without a caption: %.60s", n.text())
		}
		if len(n.all("thead")) != 1 {
			t.Errorf("a table without headings: %.60s", n.text())
		}
	}
	for _, n := range doc.all("th") {
		if s := n.attr("scope"); s != "col" && s != "row" {
			t.Errorf("heading %q without a scope", n.text())
		}
		if n.text() == "" {
			t.Error("an empty table heading")
		}
	}
	charts := 0
	for _, n := range doc.all("svg") {
		switch {
		case n.attr("aria-hidden") == "true":
		case n.attr("role") == "img" && len(n.attr("aria-label")) > 30:
			charts++
			if !n.inside("figure") {
				t.Error("a chart outside a figure")
			}
		default:
			t.Errorf("a picture that a screen reader cannot name: %v", n.Attr)
		}
	}
	if charts == 0 {
		t.Error("no chart")
	}
	for _, n := range doc.all("figure") {
		if len(n.all("figcaption")) != 1 {
			t.Error("a figure without a caption")
		}
	}
	for _, n := range doc.all("a") {
		if n.text() == "" || !n.has("href") {
			t.Error("a link without words or target")
		}
	}
	for _, n := range doc.all("") {
		switch n.attr("role") {
		case "", "img":
		case "region":
			if n.attr("aria-label") == "" || n.attr("tabindex") != "0" {
				t.Error("a box that scrolls has no name, or no place for the keyboard")
			}
		default:
			t.Errorf("role %s", n.attr("role"))
		}
	}
	for _, n := range doc.all("details") {
		if len(n.all("summary")) != 1 {
			t.Error("details without a summary")
		}
	}
}
