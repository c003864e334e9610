package cli

import (
	"bytes"
	"io"
	"strings"

	"github.com/spf13/cobra"
)

// quoteForBash has the script for bash put every word that is offered on the line with
// what bash needs before its spaces and signs. Cobra's own does so for one that is alone;
// of several that begin alike, "stand 2" and "stand 3", it leaves two words.
func quoteForBash(root *cobra.Command) {
	cmd, _, err := root.Find([]string{"completion", "bash"})
	if err != nil || cmd.RunE == nil {
		return
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		plain, err := cmd.Flags().GetBool("no-descriptions")
		var script bytes.Buffer
		if err == nil {
			err = root.GenBashCompletionV2(&script, !plain)
		}
		if err == nil {
			_, err = io.WriteString(root.OutOrStdout(), quoting(script.String()))
		}
		return problem(err)
	}
}

// quoting changes what cobra's script does with words that have no description: names of
// things. The program has held them against what was typed.
func quoting(script string) string {
	before, rest, found := strings.Cut(script, "        # First, escape the completions to handle special characters\n")
	_, after, ended := strings.Cut(rest, "        return 0\n")
	if !found || !ended {
		return script
	}
	return before + `        local offered
        COMPREPLY=()
        for offered in "${completions[@]}"; do
            COMPREPLY+=("$(printf "%q" "$offered")")
        done
        return 0
` + after
}
