// Package stored reads back what package tidy wrote: the tables of an output
// folder, or of a hand-over, as the result of cleaning that they came from.
// Nothing is cleaned again.
//
// Each table is read from its Parquet file or, where there is none, from its
// CSV; both hold the same values. What the files do not hold stays empty: the
// digits a source wrote, and which sets two units recorded both.
package stored

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"slices"
	"strconv"

	"github.com/parquet-go/parquet-go"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/report/pack"
	"repsift/report/tidy"
)

// Is reports whether a folder holds tables to read back.
func Is(folder fs.FS) bool {
	if _, err := pack.ReadRun(folder); err != nil {
		return false
	}
	for _, name := range []string{"reps.parquet", "reps.csv"} {
		if _, err := fs.Stat(folder, name); err == nil {
			return true
		}
	}
	return false
}

// Read reads the tables of a folder and its run.json. Errors name the file
// and, where one is to blame, the row.
func Read(folder fs.FS) (*clean.Result, *pack.Run, error) {
	run, err := pack.ReadRun(folder)
	if err != nil {
		return nil, nil, err
	}
	b := &back{table: new(rep.Table), rows: map[setKey][]int32{}}
	res := &clean.Result{Reps: b.table, Ledger: run.Sources}
	err = errors.Join(
		each(folder, "reps", func(r *tidy.Rep) error {
			row, err := b.append(r)
			res.Kept = append(res.Kept, row)
			return err
		}),
		each(folder, "set_aside", func(a *tidy.Aside) error {
			out, err := b.aside(a)
			res.Aside = append(res.Aside, out)
			return err
		}),
		each(folder, "sets", func(s *tidy.Set) error {
			out, err := b.set(s)
			res.Sets.Add(out)
			return err
		}),
		each(folder, "unread", func(u *tidy.Unread) error {
			out, err := unread(u)
			res.Unread = append(res.Unread, out)
			return err
		}),
	)
	if err != nil {
		return nil, nil, err
	}
	b.table.GiveIDs(b.ids)
	if err := account(run, res); err != nil {
		return nil, nil, err
	}
	return res, run, nil
}

// account fills filters, corrections and doubts from run.json, and lets no reps go missing
// between that file and the tables.
func account(run *pack.Run, res *clean.Result) error {
	if k, a := run.Totals.Kept, run.Totals.SetAside; run.Handover == nil && (k != len(res.Kept) || a != len(res.Aside)) {
		return fmt.Errorf("run.json counts %d reps kept and %d set aside, the tables hold %d and %d: files of two runs are mixed; run repsift tidy again",
			k, a, len(res.Kept), len(res.Aside))
	}
	for _, f := range run.Filters {
		kind, ok := rep.KindOf(f.Kind)
		if !ok {
			return fmt.Errorf("run.json: there is no filter %q in this version", f.Kind)
		}
		in := clean.InForce{Kind: kind, Declared: f.Declared, Line: f.Line, Where: f.Where, Flag: f.Action == "flag",
			Sentence: f.Does, SetAside: f.SetAside, Flagged: f.Flagged}
		for _, l := range f.Limits {
			limit := clean.Limit{Name: l.Name, Lift: l.Lift, Value: math.Inf(1), Source: l.Source}
			if l.Value != nil {
				limit.Value = *l.Value
			}
			in.Limits = append(in.Limits, limit)
		}
		res.Filters = append(res.Filters, in)
	}
	for _, d := range run.Devices {
		res.Devices = append(res.Devices, season.DeviceCorrection(d))
	}
	for _, d := range run.Doubts {
		topic, ok := clean.TopicOf(d.Topic)
		if !ok {
			return fmt.Errorf("run.json: there is no topic %q in this version", d.Topic)
		}
		out := clean.Doubt{Topic: topic, Lifter: d.Lifter, Lift: d.Lift, Text: d.Text}
		if d.Date != nil {
			out.Date = *d.Date
		}
		for _, p := range d.Places {
			out.Places = append(out.Places, rep.Place{Source: p}) // reads the same
		}
		res.Doubts = append(res.Doubts, out)
	}
	return nil
}

// each calls do with every row of a table, in order.
func each[T any](folder fs.FS, table string, do func(*T) error) error {
	name, all, err := rowsOf(folder, table, func(*T) bool { return true })
	if err != nil {
		return err
	}
	for i := range all {
		if err := do(&all[i]); err != nil {
			return fmt.Errorf("%s: row %d: %w", name, i+1, err)
		}
	}
	return nil
}

// Select returns the rows of a table of a folder (reps, set_aside, sets, unread)
// for which keep holds, in order.
func Select[T any](folder fs.FS, table string, keep func(*T) bool) ([]T, error) {
	_, found, err := rowsOf(folder, table, keep)
	return found, err
}

