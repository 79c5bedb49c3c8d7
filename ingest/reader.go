package ingest

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"

	"repsift/ingest/kept"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape"
	"repsift/ingest/shelf"
	"repsift/ingest/source"
	"repsift/ingest/table"
)

type reader struct {
	ctx    context.Context
	season *season.Season
	opt    Options
	tree   *tree
	jobs   []*job

	key  string           // of what is kept for the next reading; empty: nothing is
	last *kept.Last[head] // what the last one kept

	shelving shelving

	total int64
	done  atomic.Int64
	told  sync.Mutex
}

// job is a source on its way.
type job struct {
	Source
	found   *source.Source
	given   *source.Given // what it gives to the others; nil: nothing
	named   string        // what its unit is called, where nothing says it
	sisters *source.Sisters
	sink    shape.Sink
	how     *How         // how it was read, once it was
	local   bool         // it has times of day without a zone
	pages   []shelf.Page // reps of the sink that went to disk
	counted int          // reps of the sink that shelving counts
	sum     [32]byte
	late    bool        // hashed beside decoding, so that its hash does not tell what was decoded
	seen    fs.FileInfo // the file, or the archive it is in, before it was read

	before *head      // what the last reading kept of it
	taken  bool       // it is as that reading read it
	kept   *kept.Body // of what is kept for the next one; nil: nothing
}

func (r *reader) workers() int {
	if r.opt.Workers > 0 {
		return r.opt.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// well leaves out jobs that stopped, or need not be done.
func well(step func(*job)) func(*job) {
	return func(j *job) {
		if j.Err == nil && j.SameAs == "" {
			step(j)
		}
	}
}

// each runs a step for every job, side by side.
func (r *reader) each(step func(*job)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(r.workers(), len(r.jobs)) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(r.jobs) || r.ctx.Err() != nil {
					return
				}
				step(r.jobs[i])
			}
		})
	}
	wg.Wait()
}

// hash reads a source once for its SHA-256.
func (r *reader) hash(j *job) {
	f, err := r.tree.Open(j.Name)
	if err != nil {
		j.Err = plain(j.Name, err)
		return
	}
	defer f.Close()
	h := sha256.New()
	n, err := io.Copy(h, &counted{f, r.budget(j.Bytes)})
	if err != nil {
		j.Err = plain(j.Name, err)
		return
	}
	j.Bytes = n
	h.Sum(j.sum[:0])
	j.SHA256 = hex.EncodeToString(j.sum[:])
}

// hashLater marks the sources that are hashed while they are decoded: large ones
// whose size no other has, so that none can have their content, nor what was kept.
func (r *reader) hashLater() {
	const large = 4 << 20
	sizes := make(map[int64]int)
	for _, j := range r.jobs {
		sizes[j.Bytes]++
	}
	for _, j := range r.jobs {
		j.late = j.Bytes > large && sizes[j.Bytes] == 1 && !r.last.Has(j.Name, j.Bytes)
	}
}

// hashBeside begins to hash the sources that were left for later and returns
// what waits for that to end.
func (r *reader) hashBeside() (wait func()) {
	hashed := make([]job, len(r.jobs))
	done := make(chan struct{})
	for i, j := range r.jobs {
		hashed[i].Name, hashed[i].Bytes = j.Name, j.Bytes
		hashed[i].late = j.late && j.Err == nil
	}
	go func() { // one by one: decoding is work enough for the other cores
		defer close(done)
		for i := range hashed {
			if hashed[i].late && r.ctx.Err() == nil {
				r.hash(&hashed[i])
			}
		}
	}()
	return func() {
		<-done
		for i, j := range r.jobs {
			h := &hashed[i]
			switch {
			case !h.late:
			case h.Err != nil && j.Err == nil:
				j.Err = h.Err
				j.drop()
			case h.Err == nil:
				j.sum, j.SHA256, j.Bytes = h.sum, h.SHA256, h.Bytes
				if j.sink.Reps != nil {
					j.sink.Reps.SetContent(j.Name, j.sum)
				}
			}
		}
	}
}

// sameContent marks sources with the content of an earlier one.
func (r *reader) sameContent() {
	first := make(map[[32]byte]string)
	for _, j := range r.jobs {
		if j.Err != nil || j.Bytes == 0 || j.SHA256 == "" {
			continue
		}
		if name, ok := first[j.sum]; ok {
			j.SameAs = name
			j.Said = append(j.Said, "same content as "+name+"; read once")
			continue
		}
		first[j.sum] = j.Name
	}
}

// survey opens a source and recognises it; one of which something is kept is
// left closed for now.
func (r *reader) survey(j *job) {
	if r.remember(j) {
		return
	}
	r.recognise(j)
}

