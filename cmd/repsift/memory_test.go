package main

import (
	"errors"
	"strings"
	"testing"

	"repsift/ingest"
)

func TestParseMemory(t *testing.T) {
	for text, want := range map[string]memory{"4GB": 4 << 30, "500 MB": 500 << 20, "1.5GiB": 3 << 29, "2g": 2 << 30, "4096": 4096, "64kB": 64 << 10} {
		if got, err := parseMemory(text); err != nil || got != want {
			t.Errorf("%s: %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"much", "-1GB", "0", "GB", "1e30", "NaN"} {
		_, err := parseMemory(text)
		if !errors.As(err, new(usageError)) {
			t.Errorf("%s: %v", text, err)
		}
	}
	if m := machineMemory(); m != 0 && (m < 64<<20 || m > 1<<50) {
		t.Errorf("the machine has %s", m)
	}
}

func TestMost(t *testing.T) {
	if n := memory(0).most(true); n != 0 {
		t.Errorf("no limit: %d", n)
	}
	if n := memory(1 << 30).most(false); n != 1<<30/bytesPerRep {
		t.Errorf("a GB of tables: %d", n)
	}
	if n := memory(1).most(true); n != 1 {
		t.Errorf("a byte: %d", n)
	}
	before := 0
	for m := memory(1 << 20); m < 1<<40; m += m / 3 { // a workbook's share is bounded
		n := m.most(true)
		if n <= before || n > m.most(false) {
			t.Errorf("%s: %d reps with a workbook after %d, %d without", m, n, before, m.most(false))
		}
		before = n
	}
}

func TestGroup(t *testing.T) {
	const many = 3_000_000
	one := ingest.Some{From: "Ana Holm", To: "Ana Holm", Reps: 5000}
	n, err := memory(150<<20).group(shelved{reps: many, largest: one}, false)
	if err != nil || n < one.Reps || n > many/2 {
		t.Errorf("%d, %v", n, err)
	}
	if rich, err := memory(150<<20).group(shelved{reps: many, notes: 50_000, rich: true, largest: one}, false); err != nil || rich < one.Reps || rich > n/3 {
		t.Errorf("of a rich season %d, of another %d, %v", rich, n, err)
	}
	if _, err := memory(150<<20).group(shelved{reps: many, notes: many, largest: one}, false); err == nil || !strings.Contains(err.Error(), "logged sets") || !strings.Contains(err.Error(), "--memory") {
		t.Errorf("logged sets: %v", err)
	}
	if n, err := memory(100).group(shelved{reps: 3, largest: one}, true); n != 1 || err != nil {
		t.Errorf("less than the program takes: %d, %v", n, err)
	}
	if _, err := memory(1<<30).group(shelved{reps: many, largest: one}, true); err == nil || !strings.Contains(err.Error(), "--tables") || !strings.Contains(err.Error(), "--memory") {
		t.Errorf("a workbook: %v", err)
	}
	if _, err := memory(2<<30).group(shelved{reps: many, largest: one}, true); err != nil {
		t.Errorf("a workbook: %v", err)
	}
	one.Reps = many
	if _, err := memory(150<<20).group(shelved{reps: many, largest: one}, false); err == nil || !strings.Contains(err.Error(), "Ana Holm") || !strings.Contains(err.Error(), "--memory") {
		t.Errorf("one lifter: %v", err)
	}
}
