package report

import (
	"fmt"
	"os"
	"path/filepath"
)

// Beside opens a file on the disk of the output folder dir, for what finds no
// room in memory. It has no name: however the run ends, nothing is left of it.
func Beside(dir string) (*os.File, error) {
	t, err := locate(dir)
	if err != nil {
		return nil, err
	}
	name := t.beside(besideName)
	for !there(filepath.Dir(name)) && filepath.Dir(name) != name { // the folders above come when all is written
		name = filepath.Join(filepath.Dir(filepath.Dir(name)), filepath.Base(name))
	}
	f, err := nameless(name)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Dir(name), plain(err))
	}
	return f, nil
}

const besideName = "reps"
