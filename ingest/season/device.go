package season

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"repsift/ingest/season/located"
	"repsift/ingest/spelling"
)

// DeviceCorrection declares how the mean velocities of one unit are read as
// those of another: intercept + slope × what the unit showed.
type DeviceCorrection struct {
	Device, As string
	Slope      float64
	Intercept  float64 // m/s
	Sets       int32   // paired sets behind it; 0: not said
	Scatter    float64 // SD of one corrected speed around the other unit's, m/s; 0: not said
	Error      float64 // how far the correction itself may be off, one SD, m/s; 0: taken as exact
	Line       int
}

// Read returns a speed of the unit as one of the other, m/s. No speed becomes
// less than a standstill's last digit.
func (c *DeviceCorrection) Read(speed float64) float64 {
	return max(c.Intercept+c.Slope*speed, leastSpeed)
}

// Shown returns the speed that the unit showed where Read gave speed, to a
// tenth of a millimetre a second; not where Read met its least.
func (c *DeviceCorrection) Shown(speed float64) float64 {
	return math.Round((speed-c.Intercept)/c.Slope*1e4) / 1e4
}

// leastSpeed is the least speed a correction leaves, m/s: units show two or
// three digits, and a rep that was done moved.
const leastSpeed = 0.01

// TOML returns the declaration as it stands in a season file.
func (c *DeviceCorrection) TOML() string {
	var b strings.Builder
	b.WriteString("[[device_correction]]\n")
	line := func(key, value string) { fmt.Fprintf(&b, "%-13s = %s\n", key, value) }
	line("device", quoted(c.Device))
	line("as", quoted(c.As))
	line("slope", short(c.Slope))
	line("intercept_m_s", short(c.Intercept))
	if c.Sets > 0 {
		line("sets", strconv.Itoa(int(c.Sets)))
	}
	if c.Scatter > 0 {
		line("scatter_m_s", short(c.Scatter))
	}
	if c.Error > 0 {
		line("error_m_s", short(c.Error))
	}
	return b.String()
}

// quoted returns a name as a TOML string. Names hold no control characters.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

// Device returns the correction declared for a unit; nil where there is none.
func (s *Season) Device(name string) *DeviceCorrection {
	if s == nil || name == "" {
		return nil
	}
	for i := range s.Devices {
		if spelling.Fold(s.Devices[i].Device) == spelling.Fold(name) {
			return &s.Devices[i]
		}
	}
	return nil
}

// Bounds of what a correction can be: beyond them two units do not measure
// the same, and no line puts that right. Common practice, no source.
const (
	leastSlope, mostSlope = 0.5, 2
	mostShift             = 0.3 // m/s
)

var deviceSection = section[DeviceCorrection]{
	name:    "device_correction",
	meaning: "Reads the mean velocities of one unit as those of another: intercept_m_s + slope × velocity. What was read is kept beside it. `repsift agree` writes it from sets that both measured.",
	first:   func(c *DeviceCorrection, line int) { c.Line, c.Slope = line, 1 },
	keys: []key[DeviceCorrection]{
		{name: "device", form: `"slate unit"`, meaning: "The unit whose velocities are corrected.", needed: true, read: textKey(func(c *DeviceCorrection) *string { return &c.Device })},
		{name: "as", form: `"north unit"`, meaning: "The unit whose velocities they become.", needed: true, read: textKey(func(c *DeviceCorrection) *string { return &c.As })},
		{name: "slope", form: "0.97", meaning: "1 where it is left out.", read: func(d *reader, v *located.Node, c *DeviceCorrection) { c.Slope, _ = d.number(v, leastSlope, mostSlope) }},
		{name: "intercept_m_s", form: "-0.02", meaning: "Added to every velocity, m/s; may be 0.", needed: true, read: func(d *reader, v *located.Node, c *DeviceCorrection) {
			c.Intercept, _ = d.number(v, -mostShift, mostShift)
		}},
		{name: "sets", form: "24", meaning: "How many sets both units measured.", read: func(d *reader, v *located.Node, c *DeviceCorrection) { c.Sets, _ = d.whole(v, 1, 1<<20) }},
		{name: "scatter_m_s", form: "0.02", meaning: "How far one corrected velocity still lies from the other unit's, SD.", read: func(d *reader, v *located.Node, c *DeviceCorrection) { c.Scatter, _ = d.number(v, 0, mostShift) }},
		{name: "error_m_s", form: "0.006", meaning: "How far all corrected velocities may lie off together, SD; profiles carry it.", read: func(d *reader, v *located.Node, c *DeviceCorrection) { c.Error, _ = d.number(v, 0, mostShift) }},
	},
}

// onePerDevice notes units that are corrected twice, as themselves, or as one
// that is corrected itself.
func (d *reader) onePerDevice(root *located.Node) {
	lines := make(map[string]int)
	for i := range d.s.Devices {
		lines[spelling.Fold(d.s.Devices[i].Device)] = d.s.Devices[i].Line
	}
	first := make(map[string]int)
	for i, t := range d.tables(root, deviceSection.name) {
		c := &d.s.Devices[i]
		device, as := spelling.Fold(c.Device), spelling.Fold(c.As)
		if device == "" || as == "" {
			continue // told already
		}
		if line, seen := first[device]; seen {
			d.At(t.Get("device").Val, "%q is corrected on line %d already", c.Device, line)
			continue
		}
		first[device] = c.Line
		if line, chained := lines[as]; device == as {
			d.At(t.Get("as").Val, "a unit is not corrected to itself")
		} else if chained {
			d.At(t.Get("as").Val, "%q is corrected itself, on line %d; correct both to one unit", c.As, line)
		}
	}
}
