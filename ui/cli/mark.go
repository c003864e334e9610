package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/words"
)

func (a *app) markCommand() *cobra.Command {
	var m engine.Marking
	cmd := &cobra.Command{
		Use:   "mark TAG THING|NEW NAME arrived|sent WORK|back|cleaned|gone|corrected FACTS",
		Short: "Say what became of a part between strip-down and close-up",
		Example: `  evenpull mark 380-1 crank-shim arrived --number "batch 4471"
  evenpull mark 380-1 crankshaft sent balancing --to "the balancer in town"
  evenpull mark 380-1 crankshaft back
  evenpull mark 380-1 crankshaft cleaned
  evenpull mark 380-1 guide-plate gone --because "superseded"
  evenpull mark 380-1 B3 corrected good, box 3 --because "it was the straightedge"
  evenpull mark 380-1 NEW "upper case half" sent coating
  evenpull mark 380-1 NEW "thin washer" found good, box 3`,
		Args: atLeast(3, "a tag, a thing and what became of it: arrived, sent WORK, back, cleaned, gone or corrected FACTS"),
		RunE: func(cmd *cobra.Command, args []string) error {
			tag := args[0]
			if m.New = args[1] == "NEW"; m.New {
				if args = args[1:]; len(args) < 3 {
					return usage("a new thing has a name, and what became of it: mark TAG NEW \"upper case half\" sent coating")
				}
			}
			m.Thing = strings.TrimSpace(args[1])
			rest := strings.TrimSpace(strings.Join(args[3:], " "))
			if err := fillMarking(&m, strings.ToLower(args[2]), rest); err != nil {
				return err
			}
			return a.mark(tag, m)
		},
	}
	cmd.Flags().StringVar(&m.Number, "number", "", "arrived: part or batch `NUMBER`")
	cmd.Flags().IntVar(&m.Count, "count", 0, "arrived: how many, a `COUNT` (default: all that were missing)")
	cmd.Flags().StringVar(&m.To, "to", "", "sent: to `WHOM`")
	cmd.Flags().StringVar(&m.Place, "place", "", "`WHICH` of two of a kind it came off: \"front head\"")
	cmd.Flags().StringVar(&m.Because, "because", "", "gone, corrected: `REASON`")
	cmd.ValidArgsFunction = arguments(false, a.tags, nil, markWords)
	return cmd
}

// fillMarking reads the words after the thing.
func fillMarking(m *engine.Marking, word, rest string) error {
	for _, kind := range engine.Marks {
		if string(kind) == word {
			m.Kind = kind
		}
	}
	if m.New && word == string(walk.Found) {
		m.Kind = walk.Found
	}
	switch m.Kind {
	case "":
		return usage("%q is no mark; write arrived, sent WORK, back, cleaned, gone or corrected FACTS", spec.Printable(word))
	case record.Sent:
		m.Work = rest
	case record.Corrected, walk.Found:
		facts, because, err := words.FactsIn(rest)
		if err != nil {
			return problem(err)
		}
		if m.Facts = facts; m.Because == "" {
			m.Because = because
		}
	default:
		if rest != "" {
			return usage("%s takes nothing after it, and %q was given; a thing of several words goes in quotes", word, spec.Printable(rest))
		}
	}
	return nil
}

func (a *app) mark(tag string, m engine.Marking) error {
	store, err := a.store()
	if err != nil {
		return err
	}
	err = a.enter(store, tag, func(e engine.Engine) ([]walk.Event, error) {
		if err := notEmpty(e); err != nil {
			return nil, err
		}
		return e.Marked(m)
	})
	if err == nil {
		fmt.Fprintf(a.Err, "recorded: %s %s\n", spec.Printable(m.Thing), m.Kind)
	}
	return err
}
