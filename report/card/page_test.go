package card

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/report/chart"
)

func TestSameBytes(t *testing.T) {
	p := pageOf("Ines Duarte", 14, threeLifts...)
	if render(t, p) != render(t, pageOf("Ines Duarte", 14, threeLifts...)) {
		t.Error("two pages of the same lifter differ")
	}
	if club, again := renderClub(t, p), renderClub(t, p); club != again {
		t.Error("two pages of the same club differ")
	}
}

// elements are all that a page is made of.
const elements = " html head meta title style body header main nav section h1 h2 h3 p a small strong em span div ul li dl dt dd " +
	"table caption thead tbody tfoot tr th td figure figcaption svg path text details summary "

// Names, notes and file names come from strangers' exports.
func TestHostileText(t *testing.T) {
	for _, text := range []string{
		`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `javascript:alert(1)`, `' onmouseover='alert(1)`,
		`</style><script>1</script>`, `{{.}}`, `https://example.com/x`, "a\u202eb\x00c", `<!--`, `&lt;b&gt;`,
	} {
		p := pageOf(text, 3, threeLifts[0], text)
		for name, page := range map[string]string{"lifter": render(t, p), "club": renderClub(t, p), "units": renderUnits(t, p)} {
			for _, n := range parse(t, page).all("") {
				if !strings.Contains(elements, " "+n.Data+" ") {
					t.Errorf("%s page of %q has the element %s", name, text, n.Data)
				}
				for _, a := range n.Attr {
					if strings.HasPrefix(a.Key, "on") || a.Key == "src" {
						t.Errorf("%s page of %q has the attribute %s", name, text, a.Key)
					}
					if to := a.Val; a.Key == "href" && !strings.HasPrefix(to, "#") && to != IndexFile && to != "lifter%201.html" {
						t.Errorf("%s page of %q links to %s", name, text, to)
					}
				}
			}
		}
		shown := parse(t, render(t, p)).all("h1")[0].text()
		if want := strings.ReplaceAll(text, "\x00", "\ufffd"); shown != want {
			t.Errorf("the heading is %q, want %q", shown, want)
		}
	}
}

// A page that is kept on a phone in a cellar gym needs nothing from anywhere.
func TestSelfContained(t *testing.T) {
	p := pageOf("Ines Duarte", 3, threeLifts...)
	outside := regexp.MustCompile(`(?i)https?://|//[a-z]+\.|<link|<iframe|<object|<script|@import|url\(`)
	for name, page := range map[string]string{"lifter": render(t, p), "club": renderClub(t, p), "units": renderUnits(t, p)} {
		if bad := outside.FindString(page); bad != "" {
			t.Errorf("%s page: %s", name, bad)
		}
	}
}

// What a lifter and a coach look for, in the order they look for it.
func TestQuestionsAnswered(t *testing.T) {
	p := pageOf("Ines Duarte", 14, threeLifts...)
	doc := parse(t, render(t, p))
	text := doc.text()
	at := 0
	for _, want := range []string{
		"Speed card", "152.5 kg", "148.5 to 156.5", "fastest rep of the set (112 loads × days)", "measured from 40 to 140 kg only",
		"slowest rep of it (53 sets)", "Last warm-up, 100 kg: usually 0.55 to 0.65 m/s", "End back-off sets at: 0.42 m/s (RPE 6)", "Not enough yet for the card: box squat",
		"How hard was the set?", "0.35 m/s (0.34 to 0.36)", "From 53 sets with RPE and speed", "How fast is a load?", "10 kg more is 0.07 m/s slower", "0.020 m/s (SD; 0.012 to 0.031)", "lighter or heavier than any load measured (40 to 140 kg)", "How strong today?",
		"Was the day as usual?", "usual by 12 earlier days: 0.55 to 0.65", "Of 100 usual days about 30 are this slow or slower.", "Is the same load faster than it was?", "0.005 (0.003 to 0.007)", "142.5 kg: not enough yet: 2 of 4 days",
		"Block against block", "peak against volume:", "speed at the same RPE not enough yet: 2 of 8 sets", "When to end a back-off set?", "each rep costs 5.0 %", "Kept apart",
		"What each number of the squat rests on", "not enough yet: 3 of 12 sets with RPE and speed", "1RM now: not enough yet: 0 of 1 top singles",
		"Do the units agree?", "Worth a look", "What was set aside, and why", "more lie too far out", "Words", "Cautions",
	} {
		i := strings.Index(text[at:], want)
		if i < 0 {
			t.Errorf("%q is not on the page, or not after what comes before it", want)
			continue
		}
		at += i
	}
	for caution, want := range map[string]int{"The same twice.": len(threeLifts), "These are estimates from past sets.": 1} {
		if n := strings.Count(text, caution); n != want {
			t.Errorf("%q stands %d times on the page, want %d", caution, n, want)
		}
	}
}

