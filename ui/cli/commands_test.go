package cli

import (
	"strings"
	"testing"
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
