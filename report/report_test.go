package report

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/report/pack"
)

// run returns a small run; version tells one from another.
func run(version string) *Run {
	t := new(rep.Table)
	for i := range 10 {
		t.Append(&rep.Rep{Lifter: "Ines Duarte", Lift: "squat", Date: 20600, LoadKg: 100, MeanVelocity: 0.5, Source: "a.csv", Row: int32(i + 2),
			Session: 1, Set: 1, Rep: int32(i + 1), Role: rep.Top})
	}
	return &Run{
		Version: version,
		Result: &clean.Result{Reps: t, Kept: []int32{0, 1, 2, 3, 4, 5, 6, 7, 8}, Aside: []clean.Aside{{Row: 9, Filter: rep.ShortTravel, Reason: "short"}},
			Ledger: []rep.Ledger{{Source: "a.csv", Rows: 11, RepRows: 10, NotData: 1, Reps: 10, Kept: 9, SetAside: 1}}},
		Profiles: &profile.Profiles{Lifters: []profile.Lifter{}},
	}
}

// files are outputs in which a few bytes are written in several pieces.
var files = []output{
	one("a.txt", func(w io.Writer, r *Run) error { return pieces(w, r.Version) }),
	{name: "profiles/", write: func(f *folder, r *Run) error {
		for _, n := range []string{"x", "y"} {
			if err := f.write("profiles/"+n+".html", func(w io.Writer) error { return pieces(w, r.Version+n) }); err != nil {
				return err
			}
		}
		return nil
	}},
	{name: pack.RunFile, write: runFile},
}

func pieces(w io.Writer, text string) error {
	for range 3 {
		if _, err := io.WriteString(w, text); err != nil {
			return err
		}
	}
	return nil
}

// whole returns the version of a folder that is complete; an error says what
// is missing or too many.
func whole(dir string) (string, error) {
	run, err := pack.ReadRun(os.DirFS(dir))
	if err != nil {
		return "", err
	}
	want := map[string]string{}
	for _, f := range run.Files {
		want[f.Name] = f.SHA256
	}
	err = fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || name == pack.RunFile {
			return err
		}
		b, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			return err
		}
		sum := sha256.Sum256(b)
		if want[name] != hex.EncodeToString(sum[:]) {
			return fmt.Errorf("%s is not what was written", name)
		}
		delete(want, name)
		return nil
	})
	if err == nil && len(want) > 0 {
		err = fmt.Errorf("missing: %v", want)
	}
	return run.Version, err
}

func mustBe(t *testing.T, dir, version string) {
	t.Helper()
	got, err := whole(dir)
	if err != nil || got != version {
		t.Fatalf("%s holds %q, %v; wants %q", dir, got, err, version)
	}
}

// alone fails where anything is left beside dir.
func alone(t *testing.T, dir string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != filepath.Base(dir) {
			t.Errorf("%s is left beside %s", e.Name(), dir)
		}
	}
}

func mustWrite(t *testing.T, dir, version string) {
	t.Helper()
	if err := write(t.Context(), osDisk{}, dir, run(version), files); err != nil {
		t.Fatal(err)
	}
}

