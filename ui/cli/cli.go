// Package cli is the command line: one file a family of commands. It opens
// files and terminals, calls the packages below, and turns what they say into
// text and exit codes. Results go to Env.Out, everything else to Env.Err.
package cli

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"evenpull/procedures"
	"evenpull/procedures/record"
	"evenpull/procedures/session"
	"evenpull/spec"
	"evenpull/spec/near"
)

// Exit codes of the program.
const (
	ExitDone        = 0
	ExitProblem     = 1 // in what was given: bad file, refused, broken record
	ExitUsage       = 2 // wrong words on the command line
	ExitOutstanding = 3 // a walk left with something open
)

// Env is the world outside, so that tests can bring their own.
type Env struct {
	In      io.Reader
	Out     io.Writer
	Err     io.Writer
	Now     func() time.Time
	Getenv  func(string) string
	Command string // how to call the program again, in hints
}

// Run carries out one command line and gives the exit code.
func Run(args []string, env Env) int {
	out := &output{w: env.Out}
	a := &app{Env: env, screen: env.Out}
	a.Out = out
	args = withSigns(args)
	root := a.root(args)
	root.SetArgs(args)
	err := root.Execute()
	if err == nil {
		err = problem(out.err)
	}
	if err == nil {
		return ExitDone
	}
	var coded *exit
	switch {
	case errors.As(err, &coded):
	case out.err != nil: // in what cobra itself writes
		coded = &exit{ExitProblem, err}
	default:
		coded = &exit{ExitUsage, err} // what cobra itself objects to is usage
	}
	if coded.err != nil {
		for _, line := range strings.Split(coded.err.Error(), "\n") {
			fmt.Fprintf(env.Err, "evenpull: %s\n", spec.Printable(a.pointed(line)))
		}
	}
	return coded.code
}

// withSigns writes the dash of a negative figure to convert, "-20 °C", as the minus sign
// it stands for: a dash would make it a flag. No flag of convert takes a bare figure.
func withSigns(args []string) []string {
	if !slices.Contains(args, "convert") {
		return args
	}
	out := slices.Clone(args)
	for i, arg := range out {
		if rest, ok := strings.CutPrefix(arg, "-"); ok && rest != "" && rest[0] >= '0' && rest[0] <= '9' {
			out[i] = "−" + rest
		}
	}
	return out
}

// exit is an error with the code to leave with; err may be nil when all has been said.
type exit struct {
	code int
	err  error
}

func (e *exit) Error() string {
	if e.err == nil {
		return ""
	}
	return e.err.Error()
}

func (e *exit) Unwrap() error { return e.err }

// problem is something wrong with what was given.
func problem(err error) error {
	if err == nil {
		return nil
	}
	var coded *exit
	if errors.As(err, &coded) {
		return err
	}
	return &exit{ExitProblem, err}
}

func usage(format string, args ...any) error {
	return &exit{ExitUsage, fmt.Errorf(format, args...)}
}

// app carries the world and the flags that all commands share.
type app struct {
	Env
	screen     io.Writer // Env.Out as it came, for terminals
	recordsDir string
}

