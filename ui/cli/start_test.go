//go:build unix

package cli

import (
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// mostAllocs is what a package of ours may allocate before main begins: a few small
// tables. One pattern that is compiled there takes as many.
const mostAllocs = 40

// What a package does before main begins, every command waits for, each time.
func littleIsDoneBeforeMainBegins(t *testing.T, program string) {
	cmd := exec.Command(program, "convert", "22 N·m")
	cmd.Env = append(os.Environ(), "GODEBUG=inittrace=1")
	var trace strings.Builder
	cmd.Stderr = &trace
	if err := cmd.Run(); err != nil {
		t.Fatal(err)
	}
	seen := 0
	for line := range strings.Lines(trace.String()) {
		// init evenpull/ui/keys @4.6 ms, 0.061 ms clock, 19304 bytes, 211 allocs
		fields := strings.Fields(line)
		if len(fields) < 2 || fields[0] != "init" || !strings.HasPrefix(fields[1], "evenpull/") {
			continue
		}
		seen++
		if n, err := strconv.Atoi(fields[len(fields)-2]); err != nil || n > mostAllocs {
			t.Errorf("%s allocates %d times before main begins (%v), at most %d: make its tables when they are first asked for, and its patterns with spec/pattern", fields[1], n, err, mostAllocs)
		}
	}
	if seen < 10 {
		t.Errorf("only %d packages of ours seen in\n%s", seen, trace.String())
	}
}
