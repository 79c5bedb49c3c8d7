package season

import (
	"fmt"
	"path"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// patternProblem says what is wrong with a pattern of file names; empty for
// nothing.
func patternProblem(pattern string) string {
	clean := strings.ReplaceAll(pattern, `\`, "/")
	switch {
	case strings.ContainsFunc(pattern, func(r rune) bool { return r < ' ' }):
		return `there is a tab or line break in it (\t and \n mean these in quotes); folders are separated by /: exports/north/*.csv`
	case clean != pattern:
		return fmt.Sprintf("folders are separated by /: %q", clean)
	case strings.HasPrefix(pattern, "/") || len(pattern) > 2 && pattern[1:3] == ":/":
		return "patterns begin at the input folder, not at the top of the disk: exports/north/*.csv"
	case strings.HasSuffix(pattern, "/"):
		return fmt.Sprintf("this is a folder; for all files below it write %q", pattern+"**")
	}
	for _, part := range strings.Split(pattern, "/") {
		switch {
		case part == "" || part == "." || part == "..":
			return "patterns begin at the input folder and have no . or .. or // in them: exports/north/*.csv"
		case part != "**" && strings.Contains(part, "**"):
			return "** stands alone between two /: exports/**/*.csv"
		}
		if _, err := path.Match(part, ""); err != nil {
			return "a [ is not closed; for a [ in a file's name write [[]"
		}
	}
	return ""
}

// Matches reports whether a file name fits a pattern: ** is any number of
// folders, none included (as the last part: any file below); each other part is as in
// [path.Match]. Composed and decomposed characters are the same, because disks
// differ in which they store; case is not.
func Matches(pattern, file string) bool {
	p := strings.Split(norm.NFC.String(pattern), "/")
	f := strings.Split(norm.NFC.String(file), "/")
	// fits[j]: the parts of the pattern so far take in the first j of the file.
	fits := make([]bool, len(f)+1)
	fits[0] = true
	for i, part := range p {
		next := make([]bool, len(f)+1)
		for j := range next {
			switch {
			case part == "**" && i == len(p)-1:
				next[j] = j > 0 && (fits[j-1] || next[j-1])
			case part == "**":
				next[j] = fits[j] || j > 0 && next[j-1]
			case j > 0 && fits[j-1]:
				ok, err := path.Match(part, f[j-1])
				next[j] = ok && err == nil
			}
		}
		fits = next
	}
	return fits[len(f)]
}
