package report

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"repsift/report/pack"
)

// folder is an output folder in the making.
type folder struct {
	ctx   context.Context
	disk  disk
	root  string
	below []string // folders made in it, in that order
	made  map[string]bool
	files []pack.File // what was written, in that order
	open  []*measured // what is being written

	told func(share float64) // is told how much of the output at work is done
}

func newFolder(ctx context.Context, d disk, root string) (*folder, error) {
	if err := d.Mkdir(root); err != nil {
		return nil, err
	}
	return &folder{ctx: ctx, disk: d, root: root, made: map[string]bool{}, told: func(float64) {}}, nil
}

// write makes one file, filled by fill, safely on disk when it returns. name
// is relative to the folder, with slashes. fill may write in small pieces.
func (f *folder) write(name string, fill func(io.Writer) error) error {
	m, err := f.create(name)
	if err != nil {
		return err
	}
	return f.close(m, fill(m))
}

// create begins a file, which is to be closed.
func (f *folder) create(name string) (*measured, error) {
	if err := f.ctx.Err(); err != nil {
		return nil, err
	}
	if err := f.makeDir(path.Dir(name)); err != nil {
		return nil, err
	}
	out, err := f.disk.Create(f.at(name))
	if err != nil {
		return nil, fmt.Errorf("writing %s: %w", name, plain(err))
	}
	m := &measured{ctx: f.ctx, name: name, out: out, sum: sha256.New()}
	f.open = append(f.open, m)
	return m, nil
}

// close ends a file, which is safely on disk when it returns; err is what went
// wrong with filling it.
func (f *folder) close(m *measured, err error) error {
	f.open = slices.DeleteFunc(f.open, func(o *measured) bool { return o == m })
	if m.err != nil {
		err = m.err // whatever the filler made of it
	}
	if err == nil {
		err = m.out.Sync()
	}
	if closeErr := m.out.Close(); err == nil {
		err = closeErr
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", m.name, plain(err))
	}
	f.files = append(f.files, pack.File{Name: m.name, Bytes: m.size, SHA256: hex.EncodeToString(m.sum.Sum(nil))})
	return nil
}

// abandon closes what is still being written: the folder is of no use.
func (f *folder) abandon() {
	for _, m := range f.open {
		m.out.Close()
	}
}

// makeDir makes a folder in the folder, and those above it.
func (f *folder) makeDir(dir string) error {
	if dir == "." || f.made[dir] {
		return nil
	}
	if err := f.makeDir(path.Dir(dir)); err != nil {
		return err
	}
	if err := f.disk.Mkdir(f.at(dir)); err != nil {
		return fmt.Errorf("making %s: %w", dir, plain(err))
	}
	f.below, f.made[dir] = append(f.below, dir), true
	return nil
}

func (f *folder) at(name string) string { return filepath.Join(f.root, filepath.FromSlash(name)) }

// written returns what was written of the data, by name.
func (f *folder) written() []pack.File {
	files := slices.DeleteFunc(slices.Clone(f.files), func(w pack.File) bool { return w.Name == pack.KeptFile })
	slices.SortFunc(files, func(a, b pack.File) int { return strings.Compare(a.Name, b.Name) })
	return files
}

// sync makes the names of all files last.
func (f *folder) sync() error {
	for _, dir := range append(slices.Clone(f.below), ".") {
		if err := f.disk.SyncDir(f.at(dir)); err != nil {
			return err
		}
	}
	return nil
}

// measured is a file that counts and sums what goes through, and stops when
// the run is called off.
type measured struct {
	ctx  context.Context
	name string
	out  file
	sum  hash.Hash
	size int64
	err  error
}

func (m *measured) Write(p []byte) (int, error) {
	if m.err == nil {
		m.err = m.ctx.Err()
	}
	if m.err != nil {
		return 0, m.err
	}
	n, err := m.out.Write(p)
	m.sum.Write(p[:n])
	m.size += int64(n)
	m.err = err
	return n, err
}
