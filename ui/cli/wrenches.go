package cli

import (
	"fmt"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/wrench"
	"evenpull/ui/estimate"
)

func (a *app) wrenchesCommand() *cobra.Command {
	var t tools
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "wrenches [PROCEDURE]",
		Short: "The drawer of wrenches, or which of them fits each torque of a procedure",
		Example: `  evenpull wrenches
  evenpull wrenches crankcase-close --adapter "crowfoot 12"`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usage("wrenches takes nothing, or one procedure: a bundled name or a file; see: %s --help", cmd.CommandPath())
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			b, err := a.bench(t)
			if err != nil {
				return err
			}
			if len(args) == 0 {
				return a.listDrawer(b, asJSON)
			}
			p, err := a.load(args[0])
			if err != nil {
				return err
			}
			return a.fitDrawer(b, p, asJSON)
		},
	}
	cmd.Flags().StringVar(&t.file, "wrenches", "", "`FILE` of wrenches (default: wrenches.toml in your settings folder)")
	cmd.Flags().StringVar(&t.adapter, "adapter", "", "adapter on the drive, by `NAME`")
	cmd.Flags().StringArrayVar(&t.wrench, "wrench", nil, "only this wrench, by `NAME`; may be given again")
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	cmd.ValidArgsFunction = arguments(false, a.procedureNames)
	a.completeTools(cmd, &t)
	return cmd
}

type jsonWrench struct {
	Name        string  `json:"name"`
	Type        string  `json:"type"`
	Unit        string  `json:"unit"`
	Low         float64 `json:"low"`
	High        float64 `json:"high"`
	Graduation  float64 `json:"graduation"`
	ArmMM       float64 `json:"arm_mm"`
	Permissible float64 `json:"permissible"` // share, 0.04 for ±4 %
	Calibrated  string  `json:"calibrated"`
	Cycles      int     `json:"cycles"`
	Calibration string  `json:"calibration_problem"`
}

type jsonAdapter struct {
	Name     string  `json:"name"`
	LengthMM float64 `json:"length_mm"`
	AngleDeg float64 `json:"angle_degrees"`
}

// jsonDrawer is the drawer of wrenches.
type jsonDrawer struct {
	File     string        `json:"file"`
	Wrenches []jsonWrench  `json:"wrenches"`
	Adapters []jsonAdapter `json:"adapters"`
}

func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

func (a *app) listDrawer(b estimate.Bench, asJSON bool) error {
	list := b.Named
	if len(list) == 0 {
		list = b.Drawer.Wrenches
	}
	if asJSON {
		doc := jsonDrawer{b.Drawer.File, []jsonWrench{}, []jsonAdapter{}}
		for _, w := range list {
			doc.Wrenches = append(doc.Wrenches, jsonWrench{w.Name, w.Kind.Code, w.Unit, w.Low, w.High, w.Graduation, w.ArmMM, w.Permissible(), day(w.Calibrated), w.Cycles, w.CalibrationProblem(b.On)})
		}
		for _, x := range b.Drawer.Adapters {
			doc.Adapters = append(doc.Adapters, jsonAdapter{x.Name, x.LengthMM, x.AngleDeg})
		}
		return problem(writeJSON(a.Out, doc))
	}
	tw := tabwriter.NewWriter(a.Out, 0, 8, 2, ' ', 0)
	fmt.Fprintln(tw, "WRENCH\tTYPE\tSCALE\tMARKS\tDEVIATION\tCALIBRATION")
	for _, w := range list {
		fmt.Fprintf(tw, "%s\t%s\t%.6g to %.6g %s\t%.6g\t±%.3g %%\t%s\n", w.Name, w.Kind.Code, w.Low, w.High, w.Unit, w.Graduation, 100*w.Permissible(), calibration(w, b.On))
	}
	for _, x := range b.Drawer.Adapters {
		fmt.Fprintf(tw, "%s\tadapter\t%.6g mm at %.6g°\t\t\t\n", x.Name, x.LengthMM, x.AngleDeg)
	}
	return problem(tw.Flush())
}

// calibration is its state in words.
func calibration(w wrench.Wrench, on time.Time) string {
	if p := w.CalibrationProblem(on); p != "" {
		return p
	}
	return fmt.Sprintf("%s, good until %s", day(w.Calibrated), day(w.Calibrated.AddDate(0, wrench.CalibrationMonths, 0)))
}

