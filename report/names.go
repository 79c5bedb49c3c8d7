package report

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"
)

// FileNames returns a file name without ending for each name of a person or
// lift, in the order given. It keeps letters and digits of every script and
// turns all else into a hyphen, so no name can leave its folder; it is at most
// 64 bytes long, never a name that Windows keeps for devices, and never equal
// to another one after folding case. Names that would be equal get a piece of
// their own SHA-256, so that who is who does not depend on who else is there
// in which order.
func FileNames(names []string) []string {
	plain := make([]string, len(names))
	taken := map[string]int{}
	for i, name := range names {
		plain[i] = safe(name)
		taken[fold(plain[i])]++
	}
	used := map[string]bool{}
	for f, n := range taken {
		used[f] = n == 1
	}
	out := make([]string, len(names))
	for i, name := range names {
		if out[i] = plain[i]; taken[fold(plain[i])] == 1 {
			continue
		}
		sum := sha256.Sum256([]byte(name))
		for n := 6; ; n += 2 {
			out[i] = plain[i] + "-" + hex.EncodeToString(sum[:])[:min(n, 64)]
			if !used[fold(out[i])] {
				break
			}
			sum = sha256.Sum256(sum[:]) // the same name twice
		}
		used[fold(out[i])] = true
	}
	return out
}

// fold returns the form under which file systems that ignore case and Unicode
// form take two names for one.
func fold(name string) string { return norm.NFC.String(cases.Fold().String(norm.NFC.String(name))) }

// safe returns one name as FileNames describes it, not yet unique.
func safe(name string) string {
	const longest = 64
	var b strings.Builder
	gap := false
	for _, r := range norm.NFC.String(name) {
		if r == unicode.ReplacementChar || !(unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r) && b.Len() > 0) {
			gap = b.Len() > 0
			continue
		}
		if b.Len()+len(string(r))+1 > longest {
			break
		}
		if gap {
			b.WriteByte('-')
			gap = false
		}
		b.WriteRune(r)
	}
	if b.Len() == 0 {
		return "lifter"
	}
	if reserved(b.String()) {
		return b.String() + "-lifter"
	}
	return b.String()
}

// reserved reports whether Windows keeps a name for a device.
func reserved(name string) bool {
	switch n := strings.ToUpper(name); n {
	case "CON", "PRN", "AUX", "NUL", "CONIN", "CONOUT":
		return true
	default:
		port, ok := strings.CutPrefix(n, "COM")
		if !ok {
			port, ok = strings.CutPrefix(n, "LPT")
		}
		return ok && len([]rune(port)) == 1 && strings.ContainsAny(port, "0123456789¹²³")
	}
}
