package judge

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"repsift/clean/beside"
	"repsift/clean/history"
	"repsift/clean/join"
	"repsift/clean/kinds"
	"repsift/ingest/rep"
)

// Doubt is something cleaning saw but must not decide: the coach should look.
type Doubt struct {
	Topic  Topic
	Lifter string
	Lift   string
	Date   rep.Day // 0 where the doubt is not about one day
	Text   string  // one sentence, with both values where two disagree
	Places []rep.Place
}

// Topic sorts doubts.
type Topic uint8

// The topics of doubts.
const (
	LogDisagrees  Topic = iota // hand log and unit say different things of one set
	JoinAmbiguous              // a logged set fits several sets of the unit, or none well
	RPEDisagrees               // hand log and export give one set different RPE
	FewerReps                  // the unit that stands has fewer reps than log or second unit
	LoadUnlikely               // the speed does not fit the entered load
	FilterGreedy               // a filter takes more than its share of a lift
)

var topicNames = [...]string{"log disagrees", "join ambiguous", "RPE disagrees", "fewer reps", "load unlikely", "filter greedy"}

// String returns the topic's name.
func (t Topic) String() string { return topicNames[t] }

// TopicOf returns the topic of a name.
func TopicOf(name string) (Topic, bool) {
	i := slices.Index(topicNames[:], name)
	return Topic(max(i, 0)), i >= 0
}

// Tally is how many reps of a set were kept, and how many of those missed.
type Tally struct{ Kept, Missed int32 }

// Tally counts the reps of set s.
func (h *History) Tally(s int) (n Tally) {
	for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
		if h.Failed[i] == 0 {
			n.Kept++
			if h.Missed[i] {
				n.Missed++
			}
		}
	}
	return n
}

// SettleRPE gives each set without an RPE of its export the hand log's, and
// returns what the coach should look at, in the order of the sets.
func (h *History) SettleRPE(c *Filters) []Doubt {
	var out []Doubt
	doubt := func(topic Topic, set *history.Set, places []rep.Place, format string, args ...any) {
		out = append(out, Doubt{Topic: topic, Lifter: h.Lifter, Lift: h.Lift, Date: set.Date,
			Text: fmt.Sprintf(format, args...), Places: places})
	}
	told := false
	rounded := h.roundedLoads()
	for k, j := range h.Joins {
		n := h.Logs[j.Day].Said[j.Said].Note
		set := &h.Sets[j.Set]
		at := []rep.Place{n.Place(), h.Place(set.Lo)}
		if how := h.LogLoads(); how != "" && j.Sure() && !told {
			doubt(LogDisagrees, set, at, "all season, the load in the hand log is %s, as %s of %s: joined so, and the unit's loads stand as they are",
				how, kinds.LoadText(n.LoadKg.V), kinds.LoadText(h.Load[set.Lo]))
			told = true
		}
		switch {
		case rounded.has(j):
			if k == rounded.first {
				doubt(LogDisagrees, set, at, "the hand log has %s, the unit %s: in %d of %d sets the two differ by less than the smallest plates, up to %s",
					kinds.LoadText(n.LoadKg.V), kinds.LoadText(h.Load[set.Lo]), rounded.sets, rounded.of, kinds.LoadText(rounded.most))
			}
		case j.Sure() && j.Load != join.SameLoad && j.Load != join.NoLoad:
			doubt(LogDisagrees, set, at, "the hand log has %s, the unit %s", kinds.LoadText(n.LoadKg.V), kinds.LoadText(h.Load[set.Lo]))
		case !j.Sure() && j.Score >= join.Least:
			doubt(JoinAmbiguous, set, at, "the logged set %s fits the unit's set of %s, and another account of the day about as well: left apart",
				noteText(n), kinds.LoadText(h.Load[set.Lo]))
		}
	}
	// What only the second unit's export says of a set is said of the set.
	for s := range h.Sets {
		if second := &h.Sets[s]; second.Twin != 0 && second.RPE.OK && !h.Sets[second.Twin-1].RPE.OK {
			first := &h.Sets[second.Twin-1]
			first.RPE, first.RPEFrom = second.RPE, second.RPEFrom
		}
	}
	for s := range h.Sets {
		set := &h.Sets[s]
		if set.Log == nil {
			continue
		}
		n := h.Tally(s)
		at := []rep.Place{{Source: set.Log.Source, Sheet: set.Log.Sheet, Row: set.Log.Row}, h.Place(set.Lo)}
		if said := set.Log.Reps; said.OK && n.Kept < said.V {
			doubt(FewerReps, set, at, "the hand log has %s, the unit %s", kinds.Count(said.V, "rep"), kinds.Count(n.Kept, "rep"))
		} else if said.OK && n.Kept-n.Missed > said.V {
			doubt(LogDisagrees, set, at, "the hand log has %s, the unit %s, none of them clearly false", kinds.Count(said.V, "rep"), kinds.Count(n.Kept, "rep"))
		}
		switch said := set.Log.RPE; {
		case !said.OK:
		case !set.RPE.OK:
			set.RPE, set.RPEFrom = said, rep.RPEHandLog
		case math.Abs(set.RPE.V-said.V) > 1e-9:
			doubt(RPEDisagrees, set, at, "the hand log has RPE %g, the export %g, which stands", said.V, set.RPE.V)
		}
	}
	for s := range h.Sets {
		second := &h.Sets[s]
		if second.Twin == 0 || h.ByHand(second.Lo) {
			continue
		}
		first := &h.Sets[second.Twin-1]
		n := int32(0)
		for i := second.Lo; i < second.Hi; i++ {
			if h.Failed[i] == rep.Kinds(0).With(rep.SecondDevice) {
				n++
			}
		}
		if kept := h.Tally(int(second.Twin - 1)).Kept; kept < n {
			doubt(FewerReps, first, []rep.Place{h.Place(first.Lo), h.Place(second.Lo)}, "%q has %s of this set; %q, which stands, has %s",
				h.Device(second.Lo), kinds.Count(n, "rep"), h.Device(first.Lo), kinds.Count(kept, "rep"))
		}
	}
	return append(out, h.doubtLoads(c)...)
}

