package estimate

import (
	"fmt"
	"strings"

	"evenpull/procedures/clamping"
	"evenpull/procedures/plan"
	"evenpull/spec/clamp"
	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// Input is one stage and what there is to tighten it with.
type Input struct {
	Plan  *plan.Plan
	Stage *plan.Stage
	Bench Bench
}

// Governs closes every page.
const Governs = "Estimate: the service manual governs."

// Page is the estimate of a stage in exactly h lines of at most w cells: head, bar,
// figures and wrench first, what was assumed as far as there is room. The last
// line always says that it is an estimate. Lines gives all of it, to scroll.
func Page(in Input, w, h int) string {
	if w <= 0 || h <= 0 {
		return ""
	}
	closing := theme.Render(theme.Quiet, fit.Cut(theme.Text(Governs), w))
	body := fit.Box(Lines(in, w), w, h-1)
	return strings.Join(append(body, closing), "\n")
}

// Lines is the whole estimate of a stage in lines of at most w cells.
func Lines(in Input, w int) []string {
	if in.Stage == nil || in.Plan == nil {
		return []string{fit.Cut(theme.Text("no stage at hand"), w)}
	}
	lines := []string{fit.Ends(theme.Render(theme.Title, theme.Text(headOf(in.Stage))), theme.Text("estimate"), w)}
	l, err := clamping.Alone(in.Plan, in.Stage)
	if err != nil {
		lines = append(lines, fit.Wrap(theme.Text("no estimate: "+err.Error()), w)...)
		return append(lines, wrenchLines(in, w)...)
	}
	lines = append(lines, Bar(l, w)...)
	for _, text := range figures(l) {
		lines = append(lines, fit.Wrap(theme.Text(text), w)...)
	}
	lines = append(lines, wrenchLines(in, w)...)
	for _, d := range l.Doubts {
		for _, line := range bullets(theme.Mark(theme.Caution), []string{d.Text}, w) {
			lines = append(lines, theme.Render(theme.Caution, line))
		}
	}
	lines = append(lines, theme.Render(theme.Title, "assumed"))
	lines = append(lines, bullets("-", l.Assumptions, w)...)
	return append(lines, bullets("-", []string{l.Method}, w)...)
}

// headOf names the stage: fastener, group, pass and figure.
func headOf(st *plan.Stage) string {
	if st.Fastener == nil {
		return st.Pass.Name
	}
	return fmt.Sprintf("%s %s, %s", st.Fastener.ID, st.TargetText(), st.Pass.Name)
}

// figures are the numbers of a load, in words.
func figures(l clamping.Load) []string {
	list := []string{fmt.Sprintf("preload %s, expect %s to %s", KN(l.NominalN), KN(l.LowN), KN(l.HighN))}
	if l.LowN == l.HighN {
		list[0] = fmt.Sprintf("preload about %s", KN(l.NominalN))
	}
	share := fmt.Sprintf("%s of yield", Percent(l.Share()))
	switch {
	case l.Yields:
		share = "past yield: the bolt is held at its yield line and keeps a lasting stretch"
	case l.MayYield:
		share += "; the top of the band is past yield"
	}
	list = append(list, share)
	if l.TorqueNm > 0 && l.Degrees == 0 {
		list = append(list, fmt.Sprintf("90 %% of yield is about %s N·m, yield %s N·m", clamp.Digits(l.Torque90Nm, 3), clamp.Digits(l.YieldTorqueNm, 3)))
	}
	if w := l.Warm; w != nil {
		list = append(list, fmt.Sprintf("running, at %.4g °C, about %s, %s of yield; %s", w.WarmC, KN(w.PreloadN), Percent(w.Utilisation), w.Text))
	}
	if l.Degrees > 0 {
		list = append(list, fmt.Sprintf("%.4g° in all after %.4g N·m", l.Degrees, l.TorqueNm))
	}
	return list
}

func wrenchLines(in Input, w int) []string {
	line, _ := WrenchLine(in.Bench, in.Stage)
	if line == "" {
		return nil
	}
	return fit.Wrap(theme.Text("wrench: "+line), w)
}
