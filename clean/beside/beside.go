// Package beside lays the sets of a history beside what others say of them: a
// second unit, and the hand log.
//
//  1. Sets that two units recorded are found by load, speeds and clocks; the unit
//     that lost or made up fewer reps stands (units.go, lost.go).
//  2. How the log writes loads is learnt over the season (loads.go).
//  3. Logged sets are joined to the sets of their day, one to one and in order
//     (logs.go); package join scores.
//
// It decides nothing of a rep: that is for the filters.
package beside

import "repsift/clean/history"

// History is a history and what lies beside its sets.
type History struct {
	*history.History
	Joins []Join // logged sets laid beside sets

	relation *relation // how the log writes loads; nil: as the unit does
}
