package main

import "testing"

func fifo(string) put {
	return func(t *testing.T, _ string) { t.Skip("no named pipes in folders here") }
}
