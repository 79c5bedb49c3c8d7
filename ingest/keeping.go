package ingest

import (
	"crypto/sha256"
	"encoding/gob"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"sync"
	"time"

	"repsift/ingest/kept"
	"repsift/ingest/rep"
	"repsift/ingest/shelf"
	"repsift/ingest/source"
)

// What is kept of a source holds for its content and name, the program and the
// season file. What else decides how it is read is what the others say: the name
// of its unit, and the answers it got when it was settled. The others in turn
// need to know what it gives to them. So there is a head, which stands in for the
// source until all are settled, and a body, which is taken where name and answers
// are the same again; else the source is read like a new one.
//
// Not kept are sources with an error or an open question, and large texts that
// were read in blocks side by side: reading what was kept would be no faster.
type head struct {
	Given source.Given
	Named string
	Told  source.Answers
}

// body is followed by the reps, in pages.
type body struct {
	How
	Local  bool
	Notes  []rep.SetNote
	Unread []rep.Unread
	Ledger rep.Ledger
}

const keptReps = 1 << 16 // in a page

// numberTypes makes gob number the types of a file the same on every run: it
// does so in the order in which it meets them.
var numberTypes = sync.OnceValue(func() error {
	e := gob.NewEncoder(io.Discard)
	return errors.Join(e.Encode([]kept.Entry[head]{}), e.Encode(&body{}), e.Encode(&shelf.Columns{}))
})

// open opens what the last reading kept.
func (r *reader) open() {
	r.last = &kept.Last[head]{}
	if r.opt.For == "" || r.opt.KeepTraces || numberTypes() != nil {
		return
	}
	sum := sha256.Sum256([]byte(r.opt.For + zoneText(r.season.Zone())))
	r.key = hex.EncodeToString(sum[:])
	r.last = kept.Open[head](r.opt.Last, r.key)
}

// zoneText tells one time zone from another, and from itself by the rules of
// another year: the system's, which updates change.
func zoneText(zone *time.Location) (text string) {
	for at := time.Date(1970, 1, 1, 0, 0, 0, 0, zone); at.Year() < 2100; {
		name, offset := at.Zone()
		_, until := at.ZoneBounds()
		text += fmt.Sprintf("\n%s %d %d", name, offset, until.Unix())
		if until.IsZero() {
			break
		}
		if !until.After(at) { // so it is at the end of some leap years
			until = at.AddDate(0, 0, 1)
		}
		at = until
	}
	return text
}

// remember looks up what was kept of a source, and returns whether there is
// something.
func (r *reader) remember(j *job) bool {
	if j.late {
		return false
	}
	if j.before = r.last.Head(j.Name, j.sum); j.before == nil {
		return false
	}
	j.given = &j.before.Given
	return true
}

// take takes a source as it was read before. It returns false where it has to be
// read anew.
func (r *reader) take(j *job) bool {
	if j.before.Named != j.named || !j.sisters.Still(j.before.Told) {
		return false
	}
	var b body
	reps := &rep.Table{}
	packed, err := r.last.Read(j.Name, func(get func(any) error) error {
		if err := get(&b); err != nil {
			return err
		}
		for reps.Len() < b.Ledger.Reps {
			var page shelf.Columns
			if err := get(&page); err != nil {
				return err
			}
			if n, err := page.AddTo(reps); err != nil || n == 0 {
				return errors.Join(errDamaged, err)
			}
		}
		return nil
	})
	if err != nil || reps.Len() != b.Ledger.Reps {
		return false
	}
	reps.SetContent(j.Name, j.sum)
	j.how, j.local, j.kept, j.taken = &b.How, b.Local, packed, true
	j.sink.Reps, j.sink.Notes, j.sink.Unread, j.sink.Ledger = reps, b.Notes, b.Unread, b.Ledger
	r.advance(j.Bytes)
	if r.opt.Most > 0 {
		r.came(j, 0, true) // what goes wrong with the disk ends the reading
	}
	return true
}

var errDamaged = errors.New("what was kept is damaged")

// keep packs what was read of a source for the next reading.
func (r *reader) keep(j *job) {
	if r.key == "" || j.Err != nil || r.ctx.Err() != nil || len(j.found.Asks) > 0 || j.found.SideBySide() || r.shelving.onDisk() {
		return
	}
	j.tell()
	j.kept, _ = kept.Pack(func(put func(any) error) error { // one that cannot be packed is read anew
		if err := put(&body{*j.how, j.local, j.sink.Notes, j.sink.Unread, j.sink.Ledger}); err != nil {
			return err
		}
		for at := 0; at < j.sink.Reps.Len(); at += keptReps {
			if err := put(shelf.Of(j.sink.Reps, at, min(at+keptReps, j.sink.Reps.Len()))); err != nil {
				return err
			}
		}
		return nil
	})
}

// keepAll gathers what is kept of all sources.
func (r *reader) keepAll(out *Reading) {
	if r.key == "" || out.Shelved != nil {
		return
	}
	out.next = kept.For[head](r.key)
	for _, j := range r.jobs {
		if j.kept == nil || j.Err != nil || j.SameAs != "" {
			continue
		}
		h := head{Given: *j.given, Named: j.named, Told: j.sisters.Told()}
		if j.taken {
			h = *j.before
			out.Taken++
		}
		out.next.Add(kept.Entry[head]{Name: j.Name, Sum: j.sum, Bytes: j.Bytes, Head: h}, j.kept)
	}
}

// Keeps reports whether there is something for the next reading to take: not
// where reps are on disk.
func (r *Reading) Keeps() bool { return r.next != nil }

// Keep writes what the next reading may take, for its [Options.Last].
func (r *Reading) Keep(w io.Writer) error { return r.next.Write(w) }
