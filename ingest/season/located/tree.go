package located

import (
	"bytes"
	"errors"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Node is a table, a list or a value of the file, with its place.
type Node struct {
	Kind     Kind     // ArrayTable: Items are Table nodes
	Off, End int      // of a table under a heading: the heading's key
	Text     string   // of a value: decoded
	Key      string   // of a value, or of a list's values: the key it was given to
	Items    []*Node  // of lists
	Entries  []*Entry // of tables, in file order
	Broken   bool     // of tables: a line of it could not be read

	byKey  map[string]*Entry
	braces bool // of tables: written {…}, closed to anything later
	dotted bool // of tables: made by a key with points, closed to headings
}

// Entry is a key with its value.
type Entry struct {
	Key      string
	Off, End int
	Val      *Node
}

// Get returns the entry of a key, nil for none.
func (n *Node) Get(key string) *Entry {
	return n.byKey[key]
}

// Headed reports whether a table stands below a heading of its own.
func (n *Node) Headed() bool { return n.Kind == Table && !n.braces && !n.dotted }

// Add adds an entry to a table.
func (n *Node) Add(e *Entry) {
	if n.byKey == nil {
		n.byKey = make(map[string]*Entry)
	}
	n.Entries = append(n.Entries, e)
	n.byKey[e.Key] = e
}

// maxDepth bounds tables and lists within each other; a season file needs three.
const maxDepth = 8

// parse reads the file into a tree and notes what cannot be read. The parser
// stops at the first line that is no TOML; parse goes on at the next that
// looks like one, so that all faults are told at once.
func (d *File) parse() *Node {
	root := &Node{Kind: Table}
	at := root // the table that keys go to
	base := 0
	var p unstable.Parser
	p.Reset(d.data)
	good := 0 // the line below the last expression that was read
	for !d.more {
		if p.NextExpression() {
			x := p.Expression()
			if x.Kind == unstable.KeyValue {
				good = d.below(base + int(x.Raw.Offset+x.Raw.Length))
				d.put(at, x, base, 0)
				continue
			}
			var end int
			at, end = d.heading(root, x, base)
			good = d.below(end)
			continue
		}
		err := p.Error()
		if err == nil {
			break
		}
		from := d.statement(good)
		spot, end := d.spot(err, base)
		spot = max(spot, from)
		d.misread(from, spot, max(end, spot+1), err)
		at.Broken = true
		if d.data[from] == '[' {
			at = &Node{Kind: Table, Broken: true} // what follows is under a heading nobody can read
		}
		base = d.resume(from, spot, trailing(err))
		good = base
		p.Reset(d.data[base:])
	}
	return root
}

// below returns where the line after the one of off begins.
func (d *File) below(off int) int {
	if i := bytes.IndexByte(d.data[off:], '\n'); i >= 0 {
		return off + i + 1
	}
	return len(d.data)
}

// statement returns the offset of the first thing from off on that is neither
// blank nor comment.
func (d *File) statement(off int) int {
	for i := off; i < len(d.data); i++ {
		switch d.data[i] {
		case ' ', '\t', '\r', '\n':
		case '#':
			i = d.below(i) - 1
		default:
			return i
		}
	}
	return min(off, len(d.data)-1)
}

// spot returns the bytes that a parser's error points at.
func (d *File) spot(err error, base int) (off, end int) {
	var perr *unstable.ParserError
	if !errors.As(err, &perr) {
		return base, base
	}
	// A highlight is a part of what was parsed: its capacity says which.
	off = len(d.data) - cap(perr.Highlight)
	if off < base || off+len(perr.Highlight) > len(d.data) {
		return base, base
	}
	return off, off + len(perr.Highlight)
}

// resume returns where to read on after a fault at spot in the statement that
// begins at from: the next line; of a value that may go on over several lines
// and was not complete, the next that looks like a heading or a key.
func (d *File) resume(from, spot int, complete bool) int {
	line := d.Line(spot)
	if line == d.Line(from) {
		line++
		_, value, _ := bytes.Cut(d.data[from:d.below(from)], []byte("="))
		value = bytes.TrimLeft(value, " \t")
		if complete || len(value) == 0 || value[0] != '[' && value[0] != '{' && !bytes.HasPrefix(value, []byte(`"""`)) && !bytes.HasPrefix(value, []byte("'''")) {
			return d.below(from)
		}
	}
	for ; line <= len(d.starts); line++ {
		start := d.starts[line-1]
		if looksLikeStatement(string(d.data[start:d.below(start)])) {
			return start
		}
	}
	return len(d.data)
}

func looksLikeStatement(line string) bool {
	line = strings.TrimSpace(line)
	if strings.HasPrefix(line, "[[") || strings.HasPrefix(line, "[") && strings.HasSuffix(line, "]") && !strings.ContainsAny(line, `"',`) {
		return true
	}
	key, _, found := strings.Cut(line, "=")
	key = strings.TrimSpace(key)
	return found && key != "" && !strings.ContainsFunc(key, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' || r == '-' || r == '.')
	})
}

