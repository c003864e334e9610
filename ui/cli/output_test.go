package cli

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"
	"time"
)

// fullDisk takes nothing.
type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

func TestAResultThatCannotBeWrittenIsAProblem(t *testing.T) {
	t.Setenv("XDG_DATA_HOME", t.TempDir())
	for _, args := range [][]string{
		{"convert", "25 Nm"}, {"convert", "25 Nm", "--json"}, {"check", "crankcase-close"}, {"plan", "rod-bolts"}, {"--help"},
		{"clamp", "M8", "--class", "8.8", "--torque", "20 Nm"}, {"completion", "zsh"},
	} {
		var said bytes.Buffer
		code := Run(args, Env{In: strings.NewReader(""), Out: fullDisk{}, Err: &said, Now: time.Now, Getenv: os.Getenv})
		if code != ExitProblem || strings.Count(said.String(), "no space left") != 1 {
			t.Errorf("%v: exit %d, said %q, want exit 1 and the reason once", args, code, said.String())
		}
	}
}
