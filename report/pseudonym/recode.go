package pseudonym

import (
	"cmp"
	"reflect"
	"slices"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/profile"
	"repsift/report/pack"
)

// Result returns a copy of a result in which codes stand for names, in the
// order that tables have.
func (c *Codes) Result(res *clean.Result) *clean.Result {
	t := res.Reps
	out := &clean.Result{Reps: new(rep.Table)}
	rows := make([]int32, t.Len()) // old row → new
	var ids []uint64
	for i := range rows {
		r := t.Rep(int32(i))
		rows[i] = -1
		if c.without[r.Lifter] {
			continue
		}
		c.rep(&r)
		rows[i] = out.Reps.Append(&r)
		ids = append(ids, t.ID(int32(i)))
	}
	out.Reps.GiveIDs(ids)
	for _, row := range res.Kept {
		if rows[row] >= 0 {
			out.Kept = append(out.Kept, rows[row])
		}
	}
	for _, a := range res.Aside {
		if rows[a.Row] < 0 {
			continue
		}
		a.Reason = c.Text(a.Reason, t.Text.Text(t.Lifter.At(a.Row)))
		a.Row = rows[a.Row]
		out.Aside = append(out.Aside, a)
	}
	var sets []rep.Set
	for i := range res.Sets.Len() {
		if s := res.Sets.At(i); !c.without[s.Lifter] {
			sets = append(sets, c.set(s, rows))
		}
	}
	c.sort(out)
	slices.SortStableFunc(sets, func(a, b rep.Set) int {
		return cmp.Or(cmp.Compare(a.Lifter, b.Lifter), cmp.Compare(a.Lift, b.Lift))
	})
	out.Sets = rep.NewSets(sets...)
	for _, u := range res.Unread {
		u.Source, u.Sheet, u.Column = c.Source(u.Source), c.Sheet(u.Sheet), c.Text(u.Column, "")
		u.Text, u.Problem = "", c.Text(unquoted(u.Problem), "")
		out.Unread = append(out.Unread, u)
	}
	slices.SortStableFunc(out.Unread, func(a, b rep.Unread) int { return comparePlaces(a.Place, b.Place) })
	for _, l := range res.Ledger {
		l.Source = c.Source(l.Source)
		if l.SHA256 != "" {
			l.SHA256 = c.key.Sum(l.SHA256)
		}
		out.Ledger = append(out.Ledger, l)
	}
	slices.SortFunc(out.Ledger, func(a, b rep.Ledger) int { return cmp.Compare(a.Source, b.Source) })
	for _, f := range res.Filters {
		f.Where = c.Text(f.Where, "")
		out.Filters = append(out.Filters, f)
	}
	for _, d := range res.Devices {
		d.Device, d.As = c.label(d.Device, ""), c.label(d.As, "")
		out.Devices = append(out.Devices, d)
	}
	for _, d := range res.Doubts {
		if !c.without[d.Lifter] {
			out.Doubts = append(out.Doubts, c.doubt(d))
		}
	}
	slices.SortStableFunc(out.Doubts, func(a, b clean.Doubt) int {
		return cmp.Or(cmp.Compare(a.Lifter, b.Lifter), cmp.Compare(a.Lift, b.Lift), cmp.Compare(a.Date, b.Date))
	})
	return out
}

func (c *Codes) rep(r *rep.Rep) {
	name := r.Lifter
	r.Lifter, r.Date, r.PerformedAt = c.Lifter(name), c.Day(r.Date, name), c.instant(r.PerformedAt, name)
	for _, label := range []*string{&r.Lift, &r.Variant, &r.Bar, &r.Tether, &r.Device} {
		*label = c.label(*label, name)
	}
	r.Source, r.Sheet = c.Source(r.Source), c.Sheet(r.Sheet)
}

func (c *Codes) set(s rep.Set, rows []int32) rep.Set {
	name := s.Lifter
	s.Lifter, s.Date, s.PerformedAt = c.Lifter(name), c.Day(s.Date, name), c.instant(s.PerformedAt, name)
	for _, label := range []*string{&s.Lift, &s.Variant, &s.Bar, &s.Tether, &s.Device} {
		*label = c.label(*label, name)
	}
	s.Source, s.Sheet = c.Source(s.Source), c.Sheet(s.Sheet)
	if s.Log != nil {
		l := *s.Log
		l.Text, l.Source, l.Sheet = "", c.Source(l.Source), c.Sheet(l.Sheet)
		s.Log = &l
	}
	s.Rows = slices.Clone(s.Rows)
	for i, row := range s.Rows {
		s.Rows[i] = rows[row]
	}
	return s
}

func (c *Codes) doubt(d clean.Doubt) clean.Doubt {
	name := d.Lifter
	places := make([]rep.Place, len(d.Places))
	for i, p := range d.Places {
		places[i] = rep.Place{Source: c.places(p.String())}
	}
	return clean.Doubt{Topic: d.Topic, Lifter: c.Lifter(name), Lift: c.Text(d.Lift, name), Date: c.Day(d.Date, name),
		Text: c.Text(unquoted(d.Text), name), Places: places}
}

