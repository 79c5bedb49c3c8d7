package report

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/report/card"
	"repsift/report/leak"
	"repsift/report/pack"
)

// WriteHandover writes a folder that is made to be handed on, whole or not at
// all, as [Write] does. The run holds codes by then; before the folder takes
// its place it is searched, and where a name is left nothing is written and
// the error is a [*LeakError]. A search without names finds nothing.
func WriteHandover(ctx context.Context, dir string, run *Run, search leak.Search) error {
	return writeHandover(ctx, osDisk{}, dir, run, search)
}

func writeHandover(ctx context.Context, d disk, dir string, run *Run, search leak.Search) error {
	list := []output{{name: "METHODS.md and scripts", write: func(f *folder, run *Run) error {
		for _, name := range pack.HandoverFiles() {
			if err := f.write(name, func(w io.Writer) error { return pack.WriteHandoverFile(w, name) }); err != nil {
				return err
			}
		}
		return nil
	}}}
	for _, o := range outputs {
		if o.name == workbookName {
			o.when = func(run *Run) bool { return run.Workbook }
		}
		list = append(list, o)
	}
	list = append(list, output{name: "the search for names", write: func(f *folder, _ *Run) error {
		if search.Names == nil {
			return nil
		}
		leaks, err := search.Folder(os.DirFS(f.root))
		if err == nil && len(leaks) > 0 {
			err = &LeakError{leaks}
		}
		return err
	}})
	return write(ctx, d, dir, run, list)
}

// scratch is a disk for what is read once and thrown away: nothing waits until
// it is safe.
type scratch struct{ osDisk }

type scratchFile struct{ file }

func (scratchFile) Sync() error { return nil }

func (s scratch) Create(name string) (file, error) {
	f, err := s.osDisk.Create(name)
	return scratchFile{f}, err
}

func (scratch) SyncDir(string) error { return nil }

// LeakError says that names are left in a hand-over.
type LeakError struct{ Leaks []leak.Leak }

func (e *LeakError) Error() string {
	const shown = 12
	var b strings.Builder
	if len(e.Leaks) == 1 {
		b.WriteString("1 place still holds a name or a part of one:")
	} else {
		fmt.Fprintf(&b, "%d places still hold a name or a part of one:", len(e.Leaks))
	}
	for i, l := range e.Leaks {
		if i == shown {
			fmt.Fprintf(&b, "\n  and %d more", len(e.Leaks)-shown)
			break
		}
		fmt.Fprintf(&b, "\n  %s", l)
	}
	b.WriteString("\nWhere such a word is no name there, say so with --allow WORD")
	return b.String()
}

// KeyPlace says what stands against keeping the key of a hand-over in a file:
// it would go into the folder that is handed on, or into one that is replaced
// whole.
func KeyPlace(file string, folders ...string) error {
	full, err := filepath.Abs(file)
	if err != nil {
		return err
	}
	at := filepath.Dir(full)
	if real, err := filepath.EvalSymlinks(full); err == nil {
		at = filepath.Dir(real)
	}
	for _, dir := range folders {
		t, err := locate(dir)
		if err != nil {
			return err
		}
		if inside(at, dir) || at == t.path || strings.HasPrefix(at, t.path+string(filepath.Separator)) {
			return fmt.Errorf("the key file %s lies inside %s: keep it elsewhere, where only you can read it", file, dir)
		}
	}
	return nil
}

// OwnWords returns the lower-case words that stand in a hand-over in which nobody and
// nothing is, sorted: they are no names, whoever is called so.
func OwnWords(ctx context.Context) ([]string, error) {
	res, err := clean.Run(&rep.Batch{Reps: new(rep.Table)}, nil)
	if err != nil {
		return nil, err
	}
	tmp, err := os.MkdirTemp("", "repsift-words")
	if err != nil {
		return nil, err
	}
	run := &Run{Result: res, Profiles: profile.All(res, nil), CSV: true, Workbook: true, Handover: &pack.Handover{}}
	words := map[string]bool{}
	add := func(text string) {
		for _, w := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) }) {
			words[strings.ToLower(w)] = true
		}
	}
	err = writeHandover(ctx, scratch{}, filepath.Join(tmp, "empty"), run, leak.Search{})
	if err == nil {
		err = leak.Texts(os.DirFS(tmp), add)
	}
	add(card.Fixed())
	if err = errors.Join(err, os.RemoveAll(tmp)); err != nil {
		return nil, err
	}
	out := make([]string, 0, len(words))
	for w := range words {
		out = append(out, w)
	}
	slices.Sort(out)
	return out, nil
}
