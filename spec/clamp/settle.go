package clamp

import "fmt"

// Roughness is a class of surface in VDI 2230's embedding table, by mean height Rz.
type Roughness int

// The surfaces of the table.
const (
	Smooth Roughness = iota // Rz under 10 µm
	Milled                  // Rz 10 to under 40 µm
	Rough                   // Rz 40 to under 160 µm
)

// embedding holds µm for the thread, each head or nut face, each inner interface; first
// for tension or compression, then for shear (VDI 2230, from memory).
var embedding = [3][2][3]float64{
	Smooth: {{3, 2.5, 1.5}, {3, 3, 2}},
	Milled: {{3, 3, 2}, {3, 4.5, 2.5}},
	Rough:  {{3, 4, 3}, {3, 6.5, 3.5}},
}

// EmbeddingMM is the settling fZ of a joint in mm: one thread, faces under head and nut
// (1 or 2), and inner interfaces between the parts. shear: the load slides the parts.
func EmbeddingMM(r Roughness, shear bool, faces, interfaces int) (float64, error) {
	if r < Smooth || r > Rough {
		return 0, fmt.Errorf("no roughness class %d; give Smooth, Milled or Rough", r)
	}
	if faces < 1 || faces > 2 || interfaces < 0 || interfaces > 100 {
		return 0, fmt.Errorf("%d bearing faces and %d inner interfaces; give 1 or 2 faces and 0 to 100 interfaces", faces, interfaces)
	}
	row := embedding[r][0]
	if shear {
		row = embedding[r][1]
	}
	return (row[0] + float64(faces)*row[1] + float64(interfaces)*row[2]) / 1000, nil
}

// SettlingLossN is the preload lost as the faces bed in: FZ = fZ/(δS+δP) (VDI 2230).
func (j Joint) SettlingLossN(g Grip, embeddingMM float64) (float64, error) {
	_, springs, err := j.sprung(g)
	if err != nil {
		return 0, err
	}
	if err := notNegative("embedding", embeddingMM, "mm"); err != nil {
		return 0, err
	}
	return embeddingMM / springs.usual.giveMMPerN(), nil
}

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
		return Relubed{}, fmt.Errorf("no friction for the bench; give dry, oiled, moly, threadlock or a number")
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
