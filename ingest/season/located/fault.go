package located

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Fault is one thing wrong in a file.
type Fault struct {
	Line    int    // 1-based; 0: the file as a whole
	Column  int    // 1-based, in characters
	Width   int    // characters to point at, at least 1
	Text    string // the line as written
	Problem string // what is wrong and what to write instead
}

// Faults are all faults of one file, sorted by line and column. The
// text reads like a compiler's: place, problem, the line, a caret below.
type Faults struct {
	File string
	List []Fault
	More bool // reading stopped at [MaxFaults]
}

// MaxFaults is where reading gives up: a file with more is something else.
const MaxFaults = 50

// Error returns every fault with its line and a caret.
func (f *Faults) Error() string {
	var b strings.Builder
	for i, x := range f.List {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(f.File)
		if x.Line == 0 {
			b.WriteString(": " + x.Problem)
			continue
		}
		fmt.Fprintf(&b, ":%d:%d: %s\n", x.Line, x.Column, x.Problem)
		text, before, width := window(x)
		number := strconv.Itoa(x.Line)
		fmt.Fprintf(&b, "  %s | %s\n", number, text)
		fmt.Fprintf(&b, "  %s | %s%s", strings.Repeat(" ", len(number)), before, strings.Repeat("^", width))
	}
	if f.More {
		fmt.Fprintf(&b, "\n%s: more than %d faults; the rest is not shown", f.File, MaxFaults)
	}
	return b.String()
}

// window cuts a long line to what surrounds the fault. before is as wide as
// the text in front of the caret; tabs stay tabs so that it lines up.
func window(x Fault) (text, before string, width int) {
	const most, lead = 100, 60
	var shown []rune
	for _, r := range x.Text {
		switch {
		case r == '\t' || unicode.IsPrint(r):
		case unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Cf, r):
		default:
			r = '·' // a control character would act on the terminal
		}
		shown = append(shown, r)
	}
	at, front := min(x.Column-1, len(shown)), ""
	if len(shown) > most && at > lead {
		cut := at - lead
		shown, at, front = shown[cut:], lead, "…"
	}
	back := ""
	if len(shown) > most {
		shown, back = shown[:most], "…"
	}
	var b strings.Builder
	b.WriteString(strings.Repeat(" ", utf8.RuneCountInString(front)))
	for _, r := range shown[:at] {
		switch {
		case r == '\t':
			b.WriteByte('\t')
		case !unicode.Is(unicode.Mn, r) && !unicode.Is(unicode.Cf, r):
			b.WriteByte(' ')
		}
	}
	return front + string(shown) + back, b.String(), max(1, min(x.Width, len(shown)-at))
}

// Fault notes a problem with the bytes from off to end.
func (d *File) Fault(off, end int, format string, args ...any) {
	if len(d.faults) >= MaxFaults {
		d.more = true
		return
	}
	f := Fault{Problem: fmt.Sprintf(format, args...)}
	f.Line = d.Line(off)
	start, stop := d.starts[f.Line-1], len(d.data)
	if f.Line < len(d.starts) {
		stop = d.starts[f.Line]
	}
	line := strings.TrimRight(string(d.data[start:stop]), "\r\n")
	f.Text = strings.ToValidUTF8(line, "�")
	before := strings.ToValidUTF8(line[:min(off-start, len(line))], "�")
	f.Column = utf8.RuneCountInString(before) + 1
	inside := line[min(off-start, len(line)):min(max(off, end)-start, len(line))]
	f.Width = max(1, utf8.RuneCountInString(strings.ToValidUTF8(inside, "�")))
	d.faults = append(d.faults, f)
}

// At notes a problem with a node: of a value, behind its key.
func (d *File) At(n *Node, format string, args ...any) {
	if n.Key != "" {
		format = strings.ReplaceAll(n.Key, "%", "%%") + ": " + format
	}
	d.Fault(n.Off, n.End, format, args...)
}

// Line returns the 1-based line of an offset.
func (d *File) Line(off int) int {
	i, found := slices.BinarySearch(d.starts, off)
	if !found {
		i--
	}
	return i + 1
}
