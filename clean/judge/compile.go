package judge

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"repsift/clean/kinds"
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
	for _, k := range kinds.All {
		basic := &Filter{Spec: k, flag: k.Flags}
		c.core = append(c.core, basic)
		def := &Filter{Spec: k, flag: k.Flags}
		wide := false
		for _, d := range declared[k.Kind] {
			c.declared = true
			basic.prefer = append(basic.prefer, d.Prefer...)
			w := where{d.Lifts, d.Lifters, d.Devices, d.Bars, d.Tethers}
			def.except = append(def.except, w)
			wide = wide || len(w.lifts)+len(w.lifters) == 0 && w.wide()
			if !d.Off {
				c.list = append(c.list, &Filter{Spec: k, flag: d.Flag || k.Flags, declared: true, line: d.Line,
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
	k := kinds.Find(d.Kind)
	if k == nil {
		return fmt.Errorf("%s: no such filter; kinds are %s", place, strings.Join(rep.KindNames(), ", "))
	}
	var faults []error
	for _, name := range slices.Sorted(keys(d.Limits)) {
		i := slices.IndexFunc(k.Limits, func(l kinds.Limit) bool { return l.Name == name })
		if i < 0 {
			var names []string
			for _, l := range k.Limits {
				names = append(names, l.Name)
			}
			have := "it has no limits"
			if names != nil {
				have = "it has " + strings.Join(names, ", ")
			}
			faults = append(faults, fmt.Errorf("%s: no limit %q; %s", place, name, have))
			continue
		}
		if l := k.Limits[i]; !(d.Limits[name] >= l.Least && d.Limits[name] <= l.Most) {
			faults = append(faults, fmt.Errorf("%s: %s = %g: want a value from %g to %g", place, name, d.Limits[name], l.Least, l.Most))
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
		e := InForce{Kind: f.Kind, Declared: f.declared, Line: f.line, Where: f.where.String(), Flag: f.flag, Sentence: f.What}
		if len(f.except) > 0 {
			e.Where = "where the season file declares none"
		}
		for j := range f.Limits {
			e.Limits = append(e.Limits, f.inForce(&f.Limits[j])...)
		}
		out[i] = e
	}
	return out
}

// inForce returns the values of one limit, one a lift where they differ.
func (f *Filter) inForce(l *kinds.Limit) []Limit {
	if v, ok := f.limits[l.Name]; ok {
		return []Limit{{Name: l.Name, Value: v, Source: "season file"}}
	}
	var out []Limit
	for _, v := range l.Lifts {
		if len(f.where.lifts) == 0 || slices.Contains(f.where.lifts, v.Lift) {
			out = append(out, Limit{Name: l.Name, Lift: v.Lift, Value: v.Value, Source: l.Source})
		}
	}
	return append(out, Limit{Name: l.Name, Value: l.Value, Source: l.Source})
}
