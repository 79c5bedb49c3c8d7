package source

import (
	"cmp"
	"context"
	"sync"

	"repsift/ingest/rep"
	"repsift/ingest/shape"
	"repsift/ingest/table"
)

const (
	blockBytes = 1 << 20 // about what a block holds
	blocksFrom = 4 << 20 // below, row after row is as fast
)

// sideBySide reports whether the rows of a sheet may be decoded in blocks: it
// is one table whose rows stand for themselves.
func sideBySide(here []decoding) bool { return len(here) == 1 && here[0].plan.Alone() }

// SideBySide reports whether the source was decoded in blocks: it is a large text
// of which each row stands for itself.
func (s *Source) SideBySide() bool { return s.blocks }

// piece is a block of rows and, when done, what it held.
type piece struct {
	block table.Block
	sink  shape.Sink
	done  chan struct{}
}

// tables are empty ones with room, to be used again.
type tables struct {
	mu   sync.Mutex
	free []*rep.Table
}

func (t *tables) get() *rep.Table {
	t.mu.Lock()
	defer t.mu.Unlock()
	n := len(t.free)
	if n == 0 {
		return &rep.Table{}
	}
	last := t.free[n-1]
	t.free = t.free[:n-1]
	return last
}

func (t *tables) put(r *rep.Table) {
	r.Reset()
	t.mu.Lock()
	defer t.mu.Unlock()
	t.free = append(t.free, r)
}

// decodeBlocks reads a large text in blocks, several at a time; what they held
// is put together in their order.
func (s *Source) decodeBlocks(ctx context.Context, sheet *table.Sheet, d decoding, workers int, bytes int64, out *shape.Sink) error {
	s.blocks = true
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	blocks, _ := sheet.Blocks()
	todo := make(chan *piece)
	order := make(chan *piece, 2*workers)
	var spare tables
	var failed error
	var wg sync.WaitGroup
	wg.Go(func() {
		defer close(order)
		defer close(todo)
		for b, err := range blocks {
			if err == nil {
				err = ctx.Err()
			}
			if err != nil {
				failed = err
				return
			}
			p := &piece{block: b, done: make(chan struct{})}
			order <- p
			todo <- p
		}
	})
	decoders := make([]decoding, workers)
	for i := range decoders {
		decoders[i] = decoding{shape.NewDecoder(d.plan, &shape.Sink{}), d.plan, d.region}
		wg.Go(func() {
			for p := range todo {
				p.sink.Reps = spare.get()
				decoders[i].Into(&p.sink)
				for row := range p.block.Rows() {
					if row.Err != nil && beyond(row, d.region) {
						p.sink.Count(broken(s.Name, sheet, row, &p.sink))
						continue
					}
					p.sink.Count(s.decodeRow(row, decoders[i:i+1]))
				}
				p.sink.Reps.Seal()
				close(p.done)
			}
		})
	}
	expected := 0
	var full error
	for p := range order {
		<-p.done
		if full != nil {
			continue
		}
		first := expected == 0
		if first {
			expected = 1 + int(float64(p.sink.Reps.Len())*float64(bytes)/blockBytes*1.02)
		}
		room := expected
		if out.Came != nil {
			if room, full = out.Came(expected); full != nil {
				stop()
				continue
			}
		}
		if first {
			out.Reps.Grow(min(expected, room))
		}
		out.Reps.Extend(p.sink.Reps)
		spare.put(p.sink.Reps)
		out.Notes = append(out.Notes, p.sink.Notes...)
		out.Unread = append(out.Unread, p.sink.Unread...)
		out.Add(p.sink.Ledger)
	}
	wg.Wait()
	for i := range decoders {
		s.markCorrected(decoders[i].Corrected())
	}
	return cmp.Or(full, failed)
}
