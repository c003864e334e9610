package cli

import (
	"strings"
	"testing"
)

// Every command answers to the name it is listed by, alone and among the others.
func TestEveryCommandAnswersToItsName(t *testing.T) {
	a := &app{}
	for name, make := range a.commands() {
		if cmd := make(); cmd.Name() != name || cmd.Short == "" {
			t.Errorf("%q makes the command %q", name, cmd.Use)
		}
		if got := len(a.root([]string{name}).Commands()); got != 1 {
			t.Errorf("%s: %d commands made, want 1", name, got)
		}
	}
	if all := a.root([]string{"--help"}).Commands(); len(all) != len(a.commands()) {
		t.Errorf("help knows %d commands of %d", len(all), len(a.commands()))
	}
	var help strings.Builder
	root := a.root(nil)
	root.SetOut(&help)
	_ = root.Help()
	for name := range a.commands() {
		if !strings.Contains(help.String(), "\n  "+name+" ") {
			t.Errorf("help does not list %s", name)
		}
	}
}
