package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

func (a *app) manCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "man DIR",
		Short:   "Write the manual as man pages, one a command, into a folder",
		Example: `  evenpull man ~/.local/share/man/man1`,
		Args:    exactly(1, "one folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			pages := a.manPages()
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return problem(fmt.Errorf("the folder cannot be made: %w; choose another place", err))
			}
			for name, text := range pages {
				if err := writeAtOnce(filepath.Join(args[0], name), []byte(text)); err != nil {
					return problem(fmt.Errorf("%s cannot be written: %w; choose another folder", name, bare(err)))
				}
			}
			fmt.Fprintf(a.Err, "wrote %s\n", countOf(len(pages), "page"))
			return nil
		},
	}
}

// manPages gives the manual by the names of its files. All of it comes from the
// commands themselves.
func (a *app) manPages() map[string]string {
	root := a.root(nil)
	root.InitDefaultHelpFlag()
	pages := map[string]string{"evenpull.1": manPage(root)}
	for _, c := range root.Commands() {
		c.InitDefaultHelpFlag()
		pages["evenpull-"+c.Name()+".1"] = manPage(c)
	}
	return pages
}

// roff is a page being written in the man macros (man(7)).
type roff struct{ strings.Builder }

func (r *roff) line(format string, args ...any) { fmt.Fprintf(r, format+"\n", args...) }

// escaped is text that cannot be taken for a macro.
func escaped(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(text)
	if strings.HasPrefix(text, ".") || strings.HasPrefix(text, "'") {
		text = `\&` + text
	}
	return text
}

func (r *roff) text(text string) {
	for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
		if line == "" {
			r.line(".PP")
			continue
		}
		r.line("%s", escaped(line))
	}
}

// literal keeps lines as they are.
func (r *roff) literal(text string) {
	r.line(".EX")
	for _, line := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		r.line("%s", escaped(strings.TrimPrefix(line, "  ")))
	}
	r.line(".EE")
}

func manPage(c *cobra.Command) string {
	var r roff
	name := strings.ReplaceAll(c.CommandPath(), " ", "-")
	r.line(`.TH "%s" "1" "" "Evenpull" "Evenpull manual"`, strings.ToUpper(escaped(name)))
	r.line(".SH NAME\n%s \\- %s", escaped(name), escaped(c.Short))
	r.line(".SH SYNOPSIS\n.B %s", escaped(c.UseLine()))
	r.line(".SH DESCRIPTION")
	if c.Long != "" {
		r.text(c.Long)
	} else {
		r.text(c.Short + ".")
	}
	if c.HasAvailableSubCommands() && !c.HasParent() {
		r.line(".SH COMMANDS")
		for _, sub := range c.Commands() {
			r.line(".TP\n.BR %s (1)\n%s", escaped(name+"-"+sub.Name()), escaped(sub.Short))
		}
	}
	r.line(".SH OPTIONS")
	r.options(c.NonInheritedFlags())
	r.options(c.InheritedFlags())
	if c.Example != "" {
		r.line(".SH EXAMPLES")
		r.literal(c.Example)
	}
	if !c.HasParent() {
		r.everywhere()
	} else {
		r.line(".SH SEE ALSO\n.BR evenpull (1)")
	}
	return r.String()
}

func (r *roff) options(flags *pflag.FlagSet) {
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		value, usage := pflag.UnquoteUsage(f)
		name := `\fB` + escaped("--"+f.Name) + `\fR`
		if f.Shorthand != "" {
			name = `\fB` + escaped("-"+f.Shorthand) + `\fR, ` + name
		}
		if value != "" {
			name += ` \fI` + escaped(value) + `\fR`
		}
		r.line(".TP\n%s\n%s", name, escaped(usage))
	})
}

// everywhere is what holds for every command; it stands on the first page.
func (r *roff) everywhere() {
	r.line(".SH EXIT STATUS")
	for _, row := range [][2]string{{"0", "done"}, {"1", "a problem in what was given: a bad file, a refusal, a broken record"}, {"2", "wrong usage"}, {"3", "a walk left with something outstanding"}} {
		r.line(".TP\n.B %s\n%s", row[0], row[1])
	}
	r.line(".SH ENVIRONMENT")
	for _, row := range [][2]string{
		{"EVENPULL_RECORDS", "folder of the records, where --records names none"},
		{"EVENPULL_SPEAK", "speech program of walks, where --speak names none"},
		{"EVENPULL_BELL", "1 rings the terminal's bell in walks, as --bell does"},
		{"EVENPULL_GAUGE", "units that a gauge sends figures in without one, where --gauge names none: N·m, mm"},
		{"EVENPULL_CACHE", "folder of its own for what spares a long list a replay, or off for none"},
		{"EVENPULL_BACKGROUND", "light or dark: the background of the terminal, which is never asked"},
		{"EVENPULL_ASCII", "1 keeps screens to plain characters, 0 never does"},
		{"NO_COLOR", "not empty: no hues on screens"},
	} {
		r.line(".TP\n.B %s\n%s", escaped(row[0]), escaped(row[1]))
	}
	r.line(".SH FILES")
	for _, row := range [][2]string{
		{"$XDG_DATA_HOME/evenpull/records", "the records, one file a walk, and the ledgers of engines (the platform's own place elsewhere)"},
		{"$XDG_CONFIG_HOME/evenpull/procedures", "your own procedures"},
		{"$XDG_CONFIG_HOME/evenpull/wrenches.toml", "your drawer of wrenches"},
		{"$XDG_CACHE_HOME/evenpull/records.memo", "what the last long list said of each record; may be deleted at any time (the platform's own place elsewhere)"},
	} {
		r.line(".TP\n.I %s\n%s", escaped(row[0]), escaped(row[1]))
	}
}