// rowsOf reads the rows of a table for which keep holds; name is the file's.
func rowsOf[T any](folder fs.FS, table string, keep func(*T) bool) (name string, found []T, err error) {
	name = table + ".parquet"
	b, err := fs.ReadFile(folder, name)
	if err == nil {
		if found, err = parquetRows(b, keep); err != nil {
			err = fmt.Errorf("%s: %w", name, err)
		}
		return name, found, err
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return name, nil, err
	}
	name = table + ".csv"
	if b, err = fs.ReadFile(folder, name); err != nil {
		return name, nil, fmt.Errorf("%s: neither it nor the Parquet file of the table is there: run repsift tidy again, without --partition or with --csv", name)
	}
	if found, err = csvRows(b, keep); err != nil {
		err = fmt.Errorf("%s: %w", name, err)
	}
	return name, found, err
}

// parquetRows reads rows from a file that may be broken: the library panics on
// some of those.
func parquetRows[T any](b []byte, keep func(*T) bool) (found []T, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("not readable as Parquet: %v", p)
		}
	}()
	f, err := parquet.OpenFile(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		return nil, err
	}
	var want T
	for _, field := range parquet.SchemaOf(&want).Fields() {
		if !slices.ContainsFunc(f.Schema().Fields(), func(g parquet.Field) bool { return g.Name() == field.Name() }) {
			return nil, fmt.Errorf("column %s is missing; run repsift tidy again", field.Name())
		}
	}
	rows := parquet.NewGenericReader[T](f)
	defer func() { err = errors.Join(err, rows.Close()) }()
	batch := make([]T, 256)
	for {
		clear(batch)
		n, err := rows.Read(batch)
		for i := range batch[:n] {
			if keep(&batch[i]) {
				found = append(found, batch[i])
			}
		}
		switch {
		case errors.Is(err, io.EOF):
			return found, nil
		case err != nil:
			return nil, fmt.Errorf("after %d rows that match: %w", len(found), err)
		}
	}
}

// back puts rows back into the shared column store.
type back struct {
	table *rep.Table
	ids   []uint64
	rows  map[setKey][]int32 // kept rows of each set, in order
}

type setKey struct {
	lifter, lift string
	session, set int32
}

func (b *back) append(r *tidy.Rep) (int32, error) {
	q, err := r.Rep()
	if err != nil {
		return 0, err
	}
	id, err := strconv.ParseUint(r.ID, 16, 64)
	if err != nil {
		return 0, fmt.Errorf("rep_id %q is not 16 hex digits", r.ID)
	}
	row := b.table.Append(&q)
	b.ids = append(b.ids, id)
	if q.Set > 0 {
		k := setKey{q.Lifter, q.Lift, q.Session, q.Set}
		b.rows[k] = append(b.rows[k], row)
	}
	return row, nil
}

func (b *back) aside(a *tidy.Aside) (clean.Aside, error) {
	kind, ok := rep.KindOf(a.Filter)
	if !ok {
		return clean.Aside{}, fmt.Errorf("there is no filter %q in this version", a.Filter)
	}
	r := a.Rep()
	row, err := b.append(&r)
	return clean.Aside{Row: row, Filter: kind, Reason: string(a.Reason), Measured: rep.FromPtr(a.Measured), Limit: rep.FromPtr(a.Limit)}, err
}

func (b *back) set(s *tidy.Set) (rep.Set, error) {
	out, err := s.Set()
	if err != nil || !out.Number.OK {
		return out, err
	}
	out.Rows = b.rows[setKey{out.Lifter, out.Lift, out.Session, out.Number.V}]
	slices.SortStableFunc(out.Rows, func(x, y int32) int { return cmp.Compare(b.table.Number.At(x), b.table.Number.At(y)) })
	if len(out.Rows) != int(out.Reps) {
		return out, fmt.Errorf("%s, %s, %s, set %d has %d reps, the table of reps %d", out.Lifter, out.Date, out.Lift, out.Number.V, out.Reps, len(out.Rows))
	}
	return out, nil
}

func unread(u *tidy.Unread) (rep.Unread, error) {
	lost, ok := rep.LostOf(u.Lost)
	if !ok {
		return rep.Unread{}, fmt.Errorf("%q cannot be lost", u.Lost)
	}
	out := rep.Unread{Lost: lost, Text: string(u.Text), Problem: string(u.Problem)}
	out.Place = rep.Place{Source: string(u.Source), Sheet: string(u.Sheet), Row: rep.FromPtr(u.Row).V, Column: string(u.Column)}
	return out, nil
}
