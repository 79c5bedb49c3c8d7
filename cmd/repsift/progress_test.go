package main

import (
	"bytes"
	"io"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestProgress: the bar says what is being done, never goes back, is full when
// all is done and not before, and is wiped.
func TestProgress(t *testing.T) {
	share := regexp.MustCompile(` (\d+) %  (.*)$`)
	for _, c := range []struct {
		args []string
		says []string
	}{
		{[]string{"tidy"}, []string{"reading", "cleaning", "working out profiles", "writing profiles/", "writing season.xlsx", "done"}},
		{[]string{"tidy", "--tables"}, []string{"reading", "cleaning", "writing reps", "writing profiles.json", "done"}},
		{[]string{"tidy", "--tables", "--partition", "lifter"}, []string{"writing reps", "done"}},
		{[]string{"tidy", "--memory", "1MB"}, []string{"reading", "writing tables and profiles", "writing season.xlsx", "done"}},
		{[]string{"tidy", "--tables", "--partition", "lift", "--memory", "1MB"}, []string{"writing tables and profiles", "writing parts", "done"}},
	} {
		var drawn bytes.Buffer
		args := append(c.args, filepath.Join("..", "..", "testdata", "demo"), "--out", filepath.Join(t.TempDir(), "out"))
		if status := run(t.Context(), args, &console{out: io.Discard, err: &drawn, width: 80, progress: true}); status != statusPartly {
			t.Fatalf("%v: status %d\n%s", args, status, drawn.String())
		}
		last, text := -1, drawn.String()
		lines := strings.Split(text, "\r\x1b[2K")
		for _, line := range lines {
			m := share.FindStringSubmatch(line)
			if m == nil {
				continue
			}
			percent, _ := strconv.Atoi(m[1])
			if percent < last {
				t.Errorf("%v: back from %d to %d %%", c.args, last, percent)
			}
			if (percent == 100) != (m[2] == "done") {
				t.Errorf("%v: %d %% at %q", c.args, percent, m[2])
			}
			last = percent
		}
		if last != 100 {
			t.Errorf("%v: ends at %d %%", c.args, last)
		}
		for _, what := range c.says {
			if !strings.Contains(text, what) {
				t.Errorf("%v: never said that it is %s", c.args, what)
			}
		}
	}
	var drawn bytes.Buffer
	p := &progress{w: &drawn, to: 1}
	p.bar("reading", 0.6)
	p.bar("reading", 0.5) // of two files side by side the slower may tell later
	if text := drawn.String(); strings.Contains(text, "50 %") || strings.Count(text, "60 %") != 2 {
		t.Errorf("%q", text)
	}
}
