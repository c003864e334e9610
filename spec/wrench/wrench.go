package wrench

import (
	"errors"
	"fmt"
	"math"
	"time"
)

// Wrench is one torque wrench of the drawer.
type Wrench struct {
	Name       string
	Kind       Kind
	Unit       string    // of its scale, as printed: "N·m", "lbf·ft"
	UnitNm     float64   // one scale unit in N·m
	Low, High  float64   // scale range, in its unit
	Graduation float64   // scale step, in its unit
	ArmMM      float64   // marked grip point to drive centre; needed with an adapter
	Calibrated time.Time // date of the last calibration; zero: never, or not known
	Cycles     int       // uses since then; 0: not counted
}

// Calibration is due after this long or so many uses, whichever is first (ISO 6789, from memory).
const (
	CalibrationMonths = 12
	CalibrationCycles = 5000
)

// Check says what is missing or impossible in a wrench.
func (w Wrench) Check() error {
	var problems []error
	wrong := func(format string, args ...any) {
		problems = append(problems, fmt.Errorf("wrench %.60q: "+format, append([]any{w.Name}, args...)...))
	}
	ok := func(v float64) bool { return v > 0 && !math.IsInf(v, 0) }
	if w.Kind.Code == "" {
		wrong("no type; give one of ISO 6789-1, such as II A for a click wrench with a scale")
	}
	if !ok(w.UnitNm) {
		wrong("no scale unit; give one such as N·m or lbf·ft")
	}
	if !ok(w.High) || !(w.Low >= 0) || w.Low >= w.High {
		wrong("range %v to %v; give the lowest and highest mark of the scale", w.Low, w.High)
	}
	if !ok(w.Graduation) || ok(w.High) && w.Graduation > w.High {
		wrong("graduation is %v; give the step between two marks", w.Graduation)
	}
	if !(w.ArmMM >= 0) || math.IsInf(w.ArmMM, 0) {
		wrong("arm is %v mm; give the length from grip point to drive centre, or 0 if not known", w.ArmMM)
	}
	if w.Cycles < 0 {
		wrong("%d uses; give 0 or more", w.Cycles)
	}
	return errors.Join(problems...)
}

// MaximumNm is the top of the scale in N·m.
func (w Wrench) MaximumNm() float64 { return w.High * w.UnitNm }

// Permissible is the deviation ISO 6789 allows it, as a share.
func (w Wrench) Permissible() float64 { return w.Kind.Permissible(w.MaximumNm()) }

// CalibrationProblem says why the calibration doesn't count on a day; "" when it does.
func (w Wrench) CalibrationProblem(on time.Time) string {
	due := w.Calibrated.AddDate(0, CalibrationMonths, 0)
	const rule = "ISO 6789 asks for it every 12 months or 5000 uses, from memory"
	switch {
	case w.Calibrated.IsZero():
		return "no calibration date; " + rule
	case w.Calibrated.After(on):
		return fmt.Sprintf("calibration is dated %s, after today; check the date", w.Calibrated.Format(time.DateOnly))
	case on.After(due):
		return fmt.Sprintf("calibration of %s ran out on %s; %s", w.Calibrated.Format(time.DateOnly), due.Format(time.DateOnly), rule)
	case w.Cycles >= CalibrationCycles:
		return fmt.Sprintf("%d uses since calibration; %s", w.Cycles, rule)
	}
	return ""
}

// Adapter is a crowfoot or extension between drive and fastener.
type Adapter struct {
	Name     string  // in the drawer it lies in
	LengthMM float64 // drive centre to fastener centre; 0: none
	AngleDeg float64 // from the wrench's axis: 0 straight on, 90 square, 180 back along the handle
}

// SettingNm is what to set for a target in N·m: M·L/(L + E·cos a), L the arm and E the
// adapter (Army TM 9-2350-261-20-1 in line, TM 9-254 fig. 46 at an angle). An adapter as long as the arm or
// one that leaves under half of it is refused (common practice, no source).
func SettingNm(targetNm, armMM float64, a Adapter) (float64, error) {
	if !(targetNm > 0) || math.IsInf(targetNm, 0) {
		return 0, fmt.Errorf("target is %v N·m; give a torque over 0", targetNm)
	}
	lever, err := a.lever(armMM)
	if err != nil {
		return 0, err
	}
	return targetNm / lever, nil
}

// lever is torque at the fastener over torque at the drive.
func (a Adapter) lever(armMM float64) (float64, error) {
	if a.LengthMM == 0 {
		return 1, nil
	}
	if !(a.LengthMM > 0) || math.IsNaN(a.AngleDeg) || math.IsInf(a.AngleDeg, 0) {
		return 0, fmt.Errorf("adapter of %v mm at %v°; give its length from drive to fastener centre, and its angle from the handle's axis", a.LengthMM, a.AngleDeg)
	}
	if !(armMM > 0) || math.IsInf(armMM, 0) {
		return 0, fmt.Errorf("adapter on a wrench with an arm of %v mm; give the arm, grip point to drive centre", armMM)
	}
	if a.LengthMM >= armMM {
		return 0, fmt.Errorf("adapter of %v mm is as long as the wrench's arm of %v mm or longer; give one shorter than the arm", a.LengthMM, armMM)
	}
	lever := 1 + a.LengthMM*math.Cos(a.AngleDeg*math.Pi/180)/armMM
	if lever < 0.5 {
		return 0, fmt.Errorf("adapter of %v mm at %v° takes away over half of a %v mm arm; turn it square to the handle", a.LengthMM, a.AngleDeg, armMM)
	}
	return lever, nil
}
