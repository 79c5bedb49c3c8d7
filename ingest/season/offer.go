package season

import (
	"fmt"
	"strconv"
	"strings"

	"repsift/ingest/season/located"
	"repsift/ingest/spelling"
)

// Fault is one thing wrong in a season file, Faults are all of one.
type (
	Fault  = located.Fault
	Faults = located.Faults
)

// list writes choices: a, b or c.
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// meant offers the nearest known word, else all of them.
func meant(written string, known []string) string {
	if n := spelling.Nearest(written, known); n != "" {
		return fmt.Sprintf("did you mean %q?", n)
	}
	quoted := make([]string, len(known))
	for i, k := range known {
		quoted[i] = strconv.Quote(k)
	}
	return "known are " + strings.Join(quoted, ", ")
}
