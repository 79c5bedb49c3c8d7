package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"repsift/ingest/season"
)

// payloads are texts that would run somewhere, each with the mark in it.
var payloads = []string{
	`<script>alert("pwned")</script>`,
	`"><img src=x onerror=alert("pwned")>`,
	`' onmouseover='alert("pwned")`,
	`</script></style></title></svg><svg onload=alert("pwned")>`,
	`javascript:alert("pwned")`,
	`]]><x:script xmlns:x="http://www.w3.org/1999/xhtml">alert("pwned")</x:script>`,
	`{{.pwned}}`, `${pwned}`, "`pwned`", `[pwned](javascript:alert(1))`,
	`=HYPERLINK("http://example.org/pwned")`, `+1+pwned`, `-1+pwned`, `@SUM(pwned)`,
	"\t=1+pwned", "\r=1+pwned", "\n=1+pwned", `＝1+pwned`, `＋1+pwned`, `－1+pwned`, `＠pwned`,
	`x,=1+pwned`, `x;=1+pwned`, `'=1+pwned`, `"=1+pwned"`, `=cmd|' /C pwned'!A0`,
	"\x1b[31mpwned\x1b[0m", "\x1b]0;pwned\x07", "pwned\u202egnp.exe", "pwned\u2066x", "\u009b31mpwned", "pwned\x08\x7f",
}

// names are lifters whose names are trouble for file systems.
var names = []string{
	"../x", "..", ".", "/etc/passwd", `C:\x`, `..\..\x`, "CON", "con.txt", "AUX", "COM1", "LPT¹", ".hidden", "index", "index.html", "x/y", "x-y", "x:y",
	strings.Repeat("long ", 60), strings.Repeat("é", 300), "💪", "💪🏽", "Zoe\u0308 Holm", "Zoë-Holm", "STRASSE", "straße", "ﬁn", "fin", "İ", "i\u0307",
	"a\u200bb", "trailing.", "trailing ", "-rf", "~", "$HOME", "%00", "a\x00b",
}

// season writes twelve days of sets for each lifter, all texts as given.
func seasonOf(t *testing.T, file string, lifters []string, lift, note func(string) string) {
	t.Helper()
	must(t, os.MkdirAll(filepath.Dir(file), 0o755))
	f, err := os.Create(file)
	must(t, err)
	w := csv.NewWriter(f)
	w.Write(strings.Split(strings.TrimSpace(head)+",=1+pwned,<b onclick=pwned>", ","))
	for _, who := range lifters {
		for day := range 12 {
			for set, load := range []int{60, 80, 100, 110} {
				for rep := range 3 {
					v := 1.1 - 0.006*float64(load) - 0.02*float64(rep) + 0.01*float64(day%3)
					w.Write([]string{fmt.Sprintf("2026-%02d-%02d", 1+day/4, 5+7*(day%4)), who, lift(who), fmt.Sprint(load), fmt.Sprint(set + 1), fmt.Sprint(rep + 1),
						fmt.Sprintf("%.2f", v), fmt.Sprint(6 + set), note(who), who, who})
				}
			}
		}
	}
	w.Flush()
	must(t, errors.Join(w.Error(), f.Close()))
}

func asIs(s string) string { return s }

