//go:build unix

package cli

import (
	"testing"

	"evenpull/ui/internal/term"
)

// What only the program as it is built for people can show: other tests start this test
// binary as the program, which needs no building.
func TestTheProgramAsItIsBuilt(t *testing.T) {
	t.Parallel()
	program := term.Build(t, "evenpull")
	for name, test := range map[string]func(*testing.T, string){
		"no socket can be opened, no template carried out":      noSocketAndNoTemplate,
		"no package does much before main begins":               littleIsDoneBeforeMainBegins,
		"the first frame asks the terminal nothing":             firstFrameAsksTheTerminalNothing,
		"a piped procedure is answered from the terminal alone": pipedProcedureIsAnsweredFromTheTerminal,
	} {
		t.Run(name, func(t *testing.T) { test(t, program) })
	}
}
