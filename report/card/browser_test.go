package card

import (
	"bytes"
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// browser is a tab of a headless Chromium that notes what it fetches and what
// it complains of.
type browser struct {
	ctx context.Context
	dir string

	mu       sync.Mutex
	requests []string
	faults   []string
}

// openBrowser starts a browser for one test, or skips it where there is none.
func openBrowser(t *testing.T) *browser {
	t.Helper()
	if testing.Short() {
		t.Skip("no browser in short runs")
	}
	var path string
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		t.Skip("no chromium, chromium-browser or google-chrome on the PATH: pages are not looked at in a browser")
	}
	b := &browser{dir: t.TempDir()}
	alloc, cancel := chromedp.NewExecAllocator(t.Context(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-gpu", true),
		chromedp.UserDataDir(filepath.Join(b.dir, "browser")), chromedp.WSURLReadTimeout(90*time.Second))...)
	t.Cleanup(cancel)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	limited, cancel := context.WithTimeout(ctx, 3*time.Minute)
	t.Cleanup(cancel)
	b.ctx = limited
	if err := chromedp.Listen(ctx, b.note); err != nil {
		t.Fatal(err)
	}
	for _, start := range []func() error{
		func() error { _, err := chromedp.Call(b.ctx, network.Enable, network.EnableParams{}); return err },
		func() error { _, err := chromedp.Call(b.ctx, log.Enable, struct{}{}); return err },
		func() error { _, err := chromedp.Call(b.ctx, runtime.Enable, struct{}{}); return err },
	} {
		if err := start(); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

func (b *browser) note(ev any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch ev := ev.(type) {
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, ev.Request.URL)
	case *log.EventEntryAdded:
		b.faults = append(b.faults, ev.Entry.Text)
	case *runtime.EventExceptionThrown:
		b.faults = append(b.faults, ev.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		b.faults = append(b.faults, "console."+string(ev.Type))
	}
}

// open shows a page in a window.
func (b *browser) open(t *testing.T, name, html string, width, height int64) {
	t.Helper()
	file := filepath.Join(b.dir, name)
	if err := os.WriteFile(file, []byte(html), 0o600); err != nil {
		t.Fatal(err)
	}
	at := url.URL{Scheme: "file", Path: filepath.ToSlash(file)}
	if err := chromedp.Do(b.ctx, chromedp.EmulateViewport(width, height), chromedp.Navigate(at.String())); err != nil {
		t.Fatal(err)
	}
}

func eval[T any](t *testing.T, b *browser, script string) T {
	t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// pagesOf prints what is open on A4 and counts the sheets.
func (b *browser) pagesOf(t *testing.T) int {
	t.Helper()
	yes := true
	res, err := chromedp.Call(b.ctx, page.PrintToPDF, page.PrintToPDFParams{PreferCSSPageSize: &yes, PaperWidth: 8.27, PaperHeight: 11.69})
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(res.Data, []byte("%PDF")) {
		t.Fatal("no PDF")
	}
	if dir := os.Getenv("REPSIFT_KEEP_PDF"); dir != "" { // to look at with one's own eyes
		file := strings.NewReplacer("/", "-", " ", "-").Replace(t.Name()) + ".pdf"
		if err := os.WriteFile(filepath.Join(dir, file), res.Data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return len(regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(res.Data, -1))
}

func (b *browser) scheme(t *testing.T, name string) {
	t.Helper()
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}}})
	if err != nil {
		t.Fatal(err)
	}
}

// sideways lists what is wider than the window, or does not fit its own box and
// cannot be scrolled there.
const sideways = `(() => {
  const wide = [];
  if (document.documentElement.scrollWidth > innerWidth) wide.push("the page: " + document.documentElement.scrollWidth);
  for (const e of document.querySelectorAll("body *")) {
    if (e.closest(".scroll, .beside, svg, .skip")) continue;
    if (e.getBoundingClientRect().right > innerWidth + 1) wide.push(e.tagName + " " + e.className + ": " + e.textContent.slice(0, 40));
  }
  return wide.join("; ");
})()`

func TestInBrowser(t *testing.T) {
	b := openBrowser(t)
	p := pageOf("Ines Duarte", 14, threeLifts...)
	club, lifter := renderClub(t, p), render(t, p)
	var widths = []int64{320, 360, 768, 1280}
	for name, html := range map[string]string{"index.html": club, "lifter 1.html": lifter} {
		for _, w := range widths {
			b.open(t, name, html, w, 800)
			eval[bool](t, b, `document.querySelectorAll("details").forEach(d => d.open = true), true`)
			if wide := eval[string](t, b, sideways); wide != "" {
				t.Errorf("%s at %d px scrolls sideways: %s", name, w, wide)
			}
		}
		if small := eval[string](t, b, `[...document.querySelectorAll("nav a, summary")].filter(e => e.getBoundingClientRect().height < 24).map(e => e.textContent).join("; ")`); small != "" {
			t.Errorf("%s: too small to tap (WCAG 2.2, 2.5.8: 24 px): %s", name, small)
		}
		for _, scheme := range []string{"light", "dark"} {
			b.scheme(t, scheme)
			if low := eval[string](t, b, lowContrast); low != "" {
				t.Errorf("%s, %s: %s", name, scheme, low)
			}
		}
	}
	if got := eval[string](t, b, `document.querySelector("main").offsetHeight > 1000 ? "" : "nothing to see"`); got != "" {
		t.Error(got)
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if want := 2 * len(widths); len(b.requests) != want {
		t.Errorf("%d pages were opened, %d requests made: %v", want, len(b.requests), b.requests)
	}
	for _, r := range b.requests {
		if !strings.HasPrefix(r, "file:") {
			t.Errorf("request to %s", r)
		}
	}
	for _, f := range b.faults {
		t.Errorf("the browser complains: %s", f)
	}
}

// lowContrast lists text that its ground does not carry, as the browser paints
// it: 4.5:1, for large text 3:1 (WCAG 2.2, 1.4.3).
const lowContrast = `(() => {
  const rgb = s => s.match(/[\d.]+/g).map(Number);
  const lum = c => { const [r, g, b] = c.slice(0, 3).map(v => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; }); return 0.2126*r + 0.7152*g + 0.0722*b; };
  const low = new Set();
  let seen = 0;
  for (const e of document.querySelectorAll("body *")) {
    if (![...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())) continue;
    let ground = null;
    for (let a = e; a && !ground; a = a.parentElement) { const c = rgb(getComputedStyle(a).backgroundColor); if (c.length < 4 || c[3] > 0) ground = c; }
    const style = getComputedStyle(e);
    const ink = rgb(e instanceof SVGElement ? style.fill : style.color);
    const [hi, lo] = [lum(ink), lum(ground)].sort((x, y) => y - x);
    const large = parseFloat(style.fontSize) >= 24 || parseFloat(style.fontSize) >= 18.66 && style.fontWeight >= 700;
    seen++;
    if ((hi + 0.05) / (lo + 0.05) < (large ? 3 : 4.5)) low.add(e.tagName + " " + style.color + ": " + e.textContent.slice(0, 30));
  }
  return seen < 20 ? "only " + seen + " texts seen" : [...low].join("; ");
})()`

// The speed card is what hangs on the wall: one sheet, whatever the lifter
// does.
func TestCardIsOneSheet(t *testing.T) {
	b := openBrowser(t)
	lifts := append(append([]string(nil), threeLifts...), "front squat", "romanian deadlift", "overhead press", "row")
	for _, n := range []int{1, 3, 5, 6, 7} {
		t.Run(fmt.Sprintf("lifts=%d", n), func(t *testing.T) {
			b.open(t, "page.html", render(t, pageOf("Ines Duarte", 14, lifts[:n]...)), 1000, 800)
			whole := b.pagesOf(t)
			eval[bool](t, b, `document.querySelectorAll("main > section:not(#card)").forEach(s => s.remove()), true`)
			want := (n + 4) / 5 // past five lifts, two sheets
			if got := b.pagesOf(t); got != want {
				t.Errorf("the card of %d lifts takes %d sheets, want %d", n, got, want)
			}
			if least, most := want+2*n, 5+4*n; whole < least || whole > most {
				t.Errorf("the page of %d lifts takes %d sheets, want %d to %d", n, whole, least, most)
			}
		})
	}
}

// Twelve lifters with two years each: written while one waits, and a page
// stands in the browser in a moment. Limits are generous, for slow machines.
func TestClubOfTwelve(t *testing.T) {
	b := openBrowser(t)
	p := pageOf("Ines Duarte", 104, threeLifts...)
	var html string
	began := time.Now()
	for range 12 {
		html = render(t, p)
	}
	if took := time.Since(began); took > 60*time.Second {
		t.Errorf("twelve pages took %v to write", took)
	}
	b.open(t, "page.html", html, 360, 800)
	if ms := eval[float64](t, b, `performance.getEntriesByType("navigation")[0].loadEventEnd`); ms > 15000 {
		t.Errorf("the page of two years took %.0f ms to show", ms)
	}
	t.Logf("twelve pages of two years: %v, %d KB each; shown after %.0f ms", time.Since(began).Round(time.Millisecond), len(html)/1024,
		eval[float64](t, b, `performance.getEntriesByType("navigation")[0].loadEventEnd`))
}
