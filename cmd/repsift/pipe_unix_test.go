//go:build unix

package main

import (
	"path/filepath"
	"syscall"
	"testing"
)

func fifo(name string) put {
	return func(t *testing.T, in string) {
		t.Helper()
		if err := syscall.Mkfifo(filepath.Join(in, name), 0o644); err != nil {
			t.Skip(err)
		}
	}
}
