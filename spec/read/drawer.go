package read

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"evenpull/spec"
	"evenpull/spec/quantity"
	"evenpull/spec/wrench"
)

// Limits on a drawer: more is no drawer.
const (
	maxWrenches = 500
	maxCycles   = 1_000_000
)

// Drawer reads a file of wrenches of format 1. file is only a name for
// messages. The drawer is nil when any problem is more than a warning.
func Drawer(file string, text []byte) (*wrench.Drawer, Problems) {
	r := newReader(file, text)
	d := r.drawer()
	if problems := r.listed(); len(problems.Errors()) > 0 {
		return nil, problems
	}
	return d, r.listed()
}

func (r *reader) drawer() *wrench.Drawer {
	if len(bytes.TrimSpace(r.text)) == 0 {
		r.wrong(0, "write format = 1, then [[wrench]] with name, type, unit, range and graduation", "the file is empty")
		return nil
	}
	top, ok := r.document()
	if !ok {
		return nil
	}
	d := &wrench.Drawer{File: r.file}
	seen := map[string]int{}
	for i, n := range top.tables("wrench", "[[wrench]]") {
		if i == maxWrenches {
			r.wrong(n.at, "leave out those that are never used", "more than %d wrenches", maxWrenches)
			break
		}
		t := r.tableOf(n, fmt.Sprintf("wrench %d", i+1))
		t.named("wrench", "click wrench 5-25", seen)
		d.Wrenches = append(d.Wrenches, t.wrench())
		t.rest()
	}
	if len(d.Wrenches) == 0 && !top.has("wrench") {
		r.wrong(0, "add [[wrench]] with name, type, unit, range and graduation", "there are no wrenches")
	}
	clear(seen)
	for i, n := range top.tables("adapter", "[[adapter]]") {
		t := r.tableOf(n, fmt.Sprintf("adapter %d", i+1))
		t.named("adapter", "crowfoot 12", seen)
		d.Adapters = append(d.Adapters, t.adapter())
		t.rest()
	}
	top.rest()
	return d
}

// named reads the name of an entry, calls the table by it, and refuses it twice.
func (t *table) named(what, example string, seen map[string]int) {
	name := t.must("name", example)
	if name == "" {
		return
	}
	t.name = what + " " + spec.Quote(name)
	key := strings.ToLower(name)
	if first, ok := seen[key]; ok {
		line, _ := t.place(first)
		t.wrong(t.at("name"), "give each a name of its own", "%s is already on line %d", t.name, line)
		return
	}
	seen[key] = t.at("name")
}

func (t table) wrench() wrench.Wrench {
	before := len(t.problems) + t.dropped
	w := wrench.Wrench{Name: t.str("name", "click wrench 5-25"), ArmMM: t.over0("arm", "300 mm"), Calibrated: t.date("calibrated"), Cycles: t.cycles()}
	if text := t.must("type", "II A"); text != "" {
		kind, err := wrench.ParseKind(text)
		if err != nil {
			t.wrong(t.at("type"), "write one of ISO 6789-1: "+strings.Join(wrench.KindCodes(), ", "), "%s: there is no type %s", t.name, spec.Quote(text))
		}
		w.Kind = kind
	}
	unit, ok := t.torqueUnit()
	low, high := t.scale(unit)
	step := t.graduation(unit)
	if !ok {
		return w
	}
	w.Unit, w.UnitNm, w.Low, w.High, w.Graduation = unit.Symbol(), unit.Size(), low, high, step
	if len(t.problems)+t.dropped > before {
		return w
	}
	if err := w.Check(); err != nil { // what the fields alone don't show
		t.wrong(t.n.at, "check range, graduation and arm", "%s", spec.Printable(err.Error()))
	}
	return w
}

