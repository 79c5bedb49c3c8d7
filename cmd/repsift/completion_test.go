package main

import (
	"bytes"
	"os/exec"
	"strings"
	"testing"
)

func completionOf(t *testing.T, shell string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(t.Context(), []string{"completion", shell}, &console{out: &out, err: &errs, width: 80}); status != statusDone {
		t.Fatalf("exit status %d: %s", status, &errs)
	}
	return out.String()
}

// Every command and every flag is in every shell's completion.
func TestCompletionIsWhole(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish"} {
		text := completionOf(t, shell)
		for _, cmd := range commands() {
			if !strings.Contains(text, cmd.name) {
				t.Errorf("%s does not know %s", shell, cmd.name)
			}
			for _, f := range cmd.flagsOf() {
				if !strings.Contains(text, "--"+f.Name) && !strings.Contains(text, " -l "+f.Name) {
					t.Errorf("%s does not know %s --%s", shell, cmd.name, f.Name)
				}
			}
		}
	}
}

// The shell itself is asked what it would offer.
func TestCompletionInBash(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("no bash here: its completion is not tried out")
	}
	script := completionOf(t, "bash")
	for line, want := range map[string]string{
		"ti":                    "tidy",
		"tidy --js":             "--json",
		"chart d --kind eff":    "effort",
		"completion f":          "fish",
		"help hand":             "handover",
		"handover d --shift-da": "--shift-dates",
		"tidy compl":            "completion.go completion_test.go",
	} {
		words := append([]string{"repsift"}, strings.Fields(line)...)
		ask := script + "\nCOMP_WORDS=('" + strings.Join(words, "' '") + "'); COMP_CWORD=$((${#COMP_WORDS[@]}-1)); _repsift; echo ${COMPREPLY[*]}"
		out, err := exec.Command(bash, "-c", ask).CombinedOutput()
		if got := strings.TrimSpace(string(out)); err != nil || got != want {
			t.Errorf("%q is completed to %q, %v; want %q", line, got, err, want)
		}
	}
}

// Other shells read theirs without a fault, where they are.
func TestCompletionReads(t *testing.T) {
	for shell, check := range map[string]string{"zsh": "-n", "fish": "--no-execute"} {
		path, err := exec.LookPath(shell)
		if err != nil {
			t.Logf("no %s here: its completion is not tried out", shell)
			continue
		}
		cmd := exec.Command(path, check)
		cmd.Stdin = strings.NewReader(completionOf(t, shell))
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Errorf("%s: %v: %s", shell, err, out)
		}
	}
}
