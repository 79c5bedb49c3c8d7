package main

// makeDemo returns the whole demo.
func makeDemo() (*demo, error) {
	d := &demo{out: make(map[string][]byte)}
	sets := season()
	north := measure(sets, toNorth)
	if err := d.north(north); err != nil {
		return nil, err
	}
	slate := append(measure(sets, toSlate), bothUnits(north)...)
	sortByTime(slate)
	if err := d.slate(slate); err != nil {
		return nil, err
	}
	if err := d.blocks(measure(sets, toBlocks)); err != nil {
		return nil, err
	}
	if err := d.guest(sets); err != nil {
		return nil, err
	}
	if err := d.traces(sets); err != nil {
		return nil, err
	}
	if err := d.handLog(sets); err != nil { // last: it says which sets its lines belong to
		return nil, err
	}
	d.out["season.toml"] = []byte(seasonFile)
	return d, nil
}

// seasonFile declares what the exports do not say.
const seasonFile = `# The demo season. Club, lifters, units and numbers are invented.
season   = "Winter and spring, barbell club on the quay"
timezone = "Europe/Lisbon"

# Which unit wrote which files. The nicknames are the club's own.
[[source]]
files  = ["north/*.csv"]
device = "north unit"

[[source]]
files      = ["slate/*.csv", "sessions/*.txt"]
device     = "slate unit"

[[source]]
files  = ["guest gym.xlsx"]
device = "north unit"
units  = { load = "lb" }        # the column says only "Load"

# Raw traces. Two say who lifted what in their names.
[[source]]
files  = ["traces/*"]
device = "north unit"

[[source]]
files  = ["traces/Käthe*"]
device = "slate unit"

[[source]]
files      = ["traces/2026-*.csv"]
name_parts = "{date}_{lifter}_{lift}_{load}kg_set{set}"

# How the bar was rigged.
[[setup]]
lifts  = ["squat", "bench press"]
bar    = "stiff"
tether = "inside sleeve"

[[setup]]
lifts  = ["deadlift"]
bar    = "deadlift"
tether = "sleeve end"

# Spellings. Case and blanks need no line.
[[lifter]]
name    = "Ines Duarte"
spelled = ["I. Duarte", "Ines"]

[[lifter]]
name    = "Käthe Brandl"
spelled = ["Käthe"]

[[lifter]]
name    = "Tomás Reis"
spelled = ["Tomás"]

[[lifter]]
name    = "Ruben Aske"
spelled = ["Ruben"]

[[lift]]
name    = "squat"
spelled = ["comp squat", "Kniebeuge"]

[[lift]]
name    = "bench press"
spelled = ["bench", "Bankdrücken"]

[[lift]]
name    = "bench press"
variant = "paused"
spelled = ["paused bench", "Bench (paused)"]

[[lift]]
name    = "deadlift"
spelled = ["Kreuzheben"]

[[lift]]
name    = "deadlift"
variant = "sumo"
spelled = ["sumo deadlift", "Kreuzheben sumo", "Sumo"]

# One January session was recorded by both units: these stand.
[[filter]]
kind   = "second device"
prefer = ["north unit", "slate unit"]

[[block]]
name = "volume"
from = 2026-01-05
to   = 2026-03-01

[[block]]
name = "peak"
from = 2026-03-02
to   = 2026-04-12

[[maximum]]
lifter  = "Ines Duarte"
lift    = "squat"
load_kg = 142.5
date    = 2026-02-28
`