// rounded says how often joined loads differ by less than plates do, where that
// is often: then the log was rounded, and it is told once.
type rounded struct {
	sets, of, first int
	most            float64 // kg
	h               *History
}

// What is often: five sets, and one in five. The smallest plates are a pair of
// 0.5 or 1.25 kg (common practice, no source).
const (
	oftenRounded  = 5
	roundedShare  = 0.2
	smallestPlate = 1.25 // kg: half of what a pair of 1.25 kg adds
)

func (h *History) roundedLoads() rounded {
	r := rounded{first: -1, h: h}
	for k, j := range h.Joins {
		if !j.Sure() || j.Load == join.NoLoad {
			continue
		}
		r.of++
		if r.has(j) {
			if r.first < 0 {
				r.first = k
			}
			r.sets++
			r.most = max(r.most, r.apart(j))
		}
	}
	if r.sets < oftenRounded || float64(r.sets) < roundedShare*float64(r.of) {
		return rounded{first: -1}
	}
	return r
}

// has reports whether the loads of a join differ by rounding.
func (r *rounded) has(j beside.Join) bool {
	return r.h != nil && j.Sure() && j.Load == join.NearLoad && r.apart(j) < smallestPlate
}

// apart is how far the loads of a join differ, kg.
func (r *rounded) apart(j beside.Join) float64 {
	return math.Abs(r.h.Logs[j.Day].Said[j.Said].Note.LoadKg.V - r.h.Load[r.h.Sets[j.Set].Lo])
}

// doubtLoads reports the sets whose load the load check doubts.
func (h *History) doubtLoads(c *Filters) []Doubt {
	var found []kinds.Finding
	for _, x := range h.found {
		if x.Failed && c.list[x.Filter].Kind == rep.LoadCheck && h.Failed[x.I] == 0 {
			found = append(found, x)
		}
	}
	slices.SortStableFunc(found, func(a, b kinds.Finding) int { return cmp.Compare(a.I, b.I) })
	var out []Doubt
	for _, x := range found {
		f := c.list[x.Filter]
		set := &h.Sets[h.SetAt(x.I)]
		at := h.Place(set.Lo)
		if n := len(out); n > 0 && out[n-1].Date == set.Date && out[n-1].Places[0] == at {
			continue // once a set
		}
		out = append(out, Doubt{Topic: LoadUnlikely, Lifter: h.Lifter, Lift: h.Lift, Date: set.Date,
			Text: f.Say(h.History, int(x.I), x), Places: []rep.Place{at}})
	}
	return out
}

// noteText is a logged set as the coach wrote it.
func noteText(n *rep.SetNote) string {
	if text := strings.TrimSpace(n.Text); text != "" {
		return fmt.Sprintf("%q", text)
	}
	var parts []string
	if n.LoadKg.OK {
		parts = append(parts, kinds.LoadText(n.LoadKg.V))
	}
	if n.Reps.OK {
		parts = append(parts, kinds.Count(n.Reps.V, "rep"))
	}
	return strings.Join(parts, " × ")
}
