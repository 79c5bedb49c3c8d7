package table

import (
	"testing"
	"testing/fstest"
)

// ö is F6 in Windows-1252 and in ISO 8859-2, and 9A on a Macintosh, where F6 is ˆ
// (Unicode Consortium, MAPPINGS/ISO8859/8859-2.TXT and VENDORS/APPLE/ROMAN.TXT).
func TestHolds(t *testing.T) {
	fsys := fstest.MapFS{"a.csv": {Data: []byte("Zeit (s),H\xf6he (m)\n0.000,0.1\n0.002,0.1\n")}}
	f, err := Open(fsys, "a.csv", Options{Encoding: "windows-1252"})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		char byte
		want bool
	}{{',', true}, {';', false}, {'\t', false}} {
		if got := f.Holds(c.char); got != c.want {
			t.Errorf("Holds(%q) = %v", c.char, got)
		}
	}
	for encoding, want := range map[string]bool{"iso-8859-2": true, "windows-1250": true, "macintosh": false, "utf-8": false} {
		if got := f.ReadsSame(encoding); got != want {
			t.Errorf("ReadsSame(%s) = %v", encoding, got)
		}
	}
}
