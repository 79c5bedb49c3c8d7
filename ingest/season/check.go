package season

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"time"

	"repsift/ingest/rep"
	"repsift/ingest/season/located"
	"repsift/ingest/spelling"
)

// zoneNames are the names that can be declared: those of the time zone database
// that Go carries (go1.26, lib/time/zoneinfo.zip). A machine's own files have
// more, such as localtime, that are other zones elsewhere.
//
//go:embed zones.txt
var zoneNames string

func (d *reader) zone(v *located.Node, s *Season) {
	name, ok := d.text(v)
	if !ok {
		return
	}
	known := strings.Fields(zoneNames)
	if slices.Contains(known, name) {
		if loc, err := time.LoadLocation(name); err == nil {
			s.Location = loc
			return
		}
	}
	// "Lisbon", "europe/lisbon", "Europe/Lissabon"
	near := spelling.Nearest(name, known)
	for _, k := range known {
		if spelling.Bare(k[strings.LastIndexByte(k, '/')+1:]) == spelling.Bare(name) {
			near = k
		}
	}
	if near != "" {
		d.At(v, "%q is no time zone; did you mean %q?", name, near)
		return
	}
	d.At(v, "%q is no time zone; write continent and city of the time zone database: \"Europe/Lisbon\"", name)
}

// inOrder notes a stretch that ends before it begins.
func (d *reader) inOrder(t *located.Node, from, to rep.Null[rep.Day]) {
	a, b := t.Get("from"), t.Get("to")
	if a != nil && b != nil && a.Val.Kind == located.LocalDate && b.Val.Kind == located.LocalDate && from.OK && to.OK && to.V < from.V {
		d.At(b.Val, "lies before from = %s", from.V)
	}
}

// writing is one writing of a name, with its place.
type writing struct {
	text  string
	at    *located.Node
	means string // what it stands for, in words
}

// once notes writings that stand for two things.
func (d *reader) once(all []writing) {
	first := make(map[string]writing)
	for _, w := range all {
		key := spelling.Fold(w.text)
		f, seen := first[key]
		switch {
		case !seen:
			first[key] = w
		case f.means != w.means:
			d.At(w.at, "%q is a spelling of %s already, on line %d", w.text, f.means, d.Line(f.at.Off))
		}
	}
}

// onePerson notes spellings that two lifters share.
func (d *reader) onePerson(root *located.Node) {
	var all []writing
	for i, t := range d.tables(root, "lifter") {
		name := d.s.Lifters[i].Name
		all = append(all, writings(t, fmt.Sprintf("%q", name), "name", "spelled")...)
	}
	d.once(all)
}

// oneMeaning notes spellings that two lifts or variants share. The name of a
// lift may stand in several tables, one a variant.
func (d *reader) oneMeaning(root *located.Node) {
	var all []writing
	for i, t := range d.tables(root, "lift") {
		l := d.s.Lifts[i]
		all = append(all, writings(t, strings.TrimSuffix(fmt.Sprintf("%s, %s", l.Name, l.Variant), ", "), "spelled")...)
	}
	d.once(all)
}

// oneBlock notes two blocks of one name.
func (d *reader) oneBlock(root *located.Node) {
	lines := make(map[string]int)
	for i, t := range d.tables(root, "block") {
		key := spelling.Fold(d.s.Blocks[i].Name)
		if line, seen := lines[key]; seen && key != "" {
			d.At(t.Get("name").Val, "the block on line %d has this name", line)
		}
		lines[key] = d.s.Blocks[i].Line
	}
}

// tables returns the tables of a section; nil where it is not a section.
func (d *reader) tables(root *located.Node, name string) []*located.Node {
	if e := root.Get(name); e != nil && e.Val.Kind == located.ArrayTable {
		return e.Val.Items
	}
	return nil
}

// writings collects the texts of some keys of a table.
func writings(t *located.Node, means string, keys ...string) []writing {
	var out []writing
	for _, k := range keys {
		e := t.Get(k)
		if e == nil {
			continue
		}
		for _, v := range append(slices.Clone(e.Val.Items), e.Val) {
			if v.Kind == located.String && spelling.Tidy(v.Text) != "" {
				out = append(out, writing{v.Text, v, means})
			}
		}
	}
	return out
}
