package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"repsift/report/pack"
)

// The same bytes come out whether all reps are in memory or on disk, where they
// are read back some lifters at a time.
func TestSameBytesInGroups(t *testing.T) {
	demo := filepath.Join("..", "..", "testdata", "demo")
	club := clubOf(t)
	for _, c := range []struct {
		memory string
		cores  []int
		args   []string
	}{
		{"1MB", []int{1}, []string{demo, "--csv"}}, // pages and workbook
		{"1", []int{1, 2}, []string{club, "--csv"}},
		{"1", []int{2}, []string{club, "--tables", "--partition", "lifter"}},
		{"1", []int{2}, []string{club, "--tables", "--partition", "month"}},
	} {
		whole := made(t, 2, c.args...)
		if err := os.Remove(filepath.Join(whole, pack.KeptFile)); err != nil { // which needs the reps in memory
			t.Fatal(err)
		}
		for _, cores := range c.cores {
			sameFiles(t, fmt.Sprintf("%v with a memory of %s on %d cores", c.args, c.memory, cores), whole, made(t, cores, append(c.args, "--memory", c.memory)...))
		}
	}
}

// clubOf writes a season of which much is said of several lifters together: one
// session by two units, of which one is read as the other, a log with a line for
// two and with a lifter whom no unit knows, a session that goes on past midnight,
// names in several writings.
func clubOf(t *testing.T) string {
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	const heading = "Lifter,Date,Time,Lift,Load (kg),Set,Rep,Mean velocity (m/s),ROM (m)\n"
	var north, red strings.Builder
	north.WriteString(heading)
	red.WriteString(heading)
	for day := range 12 {
		for i, name := range []string{"Zoe Marr", "ana holm", "Ana  Holm", "Bo Lind", "bo lind"} {
			for set := range 4 {
				for r := range 3 {
					minute := 60*(21+i%2) + 50*set // until after midnight
					v := 0.9 - 0.12*float64(set) - 0.02*float64(r) + 0.003*float64((day*7+i*3+r)%9)
					line := func(add float64) string {
						return fmt.Sprintf("%s,2026-03-%02d,%02d:%02d:%02d,squat,%d,%d,%d,%.3f,%.3f\n", name, 1+2*day+minute/1440, minute/60%24, minute%60, 7*r,
							80+20*set+10*i, set+1, r+1, v+add, 0.55+0.01*float64((day+r)%4))
					}
					if i != 0 { // of Zoe only the red unit knows
						north.WriteString(line(0))
					}
					if i == 0 || i > 2 && day%2 == 0 {
						red.WriteString(line(0.03))
					}
				}
			}
		}
	}
	write("north/rows.csv", north.String())
	write("red/rows.csv", red.String())
	write("log.csv", "date,lifter,lift,sets\n2026-03-03,Ana Holm,squat,140x3 @8\n2026-03-03,Bo Lind,squat,150x3 @9\n2026-03-05,Ada Nyberg,squat,5x3@140\n2026-03-05,Ana Holm,bench press,60x5 @7\n")
	write("season.toml", `season = "Three lifters, two units"
timezone = "Europe/Lisbon"

[[source]]
files  = ["north/*"]
device = "north unit"

[[source]]
files  = ["red/*"]
device = "red unit"

[[source]]
files     = ["log.csv"]
shorthand = "sets x reps"

[[device_correction]]
device        = "Red unit"
as            = "North Unit"
slope         = 1
intercept_m_s = -0.03

[[correction]]
source = "north/rows.csv"
row    = 4
field  = "load"
value  = 101
why    = "a plate too few"

[[block]]
name = "first"
from = 2026-03-01
to   = 2026-03-12
`)
	return dir
}
