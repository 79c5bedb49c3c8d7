package ingest

import (
	"sync"

	"repsift/ingest/rep"
	"repsift/ingest/shelf"
)

// pageReps is how many reps a page on disk holds: enough that what is written
// once a page costs little beside them.
const pageReps = 1 << 14

// shelving moves reps to disk as they are read, once there are too many. Sources
// are decoded side by side: each has pages of its own, in the order of its rows.
type shelving struct {
	mu    sync.Mutex
	disk  *shelf.Shelf // nil: all reps are in memory
	held  int          // reps in memory, of all sources
	reps  int          // of the sources that were read
	bytes int64        // of those
	err   error        // why disk is of no use
	late  bool         // some reps are of the small hours
	pages []shelf.Page // in order of the sources, once they are put together
}

// came is [shape.Sink.Came] of a source, and told once more when all have come.
func (r *reader) came(j *job, expected int, all bool) (room int, err error) {
	s := &r.shelving
	s.mu.Lock()
	s.held += j.sink.Reps.Len() - j.counted
	j.counted = j.sink.Reps.Len()
	if all {
		s.reps, s.bytes = s.reps+j.sink.Ledger.Reps, s.bytes+j.Bytes
		if total := r.total / 2; s.bytes > total/20 {
			// Of many sources like these there would be so many: where that is far too
			// many, those that fit need not be held until it is seen.
			expected = int(float64(s.reps) / float64(s.bytes) * float64(total) / 2)
		}
	}
	if s.disk == nil && s.err == nil && max(s.held, expected) > r.opt.Most {
		s.open(&r.opt)
	}
	disk, err := s.disk, s.err
	s.mu.Unlock()
	switch {
	case err != nil:
		return 0, err
	case disk == nil:
		return r.opt.Most, nil
	case all:
		if err = r.shelve(j); err == nil {
			j.sink.Reps = &rep.Table{} // the room of the old one goes too
		}
	case j.counted >= pageReps:
		err = r.shelve(j)
	}
	return 2 * pageReps, err
}

// onDisk reports whether reps go to disk.
func (s *shelving) onDisk() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.disk != nil
}

func (s *shelving) open(opt *Options) {
	f, err := opt.Disk()
	if err != nil {
		s.err = err
		return
	}
	s.disk = shelf.On(f)
}

// shelve puts the reps of a source on disk.
func (r *reader) shelve(j *job) error {
	s, t := &r.shelving, j.sink.Reps
	for at := 0; at < t.Len(); at += pageReps {
		p, err := s.disk.Put(t, at, min(at+pageReps, t.Len()))
		if err != nil {
			s.fail(err)
			return err
		}
		j.pages = append(j.pages, p)
	}
	small := late(t, r.season.Zone())
	s.mu.Lock()
	s.late = s.late || len(small) > 0
	s.held -= j.counted
	j.counted = 0
	s.mu.Unlock()
	t.Reset()
	return nil
}

// fail keeps the first error of the disk.
func (s *shelving) fail(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.err == nil {
		s.err = err
	}
}

// who returns whose reps each source has, in order of the first.
func (s *shelving) who() []shelf.Who {
	type pair struct{ lifter, source string }
	at := make(map[pair]int)
	var all []shelf.Who
	for _, page := range s.pages {
		for _, w := range page.Who {
			p := pair{w.Lifter, w.Source}
			k, ok := at[p]
			if !ok {
				k = len(all)
				at[p] = k
				all = append(all, shelf.Who{Lifter: w.Lifter, Source: w.Source})
			}
			all[k].Reps += w.Reps
		}
	}
	return all
}

// close lets go of the disk.
func (s *shelving) close() {
	if s.disk != nil {
		s.disk.Close() // of what is on it nothing is needed any more
	}
}
