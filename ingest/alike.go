package ingest

import (
	"fmt"

	"repsift/ingest/rep"
	"repsift/ingest/shelf"
	"repsift/ingest/spelling"
)

// alikeMost is how many pairs of names are told; a draft of the season file has
// all.
const alikeMost = 5

// alike tells of lifters who may be one person, and of the lines that would say
// so: names that look it, of which no source has both, as where a log has "ada"
// and the unit "Ada Holm". Nothing is merged.
func (r *reader) alike(who []shelf.Who, b *rep.Batch) []string {
	in := make(map[string]map[string]bool) // sources of each name
	put := func(name, source string) {
		if in[name] == nil {
			in[name] = make(map[string]bool)
		}
		in[name][source] = true
	}
	for i := range who {
		put(who[i].Lifter, who[i].Source)
	}
	for i := range b.Notes {
		put(b.Notes[i].Lifter, b.Notes[i].Source)
	}
	var names []string
	all := make(map[string]bool) // sources
	for name, sources := range in {
		names = append(names, name)
		for source := range sources {
			all[source] = true
		}
	}
	if len(all) < 2 {
		return nil
	}
	var said []string
	pairs := 0
	for _, p := range spelling.Similar(names) {
		short, full := p[0], p[1]
		if len([]rune(short)) > len([]rune(full)) {
			short, full = full, short
		}
		if r.season.Declares(short) || meet(in[short], in[full]) {
			continue
		}
		if pairs++; pairs <= alikeMost {
			said = append(said, fmt.Sprintf("%q may be %q, and is another lifter until season.toml says under [[lifter]]: name = %q and spelled = [%q]", short, full, full, short))
		}
	}
	if pairs > alikeMost {
		said = append(said, fmt.Sprintf("%d more pairs of names look alike; repsift draft lists them", pairs-alikeMost))
	}
	return said
}

func meet(a, b map[string]bool) bool {
	for x := range a {
		if b[x] {
			return true
		}
	}
	return false
}
