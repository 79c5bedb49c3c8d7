package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"repsift/report/screen"
)

// Exit statuses. They are decided here and nowhere else.
const (
	statusDone   = 0 // all read
	statusFailed = 1 // nothing was written
	statusUsage  = 2 // wrong usage
	statusPartly = 3 // done, but some source was not read whole
)

// command is one word of the command line.
type command struct {
	name     string
	args     string // behind the name in the usage line
	does     string // one line
	more     string // paragraphs for its own help
	examples []string
	// declare adds the command's flags and returns what runs once they are
	// parsed.
	declare func(*pflag.FlagSet) func(ctx context.Context, args []string, c *console) error
}

// commands lists every command in the order of the help.
func commands() []command {
	return []command{tidyCommand, peekCommand, draftCommand, whyCommand, agreeCommand, chartCommand, handoverCommand, completionCommand, traceCommand}
}

// errPartly says that everything was written but some source was not read
// whole. What was wrong has been shown by then.
var errPartly = errors.New("some source was not read whole")

// usageError is a command line that cannot be meant.
type usageError struct{ problem string }

func (e usageError) Error() string { return e.problem }

func usagef(format string, args ...any) error { return usageError{fmt.Sprintf(format, args...)} }

// run does what the arguments ask and returns the exit status.
func run(ctx context.Context, args []string, c *console) int {
	err := dispatch(ctx, args, c)
	var usage usageError
	switch {
	case err == nil:
		return statusDone
	case errors.Is(err, errPartly):
		return statusPartly
	case errors.As(err, &usage):
		fmt.Fprintf(c.err, "repsift: %s\nTry: repsift --help\n", screen.Clean(usage.problem))
		return statusUsage
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(c.err, "repsift: stopped; nothing was written, and what stood there before is untouched")
		return statusFailed
	default:
		for i, line := range strings.Split(err.Error(), "\n") { // of a season file there may be many faults
			if i == 0 {
				line = "repsift: " + line
			}
			fmt.Fprintln(c.err, screen.Clean(line))
		}
		return statusFailed
	}
}

func dispatch(ctx context.Context, args []string, c *console) error {
	if len(args) == 0 {
		overview(c.out)
		return nil
	}
	switch name := args[0]; name {
	case "-h", "--help", "help":
		if len(args) == 1 {
			overview(c.out)
			return nil
		}
		cmd, err := find(args[1])
		if err != nil {
			return err
		}
		flags, _ := cmd.parse()
		cmd.help(c.out, flags)
		return nil
	case "--version", "version":
		fmt.Fprintln(c.out, "repsift", version())
		return nil
	default:
		cmd, err := find(name)
		if err != nil {
			return err
		}
		return cmd.run(ctx, args[1:], c)
	}
}

func find(name string) (command, error) {
	var names []string
	for _, cmd := range commands() {
		if cmd.name == name {
			return cmd, nil
		}
		names = append(names, cmd.name)
	}
	return command{}, usagef("there is no command %q; there are: %s", name, strings.Join(names, ", "))
}

func (cmd command) parse() (*pflag.FlagSet, func(context.Context, []string, *console) error) {
	flags := pflag.NewFlagSet(cmd.name, pflag.ContinueOnError)
	flags.SortFlags = false
	flags.SetOutput(io.Discard)
	return flags, cmd.declare(flags)
}

func (cmd command) run(ctx context.Context, args []string, c *console) error {
	flags, do := cmd.parse()
	if err := flags.Parse(args); errors.Is(err, pflag.ErrHelp) {
		cmd.help(c.out, flags)
		return nil
	} else if err != nil {
		return usagef("%s: %s", cmd.name, err)
	}
	return do(ctx, flags.Args(), c)
}

func (cmd command) help(w io.Writer, flags *pflag.FlagSet) {
	fmt.Fprintf(w, "repsift %s: %s\n\nUsage:\n  repsift %s %s\n", cmd.name, cmd.does, cmd.name, cmd.args)
	if cmd.more != "" {
		fmt.Fprintf(w, "\n%s\n", strings.TrimSpace(cmd.more))
	}
	if usages := flags.FlagUsagesWrapped(80); usages != "" {
		fmt.Fprintf(w, "\nOptions:\n%s", usages)
	}
	examples(w, cmd.examples)
}

func overview(w io.Writer) {
	fmt.Fprint(w, `repsift turns bar-speed exports and hand logs into one rep table to trust, each
lifter's own numbers, and a tidy data set to hand on.

Usage:
  repsift COMMAND …

Commands:
`)
	for _, cmd := range commands() {
		fmt.Fprintf(w, "  %-10s %s\n", cmd.name, cmd.does)
	}
	fmt.Fprint(w, `
  repsift help COMMAND tells more of one; repsift --version, which build this is.
`)
	examples(w, []string{
		"repsift peek testdata/demo",
		"repsift tidy testdata/demo --out demo",
	})
	fmt.Fprint(w, `
Exit status: 0 all read; 1 failed, nothing written; 2 wrong usage; 3 done, but
some source was not read whole.
`)
}

func examples(w io.Writer, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprint(w, "\nExamples:\n")
	for _, line := range lines {
		fmt.Fprintf(w, "  %s\n", line)
	}
}