// torqueUnit is the unit of the scale.
func (t table) torqueUnit() (quantity.Unit, bool) {
	text := t.must("unit", "N·m")
	if text == "" {
		return quantity.NewtonMetre, false
	}
	u, err := quantity.ParseUnit(text)
	if err != nil || u.Dimension() != quantity.TorqueKind {
		t.wrong(t.at("unit"), "write a unit of torque, such as N·m, lbf·ft or kgf·m", "%s: %s is no unit of torque", t.name, spec.Quote(text))
		return quantity.NewtonMetre, false
	}
	return u, true
}

// scale reads the lowest and the highest mark, in the unit of the scale.
func (t table) scale(u quantity.Unit) (low, high float64) {
	const example = "5 N·m to 25 N·m"
	text := t.must("range", example)
	if text == "" {
		return 0, 0
	}
	span, ok := t.torqueSpan(t.n.table["range"], "range")
	if !ok {
		return 0, 0
	}
	if span.Low == nil || span.High == nil || span.Low.Cmp(*span.High) >= 0 || span.Low.Nm() < 0 {
		t.wrong(t.at("range"), `give its lowest and highest mark, such as "`+example+`"`, "%s: %s is no range of a scale", t.name, spec.Quote(text))
		return 0, 0
	}
	if span.High.Nm() > mostTorqueNm {
		t.wrong(t.at("range"), "give at most 10 000 N·m; check the unit", "%s: range %s is absurd", t.name, spec.Quote(text))
		return 0, 0
	}
	return span.In(u)
}

// graduation reads the step between two marks, in the unit of the scale.
func (t table) graduation(u quantity.Unit) float64 {
	text := t.must("graduation", "0.5 N·m")
	if text == "" {
		return 0
	}
	step, err := quantity.ParseTorque(text)
	if err != nil {
		t.unreadable(t.n.table["graduation"], "graduation", err)
		return 0
	}
	if !(step.Nm() > 0) {
		t.wrong(t.at("graduation"), `give the step between two marks, such as "0.5 N·m"`, "%s: graduation is %s", t.name, spec.Quote(text))
		return 0
	}
	return step.In(u)
}

// over0 reads a length in mm that must not be 0 if it is given.
func (t table) over0(key, example string) float64 {
	before := len(t.problems) + t.dropped
	mm := t.length(key, example).Mm()
	if v := t.n.table[key]; v != nil && mm == 0 && len(t.problems)+t.dropped == before {
		t.wrong(v.at, "give a length over 0, such as "+example, "%s: %s is %s", t.name, key, spec.Quote(v.text))
	}
	return mm
}

func (t table) date(key string) time.Time {
	text := t.str(key, "2026-03-01")
	if text == "" {
		return time.Time{}
	}
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		t.wrong(t.at(key), "write year, month and day, such as 2026-03-01", "%s: %s %s is no date", t.name, key, spec.Quote(text))
	}
	return day
}

// cycles reads the uses since the last calibration; 0 when they are not counted.
func (t table) cycles() int {
	v := t.get("cycles", integerKind, "1200")
	if v == nil {
		return 0
	}
	if v.number < 0 || v.number > maxCycles {
		t.wrong(v.at, fmt.Sprintf("give a whole number from 0 to %d", maxCycles), "%s: cycles is %s", t.name, v.text)
		return 0
	}
	return int(v.number)
}

func (t table) adapter() wrench.Adapter {
	a := wrench.Adapter{Name: t.str("name", "crowfoot 12")}
	if !t.has("length") {
		t.wrong(t.n.at, `add length = "60 mm", drive centre to fastener centre`, "%s has no length", t.name)
	}
	a.LengthMM = t.over0("length", "60 mm")
	if v := t.get("angle", stringKind, `"0°"`); v != nil {
		angle, err := quantity.ParseAngle(v.text)
		switch {
		case err != nil:
			t.unreadable(v, "angle", err)
		case angle.Degrees() < 0 || angle.Degrees() > 180:
			t.wrong(v.at, "give 0° straight on, 90° square, up to 180° back along the handle", "%s: angle is %s", t.name, spec.Quote(v.text))
		}
		a.AngleDeg = angle.Degrees()
	}
	return a
}
