package ingest

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
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

// maxDepth is how deep folders are walked: deeper is a loop or a mistake.
const maxDepth = 32

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
}

func (w *walker) sort() {
	slices.SortFunc(w.inputs, func(a, b input) int { return strings.Compare(a.name, b.name) })
	w.inputs = slices.CompactFunc(w.inputs, func(a, b input) bool { return a.name == b.name })
	slices.SortFunc(w.notRead, func(a, b NotRead) int { return strings.Compare(a.Name, b.Name) })
	w.notRead = slices.Compact(w.notRead)
}

func (w *walker) fail(name string, err error) {
	w.inputs = append(w.inputs, input{name, err})
}

func (w *walker) pass(name, why string) {
	w.notRead = append(w.notRead, NotRead{name, why})
}

// named adds what a caller named: a file, a folder, an archive or a member of
// one.
func (w *walker) named(name string) {
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
		w.pass(name, fmt.Sprintf("more than %d folders deep", maxDepth))
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
		dir := e.IsDir()
		if e.Type()&fs.ModeSymlink != 0 {
			target, err := fs.Stat(w.tree.fsys, below)
			if err != nil {
				w.fail(below, err)
				continue
			}
			dir = target.IsDir()
		}
		switch {
		case dir:
			w.folder(below, above)
		case e.Type()&(fs.ModeNamedPipe|fs.ModeSocket|fs.ModeDevice) != 0:
			w.pass(below, "not a file")
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
		if ext == ".tar" {
			w.pass(name, "a tar archive; unpack it, or pack the exports as .zip")
			return
		}
	}
	switch {
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

func (w *walker) archive(name string) {
	if _, _, inside := w.tree.member(name); inside {
		w.pass(name, "an archive inside an archive; unpack it")
		return
	}
	members, err := w.tree.members(name)
	if err != nil {
		w.fail(name, err)
		return
	}
	for _, m := range members {
		hidden := slices.ContainsFunc(strings.Split(m, "/"), func(part string) bool {
			return strings.HasPrefix(part, ".") || strings.HasPrefix(part, "~$") || part == "__MACOSX"
		})
		if !hidden && path.Base(m) != SeasonFile {
			w.file(name + "/" + m)
		}
	}
}
