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
	if err := f.ctx.Err(); err != nil {
		return err
	}
	if err := f.makeDir(path.Dir(name)); err != nil {
		return err
	}
	out, err := f.disk.Create(f.at(name))
	if err != nil {
		return fmt.Errorf("writing %s: %w", name, plain(err))
	}
	m := &measured{ctx: f.ctx, out: out, sum: sha256.New()}
	err = fill(m)
	if m.err != nil {
		err = m.err // whatever the filler made of it
	}
	if err == nil {
		err = out.Sync()
	}
	if closeErr := out.Close(); err == nil {
		err = closeErr
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", name, plain(err))
	}
	f.files = append(f.files, pack.File{Name: name, Bytes: m.size, SHA256: hex.EncodeToString(m.sum.Sum(nil))})
	return nil
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

// written returns what was written, by name.
func (f *folder) written() []pack.File {
	files := slices.Clone(f.files)
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
	out  io.Writer
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
