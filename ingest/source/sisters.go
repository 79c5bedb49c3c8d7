package source

import (
	"fmt"
	"slices"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/shape/column"
	"repsift/ingest/shorthand"
	"repsift/ingest/unit"
)

// Pool is what a source, or several of one unit, say about what a single cell
// does not settle.
type Pool struct {
	Mark  number.Evidence
	Dates date.Evidence
	Habit shorthand.Habit
	Loads []float64 // distinct loads in columns without a unit, sorted
}

// Merge takes the evidence of another source into account.
func (p *Pool) Merge(q *Pool) {
	p.Mark.Merge(q.Mark)
	p.Dates.Merge(&q.Dates)
	p.Habit.Merge(q.Habit)
	p.Loads = append(p.Loads, q.Loads...)
	slices.Sort(p.Loads)
	p.Loads = slices.Compact(p.Loads)
}

// Given is all that a source gives to the others of a season, before any is
// settled. It is kept for the next run, so that a source that did not change
// need not be opened for the sake of the others: see TestGivenIsPlain.
type Given struct {
	Device      string // as declared
	NeedsDevice bool   // reps of the source need a unit's nickname: not a hand log, and none declared
	Signature   string // alike for the exports of one unit: format, shape and headings of the first table
	Samples     bool   // a raw trace
	Pool        Pool
	LoadUnits   []string // names of the units that headings and cells give loads
}

// Given returns what the source gives to the others.
func (s *Source) Given() *Given {
	return &Given{Device: s.Device, NeedsDevice: s.needsDevice(), Signature: s.signature(), Samples: s.ofSamples(),
		Pool: s.pool(), LoadUnits: s.loadUnits()}
}

// Sisters are the sources of one unit, which a source asks what it does not
// settle itself. Nothing but the answers is learnt of them.
type Sisters struct {
	pool   *Pool
	stated unit.Unit
	told   Answers
}

// NewSisters returns sisters to be asked by one source. stated is the unit in
// which all sources of the season write loads that name one, the zero Unit where
// there is none, or two.
func NewSisters(pool *Pool, stated unit.Unit) *Sisters {
	return &Sisters{pool: pool, stated: stated}
}

// Answers are what sisters told one source, by question; those that it did not
// ask are empty.
type Answers [questions]string

const (
	aboutMark = iota
	aboutOrders
	aboutHabit
	aboutLoads
	aboutStated
	questions
)

// Told returns what they told.
func (s *Sisters) Told() Answers { return s.told }

// Still reports whether they tell the same as the answers: whether a source that
// was settled by those is settled so by them.
func (s *Sisters) Still(told Answers) bool {
	now := NewSisters(s.pool, s.stated)
	now.mark()
	now.orders()
	now.habit()
	now.loads()
	now.loadUnit()
	for q, text := range told {
		if text != "" && text != now.told[q] {
			return false
		}
	}
	return true
}

func (s *Sisters) tell(question int, answer ...any) { s.told[question] = fmt.Sprintf("%q", answer) }

// mark returns the decimal mark of their numbers, and whether that is sure.
func (s *Sisters) mark() (number.DecimalMark, bool) {
	mark, sure := s.pool.Mark.Mark()
	s.tell(aboutMark, mark.String(), fmt.Sprint(sure))
	return mark, sure
}

// orders returns the orders in which all their dates can be read.
func (s *Sisters) orders() []date.Order {
	orders := s.pool.Dates.Orders()
	s.tell(aboutOrders, fmt.Sprint(orders))
	return orders
}

// habit returns whether sets or reps come first.
func (s *Sisters) habit() shorthand.Habit {
	s.tell(aboutHabit, s.pool.Habit.Order().String(), s.pool.Habit.LoadFirst.Order().String())
	return s.pool.Habit
}

// loads returns the unit of their loads without one, and whether there are any.
func (s *Sisters) loads() (found column.Inferred, ok, some bool) {
	found, ok = column.InferLoad(s.pool.Loads)
	some = len(s.pool.Loads) > 0
	s.tell(aboutLoads, found.Unit.Name, found.Why, fmt.Sprint(ok, some))
	return found, ok, some
}

// loadUnit returns the unit in which the season writes loads.
func (s *Sisters) loadUnit() unit.Unit {
	s.tell(aboutStated, s.stated.Name)
	return s.stated
}
