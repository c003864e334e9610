package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/report"
)

func (a *app) recordsCommand() *cobra.Command {
	var asJSON bool
	var p picking
	var to destination
	cmd := &cobra.Command{
		Use:   "records",
		Short: "List the records, newest first: all, or those that a filter or a word picks",
		Example: `  evenpull records
  evenpull records --engine 380-1 --state open
  evenpull records --search "batch 4471" --since 2026-01-01
  evenpull records --newest 20 --json
  evenpull records -o records.json`,
		Args: exactly(0, "nothing"),
		RunE: func(cmd *cobra.Command, args []string) error {
			kind, err := to.kind("json")
			if err != nil {
				return err
			}
			store, err := a.store()
			if err != nil {
				return err
			}
			filter, err := p.filter()
			if err != nil {
				return problem(err)
			}
			list, err := store.Recall(a.cacheDir(), filter)
			if err != nil {
				return problem(err)
			}
			return a.deliver(to, func(out io.Writer) error {
				if asJSON || kind == "json" {
					return writeJSON(out, jsonRecords(list))
				}
				return a.onto(out).tabulate(list, filter != record.Filter{})
			})
		},
	}
	p.flags(cmd)
	to.flags(cmd)
	completeFlags(cmd, map[string]offer{"engine": a.tags, "state": stateNames})
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return cmd
}

type jsonRecord struct {
	ID        string `json:"id"`
	Procedure string `json:"procedure"`
	Engine    string `json:"engine"`
	Place     string `json:"place,omitempty"` // which of two of a kind on the engine
	State     string `json:"state"`
	Started   string `json:"started"`
	Confirmed int    `json:"confirmed"`
	Stages    int    `json:"stages"`
	Problem   string `json:"problem,omitempty"`
}

func jsonRecords(list []record.Summary) []jsonRecord {
	rows := []jsonRecord{}
	for _, s := range list {
		rows = append(rows, jsonRecord{ID: s.ID, Procedure: s.Procedure, Engine: s.Engine, Place: s.Place, State: string(s.State), Started: s.Started.Format("2006-01-02T15:04:05Z07:00"), Confirmed: s.Confirmed, Stages: s.Stages, Problem: s.Problem})
	}
	return rows
}

func (a *app) tabulate(list []record.Summary, picked bool) error {
	if len(list) == 0 && picked {
		fmt.Fprintln(a.Err, a.pointed("no record is like that; see all of them with: evenpull records"))
		return nil
	}
	if len(list) == 0 {
		fmt.Fprintln(a.Err, a.pointed("no records yet; start one with: evenpull walk crankcase-close"))
		return nil
	}
	out := bufio.NewWriterSize(a.Out, 64<<10) // the tab writer writes each cell by itself
	w := tabwriter.NewWriter(out, 0, 8, 2, ' ', 0)
	fmt.Fprintln(w, "RECORD\tSTATE\tENGINE\tSTAGES\tPROCEDURE")
	for _, s := range list {
		what := s.Procedure
		if s.Problem != "" {
			what = s.Problem
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%d/%d\t%s\n", s.ID, s.State, spec.Printable(placed(s.Engine, s.Place)), s.Confirmed, s.Stages, spec.Printable(what))
	}
	return errors.Join(w.Flush(), out.Flush())
}

// sheet reads and replays one record.
func (a *app) sheet(name string) (report.Sheet, error) {
	in, err := a.recorded(name)
	if err != nil {
		return report.Sheet{}, err
	}
	return report.New(in), nil
}

// recorded reads and replays one record.
func (a *app) recorded(name string) (report.Input, error) {
	store, err := a.store()
	if err != nil {
		return report.Input{}, err
	}
	path, err := store.FindAny(name)
	if err != nil {
		return report.Input{}, problem(err)
	}
	f, err := record.Read(path)
	if err != nil {
		return report.Input{}, problem(err)
	}
	state, findings, err := f.Replay()
	if err != nil {
		return report.Input{}, problem(err)
	}
	in := report.Input{
		ID: f.ID(), Engine: f.Header.Engine, Place: f.Header.Place, Source: f.Header.Source, SHA256: f.Header.SHA256, Program: f.Header.Program, Closing: f.Closing, Started: f.Header.Started,
		Whole: (f.Chain.Whole() || f.Chain.Torn) && f.TextHashHolds(), State: state, Findings: findings, Now: a.Now(),
		Picture: func(p walk.Photo) ([]byte, error) { return record.Picture(filepath.Dir(path), p) },
	}
	if text, edited := state.Sheet(); edited {
		in.SHA256 = record.TextHash(text)
		in.Notes = append(in.Notes, "its sheet was edited while it was walked; it was begun by the text of SHA-256 "+f.Header.SHA256)
	}
	if f.Chain.Torn {
		in.Notes = append(in.Notes, "the last line was cut off while it was being written and does not count")
	}
	in.Notes = append(in.Notes, a.signatureNotes(path)...)
	if !in.Whole {
		in.Broken = f.Chain.String()
	}
	return in, nil
}

func (a *app) showCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "show RECORD",
		Short: "What a record says was done",
		Example: `  evenpull show last
  evenpull show 2026-11-25-stand-2-close-the-crankcase-1 --json`,
		Args: exactly(1, "one record: its id, the start of it, a file, or last"),
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := a.sheet(args[0])
			if err != nil {
				return err
			}
			if asJSON {
				return problem(report.WriteJSON(a.Out, s))
			}
			return problem(report.WriteText(a.Out, s))
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	cmd.ValidArgsFunction = arguments(false, a.recordNames)
	return cmd
}
