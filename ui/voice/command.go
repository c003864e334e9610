package voice

import (
	"errors"
	"fmt"
	"io/fs"
	"os/exec"
	"path/filepath"
	"strings"

	"evenpull/spec"
)

// Command is a speech program with its arguments. It gets the sentence as a line
// on its standard input, or in place of {} where an argument has one.
type Command struct{ words []string }

// ReadCommand reads a command line: words apart by spaces, and what stands in
// single or double quotes is one word. No shell is asked, so nothing in it is
// expanded.
func ReadCommand(line string) (Command, error) {
	var words []string
	var word strings.Builder
	quote, begun := rune(0), false
	for _, r := range line {
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote == 0 && (r == '\'' || r == '"'):
			quote, begun = r, true
		case quote == 0 && (r == ' ' || r == '\t'):
			if begun {
				words = append(words, word.String())
			}
			word.Reset()
			begun = false
		default:
			word.WriteRune(r)
			begun = true
		}
	}
	if quote != 0 {
		return Command{}, fmt.Errorf("the speech program %s: a quote is not closed; close it, or leave it out", spec.Printable(line))
	}
	if begun {
		words = append(words, word.String())
	}
	if len(words) == 0 || words[0] == "" {
		return Command{}, errors.New(`no speech program is named; write one like espeak-ng, or like "spd-say {}"`)
	}
	return Command{words}, nil
}

// Program is the name of the program.
func (c Command) Program() string { return spec.Printable(filepath.Base(c.words[0])) }

// find reports why there is no program to start, if so.
func (c Command) find() error {
	_, err := exec.LookPath(c.words[0])
	if errors.Is(err, exec.ErrNotFound) || errors.Is(err, fs.ErrNotExist) {
		err = errors.New("there is no such program here")
	}
	return err
}

// arguments puts a sentence in the place of every {}; in reports that it goes in by
// standard input, since there is none.
func (c Command) arguments(sentence string) (args []string, in bool) {
	in = true
	for _, w := range c.words[1:] {
		in = in && !strings.Contains(w, "{}")
		args = append(args, strings.ReplaceAll(w, "{}", sentence))
	}
	return args, in
}

// start speaks a sentence in a process group of its own, away from the terminal.
func (c Command) start(sentence string) (utterance, error) {
	args, in := c.arguments(sentence)
	cmd := exec.Command(c.words[0], args...)
	if in {
		cmd.Stdin = strings.NewReader(sentence + "\n") // no longer than a pipe holds, read or not
	}
	apart(cmd)
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	p := &process{cmd, make(chan error, 1), make(chan struct{})}
	go p.wait()
	return p, nil
}

// process is a speech program at work.
type process struct {
	cmd    *exec.Cmd
	result chan error
	gone   chan struct{}
}

func (p *process) wait() {
	p.result <- p.cmd.Wait()
	close(p.gone)
}

func (p *process) ended() <-chan error { return p.result }

func (p *process) stop() {
	select {
	case <-p.gone:
	default:
		end(p.cmd)
		<-p.gone
	}
}
