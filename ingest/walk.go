package ingest

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"

	"repsift/ingest/season"
)

// SeasonFile is the name of the season file in an input folder; it is never a
// source.
const SeasonFile = "season.toml"

// NotRead is a file that is no source, and why.
type NotRead struct {
	Name string
	Why  string
}

// input is a name to be read, or what was wrong with it.
type input struct {
	name string
	err  error
}

// Bounds of walking: deeper is a loop or a mistake, and links to folders that
// hold links multiply with each level.
const (
	maxDepth = 32
	maxLinks = 1000
)

// errNoFile is why pipes and devices are not read: they may wait for ever,
// never end, and give each reading something else.
var errNoFile = errors.New("a pipe or device, not a file; save what it gives as a file")

// Walk returns the sources below the root, sorted by name: tables, workbooks
// and the members of zip archives ("a.zip/may.csv"). Left out are names that
// begin with a point, season files, and folders that repsift wrote. Links are
// followed, but not back into a folder that holds them. Files of other kinds
// are in the second list, each with a reason.
//
// A folder or archive that cannot be read is among the sources: reading it
// gives the error.
func Walk(fsys fs.FS) (names []string, notRead []NotRead) {
	w := walker{tree: newTree(fsys)}
	defer w.tree.close()
	w.folder(".", nil)
	w.sort()
	for _, in := range w.inputs {
		names = append(names, in.name)
	}
	return names, w.notRead
}

type walker struct {
	tree    *tree
	inputs  []input
	notRead []NotRead
	links   int // that were followed
}

func (w *walker) sort() {
	slices.SortFunc(w.inputs, func(a, b input) int { return strings.Compare(a.name, b.name) })
	w.inputs = slices.CompactFunc(w.inputs, func(a, b input) bool { return a.name == b.name })
	slices.SortFunc(w.notRead, func(a, b NotRead) int { return strings.Compare(a.Name, b.Name) })
	w.notRead = slices.Compact(w.notRead)
}

// skip leaves out what the season file says to.
func (w *walker) skip(s *season.Season) {
	w.inputs = slices.DeleteFunc(w.inputs, func(in input) bool {
		d := s.Source(in.name)
		if d.Skip {
			w.pass(in.name, fmt.Sprintf("skip = true, %s:%d", s.File, d.Line))
		}
		return d.Skip
	})
	w.sort()
}

func (w *walker) fail(name string, err error) {
	w.inputs = append(w.inputs, input{name, err})
}

func (w *walker) pass(name, why string) {
	w.notRead = append(w.notRead, NotRead{name, why})
}

// named adds what a caller named: a file, a folder, an archive or a member of
// one. A file that is named alone is taken for a table whatever its ending.
func (w *walker) named(name string, alone bool) {
	name = path.Clean(strings.ReplaceAll(name, `\`, "/"))
	if _, _, ok := w.tree.member(name); ok {
		w.file(name)
		return
	}
	info, err := fs.Stat(w.tree.fsys, name)
	switch {
	case err != nil:
		w.fail(name, err)
	case info.IsDir():
		w.folder(name, nil)
	case !info.Mode().IsRegular():
		w.fail(name, errNoFile)
	case alone && !strings.EqualFold(path.Ext(name), ".zip") && !slices.Contains(packed, strings.ToLower(path.Ext(name))):
		w.inputs = append(w.inputs, input{name: name})
	default:
		w.file(name)
	}
}

func (w *walker) folder(name string, above []fs.FileInfo) {
	info, err := fs.Stat(w.tree.fsys, name)
	if err != nil {
		w.fail(name, err)
		return
	}
	for _, a := range above {
		if os.SameFile(a, info) {
			w.pass(name, "a link back to a folder above it")
			return
		}
	}
	if len(above) == maxDepth {
		w.fail(name, fmt.Errorf("more than %d folders deep; name a folder further down as an input of its own", maxDepth))
		return
	}
	entries, err := fs.ReadDir(w.tree.fsys, name)
	if err != nil {
		w.fail(name, err)
		return
	}
	if isOutput(entries) {
		w.pass(name, "a folder written by repsift")
		return
	}
	above = append(slices.Clip(above), info)
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") || strings.HasPrefix(e.Name(), "~$") {
			continue
		}
		below := path.Join(name, e.Name())
		kind := e.Type()
		if kind&fs.ModeSymlink != 0 {
			target, err := fs.Stat(w.tree.fsys, below)
			if err != nil {
				w.fail(below, err)
				continue
			}
			kind = target.Mode().Type()
			if w.links++; kind.IsDir() && w.links > maxLinks {
				w.fail(below, fmt.Errorf("the folder holds more than %d links; name what they lead to as inputs of their own", maxLinks))
				continue
			}
		}
		switch {
		case kind.IsDir():
			w.folder(below, above)
		case !kind.IsRegular():
			w.fail(below, errNoFile)
		case e.Name() != SeasonFile:
			w.file(below)
		}
	}
}

// isOutput reports whether a folder is what tidy writes.
func isOutput(entries []fs.DirEntry) bool {
	found := 0
	for _, e := range entries {
		switch e.Name() {
		case "reps.parquet", "datapackage.json", "run.json":
			found++
		}
	}
	return found == 3
}

func (w *walker) file(name string) {
	ext := strings.ToLower(path.Ext(name))
	if ext == ".gz" {
		ext = strings.ToLower(path.Ext(strings.TrimSuffix(name, path.Ext(name))))
	}
	switch {
	case slices.Contains(packed, ext):
		w.fail(name, errors.New("an archive of a kind that is not read; unpack it, or pack the exports as .zip"))
	case ext == ".zip":
		w.archive(name)
	case ext == "" || slices.Contains(tables, ext):
		w.inputs = append(w.inputs, input{name: name})
	default:
		w.pass(name, "a "+ext+" file is no table; save what it holds as .csv or .xlsx")
	}
}

// tables are the endings of files that may hold tables. Those of foreign
// spreadsheets are among them, so that reading says how to save them.
var tables = []string{".csv", ".tsv", ".tab", ".txt", ".text", ".dat", ".psv", ".ssv", ".asc", ".prn", ".log",
	".xlsx", ".xlsm", ".xltx", ".xltm", ".xls", ".xlsb", ".ods", ".fods", ".numbers"}

// packed are the endings of archives that may hold tables but are not read.
var packed = []string{".tar", ".tgz", ".7z", ".rar", ".bz2", ".xz", ".zst"}

func (w *walker) archive(name string) {
	if _, _, inside := w.tree.member(name); inside {
		w.fail(name, errors.New("an archive inside an archive; unpack it"))
		return
	}
	members, refused, err := w.tree.members(name)
	if err != nil {
		w.fail(name, err)
		return
	}
	w.inputs = append(w.inputs, refused...)
	for _, m := range members {
		hidden := slices.ContainsFunc(strings.Split(m, "/"), func(part string) bool {
			return strings.HasPrefix(part, ".") || strings.HasPrefix(part, "~$") || part == "__MACOSX"
		})
		if !hidden && path.Base(m) != SeasonFile {
			w.file(name + "/" + m)
		}
	}
}
