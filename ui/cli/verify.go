package cli

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"evenpull/procedures/record"
	"evenpull/procedures/sshsig"
	"evenpull/spec"
)

func (a *app) verifyCommand() *cobra.Command {
	var asJSON bool
	var signersFile string
	cmd := &cobra.Command{
		Use:   "verify RECORD|LEDGER...",
		Short: "Replay records: is the chain whole, is every done earned, who signed?",
		Example: `  evenpull verify last
  evenpull verify engine-380-1
  evenpull verify --json *.jsonl`,
		Args: atLeast(1, "one record or more, or ledgers of engines by their file names"),
		RunE: func(cmd *cobra.Command, args []string) error {
			store, err := a.store()
			if err != nil {
				return err
			}
			known, err := a.signers(signersFile)
			if err != nil {
				return err
			}
			bad := false
			var list []jsonVerified
			var beside record.Beside
			for _, name := range args {
				r := &record.Report{ID: spec.Printable(name)}
				path, err := store.FindAny(name)
				if err == nil {
					r = beside.Verify(path)
				} else {
					r.Problems = []string{err.Error()}
				}
				bad = bad || !r.OK()
				switch {
				case asJSON:
					list = append(list, verifiedJSON(r, known))
				case err != nil:
					fmt.Fprintf(a.Err, "evenpull: %s\n", spec.Printable(a.pointed(err.Error())))
				default:
					a.printReport(r, known)
				}
			}
			if asJSON {
				if err := writeJSON(a.Out, list); err != nil {
					return problem(err)
				}
			}
			if bad {
				return &exit{code: ExitProblem}
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON, with the line of each problem")
	cmd.Flags().StringVar(&signersFile, "signers", "", "`FILE` of allowed signers, as ssh-keygen has it (default: signers in your settings folder)")
	cmd.ValidArgsFunction = arguments(true, a.recordNames)
	return cmd
}

func (a *app) printReport(r *record.Report, known sshsig.Signers) {
	if r.OK() && r.Header.Ledger {
		fmt.Fprintf(a.Out, "%s: whole, a ledger of %s\n", r.ID, countOf(r.Events, "event"))
	} else if r.OK() {
		fmt.Fprintf(a.Out, "%s: whole, %s, %d stages confirmed\n", r.ID, r.State, r.Confirmed)
	}
	for _, s := range r.Signed {
		if s.Holds {
			fmt.Fprintf(a.Out, "%s: %s\n", r.ID, signedBy(s, known))
		}
	}
	if n := r.PicturesKept(); n > 0 {
		fmt.Fprintf(a.Out, "%s: %s as kept\n", r.ID, countOf(n, "picture"))
	}
	for _, p := range r.Problems {
		fmt.Fprintf(a.Out, "%s: %s\n", r.ID, spec.Printable(p))
	}
	for _, n := range r.Notes {
		fmt.Fprintf(a.Out, "%s: note: %s\n", r.ID, spec.Printable(n))
	}
}

// jsonVerified is one record of verify --json.
type jsonVerified struct {
	ID        string   `json:"id"`
	Path      string   `json:"path"` // empty: there is no such record
	OK        bool     `json:"ok"`   // it can be relied on
	State     string   `json:"state"`
	Confirmed int      `json:"confirmed"` // stages
	Chain     string   `json:"chain"`     // whole or broken; empty: it cannot be read
	Line      int      `json:"line"`      // first that cannot be relied on, from 1; 0: none
	FalseDone bool     `json:"false_done"`
	Problems  []string `json:"problems"`
	Notes     []string `json:"notes"`

	Signed     *jsonSigned  `json:"signed"`     // the first that holds; null: nobody has
	Signatures []jsonSigned `json:"signatures"` // all; one that does not hold is among the problems too

	Pictures []jsonPicture `json:"pictures"` // that it names; the record is not the worse for one that is lost
}

// jsonPicture is a picture that is kept beside a record.
type jsonPicture struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
	State  string `json:"state"` // kept, missing, changed, or why it cannot be read
}

// jsonSigned is a signature beside a record.
type jsonSigned struct {
	Holds       bool   `json:"holds"`    // made by this key of this record as it stands
	By          string `json:"by"`       // empty: nobody is named for the key
	KeyType     string `json:"key_type"` // empty: the file is no signature
	Fingerprint string `json:"fingerprint"`
	File        string `json:"file"`            // its name, beside the record
	Fault       string `json:"fault,omitempty"` // why it does not hold
}

func verifiedJSON(r *record.Report, known sshsig.Signers) jsonVerified {
	v := jsonVerified{ID: r.ID, Path: spec.Printable(r.Path), OK: r.OK(), State: string(r.State), Confirmed: r.Confirmed, FalseDone: r.FalseDone, Problems: printable(r.Problems), Notes: printable(r.Notes)}
	if r.Header != nil {
		v.Chain, v.Line = r.Chain.Word(), r.Chain.Line
	}
	v.Pictures = []jsonPicture{}
	for _, k := range r.Pictures {
		state := "kept"
		if k.Lost != nil {
			state = k.Lost.What
		}
		v.Pictures = append(v.Pictures, jsonPicture{k.Name, k.SHA256, state})
	}
	v.Signatures = []jsonSigned{}
	for _, s := range r.Signed {
		v.Signatures = append(v.Signatures, jsonSigned{s.Holds, spec.Printable(known[s.Fingerprint]), s.KeyType, s.Fingerprint, spec.Printable(s.File), spec.Printable(s.Fault)})
	}
	// The one for those who know of one only: the first that holds, else the first that is one.
	for _, holds := range []bool{true, false} {
		if i := slices.IndexFunc(v.Signatures, func(s jsonSigned) bool { return s.KeyType != "" && s.Holds == holds }); i >= 0 && v.Signed == nil {
			v.Signed = &v.Signatures[i]
		}
	}
	return v
}

// printable is never nil, so that JSON shows an empty list.
func printable(texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = spec.Printable(t)
	}
	return out
}
