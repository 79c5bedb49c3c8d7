package report

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// disk is what writing asks of the operating system. Tests put one in its
// place that fills up, breaks or dies.
type disk interface {
	Mkdir(name string) error
	Create(name string) (file, error)
	Rename(from, to string) error
	// Exchange swaps two names in one step: whoever looks finds either the old
	// folder or the new one. errNoExchange where the system cannot.
	Exchange(a, b string) error
	RemoveAll(name string) error
	// SyncDir makes the names in a folder last through a power cut.
	SyncDir(name string) error
}

// file is an open file of the output folder.
type file interface {
	io.Writer
	Sync() error
	Close() error
}

var errNoExchange = errors.New("names cannot be swapped in one step here")

// osDisk is the operating system. What it makes is for the owner's eyes only:
// lifters' names and numbers are personal data.
type osDisk struct{}

func (osDisk) Mkdir(name string) error { return os.Mkdir(name, 0o700) }

func (osDisk) Create(name string) (file, error) {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, err
	}
	return &osFile{File: f}, nil
}

// osFile is a file that the system is asked to bring to disk as it grows, where
// it can be asked: else a big one would be waited for at its end, when there is
// nothing to do meanwhile.
type osFile struct {
	*os.File
	size, asked int64
}

const askEvery = 8 << 20

func (f *osFile) Write(p []byte) (int, error) {
	n, err := f.File.Write(p)
	f.size += int64(n)
	if f.size-f.asked >= askEvery {
		toDisk(f.File, f.asked, f.size-f.asked)
		f.asked = f.size
	}
	return n, err
}

func (osDisk) Rename(from, to string) error { return os.Rename(from, to) }

func (osDisk) Exchange(a, b string) error { return exchange(a, b) }

// RemoveAll removes folders too that their owner made read-only since.
func (osDisk) RemoveAll(name string) error {
	err := os.RemoveAll(name)
	if !errors.Is(err, fs.ErrPermission) {
		return err
	}
	filepath.WalkDir(name, func(below string, d fs.DirEntry, _ error) error {
		if d != nil && d.IsDir() {
			os.Chmod(below, 0o700) // what stays closed is said by removing it
		}
		return nil
	})
	return os.RemoveAll(name)
}

func (osDisk) SyncDir(name string) error {
	d, err := os.Open(name)
	if err != nil {
		return err
	}
	defer d.Close() // read only
	if err := d.Sync(); err != nil && !syncUnknown(err) {
		return err
	}
	return nil
}