// TestHostileTexts reads an export in which every text would run somewhere, as
// a table and as a workbook whose sheet has such a name, and looks at all that
// is written and shown.
func TestHostileTexts(t *testing.T) {
	t.Chdir(t.TempDir())
	seasonOf(t, "in/exports.csv", payloads, asIs, asIs)
	for i, p := range payloads {
		if name := strings.Map(func(r rune) rune {
			if r == '/' || r == 0 {
				return '_'
			}
			return r
		}, p); i%2 == 0 {
			file(name+".csv", strings.ReplaceAll(rowsOf("0.5", "pwned"), "Vera Holm", fmt.Sprint("Vera ", i)))(t, "in")
		}
	}
	var sheets, list strings.Builder
	for _, p := range payloads {
		escaped := strings.Map(func(r rune) rune { // XML has no control characters
			if r < ' ' {
				return '_'
			}
			return r
		}, p)
		escaped = strings.NewReplacer("&", "&amp;", "<", "&lt;", `"`, "&quot;").Replace(escaped)
		if list.Len() == 0 {
			fmt.Fprintf(&list, `<sheet name="%s"/>`, escaped)
		}
		fmt.Fprintf(&sheets, `<row><c><v>46027</v></c><c t="inlineStr"><is><t>%s</t></is></c><c t="inlineStr"><is><t>%[1]s</t></is></c><c><v>100</v></c><c><v>1</v></c><c><v>1</v></c><c><v>0.5</v></c></row>`, escaped)
	}
	heads := strings.Builder{}
	for h := range strings.SplitSeq("date,lifter,lift,load (kg),set,rep,mean velocity (m/s)", ",") {
		fmt.Fprintf(&heads, `<c t="inlineStr"><is><t>%s</t></is></c>`, h)
	}
	bookOf("book.xlsx", part{"xl/workbook.xml", text("<workbook><sheets>" + list.String() + "</sheets></workbook>")}, sheet("<row>"+heads.String()+"</row>"+sheets.String()))(t, "in")
	zipOf("<b onclick=pwned>.zip", entry{`<img src=pwned onerror=pwned>.csv`, text(rowsOf("0.5", "pwned"))})(t, "in")

	if status, said := measured(t, "tidy", "in", "--out", "out", "--csv"); status != statusPartly {
		t.Errorf("exit status %d: %s", status, said)
	}
	harmless(t, "out")
	onlyIn(t, ".", "in", "out")
	measured(t, "peek", "in")
	measured(t, "peek", "--json", "in")
	for _, source := range []string{"in/exports.csv", "in/book.xlsx"} {
		var shown bytes.Buffer
		run(context.Background(), []string{"peek", "--cells", source}, &console{out: &shown, err: &shown, width: 80, terminal: true})
		if i := strings.IndexFunc(shown.String(), commandsTerminal); i >= 0 || shown.Len() < 1000 {
			t.Errorf("--cells shows %.40q", shown.String()[max(i, 0):])
		}
	}
	measured(t, "why", "in", "exports.csv:2")
	_, said := measured(t, "draft", "in", "--out", "draft.toml")
	b, err := os.ReadFile("draft.toml")
	if err != nil {
		t.Fatal(said)
	}
	if _, err := season.Read("draft.toml", strings.NewReader(string(b))); err != nil {
		t.Errorf("the draft is no season file: %v", err)
	}
	if i := strings.IndexFunc(string(b), func(r rune) bool { return r != '\t' && commandsTerminal(r) }); i >= 0 {
		t.Errorf("the draft holds %q", b[i:min(i+40, len(b))])
	}
	for i, p := range payloads {
		picture := fmt.Sprintf("picture%d.svg", i)
		lifter := lifterLike(t, "out", p)
		if status, said := measured(t, "chart", "--kind", "load-velocity", "--out", picture, "--data", picture+".csv", "--", "out", lifter, lifter); status != statusDone {
			t.Logf("%q: %s", p, said)
			continue
		}
		harmlessPicture(t, picture)
		b, err := os.ReadFile(picture + ".csv")
		must(t, err)
		harmlessCSV(t, picture+".csv", string(b))
	}
}

// lifterLike returns the name in profiles.json that a text became.
func lifterLike(t *testing.T, out, text string) string {
	t.Helper()
	want := strings.Join(strings.Fields(text), " ")
	all := lifters(t, out)
	for _, name := range all {
		if strings.EqualFold(name, text) || strings.EqualFold(name, want) {
			return name
		}
	}
	return text
}

func lifters(t *testing.T, out string) []string {
	t.Helper()
	var p struct{ Lifters []struct{ Lifter string } }
	b, err := os.ReadFile(filepath.Join(out, "profiles.json"))
	must(t, err)
	must(t, json.Unmarshal(b, &p))
	var all []string
	for _, l := range p.Lifters {
		all = append(all, l.Lifter)
	}
	return all
}

// harmlessPicture fails where an SVG file is not XML or would run anything.
func harmlessPicture(t *testing.T, name string) {
	t.Helper()
	f, err := os.Open(name)
	must(t, err)
	defer f.Close()
	d := xml.NewDecoder(f)
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		if contains([]string{"script", "foreignObject", "a", "image", "use", "animate", "set"}, e.Name.Local) {
			t.Errorf("%s: <%s>", name, e.Name.Local)
		}
		for _, a := range e.Attr {
			if strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "href" || a.Name.Local != "aria-label" && strings.Contains(a.Value, mark) {
				t.Errorf("%s: %s=%q", name, a.Name.Local, a.Value)
			}
		}
	}
}

// TestHostileNames: whatever lifters are called, each has a page of their own,
// in its folder, under a name that every file system can hold.
func TestHostileNames(t *testing.T) {
	t.Chdir(t.TempDir())
	seasonOf(t, "in/exports.csv", names, func(string) string { return "squat" }, func(string) string { return "" })
	status, said := measured(t, "tidy", "in", "--out", "out")
	if status != statusDone && status != statusPartly {
		t.Fatalf("exit status %d: %s", status, said)
	}
	onlyIn(t, ".", "in", "out")
	harmless(t, "out")
	entries, err := os.ReadDir("out/profiles")
	must(t, err)
	folded := map[string]bool{}
	for _, e := range entries {
		name := e.Name()
		if !e.Type().IsRegular() || !utf8.ValidString(name) || len(name) > 100 || strings.ContainsAny(name, `<>:"/\|?*`+"\x00") || strings.HasPrefix(name, ".") || folded[strings.ToLower(name)] {
			t.Errorf("a page is called %q", name)
		}
		folded[strings.ToLower(name)] = true
	}
	if all := lifters(t, "out"); len(entries) != len(all)+1 || len(all) < len(names)-8 {
		t.Errorf("%d pages with the club's for %d lifters, of %d names", len(entries), len(all), len(names))
	}
}
