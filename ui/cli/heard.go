package cli

import (
	"io"
	"time"

	"github.com/spf13/cobra"

	"evenpull/ui/voice"
)

// hearing is by what a walk is heard, as it was given.
type hearing struct {
	speak string
	bell  bool
	asked bool // for the bell, on the command line
}

// flags adds --speak and --bell, which the environment may give as well.
func (h *hearing) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&h.speak, "speak", "", "speech program, as a `COMMAND` that gets each sentence on standard input, or in place of {} (default: $EVENPULL_SPEAK)")
	cmd.Flags().BoolVar(&h.bell, "bell", false, "ring the terminal's bell: once for what is recorded, twice for a refusal, three times for a clock (default: $EVENPULL_BELL=1)")
	completeFlags(cmd, map[string]offer{"speak": these("espeak-ng", "say", "spd-say {}")})
}

// set takes from the environment what no flag has said.
func (h hearing) set(a *app, changed func(flag string) bool) hearing {
	if !changed("speak") {
		h.speak = a.setting("EVENPULL_SPEAK")
	}
	if h.asked = changed("bell"); !h.asked {
		h.bell = a.setting("EVENPULL_BELL") == "1"
	}
	return h
}

// noFlags is for screens that no command line was given for.
func noFlags(string) bool { return false }

func (a *app) setting(name string) string {
	if a.Getenv == nil {
		return ""
	}
	return a.Getenv(name)
}

// lastWords is how long the end of a plain walk waits for its last sentence.
const lastWords = 10 * time.Second

// ear is what a walk is heard by; quiet ends it, at once or when what is being said
// has been said.
func (a *app) ear(h hearing) (e voice.Ear, quiet func(within time.Duration), err error) {
	quiet = func(time.Duration) {}
	if h.bell {
		switch terminal := a.bellOf(); {
		case terminal != nil:
			e.Ring = voice.NewBell(terminal).Ring
		case h.asked:
			return e, quiet, usage("--bell rings the bell of a terminal, and neither the output nor the error output is one; leave it out")
		}
	}
	if h.speak != "" {
		c, err := voice.ReadCommand(h.speak)
		if err != nil {
			return e, quiet, usage("%s", err)
		}
		s := voice.NewSpeaker(c)
		e.Say, e.Trouble, quiet = s.Say, s.Trouble(), s.Close
	}
	return e, quiet, nil
}

// bellOf is the terminal whose bell is rung: where the walk is shown, or else where
// messages go. It is nil when there is none.
func (a *app) bellOf() io.Writer {
	for _, w := range []io.Writer{a.screen, a.Err} {
		if isTerminal(w) {
			return w
		}
	}
	return nil
}
