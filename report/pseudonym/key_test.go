package pseudonym

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

func TestKey(t *testing.T) {
	name := filepath.Join(t.TempDir(), "season.key")
	k, made, err := OpenKey(name)
	if err != nil || !made {
		t.Fatal(made, err)
	}
	again, made, err := OpenKey(name)
	if err != nil || made || again.Text() != k.Text() {
		t.Fatal("the key is another one when it is read again", made, err)
	}
	if info, _ := os.Stat(name); runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("others may read the key: %v", info.Mode())
	}
	if strings.Contains(k.ID(), k.Text()[:8]) || len(k.ID()) != 8 {
		t.Errorf("the sign of the key is %q", k.ID())
	}
	if err := os.WriteFile(name, []byte("repsift hand-over key 1 abc\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, _, err := OpenKey(name); err == nil || !strings.Contains(err.Error(), "no key file") {
		t.Errorf("a cut key is taken: %v", err)
	}
	if b, _ := os.ReadFile(name); string(b) != "repsift hand-over key 1 abc\n" {
		t.Error("a file that is no key was written to")
	}
}

func TestShift(t *testing.T) {
	k := &Key{secret: [32]byte{1}}
	seen := map[int32]bool{}
	for _, name := range []string{"Ines", "Käthe", "Tomás", "Ruben", "Jo", "Li", "Max", "Zoë"} {
		d := k.Shift(name)
		if d >= 0 || d%7 != 0 || d < -7*shiftWeeks {
			t.Errorf("%s: %d days", name, d)
		}
		seen[d] = true
	}
	if len(seen) < 5 {
		t.Errorf("eight lifters share %d shifts", len(seen))
	}
	// The same name in another Unicode form and case is the same lifter.
	if k.Shift("Käthe") != k.Shift("KA\u0308THE ") || k.digits("lifter", canonical("Käthe")) != k.digits("lifter", canonical("ka\u0308the")) {
		t.Error("a spelling changes the code")
	}
	if (&Key{secret: [32]byte{2}}).digits("lifter", "a") == k.digits("lifter", "a") {
		t.Error("another key gives the same code")
	}
}
