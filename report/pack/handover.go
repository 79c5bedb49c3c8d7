package pack

import (
	"embed"
	"fmt"
	"io"
	"strings"
)

//go:embed handover
var handover embed.FS

// HandoverFiles are the files of a hand-over that are the same in every one:
// how the numbers were made, and scripts to start from.
func HandoverFiles() []string { return []string{"METHODS.md", "start.R", "start.py"} }

// WriteHandoverFile writes one of them.
func WriteHandoverFile(w io.Writer, name string) error {
	b, err := handover.ReadFile("handover/" + name)
	if err != nil {
		return err
	}
	_, err = w.Write(b)
	return err
}

// handedOn says what was done to names and dates, and what that leaves to
// agree on.
func handedOn(b *strings.Builder, run *Run) {
	h := run.Handover
	fmt.Fprintf(b, "## What stands for names\n\n- %s\n- %s\n- %s\n- %s\n", h.Names, h.Dates, h.Text, h.Sources)
	fmt.Fprintf(b, "- `rep_id` is the same as in the coach's own tables, so a question about a rep can be asked by it.\n")
	fmt.Fprintf(b, "- Hand-overs with the same sign here, %s, were made with the same key.\n", h.Key)
	if h.LeftOut > 0 {
		fmt.Fprintf(b, "- %s left out; the counts of sources and filters below are of the whole season.\n", plural(h.LeftOut, "lifter is", "lifters are"))
	}
	b.WriteString(`
Codes are not anonymity. Who trains there may know a lifter by a maximum or a day, and
the coach has the key. Treat the data as personal data: keep them as agreed, do not try to
find out who is who, do not pass them on.

## Before the data change hands: agree in writing

- each lifter's consent, for what, and how to withdraw it (the coach can make a new hand-over
  without a lifter)
- what may be done with the data, who may see them, and until when they are kept
- under which licence results and data may be published; this package grants none
- whose approval is needed where you are (school, ethics board, guardians of minors)

## Where to start

`)
	b.WriteString("METHODS.md says how the numbers were made. start.py (Python, nothing to install) and start.R\n(R, no package) load the tables and draw one chart.\n\n")
}
