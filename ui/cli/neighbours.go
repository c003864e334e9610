package cli

import (
	"fmt"
	"math"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"evenpull/procedures/clamping"
	"evenpull/spec"
	"evenpull/ui/estimate"
	"evenpull/ui/theme"
)

// The map on paper: a width that prints, a height that a joint needs.
const (
	mapWidth  = 72
	mapHeight = 15
)

func (a *app) clampProcedure(cmd *cobra.Command, f clampFlags, args []string) error {
	if len(args) > 0 {
		return usage("clamp takes a thread or --procedure, not both")
	}
	for _, name := range []string{"class", "torque", "friction", "bench", "bore", "turn", "stretch", "grip", "into", "engagement", "wire-insert", "tool", "form", "edition", "nut-factor", "prevailing"} {
		if cmd.Flags().Changed(name) {
			return usage("--%s is for a single bolt; with --procedure the file says it", name)
		}
	}
	p, err := a.load(f.procedure)
	if err != nil {
		return err
	}
	s, err := clamping.Together(p)
	if err != nil {
		return problem(err)
	}
	only, err := onlyPass(s, f.pass)
	if err != nil {
		return problem(err)
	}
	var ways []clamping.Outcome
	if f.compare {
		if ways, err = s.Compare(); err != nil {
			return problem(err)
		}
	}
	if f.json {
		return problem(writeJSON(a.Out, studyJSON(s, only, ways)))
	}
	theme.ForText()
	return problem(a.writeStudy(s, only, ways))
}

// onlyPass finds the pass by name, in any case of letters; −1 when all are meant.
func onlyPass(s *clamping.Study, name string) (int, error) {
	if name == "" {
		return -1, nil
	}
	var names []string
	for i, p := range s.Passes {
		if strings.EqualFold(p.Name, strings.TrimSpace(name)) {
			return i, nil
		}
		names = append(names, p.Name)
	}
	return 0, fmt.Errorf("no pass %q moves a bolt of the cover; those that do: %s", spec.Printable(name), strings.Join(names, ", "))
}

func (a *app) writeStudy(s *clamping.Study, only int, ways []clamping.Outcome) error {
	p := &lineWriter{w: a.Out}
	c := s.Procedure.Cover
	what := c.Part
	if what == "" {
		what = "cover"
	}
	p.line("%s: what the bolts of the %s do to each other: an estimate", s.Procedure.Name, what)
	for i, pass := range s.Passes {
		if only >= 0 && i != only {
			continue
		}
		p.line("\nafter %s (%s), clamp in kN; ! keeps least, %s out or loose", pass.Name, countOf(pass.Steps, "stroke"), theme.Text("·"))
		for _, l := range estimate.Summary(s, pass) {
			p.line("  %s", l)
		}
		p.line("")
		for _, l := range strings.Split(estimate.Map(s, pass, mapWidth, mapHeight), "\n") {
			p.line("%s", strings.TrimRight(l, " "))
		}
		if only >= 0 || i == len(s.Passes)-1 && s.Procedure.Direction == spec.Close {
			p.line("")
			for _, l := range estimate.Table(s, pass, mapWidth) {
				p.line("%s", strings.TrimRight(l, " "))
			}
		}
	}
	list(p, "At the worst moment, as the others let go", "-", estimate.Moments(s))
	if len(ways) > 0 && p.err == nil {
		p.err = a.writeWays(p, s, ways)
	}
	if estimate.Small(s) {
		p.line("\nOn a face this stiff, one bolt takes under half a per cent from the next. What")
		p.line("passes and order are for here (a bowed cover, a film to spread, a gasket that")
		p.line("settles) is not in this estimate.")
	}
	list(p, "Assumed", "-", s.Assumptions())
	p.line("\nThis is an estimate; %s.\n%s.", governs, estimate.NoReason)
	return p.err
}

func (a *app) writeWays(p *lineWriter, s *clamping.Study, ways []clamping.Outcome) error {
	p.line("\nThe sheet's order against others")
	tw := tabwriter.NewWriter(a.Out, 0, 8, 2, ' ', 0)
	opening := s.Procedure.Direction == spec.Open
	if opening {
		fmt.Fprintln(tw, "  WAY\tSTROKES\tMOST OF PROOF LOAD\tON\tMAY BE")
	} else {
		fmt.Fprintln(tw, "  WAY\tSTROKES\tKEEPS LEAST\tON\tMAY BE")
	}
	told := []string{}
	for i, o := range ways {
		share, id, band := o.Kept.Lowest, o.Kept.LowestID, o.Band
		if opening {
			share, id, band = o.Moment.OfProof, o.Moment.ID, o.Moment.Band
		}
		fmt.Fprintf(tw, "  %s\t%d\t%s\t%s\t%.0f to %.0f %%\n", o.Name, o.Strokes, estimate.Whole(share), id, 100*band.Low, 100*band.High)
		if i > 0 && o.Told {
			told = append(told, o.Name)
		}
	}
	if err := tw.Flush(); err != nil {
		return err
	}
	p.line("%s", verdict(len(ways) > 1, told))
	return p.err
}

