package main

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"time"
)

// progress draws one line on a terminal that is redrawn as work goes on, and
// wiped when it ends. It shows nothing before the first tenth of a second, so
// that quick runs do not flicker. The nil progress shows nothing at all.
type progress struct {
	w     io.Writer
	mu    sync.Mutex
	since time.Time
	drawn time.Time
	shown bool
}

func (c *console) startProgress(quiet bool) *progress {
	if quiet || !c.progress {
		return nil
	}
	return &progress{w: c.err, since: time.Now()}
}

const barCells = 30

// bar shows a share of the work, in [0,1].
func (p *progress) bar(what string, share float64) {
	full := int(min(max(share, 0), 1)*barCells + 0.5)
	p.draw(fmt.Sprintf("%-10s %s%s %3.0f %%", what, strings.Repeat("█", full), strings.Repeat("░", barCells-full), 100*share))
}

// step shows what is being done where no share is known.
func (p *progress) step(what string) { p.draw(what + " …") }

func (p *progress) draw(line string) {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	now := time.Now()
	if now.Sub(p.since) < 100*time.Millisecond || now.Sub(p.drawn) < 50*time.Millisecond {
		return
	}
	p.drawn, p.shown = now, true
	fmt.Fprintf(p.w, "\r\x1b[2K%s", line)
}

// done wipes the line.
func (p *progress) done() {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.shown {
		fmt.Fprint(p.w, "\r\x1b[2K")
		p.shown = false
	}
}
