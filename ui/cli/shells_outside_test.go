//go:build unix && outside

package cli

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"evenpull/procedures/shell"
	"evenpull/ui/internal/term"
)

// oddTags are engine tags as a person may write them, and a shell would take apart.
var oddTags = []string{"stand 2", `stand 2's "big" one`, "b$x: 3", "jo's stand", `one\two`, "-dash", "*", "µ & co; ~"}

// shellBench is a folder with a walk for each odd tag, and a home with the program on the path.
func shellBench(t *testing.T) (home string, env []string) {
	t.Helper()
	home = t.TempDir()
	bin, records := filepath.Join(home, "bin"), filepath.Join(home, "records")
	if err := os.MkdirAll(filepath.Join(home, "zsh"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(bin, 0o700); err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(bin, "evenpull")
	if err := os.Symlink(term.Build(t, "evenpull"), program); err != nil {
		t.Fatal(err)
	}
	env = []string{"PATH=" + bin + ":" + os.Getenv("PATH"), "EVENPULL_RECORDS=" + records, "EVENPULL_CACHE=off"}
	for _, tag := range oddTags {
		cmd := exec.Command(program, "walk", "flywheel-nut", "--plain", "--engine="+tag)
		cmd.Env, cmd.Stdin = append(os.Environ(), env...), strings.NewReader("quit\n")
		if out, err := cmd.CombinedOutput(); cmd.ProcessState.ExitCode() != ExitOutstanding {
			t.Fatalf("%v: %s", err, out)
		}
	}
	for name, file := range map[string]string{"bash": "evenpull.bash", "zsh": "zsh/_evenpull", "fish": "evenpull.fish"} {
		cmd := exec.Command(program, "completion", name)
		script, err := cmd.Output()
		if err == nil {
			err = os.WriteFile(filepath.Join(home, file), script, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	for file, text := range map[string]string{
		"bashrc":     "PS1='ready> '\nsource /usr/share/bash-completion/bash_completion\nsource ~/evenpull.bash\n",
		"zsh/.zshrc": "PS1='ready> '\nfpath=(~/zsh $fpath)\nautoload -Uz compinit && compinit -u -d ~/zsh/dump\n",
		"setup.fish": "source ~/evenpull.fish\nfunction fish_prompt; echo -n 'ready> '; end\nfunction fish_greeting; end\n",
	} {
		if err := os.WriteFile(filepath.Join(home, file), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return home, env
}

// In each shell the Tab key puts a procedure, a record and a tag on the line, so that the
// command gets it as one word.
func TestTheTabKeyOffersNamesInShells(t *testing.T) {
	home, env := shellBench(t)
	records, err := filepath.Glob(filepath.Join(home, "records", "*stand-2-s-big*.jsonl"))
	if err != nil || len(records) != 1 {
		t.Fatal(records, err)
	}
	id := strings.TrimSuffix(filepath.Base(records[0]), ".jsonl")
	for name, args := range map[string][]string{
		"bash": {"bash", "--noprofile", "--rcfile", home + "/bashrc", "-i"},
		"zsh":  {"zsh", "-i"},
		"fish": {"fish", "--no-config", "--init-command", "source " + home + "/setup.fish"},
	} {
		t.Run(name, func(t *testing.T) {
			lines := map[string]string{
				"evenpull plan crankcase-cl":            "37  F1",
				"evenpull verify " + id[:len(id)-3]:     id + ": whole",
				"evenpull engine b":                     "engine b$x: 3",
				"evenpull engine sta":                   "last: Fit the flywheel", // of two as far as they are alike, which is one's name
				"evenpull engine jo":                    "engine jo's stand",
				"evenpull walk flywheel-nut --engine µ": "of engine µ & co; ~ for this",
			}
			if name != "fish" { // its script, which is cobra's, takes a backslash for part of the word
				lines[`evenpull engine stand\ 2\'`] = `engine stand 2's "big" one`
			}
			for typed, says := range lines {
				s := term.Start(t, term.Options{Cols: 120, Rows: 60, Home: home, Answer: true, Env: append([]string{"ZDOTDIR=" + home + "/zsh"}, env...)}, args[0], args[1:]...)
				s.WaitText("ready>")
				s.Type(typed)
				s.WaitText(typed)
				s.Press("tab")
				s.WaitFor("more on the line", func(screen string) bool {
					_, line, _ := strings.Cut(screen, "ready> ")
					line, _, _ = strings.Cut(line, "\n")
					return len(strings.TrimSpace(line)) > len(typed)
				})
				if strings.Contains(typed, " walk ") {
					s.Type("--plain </dev/null")
				}
				s.Press("enter")
				s.WaitText(says)
			}
		})
	}
}

// A command line to go on with, pasted into any of these shells, names the same engine.
func TestLinesToGoOnWithCanBePastedIntoShells(t *testing.T) {
	_, env := shellBench(t)
	for _, name := range []string{"sh", "bash", "zsh", "fish"} {
		for _, tag := range oddTags {
			cmd := exec.Command(name, "-c", shell.Line("engine", []string{tag}))
			cmd.Env = append(os.Environ(), env...)
			if out, err := cmd.CombinedOutput(); err != nil || !strings.Contains(string(out), "engine "+tag+"\n") {
				t.Errorf("%s: %s: %v\n%s", name, shell.Line("engine", []string{tag}), err, out)
			}
		}
	}
}
