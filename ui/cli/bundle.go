package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"evenpull/procedures/bundle"
	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/spec"
	"evenpull/ui/report"
)

// bundleFormat is the one format of export that import reads again.
const bundleFormat = "bundle"

// exportBundle packs a record with its signatures, its procedure, its page and
// the picture of its bolt map.
func (a *app) exportBundle(name string, to destination, on report.Paper) error {
	if (to.file == "" || to.file == "-") && isTerminal(a.screen) {
		return usage("a bundle is no text for a terminal; write it to a file: -o FILE.zip")
	}
	store, err := a.store()
	if err != nil {
		return err
	}
	path, err := store.FindAny(name)
	if err != nil {
		return problem(err)
	}
	data, signatures, err := record.Raw(path)
	if err != nil {
		return problem(err)
	}
	r := record.Verify(path)
	var pictures []bundle.Part
	if r.Header == nil || !r.Header.Ledger {
		if pictures, err = a.drawings(path, on); err != nil {
			return err
		}
	}
	photos, left := bundle.Photos(r)
	for _, text := range left {
		fmt.Fprintf(a.Err, "notice: not in the bundle: %s\n", spec.Printable(text))
	}
	pictures = append(pictures, photos...)
	return a.deliver(to, func(w io.Writer) error { return bundle.Write(w, path, data, signatures, pictures) })
}

// drawings are the page of a record and its bolt map.
func (a *app) drawings(path string, on report.Paper) (parts []bundle.Part, err error) {
	s, err := a.sheet(path)
	if err != nil {
		return nil, err
	}
	for _, p := range []struct{ name, format string }{{"page.html", "html"}, {"map.svg", "svg"}} {
		var b bytes.Buffer
		if err := report.Formats[p.format](&b, s, on); err != nil {
			return nil, problem(err)
		}
		parts = append(parts, bundle.Part{Name: p.name, Data: b.Bytes()})
	}
	return parts, nil
}

// readBundle reads a file and checks it. A pipe or a device could go on for ever.
func readBundle(path string) (*bundle.Bundle, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, fmt.Errorf("it cannot be read: %w; check the path", bare(err))
	case !info.Mode().IsRegular() || info.Size() > bundle.MaxBytes:
		return nil, errors.New("it is no bundle; give a file made with: evenpull export RECORD --format bundle")
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("it cannot be read: %w; check the path", bare(err))
	}
	return bundle.Read(data)
}

func (a *app) importCommand() *cobra.Command {
	var (
		signersFile string
		catchUp     bool
	)
	cmd := &cobra.Command{
		Use:   "import FILE",
		Short: "Take in a record, or an engine's ledger, from a bundle: checked first, never over one that is here",
		Example: `  evenpull import closed.zip
  evenpull import ledger.zip --catch-up      the engine was worked on elsewhere since`,
		Args: exactly(1, "one file made with export --format bundle"),
		RunE: func(cmd *cobra.Command, args []string) error {
			known, err := a.signers(signersFile)
			if err != nil {
				return err
			}
			store, err := a.store()
			if err != nil {
				return err
			}
			b, err := readBundle(args[0])
			if err != nil {
				return problem(fmt.Errorf("%s: %w", spec.Printable(args[0]), err))
			}
			id, h := b.Report.Header.ID, b.Report.Header
			add, see := store.Add, shell.Line("show", []string{id})
			if h.Ledger {
				add, see = store.AddLedger, shell.Line("engine", []string{h.Engine})
			}
			taken, err := add(id, b.Record, b.Signatures, catchUp)
			if err != nil {
				return problem(err)
			}
			a.printReport(b.Report, known)
			back := 0
			for _, p := range b.Photos {
				if !record.HasPicture(store.Dir, p.Photo) {
					back++
				}
				if err := store.KeepPicture(p.Photo, p.Data); err != nil {
					return problem(err)
				}
			}
			if back > 0 {
				fmt.Fprintf(a.Err, "%s put beside it\n", countOf(back, "picture"))
			}
			switch see = a.pointed(see); taken {
			case record.Here:
				fmt.Fprintf(a.Err, "%s is here already, byte for byte\n", id)
			case record.Behind:
				fmt.Fprintf(a.Err, "%s is here already and has gone on since; see it with: %s\n", id, see)
			case record.CaughtUp:
				fmt.Fprintf(a.Err, "%s went on with what it lacked; see it with: %s\n", id, see)
			case record.Added:
				fmt.Fprintf(a.Err, "imported %s; see it with: %s\n", id, see)
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&signersFile, "signers", "", "`FILE` of allowed signers, as ssh-keygen has it (default: signers in your settings folder)")
	cmd.Flags().BoolVar(&catchUp, "catch-up", false, "let a record that is here, and begins like this one, go on with what it lacks")
	return cmd
}
