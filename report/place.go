package report

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"repsift/report/pack"
)

// target is the output folder.
type target struct {
	asked string // as it was named, for messages
	path  string // absolute, links followed
}

// locate finds where dir really is, or would be.
func locate(dir string) (target, error) {
	t := target{asked: dir}
	full, err := filepath.Abs(dir)
	if err != nil {
		return t, err
	}
	for range 40 { // a link to a folder that is not there yet is followed by hand
		to, err := os.Readlink(full)
		if err != nil {
			break
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(full), to)
		}
		full = filepath.Clean(to)
	}
	if filepath.Dir(full) == full {
		return t, fmt.Errorf("%s cannot be replaced as a whole: name a folder inside it", dir)
	}
	// Follow links as far as there is anything.
	missing := filepath.Base(full)
	for above := filepath.Dir(full); ; above = filepath.Dir(above) {
		real, err := filepath.EvalSymlinks(above)
		if err == nil {
			t.path = filepath.Join(real, missing)
			return t, nil
		}
		if !errors.Is(err, fs.ErrNotExist) || filepath.Dir(above) == above {
			return t, fmt.Errorf("%s cannot be reached: %w", dir, err)
		}
		missing = filepath.Join(filepath.Base(above), missing)
	}
}

// beside returns the name of something of ours next to the output folder.
func (t target) beside(what string) string {
	parent, name := filepath.Split(t.path)
	if len(name) > 200 { // names end at 255 bytes
		sum := sha256.Sum256([]byte(name))
		name = hex.EncodeToString(sum[:8])
	}
	return filepath.Join(parent, "."+name+".repsift-"+what)
}

// Check says what stands against writing dir, before any work is done: it
// overlaps with an input, it is a file, or it holds what repsift did not
// write. inputs are files and folders on disk.
func Check(dir string, inputs []string) error {
	t, err := locate(dir)
	if err != nil {
		return err
	}
	return t.check(inputs)
}

func (t target) check(inputs []string) error {
	for _, in := range inputs {
		if inside(t.path, in) {
			return fmt.Errorf("%s lies inside the input folder %s, so the next run would read it as a source: name a folder outside of it", t.asked, in)
		}
		if inside(in, t.path) {
			return fmt.Errorf("the input %s lies inside %s, which would be replaced: name another folder", in, t.asked)
		}
	}
	if err := t.parentWritable(); err != nil {
		return err
	}
	info, err := os.Stat(t.path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("%s cannot be looked at: %w", t.asked, plain(err))
	}
	if !info.IsDir() {
		return fmt.Errorf("%s is a file: name a folder", t.asked)
	}
	if !sameDevice(t.path, filepath.Dir(t.path)) {
		return fmt.Errorf("%s is a file system of its own and cannot be replaced as a whole: name a folder inside it", t.asked)
	}
	if err := writable(t.path); err != nil {
		return fmt.Errorf("%s is kept from being changed (%w), so it is not replaced: allow it, or name another folder", t.asked, plain(err))
	}
	return t.ours()
}

// parentWritable returns an error where no folder can be made beside the
// target. Of folders that are not there yet, the first one above counts.
func (t target) parentWritable() error {
	above := filepath.Dir(t.path)
	for !there(above) && filepath.Dir(above) != above {
		above = filepath.Dir(above)
	}
	if err := writable(above); err != nil {
		return fmt.Errorf("%s: the new folder is made beside the old one, but %s cannot be written to: %w", t.asked, above, plain(err))
	}
	return nil
}

// inside reports whether name is dir or lies below it. Files are compared by
// identity, so case, links and mounts do not matter.
func inside(name, dir string) bool {
	d, err := os.Stat(dir)
	if err != nil {
		return false
	}
	name, err = filepath.Abs(name)
	if err != nil {
		return false
	}
	if real, err := filepath.EvalSymlinks(name); err == nil {
		name = real
	}
	for {
		if n, err := os.Stat(name); err == nil && os.SameFile(n, d) {
			return true
		}
		up := filepath.Dir(name)
		if up == name {
			return false
		}
		name = up
	}
}

// ours returns an error unless everything in the folder was written by
// repsift, as its run.json tells, so that replacing it loses nothing.
func (t target) ours() error {
	entries, err := os.ReadDir(t.path)
	if err != nil {
		return fmt.Errorf("%s cannot be read: %w", t.asked, plain(err))
	}
	entries = slices.DeleteFunc(entries, func(e fs.DirEntry) bool { return litter(e.Name()) })
	if len(entries) == 0 {
		return nil
	}
	run, err := pack.ReadRun(os.DirFS(t.path))
	if err != nil {
		return fmt.Errorf("%s holds files but was not written by repsift (%w), so it is not replaced: name another folder, or empty this one", t.asked, err)
	}
	written := map[string]bool{pack.RunFile: true, pack.KeptFile: true}
	for _, f := range run.Files {
		written[f.Name] = true
	}
	var foreign []string
	err = fs.WalkDir(os.DirFS(t.path), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || written[name] || litter(path.Base(name)) {
			return err
		}
		foreign = append(foreign, name)
		return nil
	})
	if err != nil {
		return fmt.Errorf("%s cannot be read: %w", t.asked, plain(err))
	}
	if n := len(foreign); n > 0 {
		return fmt.Errorf("%s holds %s, which repsift did not write and would be lost: move it elsewhere", t.asked, listed(foreign))
	}
	return nil
}

// litter reports whether a file is one that desktops and spreadsheet programs
// leave behind.
func litter(name string) bool {
	switch strings.ToLower(name) {
	case ".ds_store", "thumbs.db", "desktop.ini", ".directory":
		return true
	}
	return strings.HasPrefix(name, "~$") || strings.HasPrefix(name, ".~lock.")
}

// listed names up to three of many.
func listed(names []string) string {
	const most = 3
	if len(names) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
	}
	return strings.Join(names, ", ")
}

// plain takes the operation and the path off an error, where the message
// around it names the file in the user's words.
func plain(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}
