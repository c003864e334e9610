package clamp

import (
	"fmt"
	"strings"
)

// Relubed compares the sheet's figure with what the bench would need. It is a warning: the
// sheet's figure is never replaced.
type Relubed struct {
	SheetNm       float64 // the sheet's figure
	SamePreloadNm float64 // N·m that gives the sheet's preload on the bench's friction
	SheetN        float64 // preload the sheet's figure means
	BenchN        float64 // preload the sheet's figure gives on the bench's friction
	BenchOfYield  float64 // utilisation then
	Text          string
}

// Relubed takes the joint's friction for what the sheet says, and bench for what is on the
// threads and under the head.
func (j Joint) Relubed(torqueNm float64, bench Friction) (Relubed, error) {
	sheet, err := j.Assess(torqueNm)
	if err != nil {
		return Relubed{}, err
	}
	if bench == (Friction{}) {
		return Relubed{}, fmt.Errorf("no friction for the bench; give %s or a number", strings.Join(FrictionNames(), ", "))
	}
	there := j
	there.Friction, there.HeadFriction, there.Form = bench, Friction{}, Table
	on, err := there.Assess(torqueNm)
	if err != nil {
		return Relubed{}, err
	}
	same, err := there.Torque(sheet.PreloadN)
	if err != nil {
		return Relubed{}, err
	}
	r := Relubed{torqueNm, same, sheet.PreloadN, on.PreloadN, on.Utilisation, ""}
	r.Text = fmt.Sprintf("estimate: the sheet's %s N·m means %.3g kN; with %s threads it gives %.3g kN (%.0f %% of yield), and %s N·m would give the sheet's preload. The sheet's figure stands: ask its maker, or make the threads as it says",
		Digits(torqueNm, 3), r.SheetN/1000, bench.Name, r.BenchN/1000, 100*r.BenchOfYield, Digits(same, 3))
	return r, nil
}
