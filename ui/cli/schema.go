package cli

import (
	"embed"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"evenpull/spec"
	"evenpull/spec/near"
)

// schemas are the JSON Schemas (draft 7) of what --json writes, by command.
//
//go:embed schema
var schemas embed.FS

const schemaEnding = ".schema.json"

// schemaTexts gives every schema by its name.
func schemaTexts() map[string]string {
	texts := map[string]string{"procedure": spec.Schema}
	entries, err := schemas.ReadDir("schema")
	if err != nil {
		panic(err) // they are part of the program
	}
	for _, e := range entries {
		text, err := schemas.ReadFile("schema/" + e.Name())
		if err != nil {
			panic(err)
		}
		texts[strings.TrimSuffix(e.Name(), schemaEnding)] = string(text)
	}
	return texts
}

func schemaNames() []string { return slices.Sorted(maps.Keys(schemaTexts())) }

func (a *app) schemaCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "schema [NAME]",
		Short: "JSON Schemas: of the procedure file, for an editor, and of all that --json writes",
		Example: `  evenpull schema
  evenpull schema procedure > procedure.schema.json`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				for _, name := range schemaNames() {
					fmt.Fprintln(a.Out, name)
				}
				return nil
			}
			text, ok := schemaTexts()[args[0]]
			if !ok {
				return problem(fmt.Errorf("there is no schema %q; the nearest is %s", spec.Printable(args[0]), near.Ranked(args[0], schemaNames(), 1)[0]))
			}
			_, err := io.WriteString(a.Out, text)
			return problem(err)
		},
	}
	cmd.ValidArgsFunction = arguments(false, schemaNames)
	return cmd
}
