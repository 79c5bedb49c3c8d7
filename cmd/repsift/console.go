package main

import (
	"io"
	"os"
	"runtime/debug"
	"time"

	"golang.org/x/term"

	"repsift/report/screen"
)

// console is where a run speaks. Tests put buffers there.
type console struct {
	out, err io.Writer
	width    int           // cells a line of out
	terminal bool          // out is one
	colour   bool          // out may carry escape sequences
	progress bool          // err is a terminal that can be redrawn
	patience time.Duration // before progress is shown
}

// terminal returns the console of a real run. NO_COLOR is respected
// (no-color.org), as is a terminal that calls itself dumb.
func terminal(out, err *os.File) *console {
	c := &console{out: out, err: err, width: 80, patience: patience}
	if c.terminal = term.IsTerminal(int(out.Fd())); c.terminal {
		if w, _, failed := term.GetSize(int(out.Fd())); failed == nil && w > 0 {
			c.width = min(w, 120)
		}
		c.colour = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	}
	c.progress = term.IsTerminal(int(err.Fd())) && os.Getenv("TERM") != "dumb"
	return c
}

func (c *console) screen() *screen.Screen {
	return &screen.Screen{W: c.out, Width: c.width, Colour: c.colour}
}

// version tells the build: the module's version where it has one, else the
// commit it was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown build"
	}
	v, commit, changed := info.Main.Version, "", ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			commit = s.Value[:min(12, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = ", changed since"
		}
	}
	if v == "" || v == "(devel)" {
		v = "development build"
	}
	if commit != "" {
		v += " (" + commit + changed + ")"
	}
	return v
}
