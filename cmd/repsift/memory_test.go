package main

import (
	"errors"
	"strings"
	"testing"
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

func TestRoom(t *testing.T) {
	for _, workbook := range []bool{true, false} {
		if err := memory(1<<30).room(1000, workbook); err != nil {
			t.Error(err)
		}
		if err := memory(0).room(1000, workbook); err != nil {
			t.Errorf("no limit: %v", err)
		}
	}
	err := memory(1<<30).room(100_000_000, false)
	if err == nil || !strings.Contains(err.Error(), "18.6 GB") || !strings.Contains(err.Error(), "--memory") || strings.Contains(err.Error(), "--tables") {
		t.Errorf("%v", err)
	}
	// A million reps fit as tables and not with a workbook, and that is said.
	if err := memory(1<<30).room(1_000_000, false); err != nil {
		t.Error(err)
	}
	if err := memory(1<<30).room(1_000_000, true); err == nil || !strings.Contains(err.Error(), "--tables") {
		t.Errorf("%v", err)
	}
}
