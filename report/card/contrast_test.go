package card

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
)

// palettes reads the colours of light, dark and print from the style sheet.
func palettes(t *testing.T) map[string]map[string][3]float64 {
	t.Helper()
	b, err := files.ReadFile("page.css")
	if err != nil {
		t.Fatal(err)
	}
	text := string(b)
	dark := strings.Index(text, "prefers-color-scheme: dark")
	print := strings.Index(text, "@media print")
	if dark < 0 || print < dark {
		t.Fatal("the style sheet is not in the order light, dark, print")
	}
	out := map[string]map[string][3]float64{}
	for name, part := range map[string]string{"light": text[:dark], "dark": text[dark:print], "print": text[print:]} {
		out[name] = map[string][3]float64{}
		for _, m := range regexp.MustCompile(`--([a-z0-9]+): #([0-9a-f]{3,6})\b`).FindAllStringSubmatch(part, -1) {
			hex := m[2]
			if len(hex) == 3 {
				hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
			}
			var r, g, b int
			if _, err := fmt.Sscanf(hex, "%02x%02x%02x", &r, &g, &b); err != nil {
				t.Fatal(err)
			}
			out[name][m[1]] = [3]float64{float64(r) / 255, float64(g) / 255, float64(b) / 255}
		}
	}
	return out
}

// contrast is the contrast ratio of WCAG 2.2 (definitions of "contrast ratio"
// and "relative luminance").
func contrast(a, b [3]float64) float64 {
	luminance := func(c [3]float64) float64 {
		for i, v := range c {
			if v <= 0.04045 {
				c[i] = v / 12.92
			} else {
				c[i] = math.Pow((v+0.055)/1.055, 2.4)
			}
		}
		return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2]
	}
	hi, lo := luminance(a), luminance(b)
	return (math.Max(hi, lo) + 0.05) / (math.Min(hi, lo) + 0.05)
}

func TestContrastFormula(t *testing.T) {
	// WCAG 2.2: black on white is 21:1. #767676 on white is the lightest grey
	// that passes 4.5:1 (W3C, Understanding SC 1.4.3 names #767676).
	white := [3]float64{1, 1, 1}
	if got := contrast(white, [3]float64{}); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white %g", got)
	}
	grey := func(v float64) [3]float64 { return [3]float64{v / 255, v / 255, v / 255} }
	if contrast(white, grey(0x76)) < 4.5 || contrast(white, grey(0x77)) >= 4.5 {
		t.Error("the limit does not lie between #767676 and #777777")
	}
}

// Text has 4.5:1 on paper and on the stripes of tables; marks of charts and
// outlines have 3:1 (WCAG 2.2, 1.4.3 and 1.4.11, level AA).
func TestContrast(t *testing.T) {
	for name, p := range palettes(t) {
		for _, ink := range []string{"ink", "quiet", "accent"} {
			for _, ground := range []string{"paper", "wash"} {
				if got := contrast(p[ink], p[ground]); got < 4.5 {
					t.Errorf("%s: %s on %s %.2f:1", name, ink, ground, got)
				}
			}
		}
		for _, ink := range []string{"ink1", "ink2", "ink3", "ink4"} {
			c, ok := p[ink]
			if !ok {
				t.Errorf("%s: no colour %s", name, ink)
			}
			if got := contrast(c, p["paper"]); got < 3 {
				t.Errorf("%s: %s on paper %.2f:1", name, ink, got)
			}
		}
	}
}
