package season

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2/unstable"

	"repsift/ingest/rep"
	"repsift/ingest/spelling"
)

// zoneNames are the names that can be declared: those of the time zone database
// that Go carries (go1.26, lib/time/zoneinfo.zip). A machine's own files have
// more, such as localtime, that are other zones elsewhere.
//
//go:embed zones.txt
var zoneNames string

func (d *reader) zone(v *node, s *Season) {
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
		d.at(v, "%q is no time zone; did you mean %q?", name, near)
		return
	}
	d.at(v, "%q is no time zone; write continent and city of the time zone database: \"Europe/Lisbon\"", name)
}

// inOrder notes a stretch that ends before it begins.
func (d *reader) inOrder(t *node, from, to rep.Null[rep.Day]) {
	a, b := t.get("from"), t.get("to")
	if a != nil && b != nil && a.val.kind == unstable.LocalDate && b.val.kind == unstable.LocalDate && from.OK && to.OK && to.V < from.V {
		d.at(b.val, "lies before from = %s", from.V)
	}
}

// writing is one writing of a name, with its place.
type writing struct {
	text  string
	at    *node
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
			d.at(w.at, "%q is a spelling of %s already, on line %d", w.text, f.means, d.line(f.at.off))
		}
	}
}

// onePerson notes spellings that two lifters share.
func (d *reader) onePerson(root *node) {
	var all []writing
	for i, t := range d.tables(root, "lifter") {
		name := d.s.Lifters[i].Name
		all = append(all, writings(t, fmt.Sprintf("%q", name), "name", "spelled")...)
	}
	d.once(all)
}

// oneMeaning notes spellings that two lifts or variants share. The name of a
// lift may stand in several tables, one a variant.
func (d *reader) oneMeaning(root *node) {
	var all []writing
	for i, t := range d.tables(root, "lift") {
		l := d.s.Lifts[i]
		all = append(all, writings(t, strings.TrimSuffix(fmt.Sprintf("%s, %s", l.Name, l.Variant), ", "), "spelled")...)
	}
	d.once(all)
}

// oneBlock notes two blocks of one name.
func (d *reader) oneBlock(root *node) {
	lines := make(map[string]int)
	for i, t := range d.tables(root, "block") {
		key := spelling.Fold(d.s.Blocks[i].Name)
		if line, seen := lines[key]; seen && key != "" {
			d.at(t.get("name").val, "the block on line %d has this name", line)
		}
		lines[key] = d.s.Blocks[i].Line
	}
}

// tables returns the tables of a section; nil where it is not a section.
func (d *reader) tables(root *node, name string) []*node {
	if e := root.get(name); e != nil && e.val.kind == arrayTable {
		return e.val.items
	}
	return nil
}

// writings collects the texts of some keys of a table.
func writings(t *node, means string, keys ...string) []writing {
	var out []writing
	for _, k := range keys {
		e := t.get(k)
		if e == nil {
			continue
		}
		for _, v := range append(slices.Clone(e.val.items), e.val) {
			if v.kind == unstable.String && spelling.Tidy(v.text) != "" {
				out = append(out, writing{v.text, v, means})
			}
		}
	}
	return out
}
