package number

import (
	"fmt"
	"testing"
)

// TestEvidenceOfDigits: digits alone say what they say with a blank before them,
// where they are taken apart like any other text.
func TestEvidenceOfDigits(t *testing.T) {
	for _, form := range []string{"%d", "%d.", "%d,", "%d,5", "%d.05", "%d.345", "%d,678", "0%d.123", "0.%d", "12,%d", "%d.%[1]d"} {
		for n := 0; n < 1_200_000; n += 1 + n/7 {
			var as, apart Evidence
			text := fmt.Sprintf(form, n)
			as.Add(text)
			apart.Add(" " + text)
			if as != apart {
				t.Errorf("%q: %+v, with a blank before it %+v", text, as, apart)
			}
		}
	}
}
