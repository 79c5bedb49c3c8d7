package judge

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// Filters are the filters of a run, in running order.
type Filters struct {
	list []*Filter // what decides
	// core are the defaults, everywhere: what is learnt rests on them alone.
	// The same slice as list where the season file declares none.
	core     []*Filter
	declared bool // the two differ

	season *season.Season // what it declares of devices; may be nil
}

// Compile turns declared filters and defaults into filters that run. All
// faults are told at once, each with its place and the remedy.
func Compile(s *season.Season) (*Filters, error) {
	c := &Filters{season: s}
	var faults []error
	declared := make([][]*season.Filter, rep.FusedRep+1)
	if s != nil {
		for i := range s.Filters {
			d := &s.Filters[i]
			if err := checkDeclared(s.File, d); err != nil {
				faults = append(faults, err)
				continue
			}
			declared[d.Kind] = append(declared[d.Kind], d)
		}
	}
	if err := errors.Join(faults...); err != nil {
		return nil, err
	}
	for _, k := range kinds {
		basic := &Filter{kind: k, flag: k.flags}
		c.core = append(c.core, basic)
		def := &Filter{kind: k, flag: k.flags}
		wide := false
		for _, d := range declared[k.Kind] {
			c.declared = true
			basic.prefer = append(basic.prefer, d.Prefer...)
			w := where{d.Lifts, d.Lifters, d.Devices, d.Bars, d.Tethers}
			def.except = append(def.except, w)
			wide = wide || len(w.lifts)+len(w.lifters) == 0 && w.wide()
			if !d.Off {
				c.list = append(c.list, &Filter{kind: k, flag: d.Flag || k.flags, declared: true, line: d.Line,
					where: w, limits: d.Limits, prefer: d.Prefer})
			}
		}
		if !wide {
			c.list = append(c.list, def)
		}
	}
	if !c.declared {
		c.list = c.core
	}
	return c, nil
}

// checkDeclared returns what is wrong with a declared filter.
func checkDeclared(file string, d *season.Filter) error {
	place := fmt.Sprintf("%s:%d: [[filter]] kind = %q", file, d.Line, d.Kind)
	k := kindOf(d.Kind)
	if k == nil {
		return fmt.Errorf("%s: no such filter; kinds are %s", place, strings.Join(rep.KindNames(), ", "))
	}
	var faults []error
	for _, name := range slices.Sorted(keys(d.Limits)) {
		i := slices.IndexFunc(k.limits, func(l limit) bool { return l.name == name })
		if i < 0 {
			var names []string
			for _, l := range k.limits {
				names = append(names, l.name)
			}
			have := "it has no limits"
			if names != nil {
				have = "it has " + strings.Join(names, ", ")
			}
			faults = append(faults, fmt.Errorf("%s: no limit %q; %s", place, name, have))
			continue
		}
		if l := k.limits[i]; !(d.Limits[name] >= l.least && d.Limits[name] <= l.most) {
			faults = append(faults, fmt.Errorf("%s: %s = %g: want a value from %g to %g", place, name, d.Limits[name], l.least, l.most))
		}
	}
	return errors.Join(faults...)
}

func keys[V any](m map[string]V) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// InForce describes the filters for codebook and screen.
func (c *Filters) InForce() []InForce {
	out := make([]InForce, len(c.list))
	for i, f := range c.list {
		e := InForce{Kind: f.Kind, Declared: f.declared, Line: f.line, Where: f.where.String(), Flag: f.flag, Sentence: f.what}
		if len(f.except) > 0 {
			e.Where = "where the season file declares none"
		}
		for j := range f.kind.limits {
			e.Limits = append(e.Limits, f.inForce(&f.kind.limits[j])...)
		}
		out[i] = e
	}
	return out
}

// inForce returns the values of one limit, one a lift where they differ.
func (f *Filter) inForce(l *limit) []Limit {
	if v, ok := f.limits[l.name]; ok {
		return []Limit{{Name: l.name, Value: v, Source: "season file"}}
	}
	var out []Limit
	for _, v := range l.lifts {
		if len(f.where.lifts) == 0 || slices.Contains(f.where.lifts, v.lift) {
			out = append(out, Limit{Name: l.name, Lift: v.lift, Value: v.value, Source: l.source})
		}
	}
	return append(out, Limit{Name: l.name, Value: l.value, Source: l.source})
}
