package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// The commands that README and the help show run as shown, on the demo: only
// the output folder is another, and a reader's own folders are the demo.
func TestCommandsShown(t *testing.T) {
	readme := readmeText(t)
	var shown []string
	for _, line := range strings.Split(readme, "\n") {
		if m := shownLine.FindStringSubmatch(line); m != nil {
			shown = append(shown, m[1])
		}
	}
	if len(shown) < 4 {
		t.Fatalf("README shows only %d commands: %q", len(shown), shown)
	}
	for _, cmd := range commands() {
		shown = append(shown, cmd.examples...)
	}
	seen := map[string]bool{} // in the order shown: some make what others read
	shown = slices.DeleteFunc(shown, func(line string) bool {
		again := seen[line]
		seen[line] = true
		return again
	})
	out := filepath.Join(t.TempDir(), "demo")
	folder := strings.NewReplacer("my-exports", "testdata/demo", "my-season", out)
	t.Chdir("../..")
	for _, line := range shown {
		args := words(folder.Replace(line))[1:]
		for i, a := range args {
			if a == "exports" {
				args[i] = "testdata/demo"
			} else if a == "demo" {
				args[i] = out
			} else if strings.HasPrefix(a, "demo/") {
				args[i] = out + strings.TrimPrefix(a, "demo")
			} else if made := []string{"--out", "--to", "--data", "--key", "--check"}; i > 0 && slices.Contains(made, args[i-1]) && a != out {
				args[i] = filepath.Join(filepath.Dir(out), filepath.Base(a))
			}
		}
		var said, wrong bytes.Buffer
		status := run(context.Background(), args, &console{out: &said, err: &wrong, width: 80})
		if status != statusDone && status != statusPartly {
			t.Errorf("%s: exit status %d\n%s%s", line, status, said.String(), wrong.String())
		}
	}
}

// shownLine is a line of README that is a command.
var shownLine = regexp.MustCompile(`^    (?:go run ./cmd/)?(repsift .*)$`)

// words cuts a command line as a shell would; only single quotes are known.
func words(line string) []string {
	var out []string
	for _, m := range regexp.MustCompile(`'([^']*)'|(\S+)`).FindAllStringSubmatch(line, -1) {
		out = append(out, m[1]+m[2])
	}
	return out
}

// What README shows of the demo's run is what the run shows.
func TestScreenShown(t *testing.T) {
	_, rest, _ := strings.Cut(readmeText(t), "```\n")
	excerpt, _, found := strings.Cut(rest, "```\n")
	if !found {
		t.Fatal("README shows no screen")
	}
	var said, wrong bytes.Buffer
	run(context.Background(), []string{"tidy", demo, "--out", filepath.Join(t.TempDir(), "demo")}, &console{out: &said, err: &wrong, width: 80})
	lines := strings.Split(said.String(), "\n")
	for _, line := range strings.Split(excerpt, "\n") {
		if line != "…" && !slices.Contains(lines, line) {
			t.Errorf("README shows a line that the run does not: %q", line)
		}
	}
}

// The season file of the README is one that repsift takes.
func TestSeasonFileShown(t *testing.T) {
	_, rest, found := strings.Cut(readmeText(t), "```toml\n")
	text, _, closed := strings.Cut(rest, "```")
	if !found || !closed {
		t.Fatal("README shows no season file")
	}
	if _, err := season.Read("README.md", strings.NewReader(text)); err != nil {
		t.Error(err)
	}
}

// README names every filter a season file can declare, in running order.
func TestFiltersShown(t *testing.T) {
	readme, at := readmeText(t), 0
	for _, kind := range rep.KindNames() {
		i := strings.Index(readme[at:], "| `"+kind+"` |")
		if i < 0 {
			t.Fatalf("README's table of filters lacks %q, or has it elsewhere", kind)
		}
		at += i
	}
}

func readmeText(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}
