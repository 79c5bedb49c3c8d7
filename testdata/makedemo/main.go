// Command makedemo writes the demo season: testdata/demo, a folder of exports
// and logs as a coach has them, and testdata/demo-truth.csv, which says what
// every row of them is. Run it from the top of the project:
//
//	go run ./testdata/makedemo
//
// Same program, same bytes: the seed is fixed and no clock is read. A test
// beside it (go test ./testdata/makedemo) tells when the files that are checked
// in are not what the program writes.
//
// Everything in the season is invented: the club, the lifters, the units and
// their nicknames, every number, every heading. Load, speed and RPE follow a
// simple model (lift.go), so that charts look like those of a real season; it
// says nothing about real people.
//
// # The season
//
// Fourteen weeks from 2026-01-05, a volume block of eight weeks and a peak
// block of six. Two units: the north unit and the slate unit. Deadlifts are
// done on a deadlift bar, squats and benches on a stiff bar.
//
//   - Ines Duarte benches with a high arch (travel of 16–20 cm: real reps) and
//     is written in two ways. Away in the first week of March.
//   - Käthe Brandl pulls sumo.
//   - Tomás Reis benches with long pauses and grinds. In the first week of
//     March he trains in a gym with pound plates.
//   - Ruben Aske is new: he joins for the last four weeks, so that most of his
//     numbers are "not enough yet".
//
// # The files, and what each teaches
//
//   - north/2026-01.csv … 2026-04.csv: rep rows, comma, ISO times, m/s. Reps
//     that never happened (unrack, walkout, re-rack, bounce after a deadlift
//     lockout), typing slips, a load of 12O, words where numbers belong, a
//     missed rep marked as such, a heading repeated in mid-file, a row cut off.
//   - north/reexport-feb-mar.csv: the same reps of February and March again,
//     other order, coarser, fewer columns, another spelling of a name. One of
//     its rows is the only readable copy.
//   - slate/Jänner 2026.csv …: semicolons, decimal commas, cm/s, Windows-1252,
//     German words, a preamble. In January one session of Tomás's that the
//     north unit recorded too: a second device.
//   - guest gym.xlsx: a row a set, reps across, loads in lb (the season file
//     says so), dates in merged cells.
//   - hand log.xlsx: a sheet a lifter, shorthand and plain columns, RPE, blank
//     rows, totals. Most lines belong to a unit's set; some days have no other
//     trace.
//   - sessions/Saturday group.txt: blocks of preamble lines and a small table.
//   - traces/: four sets as raw samples. No other file holds them.
//
// # The truth
//
// demo-truth.csv (RFC 4180) has a line for every row of every source, but not
// for the samples of a trace, sorted by source, sheet, row, rep_recorded.
//
//   - source, sheet, row: the file relative to testdata/demo; the 1-based
//     physical line of a text, row of a sheet; of a trace, the line of the
//     rep's first sample, right within 0.25 s of samples.
//   - rep_recorded: the rep's number as the row gives it, or its position where
//     a row holds several; of a trace, its number in the set.
//   - what: rep, note (a logged set without speeds), not data (heading, blank,
//     preamble, total), unread row, unread cell (in addition to the row's own
//     line; why names the column), movement (in a trace: goes up, but is no
//     rep; a reader may leave it out, and if it does not, cleaning must set it
//     aside).
//   - fate: kept or set aside for a rep, joined or alone for a note.
//   - filter: the filter that sets the rep aside first, in running order.
//   - lifter, date, lift, variant, load_kg, mean_velocity_m_s: the true values,
//     under the season file's names. Of reps as the row states them, in SI
//     units (so a coarse copy has coarse values), but of a slip what the row
//     should have said. Of trace reps the travel over the time of the motion;
//     a reader that starts the clock at a threshold of speed finds up to a tenth
//     more, because the motions begin and end gently.
//   - why: true rep, grinder (below 0.15 m/s), missed rep, unrack, walkout,
//     re-rack, bounce, re-export, second device, speed slip, …
//   - belongs_to: source:row of the rep that stands for a copy or for the other
//     unit's rep; of a joined note, of the first kept rep of its set.
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"path/filepath"
	"sort"
)

func main() {
	log.SetFlags(0)
	dir := flag.String("dir", "testdata", "folder that holds demo and demo-truth.csv")
	flag.Parse()
	d, err := makeDemo()
	if err != nil {
		log.Fatal(err)
	}
	if err := write(*dir, d.files()); err != nil {
		log.Fatal(err)
	}
	d.summary(os.Stdout)
}

// write replaces the demo in dir by files.
func write(dir string, files map[string][]byte) error {
	if err := os.RemoveAll(filepath.Join(dir, "demo")); err != nil {
		return err
	}
	total := 0
	for _, name := range sortedKeys(files) {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(path, files[name], 0o644); err != nil {
			return err
		}
		total += len(files[name])
	}
	if total > 3<<20 {
		return fmt.Errorf("%d bytes: over 3 MB", total)
	}
	return nil
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