func TestNothingYet(t *testing.T) {
	p := pageOf("Ines Duarte", 3, "squat")
	p.Lifter.Lifts = []profile.Lift{bareLift("squat")}
	p.Result.Aside, p.Result.Sets, p.All.Agreement, p.Result.Doubts = nil, rep.Sets{}, nil, nil
	text := parse(t, render(t, p)).text()
	for _, want := range []string{"Not enough yet for the card: squat", "RPE and speed: not enough yet", "Nothing."} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said", want)
		}
	}
	if strings.Contains(text, "0 of 0") || strings.Contains(text, "NaN") {
		t.Error("a number without support is shown")
	}
}

func TestClub(t *testing.T) {
	p := pageOf("Ines Duarte", 14, threeLifts...)
	doc := parse(t, renderClub(t, p))
	text := doc.text()
	for _, want := range []string{"Ines Duarte", "152.5", "148.5 to 156.5", "13 Apr 2026", "squat: as usual", "box squat", "all sources"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	var links []string
	for _, a := range doc.all("a") {
		links = append(links, a.attr("href"))
	}
	if !strings.Contains(strings.Join(links, " "), "lifter%201.html") {
		t.Errorf("no link to the lifter: %v", links)
	}
	if !strings.Contains(render(t, p), `href="index.html"`) {
		t.Error("no link back")
	}
	empty := renderClub(t, Page{All: &profile.Profiles{}, Result: p.Result})
	if !strings.Contains(empty, "No rep was kept yet") {
		t.Error("a club without lifters says nothing")
	}
}

// Every chart of the command line can be drawn of a lift that has all, and none
// of one that has nothing.
func TestKinds(t *testing.T) {
	full, bare := fullLift("squat", 14), bareLift("squat")
	for _, k := range Kinds {
		c, ok := k.Draw("Ines Duarte", &full)
		if !ok {
			t.Errorf("%s: nothing to draw", k.Name)
			continue
		}
		if svg, err := chart.File(c); err != nil || !strings.Contains(string(svg), "Ines Duarte, squat") {
			t.Errorf("%s: %v", k.Name, err)
		}
		if c.X.Column == "" || c.Y.Column == "" || c.Alt == "" {
			t.Errorf("%s: axes without a column or no text for those who cannot see it", k.Name)
		}
		if _, ok := k.Draw("Ines Duarte", &bare); ok {
			t.Errorf("%s: drawn from nothing", k.Name)
		}
	}
}

// A club's two years are written while one waits; pages stay small enough to
// send.
func TestSize(t *testing.T) {
	page := render(t, pageOf("Ines Duarte", 104, threeLifts...))
	if kb := len(page) / 1024; kb > 2048 {
		t.Errorf("the page of two years has %d KB", kb)
	}
	season := render(t, pageOf("Ines Duarte", 14, threeLifts...))
	if kb := len(season) / 1024; kb > 700 {
		t.Errorf("the page of a season has %d KB", kb)
	}
}

func BenchmarkWrite(b *testing.B) {
	for _, weeks := range []int{14, 104} {
		p := pageOf("Ines Duarte", weeks, threeLifts...)
		b.Run(fmt.Sprintf("weeks=%d", weeks), func(b *testing.B) {
			for b.Loop() {
				render(b, p)
			}
		})
	}
}
