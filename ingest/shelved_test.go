package ingest

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"
	"testing/fstest"

	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shelf"
)

// rows writes out the reps of a lifter, and their ids.
func rows(t *rep.Table, lifter string) []string {
	var out []string
	for i := range int32(t.Len()) {
		if r := t.Rep(i); r.Lifter == lifter {
			out = append(out, fmt.Sprintf("%x %+v", t.ID(i), r))
		}
	}
	return out
}

func notes(list []rep.SetNote, lifter string) []rep.SetNote {
	return slices.DeleteFunc(slices.Clone(list), func(n rep.SetNote) bool { return n.Lifter != lifter })
}

// Reps that go to disk come back lifter by lifter as they would stand in memory,
// and everything else that is read is the same.
func TestShelved(t *testing.T) {
	demo := os.DirFS("../testdata/demo")
	text, err := demo.Open(SeasonFile)
	if err != nil {
		t.Fatal(err)
	}
	declared, err := season.Read(SeasonFile, text)
	if err != nil {
		t.Fatal(err)
	}
	night := fstest.MapFS{
		"a.csv": {Data: []byte("lifter,date,time,lift,load (kg),set,rep,mean velocity (m/s)\n" +
			"Ana Holm,2026-01-05,23:50:00,squat,100,1,1,0.61\nAna Holm,2026-01-06,00:10:00,squat,100,2,1,0.60\n" +
			"bo,2026-01-05,10:00:00,squat,90,1,1,0.71\n")},
		"b.csv": {Data: []byte("lifter,date,time,lift,load (kg),set,rep,mean velocity (m/s)\n" +
			"ANA  HOLM,2026-01-08,23:50:00,squat,100,1,1,0.51\nAna Holm,2026-01-09,00:10:00,squat,100,2,1,0.50\n")},
		"c.csv": {Data: []byte("lifter,date,time,lift,load (kg),set,rep,mean velocity (m/s)\nAna Hölm,2026-01-08,12:00:00,squat,100,1,1,0.51\n")},
	}
	for name, c := range map[string]struct {
		fsys fs.FS
		s    *season.Season
	}{"demo": {demo, declared}, "names and nights": {night, nil}} {
		t.Run(name, func(t *testing.T) {
			whole, err := Read(context.Background(), c.fsys, nil, c.s, Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, most := range []int{1, whole.Reps.Len() - 1} {
				r, err := Read(context.Background(), c.fsys, nil, c.s, Options{Most: most, Disk: func() (shelf.File, error) {
					return os.Create(filepath.Join(t.TempDir(), "reps"))
				}})
				if err != nil {
					t.Fatal(err)
				}
				defer r.Close()
				if r.Shelved == nil || r.Shelved.Len() != whole.Reps.Len() || r.Reps.Len() > 0 {
					t.Fatalf("at most %d: %+v", most, r.Shelved)
				}
				var seen []string
				for _, some := range r.Shelved.Groups(most) {
					b, err := r.Shelved.Read(some)
					if err != nil {
						t.Fatal(err)
					}
					if some.Reps > most && some.From != some.To {
						t.Errorf("at most %d: %+v", most, some)
					}
					got := 0
					for _, l := range r.Shelved.lifters {
						if l.From < some.From || some.To < l.From {
							continue
						}
						seen = append(seen, l.From)
						own := rows(b.Reps, l.From)
						got += len(own)
						if want := rows(whole.Reps, l.From); !reflect.DeepEqual(own, want) {
							t.Errorf("at most %d: %d reps of %s differ from the %d in memory", most, len(own), l.From, len(want))
						}
						if want := notes(whole.Notes, l.From); !reflect.DeepEqual(notes(b.Notes, l.From), want) {
							t.Errorf("at most %d: notes of %s", most, l.From)
						}
					}
					if got != b.Reps.Len() || got != some.Reps {
						t.Errorf("%+v: %d reps, of its lifters %d", some, b.Reps.Len(), got)
					}
				}
				if !slices.IsSorted(seen) || len(slices.Compact(slices.Clone(seen))) != len(seen) {
					t.Errorf("lifters not once each in order: %q", seen)
				}
				for what, pair := range map[string][2]any{"said": {r.Said, whole.Said}, "sources": {told(r), told(whole)}, "unread": {r.Unread, whole.Unread}, "ledger": {r.Ledger, whole.Ledger}} {
					if !reflect.DeepEqual(pair[0], pair[1]) {
						t.Errorf("at most %d: %s:\n%v\nwant\n%v", most, what, pair[0], pair[1])
					}
				}
			}
		})
	}
}

// told is what a reading says of its sources.
func told(r *Reading) string {
	text := ""
	for _, s := range r.Sources {
		text += fmt.Sprintln(s.Name, s.SHA256, s.Said, s.Warnings, s.Err, s.Device, s.Shape)
	}
	return text
}

type fullDisk struct{ *os.File }

var errFull = errors.New("no room")

func (fullDisk) WriteAt([]byte, int64) (int, error) { return 0, errFull }

// A disk that takes nothing ends the reading: no source is to blame.
func TestShelvedDisk(t *testing.T) {
	for _, open := range []func() (shelf.File, error){
		func() (shelf.File, error) { return nil, errFull },
		func() (shelf.File, error) { return fullDisk{}, nil },
	} {
		r, err := Read(context.Background(), os.DirFS("../testdata/demo"), nil, nil, Options{Most: 10, Disk: open})
		if !errors.Is(err, errFull) || r != nil {
			t.Errorf("%v, %v", r, err)
		}
	}
}