// heading follows [a.b] or [[a.b]] and returns the table it opens and where
// the heading's key ends. A fault leads to a table that is not in the tree.
func (d *File) heading(root *Node, x *unstable.Node, base int) (*Node, int) {
	nowhere := &Node{Kind: Table, Broken: true}
	at := root
	off, end := 0, 0
	it := x.Key()
	for depth := 0; it.Next(); depth++ {
		k := it.Node()
		off, end = base+int(k.Raw.Offset), base+int(k.Raw.Offset+k.Raw.Length)
		key, last := string(k.Data), it.IsLast()
		if depth >= maxDepth {
			d.Fault(off, end, "tables this deep within each other mean nothing here")
			return nowhere, end
		}
		e := at.Get(key)
		switch {
		case e == nil && last && x.Kind == ArrayTable:
			t := &Node{Kind: Table, Off: off, End: end}
			at.Add(&Entry{key, off, end, &Node{Kind: ArrayTable, Off: off, End: end, Items: []*Node{t}}})
			return t, end
		case e == nil:
			t := &Node{Kind: Table, Off: off, End: end}
			at.Add(&Entry{key, off, end, t})
			at = t
		case last && x.Kind == ArrayTable && e.Val.Kind == ArrayTable:
			t := &Node{Kind: Table, Off: off, End: end}
			e.Val.Items = append(e.Val.Items, t)
			return t, end
		case last && (x.Kind == ArrayTable || e.Val.Kind != ArrayTable):
			d.Fault(off, end, "%q is there already, on line %d", key, d.Line(e.Off))
			return nowhere, d.skip(it, base, end)
		case last: // [source] after [[source]]
			d.Fault(off, end, "write [[%s]], with two brackets, as on line %d", key, d.Line(e.Off))
			return nowhere, end
		case e.Val.Kind == ArrayTable:
			at = e.Val.Items[len(e.Val.Items)-1]
		case e.Val.Headed():
			at = e.Val
		default:
			d.Fault(off, end, "%q is no table: line %d gives it a value", key, d.Line(e.Off))
			return nowhere, d.skip(it, base, end)
		}
	}
	return at, end
}

// skip returns where a heading's key ends.
func (d *File) skip(it unstable.Iterator, base, end int) int {
	for it.Next() {
		end = base + int(it.Node().Raw.Offset+it.Node().Raw.Length)
	}
	return end
}

// put adds a key and its value to a table; a dotted key makes tables.
func (d *File) put(at *Node, x *unstable.Node, base, depth int) {
	it := x.Key()
	behind := 0
	for it.Next() {
		k := it.Node()
		off, end := base+int(k.Raw.Offset), base+int(k.Raw.Offset+k.Raw.Length)
		key := string(k.Data)
		behind = end
		e := at.Get(key)
		switch {
		case depth > maxDepth:
			d.Fault(off, end, "tables this deep within each other mean nothing here")
			return
		case it.IsLast() && e == nil:
			val := d.value(x.Value(), base, d.valueOffset(behind), depth+1)
			val.Key = key
			for _, item := range val.Items {
				item.Key = key
			}
			at.Add(&Entry{key, off, end, val})
		case it.IsLast():
			d.Fault(off, end, "%q is there already, on line %d", key, d.Line(e.Off))
		case e == nil:
			t := &Node{Kind: Table, Off: off, End: end, dotted: true}
			at.Add(&Entry{key, off, end, t})
			at = t
		case e.Val.Kind == Table && !e.Val.braces:
			at = e.Val
		default:
			d.Fault(off, end, "%q is there already, on line %d", key, d.Line(e.Off))
			return
		}
		depth++
	}
}

// valueOffset returns where the value begins whose key ends at off.
func (d *File) valueOffset(off int) int {
	for off < len(d.data) && d.data[off] != '=' {
		off++
	}
	off++
	for off < len(d.data) && (d.data[off] == ' ' || d.data[off] == '\t') {
		off++
	}
	return min(off, len(d.data))
}

// value converts a value. Lists carry no place of their own: off is where a
// list begins if this is one.
func (d *File) value(x *unstable.Node, base, off, depth int) *Node {
	n := &Node{Kind: x.Kind, Off: off, End: off + 1, Text: string(x.Data)}
	if x.Raw.Length > 0 {
		n.Off, n.End = base+int(x.Raw.Offset), base+int(x.Raw.Offset+x.Raw.Length)
	}
	switch x.Kind {
	case Array, InlineTable:
		n.Text = ""
	default:
		return n
	}
	if depth > maxDepth {
		d.At(n, "lists and tables this deep within each other mean nothing here")
		return n
	}
	if x.Kind == InlineTable {
		n.Kind, n.braces = Table, true
	}
	it := x.Children()
	for it.Next() {
		if x.Kind == InlineTable {
			d.put(n, it.Node(), base, depth)
			continue
		}
		item := d.value(it.Node(), base, n.Off, depth+1)
		n.Items = append(n.Items, item)
		n.End = max(n.End, item.End)
	}
	return n
}
