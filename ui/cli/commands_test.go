package cli

import (
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

// Every command answers to the name it is listed by, alone and among the others.
func TestEveryCommandAnswersToItsName(t *testing.T) {
	a := &app{}
	for _, c := range a.commands() {
		if cmd := c.make(); cmd.Name() != c.name || cmd.Short == "" {
			t.Errorf("%q makes the command %q", c.name, cmd.Use)
		}
		if got := len(a.root([]string{c.name}).Commands()); got != 1 {
			t.Errorf("%s: %d commands made, want 1", c.name, got)
		}
	}
	if all := a.root([]string{"--help"}).Commands(); len(all) != len(a.commands()) {
		t.Errorf("help knows %d commands of %d", len(all), len(a.commands()))
	}
	var help strings.Builder
	root := a.root(nil)
	root.SetOut(&help)
	_ = root.Help()
	for _, c := range a.commands() {
		if !strings.Contains(help.String(), "\n  "+c.name+" ") {
			t.Errorf("help does not list %s", c.name)
		}
	}
}

// Every command has a line to try, and every flag names what it takes.
func TestEveryCommandHasAnExampleAndNamesWhatItTakes(t *testing.T) {
	a := &app{}
	for _, c := range a.commands() {
		cmd := c.make()
		for _, line := range strings.Split(cmd.Example, "\n") {
			if !strings.HasPrefix(line, "  evenpull "+c.name) {
				t.Errorf("%s has the example %q", c.name, line)
			}
		}
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			value, usage := pflag.UnquoteUsage(f)
			if f.Value.Type() != "bool" && value != strings.ToUpper(value) {
				t.Errorf("%s --%s takes a %q: %s", c.name, f.Name, value, usage)
			}
		})
	}
}

// The manual has a page a command, with every flag, and no line of ours is
// taken for a macro.
func TestManualNamesEveryFlag(t *testing.T) {
	a := &app{}
	pages := a.manPages()
	macros := strings.Fields(".TH .SH .B .BR .I .TP .PP .EX .EE")
	for name, text := range pages {
		for _, line := range strings.Split(text, "\n") {
			if macro, _, _ := strings.Cut(line, " "); strings.HasPrefix(line, ".") && !slices.Contains(macros, macro) || strings.HasPrefix(line, "'") {
				t.Errorf("%s: %q", name, line)
			}
		}
	}
	for _, c := range a.commands() {
		page := pages["evenpull-"+c.name+".1"]
		c.make().Flags().VisitAll(func(f *pflag.Flag) {
			if !strings.Contains(page, `\fB`+escaped("--"+f.Name)+`\fR`) {
				t.Errorf("the page of %s does not name --%s", c.name, f.Name)
			}
		})
	}
}
