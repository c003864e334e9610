package estimate

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/clamp"
	"evenpull/spec/wrench"
)

// Bench is what the person has to tighten with, on a day. The zero Bench has nothing.
type Bench struct {
	Drawer  *wrench.Drawer
	Named   []wrench.Wrench // the wrenches said to be in use; none: any of the drawer
	Adapter string          // name of the adapter on the drive; "": none
	On      time.Time
}

// Advice is the wrench for one torque and how to set it.
type Advice struct {
	Wrench  wrench.Wrench
	Setting wrench.Setting
	Adapter string
	Doubt   string // of its calibration on the day; "" when it counts
}

// Choices ranks the wrenches for a torque in N·m, the best first.
func (b Bench) Choices(nm float64) ([]Advice, error) {
	if b.Drawer == nil {
		return nil, fmt.Errorf("there is no drawer of wrenches")
	}
	adapter, err := b.Drawer.Adapter(b.Adapter)
	if err != nil {
		return nil, err
	}
	drawer := b.Named
	if len(drawer) == 0 {
		drawer = b.Drawer.Wrenches
	}
	settings, err := wrench.Choose(drawer, nm, adapter)
	if err != nil {
		return nil, err
	}
	byName := map[string]wrench.Wrench{}
	for _, w := range drawer {
		byName[w.Name] = w
	}
	var list []Advice
	for _, s := range settings {
		w := byName[s.Wrench]
		doubt, _, _ := strings.Cut(w.CalibrationProblem(b.On), ";")
		list = append(list, Advice{w, s, b.Adapter, doubt})
	}
	return list, nil
}

// TorqueOf is the torque in N·m that a stage asks of a wrench, 0 for none.
func TorqueOf(st *plan.Stage) float64 {
	if st == nil || st.Fastener == nil || st.Action != spec.Torque && st.Action != spec.Verify {
		return 0
	}
	return st.Target.Torque.Aim().Nm()
}

// WrenchLine is the advice for a stage in one line, and what the record should keep
// of it. Both are empty when the stage needs no wrench or there is no drawer.
func WrenchLine(b Bench, st *plan.Stage) (line string, facts map[string]string) {
	nm := TorqueOf(st)
	if nm == 0 || b.Drawer == nil {
		return "", nil
	}
	list, err := b.Choices(nm)
	if err != nil {
		first, _, _ := strings.Cut(err.Error(), "\n")
		return "no wrench: " + first, nil
	}
	best := list[0]
	if len(b.Named) == 0 && !best.Setting.Fits() {
		return "no wrench of the drawer fits; " + best.Line(), nil
	}
	return best.Line(), best.facts()
}

// Scale is what the wrench's own scale has to show for a stage where an adapter is on
// the drive, and the adapter. with is empty without one, set where no wrench fits.
func Scale(b Bench, st *plan.Stage) (mark, unit, with string) {
	nm := TorqueOf(st)
	if nm == 0 || b.Drawer == nil || b.Adapter == "" {
		return "", "", ""
	}
	list, err := b.Choices(nm)
	if err != nil || !list[0].Setting.Fits() {
		return "", "", b.Adapter
	}
	return figure(list[0].Setting.Mark), list[0].Wrench.Unit, b.Adapter
}

// Line is the advice in one line: name, what to set, what it delivers, and what is
// wrong with it.
func (a Advice) Line() string {
	if a.Setting.Mark == 0 && !a.Setting.Fits() { // it made no sense of the target
		return a.Wrench.Name + ": " + strings.Join(a.Setting.Problems, "; ")
	}
	line := fmt.Sprintf("%s: set %s %s", a.Wrench.Name, figure(a.Setting.Mark), a.Wrench.Unit)
	if a.Adapter != "" {
		line += " with " + a.Adapter
	}
	line += fmt.Sprintf(", delivers %s–%s N·m", clamp.Digits(a.Setting.LowNm, 3), clamp.Digits(a.Setting.HighNm, 3))
	for _, p := range a.doubts() {
		line += "; " + p
	}
	return line
}

func (a Advice) doubts() []string {
	list := append([]string(nil), a.Setting.Problems...)
	if a.Doubt != "" {
		list = append(list, a.Doubt)
	}
	return list
}

// facts are what the record keeps with the confirmation.
func (a Advice) facts() map[string]string {
	f := map[string]string{"wrench": a.Wrench.Name}
	if a.Setting.Mark > 0 {
		f["set"] = figure(a.Setting.Mark) + " " + a.Wrench.Unit
	}
	if a.Adapter != "" {
		f["adapter"] = a.Adapter
	}
	if doubts := a.doubts(); len(doubts) > 0 {
		f["wrench note"] = strings.Join(doubts, "; ")
	}
	return f
}

// figure prints a mark of a scale without rounding noise.
func figure(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