// sort puts the tables into their order, which codes have changed: between
// lifters always, between dates and sets of one lifter never.
func (c *Codes) sort(res *clean.Result) {
	t := res.Reps
	text := t.Text.Text
	who := func(a, b int32) int {
		return cmp.Or(cmp.Compare(text(t.Lifter.At(a)), text(t.Lifter.At(b))), cmp.Compare(text(t.Lift.At(a)), text(t.Lift.At(b))))
	}
	slices.SortStableFunc(res.Kept, who)
	slices.SortStableFunc(res.Aside, func(a, b clean.Aside) int {
		x, y := t.Rep(a.Row), t.Rep(b.Row)
		return cmp.Or(who(a.Row, b.Row), cmp.Compare(x.Date, y.Date),
			comparePlaces(rep.Place{Source: x.Source, Sheet: x.Sheet, Row: x.Row}, rep.Place{Source: y.Source, Sheet: y.Sheet, Row: y.Row}),
			cmp.Compare(x.RepRecorded.Or(0), y.RepRecorded.Or(0)))
	})
}

func comparePlaces(a, b rep.Place) int {
	switch {
	case a.Less(b):
		return -1
	case b.Less(a):
		return 1
	}
	return 0
}

// Profiles returns a copy of profiles in which codes stand for names. Lifters
// who are left out are not in it, nor is a comparison of units that rests on
// their sets.
func (c *Codes) Profiles(p *profile.Profiles) *profile.Profiles {
	out := *p
	out.Lifters = slices.DeleteFunc(slices.Clone(p.Lifters), func(l profile.Lifter) bool { return c.without[l.Name] })
	out.Agreement = slices.DeleteFunc(slices.Clone(p.Agreement), func(a profile.Agreement) bool {
		return slices.ContainsFunc(a.Points, func(q profile.PairedReps) bool { return c.without[q.Lifter] })
	})
	out = c.copy(reflect.ValueOf(out), "").Interface().(profile.Profiles)
	slices.SortFunc(out.Lifters, func(a, b profile.Lifter) int { return cmp.Compare(a.Name, b.Name) })
	return &out
}

var dayType = reflect.TypeFor[rep.Day]()

// copy returns a deep copy of a value in which every text and every day is
// changed. A value that says whose it is changes by that lifter from there on.
func (c *Codes) copy(v reflect.Value, lifter string) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	switch v.Kind() {
	case reflect.String:
		out.SetString(c.Text(v.String(), lifter))
	case reflect.Struct:
		whose := v.FieldByName("Lifter")
		if _, ok := v.Interface().(profile.Lifter); ok {
			whose = v.FieldByName("Name")
		}
		if whose.IsValid() && whose.Kind() == reflect.String && whose.String() != "" {
			lifter = whose.String()
		}
		out.Set(v)
		for i := range v.NumField() {
			switch field := v.Field(i); {
			case !v.Type().Field(i).IsExported():
			case whose.IsValid() && field == whose:
				out.Field(i).SetString(c.Lifter(lifter))
			default:
				out.Field(i).Set(c.copy(field, lifter))
			}
		}
	case reflect.Slice:
		if v.IsNil() {
			return v
		}
		out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		for i := range v.Len() {
			out.Index(i).Set(c.copy(v.Index(i), lifter))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(c.copy(v.Elem(), lifter))
		}
	default:
		out.Set(v)
		if v.Type() == dayType && lifter != "" {
			out.SetInt(int64(c.Day(rep.Day(v.Int()), lifter)))
		}
	}
	return out
}

// Inferred returns what was taken from the data. Where that is a name or a date
// in the name of a file, only the fact stays.
func (c *Codes) Inferred(all []pack.Inferred) []pack.Inferred {
	var out []pack.Inferred
	for _, i := range all {
		out = append(out, pack.Inferred{Source: c.Source(i.Source), Text: c.Text(i.Text, "")})
	}
	slices.SortStableFunc(out, func(a, b pack.Inferred) int { return cmp.Compare(a.Source, b.Source) })
	return out
}

// Season returns what was declared beyond the data: blocks, unless dates are
// moved, since those of all lifters are one, and maxima.
func (c *Codes) Season(d *pack.Declared) *season.Season {
	s := new(season.Season)
	for _, b := range d.Season().Blocks {
		if !c.opt.Shift {
			s.Blocks = append(s.Blocks, season.Block{Name: c.Text(b.Name, ""), From: b.From, To: b.To})
		}
	}
	for _, m := range d.Season().Maxima {
		if !c.without[m.Lifter] {
			s.Maxima = append(s.Maxima, season.Maximum{Lifter: c.Lifter(m.Lifter), Lift: c.Text(m.Lift, m.Lifter),
				Variant: c.Text(m.Variant, m.Lifter), LoadKg: m.LoadKg, Date: c.Day(m.Date, m.Lifter)})
		}
	}
	slices.SortStableFunc(s.Maxima, func(a, b season.Maximum) int {
		return cmp.Or(cmp.Compare(a.Lifter, b.Lifter), cmp.Compare(a.Lift, b.Lift), cmp.Compare(a.Date, b.Date))
	})
	return s
}

// Handover says what was done, for run.json and the codebook.
func (c *Codes) Handover() *pack.Handover {
	h := &pack.Handover{
		Names:   "Codes stand for lifters, files and sheets. They are made from a secret key (HMAC-SHA-256) that is not in this folder; with the same key a lifter keeps the code.",
		Dates:   "Dates are as recorded.",
		Shifted: c.opt.Shift,
		Sources: "The checksum of each source is keyed (HMAC-SHA-256 of its SHA-256): it tells whether two are the same, and nothing about what they hold.",
		Text:    "The hand log's own words and the texts that could not be read are left out. Nicknames of units, bars and lifts stay, searched for names.",
		Key:     c.key.ID(), LeftOut: len(c.without),
	}
	if c.opt.Shift {
		h.Dates = "The dates and times of each lifter are moved back by a number of whole weeks of the lifter's own: days of the week and intervals are as recorded, the season and dates of different lifters are not comparable."
	}
	return h
}
