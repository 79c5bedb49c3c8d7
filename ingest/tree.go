package ingest

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"
	"sync"
	"time"
)

// tree is the input tree with archives as folders: the name of a member is the
// archive's, a slash and the member's. Safe for use side by side.
type tree struct {
	fsys fs.FS

	mu   sync.Mutex
	zips map[string]*archive
}

type archive struct {
	file    fs.File
	members map[string]*zip.File
	order   []string
	refused []input
	err     error
}

func newTree(fsys fs.FS) *tree { return &tree{fsys: fsys, zips: make(map[string]*archive)} }

// close closes the archives that were opened.
func (t *tree) close() {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, a := range t.zips {
		if a.file != nil {
			a.file.Close() // read only
		}
	}
	clear(t.zips)
}

// member cuts the name of a member of an archive in two.
func (t *tree) member(name string) (zipName, inner string, ok bool) {
	lower := strings.ToLower(name)
	for from := 0; ; {
		i := strings.Index(lower[from:], ".zip/")
		if i < 0 || len(lower) != len(name) {
			return "", "", false
		}
		from += i + len(".zip")
		if info, err := fs.Stat(t.fsys, name[:from]); err == nil && !info.IsDir() {
			return name[:from], name[from+1:], true
		}
	}
}

// Open implements fs.FS.
func (t *tree) Open(name string) (fs.File, error) {
	zipName, inner, ok := t.member(name)
	if !ok {
		return t.fsys.Open(name)
	}
	a := t.archive(zipName)
	if a.err != nil {
		return nil, a.err
	}
	m := a.members[inner]
	if m == nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	if err := refuse(m); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	r, err := m.Open()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, plainZip(err))
	}
	return &member{r: r, info: m.FileInfo()}, nil
}

// members returns the names of an archive's files in the archive's order, and
// the files whose names cannot be used, each with what is wrong.
func (t *tree) members(name string) (order []string, refused []input, err error) {
	a := t.archive(name)
	return a.order, a.refused, a.err
}

// Limits against archives that unpack to more than a machine holds. A text of
// speeds packs to a tenth; ratios past these are not tables.
const (
	maxRatio      = 400
	ratioFrom     = 64 << 20 // smaller members are harmless whatever their ratio
	maxMember     = 16 << 30
	maxInMemory   = 1 << 30
	flagEncrypted = 1
)

func refuse(m *zip.File) error {
	size := m.UncompressedSize64
	switch {
	case m.Flags&flagEncrypted != 0:
		return errors.New("the archive is protected by a password; unpack it first")
	case size > maxMember, size > ratioFrom && size/maxRatio > m.CompressedSize64:
		return fmt.Errorf("unpacks to %d MB from %d kB, which no table does; unpack it by hand if it is one", size>>20, m.CompressedSize64>>10)
	}
	return nil
}

func (t *tree) archive(name string) *archive {
	t.mu.Lock()
	defer t.mu.Unlock()
	a := t.zips[name]
	if a == nil {
		a = openArchive(t.fsys, name)
		t.zips[name] = a
	}
	return a
}

func openArchive(fsys fs.FS, name string) *archive {
	a := &archive{members: make(map[string]*zip.File)}
	f, err := fsys.Open(name)
	if err != nil {
		a.err = err
		return a
	}
	info, err := f.Stat()
	if err != nil {
		f.Close()
		a.err = err
		return a
	}
	at, ok := f.(io.ReaderAt)
	size := info.Size()
	if !ok {
		content, err := io.ReadAll(io.LimitReader(f, maxInMemory+1))
		f.Close()
		f = nil
		if err != nil || len(content) > maxInMemory {
			a.err = errors.Join(err, fmt.Errorf("%s: archive is over 1 GB; unpack it", name))
			return a
		}
		at, size = bytes.NewReader(content), int64(len(content))
	}
	a.file = f
	r, err := zip.NewReader(at, size)
	if err != nil {
		a.err = fmt.Errorf("%s: %w", name, plainZip(err))
		return a
	}
	for _, m := range r.File {
		if !m.FileInfo().IsDir() {
			a.add(name, m)
		}
	}
	return a
}

// add adds a file of the archive called name. Nothing is ever unpacked to a
// place that an archive names; a name that leads out of it is refused all the
// same, since no program that packs exports writes one.
func (a *archive) add(name string, m *zip.File) {
	inner := strings.ToValidUTF8(strings.ReplaceAll(m.Name, `\`, "/"), "?")
	for strings.HasPrefix(inner, "./") {
		inner = inner[len("./"):]
	}
	switch {
	case !fs.ValidPath(inner):
		a.refused = append(a.refused, input{name + "/" + inner, errors.New("its name leads out of the archive; unpack it by hand if you know where it is from")})
	case a.members[inner] != nil:
		a.refused = append(a.refused, input{name + "/" + inner + " (again)", errors.New("the archive holds two files of this name; unpack it")})
	default:
		a.members[inner] = m
		a.order = append(a.order, inner)
	}
}

func plainZip(err error) error {
	if errors.Is(err, zip.ErrFormat) || errors.Is(err, zip.ErrChecksum) || errors.Is(err, zip.ErrAlgorithm) {
		return fmt.Errorf("the archive is damaged or packed in an unusual way (%w); unpack it and read the files", err)
	}
	return err
}

// member is an open file of an archive. It ends in an error where it holds more
// than the archive says.
type member struct {
	r    io.ReadCloser
	info fs.FileInfo
}

func (m *member) Read(p []byte) (int, error) {
	n, err := m.r.Read(p)
	if err != nil && err != io.EOF {
		err = plainZip(err)
	}
	return n, err
}

func (m *member) Close() error               { return m.r.Close() }
func (m *member) Stat() (fs.FileInfo, error) { return size{m.info}, nil }

// size hides the archive's own times, which no output may rest on.
type size struct{ fs.FileInfo }

func (size) ModTime() time.Time { return time.Time{} }
