package shorthand

import "repsift/ingest/unit"

// isUnit reports whether a word is a unit of load or speed, or counts reps or
// sets.
func isUnit(text string) bool {
	for _, q := range []unit.Quantity{unit.Load, unit.Velocity, unit.Count} {
		if u, ok := unit.ParseFor(q, text); ok && usable(u) {
			return true
		}
	}
	return false
}

func usable(u unit.Unit) bool {
	return u.Name == "kg" || u.Name == "lb" || u.Quantity == unit.Velocity || u.Quantity == unit.Count
}

// unitTokens is the most tokens that make up a unit: m · s ⁻ ¹.
const unitTokens = 5

// unit takes a unit of the given quantity at token i off the text and returns
// how many tokens it has; 0 for none. A # must be written onto its number.
func (p *parser) unit(i int, q unit.Quantity) (text string, u unit.Unit, size int) {
	first := p.token(i)
	if first.kind != word && !(first.sign == '#' && first.glued) {
		return "", u, 0
	}
	for size = unitTokens; size > 0; size-- {
		last := p.token(i + size - 1)
		if last.kind != word && last.kind != number && last.sign != '#' && last.sign != '¹' {
			continue
		}
		text = p.text[first.from:last.to]
		if u, ok := unit.ParseFor(q, text); ok && usable(u) {
			return text, u, size
		}
	}
	return "", u, 0
}
