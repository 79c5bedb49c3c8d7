package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"repsift/report/card"
)

var completionCommand = command{
	name: "completion", args: "bash|zsh|fish",
	does: "write what a shell needs to complete commands and options",
	more: `
For this shell session:
  bash:  source <(repsift completion bash)
  zsh:   source <(repsift completion zsh)
  fish:  repsift completion fish | source
To keep it, write the same to a file that the shell reads at its start.`,
	declare: func(*pflag.FlagSet) func(context.Context, []string, *console) error {
		return func(_ context.Context, args []string, c *console) error {
			if len(args) == 1 {
				if write, ok := shells[args[0]]; ok {
					return write(c.out)
				}
			}
			return usagef("completion: name the shell: bash, zsh or fish")
		}
	},
}

// shells is filled at start: the writers list the commands, of which
// completion is one.
var shells map[string]func(io.Writer) error

func init() {
	shells = map[string]func(io.Writer) error{"bash": completeBash, "zsh": completeZsh, "fish": completeFish}
}

// choices returns the words that may follow a flag, or a command by itself;
// nil where files are meant, or anything.
func choices(command, flag string) []string {
	switch {
	case command == "chart" && flag == "kind":
		var kinds []string
		for _, k := range card.Kinds {
			kinds = append(kinds, k.Name)
		}
		return kinds
	case command == "completion" && flag == "":
		return []string{"bash", "zsh", "fish"}
	}
	return nil
}

// flagsOf returns the flags of a command, help among them.
func (cmd command) flagsOf() []*pflag.Flag {
	flags, _ := cmd.parse()
	flags.BoolP("help", "h", false, "tell more of the command")
	var all []*pflag.Flag
	flags.VisitAll(func(f *pflag.Flag) { all = append(all, f) })
	return all
}

func isSwitch(f *pflag.Flag) bool { return f.Value.Type() == "bool" }

func completeBash(w io.Writer) error {
	var b strings.Builder
	var names []string
	for _, cmd := range commands() {
		names = append(names, cmd.name)
	}
	fmt.Fprintf(&b, `# bash completion of repsift
_repsift() {
	local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]}
	COMPREPLY=()
	if ((COMP_CWORD == 1)) || { ((COMP_CWORD == 2)) && [[ $prev == help ]]; }; then
		COMPREPLY=($(compgen -W '%s help --help --version' -- "$cur"))
		return
	fi
	case ${COMP_WORDS[1]} in
`, strings.Join(names, " "))
	for _, cmd := range commands() {
		fmt.Fprintf(&b, "\t%s)\n", cmd.name)
		var flags []string
		for _, f := range cmd.flagsOf() {
			flags = append(flags, "--"+f.Name)
			if words := choices(cmd.name, f.Name); words != nil {
				fmt.Fprintf(&b, "\t\tif [[ $prev == --%s ]]; then\n\t\t\tCOMPREPLY=($(compgen -W '%s' -- \"$cur\"))\n\t\t\treturn\n\t\tfi\n", f.Name, strings.Join(words, " "))
			}
		}
		fmt.Fprintf(&b, "\t\tif [[ $cur == -* ]]; then\n\t\t\tCOMPREPLY=($(compgen -W '%s' -- \"$cur\"))\n\t\t\treturn\n\t\tfi\n", strings.Join(flags, " "))
		if words := choices(cmd.name, ""); words != nil {
			fmt.Fprintf(&b, "\t\tCOMPREPLY=($(compgen -W '%s' -- \"$cur\"))\n\t\treturn\n", strings.Join(words, " "))
		}
		b.WriteString("\t\t;;\n")
	}
	b.WriteString(`	esac
	compopt -o filenames 2>/dev/null
	local IFS=$'\n'
	COMPREPLY=($(compgen -f -- "$cur"))
}
complete -F _repsift repsift
`)
	_, err := io.WriteString(w, b.String())
	return err
}

func completeZsh(w io.Writer) error {
	var b strings.Builder
	b.WriteString("#compdef repsift\n# zsh completion of repsift\n_repsift() {\n\tlocal -a names\n\tnames=(\n")
	for _, cmd := range commands() {
		fmt.Fprintf(&b, "\t\t%s\n", single(cmd.name+":"+cmd.does))
	}
	b.WriteString("\t)\n\tif ((CURRENT == 2)) || { ((CURRENT == 3)) && [[ $words[2] == help ]]; }; then\n\t\t_describe command names\n\t\treturn\n\tfi\n\tlocal cmd=$words[2]\n\tshift words\n\t((CURRENT--))\n\tcase $cmd in\n")
	for _, cmd := range commands() {
		fmt.Fprintf(&b, "\t%s)\n\t\t_arguments", cmd.name)
		for _, f := range cmd.flagsOf() {
			spec := "--" + f.Name + "[" + strings.NewReplacer("[", "(", "]", ")").Replace(f.Usage) + "]"
			if !isSwitch(f) {
				spec += ":" + f.Name + ":" + zshValues(choices(cmd.name, f.Name))
			}
			fmt.Fprintf(&b, " \\\n\t\t\t%s", single(spec))
		}
		fmt.Fprintf(&b, " \\\n\t\t\t%s\n\t\t;;\n", single("*:argument:"+zshValues(choices(cmd.name, ""))))
	}
	b.WriteString("\tesac\n}\ncompdef _repsift repsift\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func zshValues(words []string) string {
	if words == nil {
		return "_files"
	}
	return "(" + strings.Join(words, " ") + ")"
}

func completeFish(w io.Writer) error {
	var b strings.Builder
	b.WriteString("# fish completion of repsift\n")
	for _, cmd := range commands() {
		fmt.Fprintf(&b, "complete -c repsift -n __fish_use_subcommand -f -a %s -d %s\n", cmd.name, single(cmd.does))
	}
	for _, cmd := range commands() {
		within := fmt.Sprintf("complete -c repsift -n '__fish_seen_subcommand_from %s'", cmd.name)
		for _, f := range cmd.flagsOf() {
			fmt.Fprintf(&b, "%s -l %s", within, f.Name)
			if f.Shorthand != "" {
				fmt.Fprintf(&b, " -s %s", f.Shorthand)
			}
			words := choices(cmd.name, f.Name)
			switch {
			case words != nil:
				fmt.Fprintf(&b, " -x -a %s", single(strings.Join(words, " ")))
			case !isSwitch(f):
				b.WriteString(" -r")
			}
			fmt.Fprintf(&b, " -d %s\n", single(f.Usage))
		}
		if words := choices(cmd.name, ""); words != nil {
			fmt.Fprintf(&b, "%s -f -a %s\n", within, single(strings.Join(words, " ")))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// single quotes a text for a shell.
func single(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }
