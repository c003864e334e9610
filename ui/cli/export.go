package cli

import (
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"evenpull/spec"
	"evenpull/ui/report"
)

// endings name the format of a file by its ending.
var endings = map[string]string{".txt": "text", ".html": "html", ".htm": "html", ".svg": "svg", ".csv": "csv", ".json": "json", ".zip": bundleFormat}

func (a *app) exportCommand() *cobra.Command {
	var format, paper string
	var to destination
	cmd := &cobra.Command{
		Use:   "export RECORD|LEDGER",
		Short: "A record as a printed page to sign, its bolt map, a table, data, or a bundle of all",
		Example: `  evenpull export last -o closed.html
  evenpull export last --format html --paper letter -o closed.html
  evenpull export last -o map.svg
  evenpull export last -o closed.zip
  evenpull export engine-380-1 -o ledger.zip`,
		Args: exactly(1, "one record"),
		RunE: func(cmd *cobra.Command, args []string) error {
			name, err := formatOf(format, to.file)
			if err != nil {
				return err
			}
			on, err := paperOf(paper)
			if err != nil {
				return err
			}
			if name == bundleFormat {
				return a.exportBundle(args[0], to, on)
			}
			s, err := a.sheet(args[0])
			if err != nil {
				return err
			}
			return a.deliver(to, func(w io.Writer) error { return report.Formats[name](w, s, on) })
		},
	}
	cmd.Flags().StringVar(&format, "format", "", "`FORMAT`: "+formats()+" (default: by the name of the file, else text)")
	paperFlag(cmd, &paper)
	to.flags(cmd)
	cmd.ValidArgsFunction = arguments(false, a.recordNames)
	completeFlags(cmd, map[string]offer{"format": formatNames, "paper": paperNames})
	return cmd
}

func paperFlag(cmd *cobra.Command, paper *string) {
	cmd.Flags().StringVar(paper, "paper", "a4", "`PAPER` that an HTML page is laid out for: a4 or letter")
}

func paperOf(name string) (report.Paper, error) {
	on, err := report.PaperCalled(name)
	if err != nil {
		return on, usage("%s", err)
	}
	return on, nil
}

// formats lists what there is, text first.
func formats() string {
	names := []string{bundleFormat}
	for name := range report.Formats {
		if name != "text" {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return strings.Join(append([]string{"text"}, names...), ", ")
}

// formatOf is the format asked for, or the one the name of the file says.
func formatOf(asked, file string) (string, error) {
	if asked == "" {
		asked = "text"
		if ending := strings.ToLower(filepath.Ext(file)); ending != "" && file != "-" {
			var known bool
			if asked, known = endings[ending]; !known {
				return "", usage("what to write is not told by %q; say it with --format: %s", spec.Printable(filepath.Base(file)), formats())
			}
		}
	}
	if _, ok := report.Formats[asked]; !ok && asked != bundleFormat {
		return "", usage("format %q is not known; use one of: %s", spec.Printable(asked), formats())
	}
	return asked, nil
}
