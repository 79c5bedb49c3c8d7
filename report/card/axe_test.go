package card

import (
	"os"
	"strings"
	"testing"
	"time"
)

// A second opinion on accessibility: every rule of axe-core that is for WCAG
// 2.2 A and AA or counts as good practice, on every page, light and dark,
// phone and desk. REPSIFT_AXE names its script (npm package axe-core, file
// axe.min.js); .ci/run fetches it.
func TestAxe(t *testing.T) {
	file := os.Getenv("REPSIFT_AXE")
	if file == "" {
		t.Skip("REPSIFT_AXE names no axe.min.js: pages are not audited by axe-core (the rules of audit_test.go still are)")
	}
	axe, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	b := openBrowser(t)
	p := pageOf("Ines Duarte", 14, threeLifts...)
	type view struct {
		width  int64
		scheme string
	}
	phone, desk := view{360, "light"}, view{1280, "dark"}
	for name, shown := range map[string]struct {
		html  string
		views []view
	}{
		"lifter.html": {render(t, p), []view{phone, desk}}, "index.html": {renderClub(t, p), []view{phone}},
		"units.html": {renderUnits(t, p), []view{desk}}, "new.html": {render(t, pageOf("Jo Li", 1, threeLifts[:1]...)), []view{desk}},
	} {
		for _, view := range shown.views {
			b.open(t, name, shown.html, view.width, 800)
			b.scheme(t, view.scheme)
			eval[bool](t, b, `document.querySelectorAll("details").forEach(d => d.open = true), true`)
			eval[bool](t, b, string(axe)+`; true`)
			eval[bool](t, b, `window.found = null, axe.run(document, {resultTypes: ["violations"]}).then(r => window.found = r.passes.length + " rules kept; " +
				r.violations.map(v => v.id + " (" + v.impact + "): " + v.help + ": " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 120)).join(" | ")).join("; "),
				e => window.found = "failed: " + e), true`)
			said := ""
			for end := time.Now().Add(60 * time.Second); said == "" && time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
				said = eval[string](t, b, `window.found ?? ""`)
			}
			kept, wrong, _ := strings.Cut(said, "; ")
			if !strings.HasSuffix(kept, "rules kept") || strings.HasPrefix(kept, "0 ") || wrong != "" {
				t.Errorf("%s, %d px, %s: %s", name, view.width, view.scheme, said)
			}
		}
	}
}