func (a *app) root(args []string) *cobra.Command {
	root := &cobra.Command{
		Use:   "evenpull",
		Short: "Walk a tightening or loosening procedure bolt by bolt, and keep the record",
		Long: `Evenpull walks you through tightening or loosening a joint bolt by bolt, pass by
pass, and calls it done only when every stage is confirmed. Without a command it
opens the start screen.

The engine's own service manual and local codes govern. Computed figures are
estimates.`,
		Example: `  evenpull
  evenpull walk crankcase-close --engine "stand 2"
  evenpull convert 18.4 ft-lb`,
		Args:          cobra.ArbitraryArgs,
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE: func(cmd *cobra.Command, args []string) error {
			if asked, _ := cmd.Flags().GetBool("version"); asked {
				fmt.Fprintln(a.Out, version())
				return nil
			}
			if len(args) > 0 {
				return a.unknownCommand(args[0])
			}
			return a.start()
		},
	}
	root.SetIn(a.In)
	root.SetOut(a.Out) // before there are completions, which write where this goes when they are made
	root.SetErr(a.Err)
	root.PersistentFlags().StringVar(&a.recordsDir, "records", "", "folder `DIR` of the records (default: $EVENPULL_RECORDS, else the platform's own)")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usage("%s; see: %s --help", err, cmd.CommandPath())
	})
	commands := a.commands()
	first := firstWord(args)
	for _, c := range commands {
		if first == c.name {
			root.AddCommand(c.make())                       // the others would only cost a start of the program its first millisecond,
			root.CompletionOptions.DisableDefaultCmd = true // and so would what writes completions
			return root
		}
	}
	root.Flags().BoolP("version", "v", false, "version for evenpull") // a template of cobra's for it would be half a megabyte
	for _, c := range commands {
		if !root.ContainsGroup(c.group) {
			root.AddGroup(&cobra.Group{ID: c.group, Title: c.group + ":"})
		}
		cmd := c.make()
		cmd.GroupID = c.group
		root.AddCommand(cmd)
	}
	root.SetHelpCommandGroupID(others)
	root.SetCompletionCommandGroupID(others)
	if first == "completion" {
		root.InitDefaultCompletionCmd(args...)
		quoteForBash(root)
	}
	return root
}

// firstWord is the command, which may come after the folder of records.
func firstWord(args []string) string {
	for i := 0; i < len(args); i++ {
		switch {
		case args[i] == "--records":
			i++
		case !strings.HasPrefix(args[i], "--records="):
			return args[i]
		}
	}
	return ""
}

// command is one that there is; it is made when it is asked for.
type command struct {
	group string
	name  string
	make  func() *cobra.Command
}

// Groups of commands, as help lists them.
const (
	atTheStand = "At the stand"
	figures    = "Figures and tools"
	ofRecords  = "Records"
	ofEngines  = "Engines and parts"
	others     = "This program"
)

// commands are all there are, the likeliest first.
func (a *app) commands() []command {
	return []command{
		{atTheStand, "walk", a.walkCommand}, {atTheStand, "plan", a.planCommand}, {atTheStand, "check", a.checkCommand}, {atTheStand, "new", a.newCommand},
		{figures, "convert", a.convertCommand}, {figures, "clamp", a.clampCommand}, {figures, "wrenches", a.wrenchesCommand},
		{ofRecords, "records", a.recordsCommand}, {ofRecords, "show", a.showCommand}, {ofRecords, "compare", a.compareCommand}, {ofRecords, "review", a.reviewCommand},
		{ofRecords, "verify", a.verifyCommand}, {ofRecords, "export", a.exportCommand}, {ofRecords, "sign", a.signCommand}, {ofRecords, "import", a.importCommand},
		{ofEngines, "engine", a.engineCommand}, {ofEngines, "parts", a.partsCommand}, {ofEngines, "mark", a.markCommand},
		{others, "demo", a.demoCommand}, {others, "schema", a.schemaCommand}, {others, "man", a.manCommand},
	}
}

func (a *app) unknownCommand(word string) error {
	text := fmt.Sprintf("there is no command %q", spec.Printable(word))
	var names []string
	for _, c := range a.commands() {
		names = append(names, c.name)
	}
	if meant := near.Best(word, names); meant != "" {
		text += "; did you mean " + meant + "?"
	} else {
		text += "; see: evenpull --help"
	}
	return &exit{ExitUsage, errors.New(text)}
}

// exactly wants n arguments and says which are missing.
func exactly(n int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == n {
			return nil
		}
		return usage("%s takes %s; see: %s --help", cmd.Name(), what, cmd.CommandPath())
	}
}

func atLeast(n int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) >= n {
			return nil
		}
		return usage("%s takes %s; see: %s --help", cmd.Name(), what, cmd.CommandPath())
	}
}

// desk is where walks are opened and engines are folded.
func (a *app) desk() (session.Desk, error) {
	store, err := a.store()
	return a.deskAt(store), err
}

func (a *app) deskAt(store *record.Store) session.Desk {
	return session.Desk{Store: store, Library: a.library(), Now: a.Now, Program: version(), Cache: a.cacheDir()}
}

// library finds procedures, also one on standard input.
func (a *app) library() procedures.Library {
	return procedures.Library{Dir: procedures.UserDir(), Piped: a.In}
}
