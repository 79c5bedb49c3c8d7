package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"sync"
	"time"
)

// progress draws one line on a terminal that is redrawn as work goes on, and
// wiped when it ends: a bar for all of the work, which never goes back and is
// full only when all is done, and what is being done. It shows nothing before
// the console's patience ends, so that quick runs do not flicker. The nil
// progress shows nothing at all.
type progress struct {
	w        io.Writer
	patience time.Duration

	mu       sync.Mutex
	since    time.Time
	drawn    time.Time
	shown    bool
	from, to float64 // the part of all work that bar tells of
	at       float64 // the most that was told
}

// patience is how long a user waits without wondering.
const patience = 100 * time.Millisecond

func (c *console) startProgress(quiet bool) *progress {
	if quiet || !c.progress {
		return nil
	}
	return &progress{w: c.err, patience: c.patience, since: time.Now(), to: 1}
}

// part says that what bar tells next is the work between two shares of all.
func (p *progress) part(from, to float64) {
	if p != nil {
		p.mu.Lock()
		p.from, p.to = from, to
		p.mu.Unlock()
	}
}

// bar shows a share of the part at work, in [0,1].
func (p *progress) bar(what string, share float64) {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.at = max(p.at, p.from+(p.to-p.from)*min(max(share, 0), 1))
	p.draw(what, false)
}

// step shows what is being done where no share of it is known.
func (p *progress) step(what string) {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.draw(what+" …", false)
}

const barCells = 30

func (p *progress) draw(what string, last bool) {
	now := time.Now()
	if !last && (now.Sub(p.since) < p.patience || now.Sub(p.drawn) < p.patience/2) {
		return
	}
	if p.at > 0 {
		full := int(p.at * barCells)
		what = fmt.Sprintf("%s%s %3.0f %%  %s", strings.Repeat("█", full), strings.Repeat("░", barCells-full), math.Floor(100*p.at), what)
	}
	p.drawn, p.shown = now, true
	fmt.Fprintf(p.w, "\r\x1b[2K%s", what)
}

// done shows that all is done, and wipes the line.
func (p *progress) done() {
	if p == nil {
		return
	}
	p.mu.Lock()
	if p.shown && p.at > 0 {
		p.at = 1
		p.draw("done", true)
	}
	p.mu.Unlock()
	p.clear()
}

// clear wipes the line.
func (p *progress) clear() {
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
