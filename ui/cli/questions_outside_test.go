//go:build unix && outside

package cli

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"evenpull/ui/internal/term"
)

// The lines of the README that ask a folder of records with other tools are run
// as they stand there, where Debian has the tool.
func TestTheReadmesQuestionsAreAnswered(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	bin, dir := t.TempDir(), t.TempDir()
	if err := os.Symlink(term.Build(t, "evenpull"), filepath.Join(bin, "evenpull")); err != nil {
		t.Fatal(err)
	}
	sh := func(line string) string {
		cmd := exec.Command("sh", "-c", line)
		cmd.Dir, cmd.Env = dir, append(os.Environ(), "EVENPULL_RECORDS="+dir, "PATH="+bin+":"+os.Getenv("PATH"))
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Errorf("%s\n%v\n%s", line, err, out)
		}
		return string(out)
	}
	sh("evenpull demo .")
	want := map[string]string{"jq": "lot 19 (invented)", "sqlite3": "osier-1|done|3"}
	for line := range strings.Lines(string(readme)) {
		for tool, answer := range want {
			if strings.HasPrefix(line, "    ") && strings.Contains(line, tool+" ") {
				if got := sh(line); !strings.Contains(got, answer) {
					t.Errorf("%s gives %q, want %q in it", line, got, answer)
				}
				delete(want, tool)
			}
		}
	}
	if len(want) > 0 {
		t.Errorf("no line for %v", want)
	}
}
