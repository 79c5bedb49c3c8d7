package report

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"repsift/profile"
)

// lines is profiles.json on its way, a line a lifter: a federation's would be
// too long to hold as one text.
type lines struct {
	out *bufio.Writer
	n   int
}

const linesStart = `{"lifters":[`

func newLines(w io.Writer) *lines {
	l := &lines{out: bufio.NewWriter(w)}
	l.out.WriteString(linesStart)
	return l
}

// lineOf returns the line of a lifter.
func lineOf(l *profile.Lifter) filled {
	form, err := l.Form()
	var text []byte
	if err == nil {
		text, err = json.Marshal(form)
	}
	if err != nil {
		err = fmt.Errorf("%s: %w", l.Name, err)
	}
	return filled{text, err}
}

func (l *lines) add(line filled) error {
	if line.err != nil {
		return line.err
	}
	if l.n++; l.n > 1 {
		l.out.WriteByte(',')
	}
	l.out.WriteByte('\n')
	_, err := l.out.Write(line.content)
	return err
}

// end writes what stands behind the lifters.
func (l *lines) end(p *profile.Profiles) error {
	around := *p
	around.Lifters = []profile.Lifter{}
	text, err := json.Marshal(around)
	if err != nil {
		return err
	}
	rest, ok := bytes.CutPrefix(text, []byte(linesStart))
	if !ok {
		return errors.New("profiles do not begin with the lifters")
	}
	l.out.WriteByte('\n')
	l.out.Write(rest)
	l.out.WriteByte('\n')
	return l.out.Flush()
}