// wanted is one torque of a procedure and how many stages ask for it.
type wanted struct {
	text   string
	nm     float64
	stages int
	groups []string
}

// torques lists the distinct torques of a procedure in the order they come.
func torques(p *spec.Procedure) []*wanted {
	var list []*wanted
	place := map[string]*wanted{}
	for _, st := range plan.Of(p).Stages {
		nm := estimate.TorqueOf(st)
		if nm == 0 {
			continue
		}
		text := st.Target.Torque.Text()
		w := place[text]
		if w == nil {
			w = &wanted{text: text, nm: nm}
			place[text] = w
			list = append(list, w)
		}
		w.stages++
		if title := st.Fastener.Group.Title; len(w.groups) == 0 || w.groups[len(w.groups)-1] != title {
			w.groups = append(w.groups, title)
		}
	}
	return list
}

type jsonSetting struct {
	Wrench      string   `json:"wrench"`
	Fits        bool     `json:"fits"`
	Unit        string   `json:"unit"`
	Scale       float64  `json:"scale"`
	Mark        float64  `json:"mark"`
	DeliveredNm float64  `json:"delivered_nm"`
	MarkError   float64  `json:"mark_error"`
	LowNm       float64  `json:"low_nm"`
	HighNm      float64  `json:"high_nm"`
	Problems    []string `json:"problems"`
	Calibration string   `json:"calibration_problem"`
	Source      string   `json:"source"`
}

// jsonTarget is one torque of a procedure, and what to set for it.
type jsonTarget struct {
	Text     string        `json:"text"`
	Nm       float64       `json:"nm"`
	Stages   int           `json:"stages"` // how many ask for it
	Settings []jsonSetting `json:"settings"`
}

// jsonFit is which wrench fits each torque of a procedure.
type jsonFit struct {
	Procedure string       `json:"procedure"`
	Adapter   string       `json:"adapter,omitempty"`
	Targets   []jsonTarget `json:"targets"`
}

func settingJSON(x estimate.Advice) jsonSetting {
	s := x.Setting
	return jsonSetting{s.Wrench, s.Fits(), x.Wrench.Unit, s.Scale, s.Mark, s.DeliveredNm, s.MarkError, s.LowNm, s.HighNm, append([]string{}, s.Problems...), x.Doubt, s.Source}
}

func (a *app) fitDrawer(b estimate.Bench, p *spec.Procedure, asJSON bool) error {
	doc := jsonFit{p.Name, b.Adapter, []jsonTarget{}}
	all := torques(p)
	if len(all) == 0 {
		return problem(fmt.Errorf("%s has no torque to set a wrench to", p.Name))
	}
	for _, w := range all {
		choices, err := b.Choices(w.nm)
		if err != nil {
			return problem(fmt.Errorf("%s: %w", w.text, err))
		}
		t := jsonTarget{w.text, w.nm, w.stages, []jsonSetting{}}
		for _, c := range choices {
			t.Settings = append(t.Settings, settingJSON(c))
		}
		doc.Targets = append(doc.Targets, t)
		if !asJSON {
			a.printChoices(w, choices)
		}
	}
	if asJSON {
		return problem(writeJSON(a.Out, doc))
	}
	return nil
}

// printChoices names the wrenches that fit a torque, or why none does.
func (a *app) printChoices(w *wanted, choices []estimate.Advice) {
	fmt.Fprint(a.Out, w.text)
	if w.stages > 0 {
		fmt.Fprintf(a.Out, "  (%s: %s)", countOf(w.stages, "stage"), strings.Join(w.groups, ", "))
	}
	fmt.Fprintln(a.Out)
	fits := 0
	for _, c := range choices {
		if c.Setting.Fits() {
			fits++
		}
	}
	if fits == 0 {
		fmt.Fprintln(a.Out, "  none fits")
	}
	for _, c := range choices {
		if !c.Setting.Fits() && fits > 0 {
			continue
		}
		text := c.Setting.Text(c.Wrench.Unit)
		if c.Setting.Mark == 0 {
			text = c.Line()
		}
		fmt.Fprintf(a.Out, "  %s\n", text)
		if c.Doubt != "" {
			fmt.Fprintf(a.Out, "    ! %s\n", c.Doubt)
		}
	}
}