func (r *reader) recognise(j *job) {
	if j.Bytes == 0 {
		j.Warnings = append(j.Warnings, "the file is empty; export it again if it should not be")
		return
	}
	fsys := &countedFS{r.tree, r.budget(j.Bytes)}
	opt := tableOptions(j.Name, r.season)
	file, err := table.Open(fsys, j.Name, opt)
	if err != nil {
		j.fail(err)
		return
	}
	j.found, err = source.Survey(j.Name, file, r.season)
	var again *source.Reread
	if errors.As(err, &again) {
		opt.Encoding = again.Encoding
		j.Said = append(j.Said, fmt.Sprintf("read as %s rather than %s: only so are its words known", again.Encoding, file.Encoding))
		if file, err = table.Open(fsys, j.Name, opt); err != nil {
			j.fail(err)
			return
		}
		j.found, err = source.Survey(j.Name, file, r.season)
	}
	if err == nil && !j.found.Whole() {
		if other, found := r.otherwise(fsys, j.Name, opt, file); found != nil {
			if file, j.found = other, found; file.Delimiter == noDelimiter {
				file.Delimiter = ""
				j.Said = append(j.Said, "read as a log of plain lines")
			} else {
				j.Said = append(j.Said, fmt.Sprintf("read as %s with %q between cells: only so does the text hold a whole table of reps or sets", file.Encoding, file.Delimiter))
			}
		}
	}
	j.Format, j.Encoding, j.Delimiter, j.Quote = file.Format, file.Encoding, file.Delimiter, file.Quote
	j.Said = append(j.Said, file.Said...)
	for _, s := range file.Sheets {
		if s.Name != "" {
			j.Sheets = append(j.Sheets, s.Name)
		}
	}
	if j.fail(err); j.Err == nil {
		j.given = j.found.Given()
	}
}

// fail keeps why a source stopped.
func (j *job) fail(err error) {
	if err == nil || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return
	}
	j.Err = plain(j.Name, err)
}

// decode settles and reads a source.
func (r *reader) decode(j *job) {
	if j.before != nil {
		if r.take(j) {
			return
		}
		if r.recognise(j); j.Err != nil {
			return
		}
	}
	if j.found == nil {
		return
	}
	if j.named != "" {
		j.found.Device = j.named
		j.Said = append(j.Said, "the unit has no nickname; it is called "+j.named)
	}
	j.sink.Reps, j.sink.KeepTraces = &rep.Table{}, r.opt.KeepTraces
	j.sink.Reps.SetContent(j.Name, j.sum)
	if r.opt.Most > 0 {
		j.sink.Came = func(expected int) (int, error) { return r.came(j, expected, false) }
		defer r.came(j, 0, true) // what goes wrong with the disk ends the reading
	}
	switch err := j.found.Settle(j.sisters); {
	case errors.Is(err, source.ErrEmpty):
		j.Warnings = append(j.Warnings, err.Error()+"; export it again if there should be")
		j.found.Skip(&j.sink)
	case err != nil:
		j.fail(err)
	default:
		j.fail(j.found.Decode(r.ctx, r.workers(), j.Bytes, &j.sink))
	}
	r.keep(j)
	j.found.Forget()
}

// look returns what tells whether the file of a source, or the archive it is
// in, was written to since.
func (r *reader) look(name string) (fs.FileInfo, error) {
	if archive, _, ok := r.tree.member(name); ok {
		name = archive
	}
	return fs.Stat(r.tree.fsys, name)
}

// unchanged drops a source that was written to while it was read: what was read
// of it is neither the old content nor the new one.
func (r *reader) unchanged(j *job) {
	now, err := r.look(j.Name)
	if err == nil && j.seen != nil && now.Size() == j.seen.Size() && now.ModTime().Equal(j.seen.ModTime()) &&
		(os.SameFile(now, j.seen) || !os.SameFile(now, now)) { // not every file system tells
		return
	}
	again := job{Source: Source{Name: j.Name}}
	if r.hash(&again); !j.late && again.Err == nil && again.sum == j.sum {
		return
	}
	j.Err = fmt.Errorf("%s: it was changed or moved away while it was read; run again when nothing writes to it", j.Name)
	j.drop()
}

// drop forgets all that was read of the source.
func (j *job) drop() { j.found, j.how, j.sink, j.pages = nil, nil, shape.Sink{}, nil }

// TheRest begins the problem of a source that broke off while it was read.
const TheRest = "the rest of the file: "

// lost files the rows of a source that stopped. One that broke off while it was
// read keeps what it gave till then.
func (r *reader) lost(j *job) {
	switch {
	case j.Err == nil:
	case j.sink.Ledger.Rows > 0:
		j.sink.Unread = append(j.sink.Unread, rep.Unread{Lost: rep.LostRow, Place: rep.Place{Source: j.Name},
			Problem: TheRest + strings.TrimPrefix(strings.TrimPrefix(j.Err.Error(), j.Name), ": ")})
	case j.found != nil:
		j.found.Lose(j.Err, &j.sink)
	default:
		j.sink.Unread = append(j.sink.Unread, rep.Unread{Lost: rep.LostRow, Place: rep.Place{Source: j.Name},
			Problem: strings.TrimPrefix(strings.TrimPrefix(j.Err.Error(), j.Name), ": ")})
	}
}

// plain words an error as a coach reads it, beginning with the source's name.
func plain(name string, err error) error {
	var ask *source.Ask
	var open *table.OpenError
	if errors.As(err, &ask) || errors.As(err, &open) {
		return err
	}
	cause := err
	var p *fs.PathError
	if errors.As(err, &p) {
		cause = p.Err
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: there is no such file or folder", name)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: this user may not read it; change its permissions or copy it", name)
	}
	if text := cause.Error(); strings.HasPrefix(text, name) {
		return err
	}
	return fmt.Errorf("%s: %w", name, cause)
}
