package cli

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
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
	var photo string
	cmd := &cobra.Command{
		Use:   "mark TAG THING...|NEW NAME... wanted|ordered|arrived|cancelled|sent WORK|back|cleaned|gone|corrected FACTS|noted TEXT|photo FILE",
		Short: "Say what became of a part between strip-down and close-up",
		Example: `  evenpull mark 380-1 crank-shim "cover gasket" ordered --from "the parts counter" --price "12.50 EUR each"
  evenpull mark 380-1 crank-shim arrived --number "batch 4471"
  evenpull mark 380-1 NEW "grinding paste" wanted --count 1
  evenpull mark 380-1 crankshaft sent balancing --to "the balancer in town"
  evenpull mark 380-1 crankshaft back --price "80 EUR"
  evenpull mark 380-1 crankshaft cleaned
  evenpull mark 380-1 guide-plate gone --because "superseded"
  evenpull mark 380-1 B3 corrected good, box 3 --because "it was the straightedge"
  evenpull mark 380-1 NEW "upper case half" sent coating
  evenpull mark 380-1 NEW "thin washer" found good, box 3
  evenpull mark 380-1 crankshaft noted "thread at the flywheel end is tender"
  evenpull mark 380-1 crankshaft back --photo journal.jpg --caption "second journal, polished"
  evenpull mark 380-1 whole photo engine.jpg`,
		Args: atLeast(3, "a tag, a thing and what became of it: "+markList),
		RunE: func(cmd *cobra.Command, args []string) error {
			tag := args[0]
			if m.New = args[1] == "NEW"; m.New {
				if args = args[1:]; len(args) < 3 {
					return usage("a new thing has a name, and what became of it: mark TAG NEW \"upper case half\" sent coating")
				}
			}
			at := markAt(m.New, args)
			rest := strings.TrimSpace(strings.Join(args[at+1:], " "))
			if err := fillMarking(&m, strings.ToLower(args[at]), rest); err != nil {
				return err
			}
			for _, flag := range slices.Sorted(maps.Keys(markFlags)) {
				kinds := markFlags[flag]
				if cmd.Flags().Changed(flag) && !slices.Contains(kinds, m.Kind) && !(m.New && flag == "because") {
					return usage("--%s says nothing of what is %s; it goes with: %s", flag, m.Kind, kindList(kinds))
				}
			}
			if m.Kind == walk.Pictured {
				if photo != "" && rest != "" {
					return usage("two photos are named, %s and %s; one at a time", spec.Printable(rest), spec.Printable(photo))
				}
				photo = cmp.Or(rest, photo)
			}
			if m.Caption != "" && photo == "" {
				return usage("--caption is of a photo, and none is given; add --photo FILE")
			}
			return a.mark(tag, args[1:at], m, photo)
		},
	}
	cmd.Flags().StringVar(&m.Number, "number", "", "arrived: part or batch `NUMBER`")
	cmd.Flags().IntVar(&m.Count, "count", 0, "wanted, ordered, arrived: how many, a `COUNT` (default: all that are missing)")
	cmd.Flags().StringVar(&m.From, "from", "", "ordered, arrived: from `WHOM`")
	cmd.Flags().StringVar(&m.Price, "price", "", "ordered, arrived, back: `PRICE` with its currency, of several \"… each\" or \"… in all\"")
	cmd.Flags().StringVar(&m.To, "to", "", "sent: to `WHOM`")
	cmd.Flags().StringVar(&m.Place, "place", "", "`WHICH` of two of a kind it came off: \"front head\"")
	cmd.Flags().StringVar(&photo, "photo", "", "copy a picture of it next to the records: `FILE`")
	cmd.Flags().StringVar(&m.Caption, "caption", "", "`TEXT` of what the photo shows")
	cmd.Flags().StringVar(&m.Because, "because", "", "wanted, cancelled, gone, corrected, found: `REASON`")
	cmd.ValidArgsFunction = arguments(false, a.tags, nil, markWords)
	return cmd
}

// markFlags are the flags that go with some marks alone: with another one, what they
// say would be lost.
var markFlags = map[string][]walk.Kind{
	"number":  {record.Arrived},
	"count":   {record.Wanted, record.Ordered, record.Arrived},
	"from":    {record.Ordered, record.Arrived},
	"price":   {record.Ordered, record.Arrived, record.Back},
	"to":      {record.Sent},
	"because": {record.Wanted, record.Cancelled, record.Gone, record.Corrected, walk.Found},
}

func kindList(kinds []walk.Kind) string {
	words := make([]string, len(kinds))
	for i, k := range kinds {
		words[i] = string(k)
	}
	return strings.Join(words, ", ")
}

const markList = "wanted, ordered, arrived, cancelled, sent WORK, back, cleaned, gone, corrected FACTS, noted TEXT or photo FILE"

// markAt finds the word that says what became of the things named before it.
func markAt(isNew bool, args []string) int {
	for i, word := range args {
		kind := walk.Kind(strings.ToLower(word))
		if i >= 2 && (slices.Contains(engine.Marks, kind) || isNew && kind == walk.Found) {
			return i
		}
	}
	return 2
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
		return usage("%q is no mark; write "+markList, spec.Printable(word))
	case record.Sent:
		m.Work = rest
	case walk.Noted:
		m.Note = rest
	case walk.Pictured: // its file
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

// mark writes what became of things, and the picture of them when one is named.
func (a *app) mark(tag string, things []string, m engine.Marking, photo string) error {
	for i := range things {
		things[i] = strings.TrimSpace(things[i])
	}
	store, err := a.store()
	if err != nil {
		return err
	}
	pictures := store.Pictures()
	if photo != "" || m.Kind == walk.Pictured {
		if m.Photo, err = pictures.Look(photo); err != nil {
			return problem(err)
		}
	}
	var events []walk.Event
	var e engine.Engine
	err = a.enterWith(store, tag, pictures, func(now engine.Engine) ([]walk.Event, error) {
		err := notEmpty(now)
		if err == nil {
			e = now
			events, err = e.MarkedEach(things, m)
		}
		return events, err
	})
	if err != nil {
		return err
	}
	for _, ev := range events {
		if ev.Kind == m.Kind {
			fmt.Fprintf(a.Err, "recorded: %s\n", spec.Printable(markedLine(e.NameOf(ev, events), ev)))
		}
	}
	return nil
}

// markedLine says what was recorded: "4 × gasket ordered", "rear head: cylinder head back".
func markedLine(name string, ev walk.Event) string {
	text := fmt.Sprintf("%s %s", name, ev.Kind)
	if n := ev.Facts["count"]; n != "" {
		text = n + " × " + text
	}
	return text
}