// verdict says which ways the estimate can tell from the sheet's.
func verdict(compared bool, told []string) string {
	switch {
	case !compared:
		return "No other way comes to other steps."
	case len(told) == 0:
		return "No difference that this estimate can tell."
	}
	return fmt.Sprintf("Told from the sheet's order: %s.\nBetween the others and the sheet's order, no difference that this estimate can tell.", strings.Join(told, "; "))
}

type jsonKept struct {
	Bolts    int     `json:"bolts"`
	Lowest   float64 `json:"lowest"`
	LowestID string  `json:"lowest_id"`
	LowestN  float64 `json:"lowest_n"`
	Mean     float64 `json:"mean"`
	Highest  float64 `json:"highest"`
	Spread   float64 `json:"spread"`
}

func keptJSON(k clamping.Kept) jsonKept {
	return jsonKept{k.Bolts, k.Lowest, k.LowestID, k.LowestN, k.Mean, k.Highest, k.Spread}
}

// jsonBand is the least and the most that a share may really be.
type jsonBand struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// jsonMoment is the worst moment of a kind of bolts in an opening.
type jsonMoment struct {
	What    string   `json:"bolts"`
	ID      string   `json:"id"`
	ForceN  float64  `json:"clamp_n"`
	OfProof float64  `json:"of_proof_load"`
	Band    jsonBand `json:"of_proof_load_may_be"`
	Moved   string   `json:"as_moves"` // empty: before the first stage
	Pass    string   `json:"pass"`
}

func momentsJSON(list []clamping.Moment) []jsonMoment {
	var out []jsonMoment
	for _, m := range list {
		out = append(out, jsonMoment{m.What, m.ID, m.ForceN, m.OfProof, jsonBand(m.Band), m.Moved, m.PassName})
	}
	return out
}

type jsonBolt struct {
	ID     string   `json:"id"`
	ForceN float64  `json:"clamp_n"`
	Kept   *float64 `json:"kept"` // null: out or loose
}

type jsonPass struct {
	Name    string     `json:"pass"`
	Strokes int        `json:"strokes"`
	Kept    jsonKept   `json:"kept"`
	Soft    jsonKept   `json:"kept_on_softest_face"`
	Stiff   jsonKept   `json:"kept_on_stiffest_face"`
	Band    jsonBand   `json:"lowest_may_be"`
	Slack   []string   `json:"slack"`
	Bolts   []jsonBolt `json:"bolts"`
}

type jsonWay struct {
	Name    string    `json:"way"`
	Strokes int       `json:"strokes"`
	Kept    *jsonKept `json:"kept,omitempty"`
	Band    *jsonBand `json:"lowest_may_be,omitempty"`
	Worst   *jsonMost `json:"most_to_carry,omitempty"`
	Told    bool      `json:"told_from_the_sheets"`
}

type jsonMost struct {
	ID     string  `json:"id"`
	Ratio  float64 `json:"ratio"`
	ForceN float64 `json:"clamp_n"`
	Yield  float64 `json:"of_yield"`
	Moved  string  `json:"as_moves"`
	Pass   string  `json:"pass"`
}

func mostJSON(o clamping.Overload) *jsonMost {
	if o.Ratio == 0 {
		return nil
	}
	return &jsonMost{o.ID, o.Ratio, o.ForceN, o.OfYield, o.Moved, o.PassName}
}

type jsonStudy struct {
	Procedure   string       `json:"procedure"`
	Direction   string       `json:"direction"`
	Estimate    bool         `json:"estimate"`
	Passes      []jsonPass   `json:"passes"`
	Most        *jsonMost    `json:"most_to_carry,omitempty"`
	Moments     []jsonMoment `json:"worst_moments,omitempty"`
	Ways        []jsonWay    `json:"ways,omitempty"`
	Assumptions []string     `json:"assumptions"`
	Governs     string       `json:"governs"`
	NoReason    string       `json:"closing"`
}

func studyJSON(s *clamping.Study, only int, ways []clamping.Outcome) jsonStudy {
	doc := jsonStudy{Procedure: s.Procedure.Name, Direction: string(s.Procedure.Direction), Estimate: true, Passes: []jsonPass{}, Most: mostJSON(s.Overload()), Moments: momentsJSON(s.Moments()), Assumptions: s.Assumptions(), Governs: governs, NoReason: estimate.NoReason}
	for i, p := range s.Passes {
		if only >= 0 && i != only {
			continue
		}
		out := jsonPass{p.Name, p.Steps, keptJSON(p.Kept), keptJSON(p.Soft), keptJSON(p.Stiff), jsonBand(p.Band), append([]string{}, p.End.SlackIDs...), []jsonBolt{}}
		for j, b := range s.Bolts {
			one := jsonBolt{ID: b.ID, ForceN: p.ForcesN[j]}
			if k := p.KeptBy[j]; !math.IsNaN(k) {
				one.Kept = &k
			}
			out.Bolts = append(out.Bolts, one)
		}
		doc.Passes = append(doc.Passes, out)
	}
	for _, o := range ways {
		w := jsonWay{Name: o.Name, Strokes: o.Strokes, Worst: mostJSON(o.Worst), Told: o.Told}
		if w.Worst == nil {
			k, band := keptJSON(o.Kept), jsonBand(o.Band)
			w.Kept, w.Band = &k, &band
		}
		doc.Ways = append(doc.Ways, w)
	}
	return doc
}