func TestWriteReplaces(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	mustWrite(t, dir, "one")
	mustBe(t, dir, "one")
	mustWrite(t, dir, "two")
	mustBe(t, dir, "two")
	alone(t, dir)
	err := filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err == nil && info.Mode().Perm()&0o077 != 0 {
			t.Errorf("%s is open to others: %s", name, info.Mode())
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Every file of the contract is written, and twice gives the same bytes.
func TestWriteAll(t *testing.T) {
	parent := t.TempDir()
	for _, dir := range []string{"a", "b"} {
		r := run("v")
		r.CSV = true
		if err := Write(t.Context(), filepath.Join(parent, dir), r); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"reps.parquet", "set_aside.parquet", "sets.parquet", "reps.csv", "set_aside.csv", "sets.csv",
		"unread.csv", "profiles.json", "season.xlsx", "datapackage.json", "README.md", "run.json"} {
		a, err := os.ReadFile(filepath.Join(parent, "a", name))
		if err != nil {
			t.Error(err)
			continue
		}
		b, err := os.ReadFile(filepath.Join(parent, "b", name))
		if err != nil || string(a) != string(b) {
			t.Errorf("%s differs from one run to the next (%v)", name, err)
		}
	}
	mustBe(t, filepath.Join(parent, "a"), "v")

	var p struct {
		Resources []struct {
			Path, Hash string
			Bytes      int
		}
	}
	text, err := os.ReadFile(filepath.Join(parent, "a", "datapackage.json"))
	if err == nil {
		err = json.Unmarshal(text, &p)
	}
	if err != nil || len(p.Resources) < 11 {
		t.Fatalf("datapackage.json has %d resources, %v", len(p.Resources), err)
	}
	for _, r := range p.Resources {
		b, err := os.ReadFile(filepath.Join(parent, "a", r.Path))
		if sum := sha256.Sum256(b); err != nil || r.Bytes != len(b) || r.Hash != "sha256:"+hex.EncodeToString(sum[:]) {
			t.Errorf("datapackage.json says of %s: %d bytes, %s (%v)", r.Path, r.Bytes, r.Hash, err)
		}
	}
}

// profiles.json is the profiles as the one text they would be.
func TestProfilesJSON(t *testing.T) {
	for _, names := range [][]string{nil, {"Ines"}, {"Ines", "<Zoë & \"Z\">"}} {
		p := &profile.Profiles{Lifters: []profile.Lifter{}, Cautions: []string{"a", "b"}}
		for _, n := range names {
			p.Lifters = append(p.Lifters, profile.Lifter{Name: n, Lifts: []profile.Lift{{Lift: "squat"}}})
		}
		want, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		var got, compact bytes.Buffer
		if err := profilesJSON(&got, &Run{Profiles: p}, func(float64) {}); err != nil {
			t.Fatal(err)
		}
		if err := json.Compact(&compact, got.Bytes()); err != nil || compact.String() != string(want) {
			t.Errorf("got %s, %v\nwants %s", compact.Bytes(), err, want)
		}
	}
}

// What may not be replaced is refused with what to do, and stays as it is.
func TestWriteRefuses(t *testing.T) {
	parent := t.TempDir()
	at := func(name string) string { return filepath.Join(parent, name) }
	put := func(name, text string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Dir(at(name)), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at(name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	put("theirs/notes.txt", "mine")
	put("stranger/run.json", `{"format":"other"}`)
	put("file", "mine")
	put("exports/a.csv", "x")
	mustWrite(t, at("ours"), "old")
	put("ours/profiles/notes.txt", "mine")
	put("ours/.~lock.season.xlsx#", "a spreadsheet is open")
	for _, c := range []struct {
		dir    string
		inputs []string
		says   string
	}{
		{at("theirs"), nil, "was not written by repsift"},
		{at("stranger"), nil, "is not of this program"},
		{at("file"), nil, "is a file"},
		{at("ours"), nil, "holds profiles/notes.txt, which repsift did not write"},
		{at("exports/out"), []string{at("exports")}, "lies inside the input folder"},
		{at("exports"), []string{at("exports")}, "lies inside the input folder"},
		{at("new"), []string{parent}, "lies inside the input folder"},
		{parent, []string{at("exports")}, "would be replaced"},
		{at("exports"), []string{at("exports/a.csv")}, "would be replaced"},
		{"/", nil, "as a whole"},
	} {
		r := run("new")
		r.Inputs = c.inputs
		for what, err := range map[string]error{"Write": write(t.Context(), osDisk{}, c.dir, r, files), "Check": Check(c.dir, c.inputs)} {
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%s of %s with %q says %v, wants %q", what, c.dir, c.inputs, err, c.says)
			}
		}
	}
	for name, text := range map[string]string{"theirs/notes.txt": "mine", "file": "mine", "exports/a.csv": "x", "ours/profiles/notes.txt": "mine"} {
		if b, err := os.ReadFile(at(name)); err != nil || string(b) != text {
			t.Errorf("%s: %q, %v", name, b, err)
		}
	}
	if err := os.Remove(at("ours/profiles/notes.txt")); err != nil {
		t.Fatal(err)
	}
	if err := Check(at("not/yet/there"), nil); err != nil || there(at("not")) {
		t.Errorf("looking at a folder that is not there: %v; made: %v", err, there(at("not")))
	}
	mustWrite(t, at("not/yet/there"), "deep")
	mustBe(t, at("not/yet/there"), "deep")
	mustWrite(t, at("ours"), "new") // the litter of programs is no reason to refuse
	mustBe(t, at("ours"), "new")
}

func TestWriteThroughLinks(t *testing.T) {
	parent := t.TempDir()
	real, link := filepath.Join(parent, "real"), filepath.Join(parent, "link")
	if err := os.Symlink("real", link); err != nil {
		t.Skip(err)
	}
	mustWrite(t, link, "one") // the link leads nowhere yet
	mustWrite(t, link, "two")
	mustBe(t, real, "two")
	if to, err := os.Readlink(link); err != nil || to != "real" {
		t.Errorf("the link is now %q, %v", to, err)
	}
}

func TestTwoRuns(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	inner := errors.New("not tried")
	outer := []output{{name: "a", write: func(f *folder, r *Run) error {
		inner = write(t.Context(), osDisk{}, dir, r, files)
		return nil
	}}, {name: pack.RunFile, write: runFile}}
	if err := write(t.Context(), osDisk{}, dir, run("v"), outer); err != nil {
		t.Fatal(err)
	}
	if !errors.Is(inner, errBusy) {
		t.Errorf("the second run says: %v", inner)
	}
	mustBe(t, dir, "v")
	alone(t, dir)
}

func TestCalledOff(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	mustWrite(t, dir, "old")
	for _, at := range []string{"a.txt", "profiles/", "run.json"} {
		ctx, cancel := context.WithCancel(t.Context())
		r := run("new")
		r.Progress = func(name string, _ float64) {
			if name == at {
				cancel()
			}
		}
		if err := write(ctx, osDisk{}, dir, r, files); !errors.Is(err, context.Canceled) {
			t.Errorf("called off at %s: %v", at, err)
		}
		cancel()
		mustBe(t, dir, "old")
		alone(t, dir)
	}
}

func TestReadOnlyParent(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("root may write everywhere")
	}
	parent := t.TempDir()
	if err := os.Chmod(parent, 0o500); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Chmod(parent, 0o700) })
	err := write(t.Context(), osDisk{}, filepath.Join(parent, "out"), run("v"), files)
	if err == nil || !strings.Contains(err.Error(), "cannot be written to: permission denied") {
		t.Errorf("got %v", err)
	}
}
