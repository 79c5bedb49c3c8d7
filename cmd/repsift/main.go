package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends the process at once
	status := run(ctx, os.Args[1:], terminal(os.Stdout, os.Stderr))
	stop()
	os.Exit(status)
}
