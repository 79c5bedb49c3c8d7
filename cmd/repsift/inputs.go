package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// inputs is what the command line named: one tree of sources. A single folder
// is the input root itself. Of several arguments each gets the first part of
// its names: a folder its base name, a file its base name.
type inputs struct {
	fsys  fs.FS
	names []string // nil: everything below the root
	roots []string // folders and files on disk, absolute
	given string   // the single folder as it was named
}

// resolve finds what the arguments mean. An argument that does not exist but
// holds pattern signs is matched, for shells that leave that to programs.
func resolve(args []string) (inputs, error) {
	var paths []string
	for _, arg := range args {
		if _, err := os.Lstat(arg); err != nil && strings.ContainsAny(arg, "*?[") {
			hits, _ := filepath.Glob(arg)
			if len(hits) == 0 {
				return inputs{}, usagef("no file matches %s", arg)
			}
			paths = append(paths, hits...)
			continue
		}
		paths = append(paths, arg)
	}
	if len(paths) == 0 {
		return inputs{}, usagef("name at least one folder or file of exports")
	}
	in := inputs{}
	tree := forest{}
	for _, p := range paths {
		p, inner := cutMember(p)
		info, err := os.Stat(p)
		if err != nil {
			return inputs{}, plain(err)
		}
		full, err := filepath.Abs(p)
		if err != nil {
			return inputs{}, err
		}
		in.roots = append(in.roots, full)
		if info.IsDir() && len(paths) == 1 {
			in.fsys, in.given = os.DirFS(p), p
			return in, nil
		}
		name := filepath.Base(full)
		if other, taken := tree[name]; taken && other != full {
			return inputs{}, usagef("%s and %s would both be called %s; name the folder above them instead", other, full, name)
		}
		tree[name] = full
		in.names = append(in.names, name+inner)
	}
	in.fsys = tree
	return in, nil
}

// cutMember cuts the path of a member of an archive in two:
// "may.zip/week 1.csv". Other paths stay whole.
func cutMember(p string) (file, inner string) {
	for from := 0; ; {
		i := strings.Index(p[from:], ".zip/")
		if i < 0 {
			return p, ""
		}
		from += i + len(".zip")
		if info, err := os.Stat(p[:from]); err == nil && !info.IsDir() {
			return p[:from], p[from:]
		}
	}
}

// forest is a tree of several folders and files: the first part of a name
// leads to a path on disk.
type forest map[string]string

// Open implements fs.FS.
func (f forest) Open(name string) (fs.File, error) {
	first, rest, below := strings.Cut(name, "/")
	root, ok := f[first]
	if !ok || !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	if !below {
		return os.Open(root)
	}
	return os.DirFS(root).Open(rest)
}

// plain words an error of the file system as a coach reads it.
func plain(err error) error {
	var p *fs.PathError
	if !errors.As(err, &p) {
		return err
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: there is no such file or folder", p.Path)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: this user may not read it", p.Path)
	}
	return err
}
