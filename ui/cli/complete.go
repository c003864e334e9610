package cli

import (
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"evenpull/procedures/engine"
	"evenpull/spec/bolt"
	"evenpull/spec/clamp"
	"evenpull/spec/quantity"
	"evenpull/ui/report"
)

// What the Tab key offers. Nothing here reports a problem: there is nobody to
// read it, and no offer is offer enough.

// offer gives the words there are for one argument.
type offer func() []string

// arguments offers words for the arguments of a command in turn; the last offer
// goes for all that follow when more is true. Where there is no offer, or none
// fits, the shell offers files.
func arguments(more bool, offers ...offer) cobra.CompletionFunc {
	return func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		n := len(args)
		if more {
			n = min(n, len(offers)-1)
		}
		if n >= len(offers) || offers[n] == nil {
			return nil, cobra.ShellCompDirectiveDefault
		}
		return begun(offers[n](), typed), cobra.ShellCompDirectiveKeepOrder
	}
}

// begun keeps the words that start as typed, in any case of letters. The order
// is ours: bundled procedures by the work, records newest first.
func begun(words []string, typed string) []string {
	var kept []string
	for _, w := range words {
		if len(w) >= len(typed) && strings.EqualFold(w[:len(typed)], typed) {
			kept = append(kept, w)
		}
	}
	return kept
}

// completeFlags offers words for flags. A flag that a command does not have is a
// mistake in the program.
func completeFlags(cmd *cobra.Command, offers map[string]offer) {
	for name, words := range offers {
		err := cmd.RegisterFlagCompletionFunc(name, func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
			return begun(words(), typed), cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveKeepOrder
		})
		if err != nil {
			panic(err)
		}
	}
}

func these(words ...string) offer { return func() []string { return words } }

func (a *app) procedureNames() []string { return a.library().Names() }

func (a *app) recordNames() []string {
	store, err := a.store()
	if err != nil {
		return nil
	}
	ids, err := store.IDs()
	if err != nil || len(ids) == 0 {
		return nil
	}
	slices.Reverse(ids)
	return append([]string{"last"}, ids...)
}

func (a *app) tags() []string {
	store, err := a.store()
	if err != nil {
		return nil
	}
	tags, err := store.Tags()
	if err != nil {
		return nil
	}
	return tags
}

// markWords are what can become of a thing.
func markWords() []string {
	var words []string
	for _, kind := range engine.Marks {
		words = append(words, string(kind))
	}
	return words
}

// drawerNames gives the wrenches or the adapters of the drawer.
func (a *app) drawerNames(t *tools, adapters bool) offer {
	return func() []string {
		quiet := *a
		quiet.Err = new(strings.Builder)
		d, err := quiet.readDrawer(t.file)
		if err != nil {
			return nil
		}
		var names []string
		for _, w := range d.Wrenches {
			if !adapters {
				names = append(names, w.Name)
			}
		}
		for _, x := range d.Adapters {
			if adapters {
				names = append(names, x.Name)
			}
		}
		return names
	}
}

func unitNames() []string {
	var names []string
	for _, units := range [][]quantity.Unit{quantity.AllUnits()} {
		for _, u := range units {
			names = append(names, u.Symbol())
		}
	}
	return names
}

func paperNames() []string { return []string{"a4", "letter"} }

func formatNames() []string { return append(slices.Sorted(maps.Keys(report.Formats)), bundleFormat) }

// completeClamp offers the names that clamp reads.
func (a *app) completeClamp(cmd *cobra.Command) {
	cmd.ValidArgsFunction = arguments(false, bolt.ThreadNames)
	completeFlags(cmd, map[string]offer{
		"class": bolt.ClassNames, "friction": clamp.FrictionNames, "bench": clamp.FrictionNames, "parts": bolt.MaterialNames, "into": bolt.MaterialNames, "bolt-material": bolt.MetalNames,
		"tool": clamp.ToolNames, "head": these("hexagon", "socket", "flange"), "edition": these("2001", "1986"),
		"form":      clamp.FormNames,
		"procedure": a.procedureNames,
	})
}

// completeTools offers the names in the drawer.
func (a *app) completeTools(cmd *cobra.Command, t *tools) {
	completeFlags(cmd, map[string]offer{"wrench": a.drawerNames(t, false), "adapter": a.drawerNames(t, true)})
}
