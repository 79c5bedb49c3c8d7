package profile

import (
	"repsift/profile/agree"
	"repsift/profile/block"
	"repsift/profile/e1rm"
	"repsift/profile/effort"
	"repsift/profile/loadline"
	"repsift/profile/loss"
	"repsift/profile/number"
	"repsift/profile/progress"
	"repsift/profile/ready"
	"repsift/profile/sets"
)

// Level is the probability with which intervals hold what they are about.
const Level = number.Level

// Every question has a package of its own; these are its answers under the
// names that readers of a profile use.
type (
	Estimate = number.Estimate
	Number   = number.Number

	Group    = sets.Group
	Span     = sets.Span
	DayPoint = sets.DayPoint

	EffortChart = effort.Chart
	EffortLevel = effort.Level
	EffortLine  = effort.EffortLine
	EffortPoint = effort.Point
	AtRPE       = effort.AtRPE
	ToRPE       = effort.ToRPE

	LoadVelocity = loadline.Profile
	PercentRow   = loadline.PercentRow
	CurvePoint   = loadline.CurvePoint

	E1RM     = e1rm.Entry
	Evidence = e1rm.Evidence

	Readiness = ready.Readiness
	Verdict   = ready.Verdict

	SpeedTrend   = progress.Speed
	E1RMTrend    = progress.E1RM
	PersonalBest = progress.PersonalBest

	Block         = block.Block
	IntensityBand = block.IntensityBand
	LoadChange    = block.LoadChange

	VelocityLoss = loss.Loss
	LossAtRPE    = loss.LossAtRPE
	SpeedLeft    = loss.SpeedLeft
	StopAtRPE    = loss.StopAtRPE
	StopAtLoss   = loss.StopAtLoss
	LossTo       = loss.LossTo

	Agreement  = agree.Agreement
	PairedReps = agree.PairedReps
)

// Where an e1RM can come from.
const (
	FromSingle   = e1rm.FromSingle
	FromRepSet   = e1rm.FromRepSet
	FromLine     = e1rm.FromLine
	FromDeclared = e1rm.FromDeclared
)

// What readiness can say.
const (
	AsUsual   = ready.AsUsual
	Faster    = ready.Faster
	Slower    = ready.Slower
	NotEnough = ready.NotEnough
)
