package ingest

import (
	"cmp"
	"path"
	"strings"

	"repsift/ingest/season"
	"repsift/ingest/source"
	"repsift/ingest/source/around"
	"repsift/ingest/unit"
)

// nameDevices gives the units that have no nickname one: sources that are alike
// (same format, shape and headings) come from one unit, which is named after the
// folder where that holds no other unit's files, else after its files.
func (r *reader) nameDevices() {
	groups := make(map[string][]*job)
	var order []string
	units := make(map[string]map[string]bool) // folder → signatures in it
	for _, j := range r.jobs {
		if j.given == nil || j.Err != nil || !j.given.NeedsDevice {
			continue
		}
		sig := j.given.Signature
		if groups[sig] == nil {
			order = append(order, sig)
		}
		groups[sig] = append(groups[sig], j)
		dir := path.Dir(j.Name)
		if units[dir] == nil {
			units[dir] = make(map[string]bool)
		}
		units[dir][sig] = true
	}
	taken := make(map[string]bool)
	for _, sig := range order {
		g := groups[sig]
		name := ""
		if dir := commonFolder(g); dir != "." && len(units[dir]) <= 1 {
			name = path.Base(dir)
		}
		if name == "" || taken[name] {
			name = commonStem(g)
			if g[0].given.Samples && carries(name, r.season) {
				name = "raw traces" // a trace is named after its set, not after the unit
			}
		}
		for taken[name] && g[0].given.Samples {
			name += ", others"
		}
		if taken[name] {
			name = strings.TrimSuffix(g[0].Name, path.Ext(g[0].Name))
		}
		taken[name] = true
		for _, j := range g {
			j.named = name
		}
	}
}

// carries reports whether a name says something of a set.
func carries(name string, s *season.Season) bool { return len(around.Name(name, "", s).Fields) > 0 }

// commonFolder returns the deepest folder that holds all files of a group.
func commonFolder(g []*job) string {
	dir := path.Dir(g[0].Name)
	for _, j := range g[1:] {
		for dir != "." && path.Dir(j.Name) != dir && !strings.HasPrefix(j.Name, dir+"/") {
			dir = path.Dir(dir)
		}
	}
	return dir
}

// commonStem returns what the names of a group's files begin with, without
// numbers and signs at the end; of a single file its whole name without ending.
func commonStem(g []*job) string {
	stem := func(j *job) string {
		base := path.Base(j.Name)
		return strings.TrimSuffix(strings.TrimSuffix(base, ".gz"), path.Ext(strings.TrimSuffix(base, ".gz")))
	}
	prefix := stem(g[0])
	for _, j := range g[1:] {
		s := stem(j)
		n := 0
		for n < min(len(prefix), len(s)) && prefix[n] == s[n] {
			n++
		}
		prefix = prefix[:n]
	}
	prefix = strings.ToValidUTF8(prefix, "")
	if len(g) > 1 {
		prefix = strings.TrimRight(prefix, " -_.0123456789")
	}
	if len(prefix) < 2 {
		return stem(g[0])
	}
	return prefix
}

// poolSisters lets the sources of one unit share what single files do not
// settle.
func (r *reader) poolSisters() {
	pools := make(map[string]*source.Pool)
	stated := r.statedLoads()
	for _, j := range r.jobs {
		if j.given == nil || j.Err != nil {
			continue
		}
		device := cmp.Or(j.given.Device, j.named)
		key := "device " + device
		if device == "" {
			key = "like " + path.Dir(j.Name) + j.given.Signature
		}
		if pools[key] == nil {
			pools[key] = &source.Pool{}
		}
		pools[key].Merge(&j.given.Pool)
		j.sisters = source.NewSisters(pools[key], stated)
	}
}

// statedLoads returns the unit in which all sources write loads that name one.
func (r *reader) statedLoads() (stated unit.Unit) {
	for _, j := range r.jobs {
		if j.given == nil || j.Err != nil {
			continue
		}
		for _, name := range j.given.LoadUnits {
			u, _ := unit.ParseFor(unit.Load, name)
			if stated.Name != "" && stated != u {
				return unit.Unit{}
			}
			stated = u
		}
	}
	return stated
}
