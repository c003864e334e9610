package clamp

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"evenpull/spec/bolt"
	"evenpull/spec/outside"
)

// anyBolt is one joint with every figure given, so that another program needs no table of ours.
type anyBolt struct {
	D, P, Bore, Waist, CrossHole, Dw, Dh, Yield, Drag, Wrench float64
	Mu, MuHead                                                [3]float64 // low, nominal, high
	Plastic, Socket, Tapped                                   bool
	Torque, Degrees, Stretch                                  float64
	Grip, WaistLength, Outer, Meet, EBolt, EParts, EHole      float64
	Shank                                                     *float64
	AlphaBolt, AlphaParts, Kelvin                             float64
}

// reckoned is what both programs make of it: kN, N·m, 10⁻⁶ mm/N and shares.
type reckoned struct {
	Preload, Low, High, Share, Yield, Torque90 float64
	Bolt, Parts, End                           float64
	Turned, TurnedLow, TurnedHigh              float64
	Stretched, StretchedLow, StretchedHigh     float64
	Gain, WarmShare                            float64
	AimLow, Aim, AimHigh                       float64
}

// independent works the same out from the published formulae, in other ways: angles instead of tangents of
// sums, roots by bisection instead of a quadratic, the cone of the parts added up by quadrature instead of
// a logarithm.
const independent = `
import json, math, sys
from scipy.integrate import quad
from scipy.optimize import brentq

def reckon(b):
    d2, d3 = b["D"] - 0.649519*b["P"], b["D"] - 1.226869*b["P"]
    d0 = (d2 + d3)/2
    grad = math.radians(30)
    def thread(mu): return d2/2*math.tan(math.atan2(b["P"], math.pi*d2) + math.atan(mu/math.cos(grad)))
    def lever(i): return thread(b["Mu"][i]) + b["MuHead"][i]*(b["Dw"] + b["Dh"])/4
    def ring(D, d): return math.pi*(D*D - d*d)/4
    def twist(D, d): return math.pi*(D**3 - d**3)/12 if b["Plastic"] else math.pi*(D**4 - d**4)/16/D
    places = [(ring(d0, b["Bore"]), twist(d0, b["Bore"]))]
    if b["Waist"]: places.append((ring(b["Waist"], b["Bore"]), twist(b["Waist"], b["Bore"])))
    if b["CrossHole"]:
        D = b["Waist"] or d3
        cut = 1 - b["CrossHole"]*(D - b["Bore"])/ring(D, b["Bore"])
        places.append((ring(D, b["Bore"])*cut, twist(D, b["Bore"])*cut))
    drag = 1000*b["Drag"]
    def stress(F, M): return max(math.sqrt((F/A)**2 + 3*((M + drag)/W)**2) for A, W in places)
    def tight(F, mu): return stress(F, F*thread(mu))
    def load(share, mu): return brentq(lambda F: tight(F, mu) - share*b["Yield"], 0, b["D"]**2*b["Yield"], xtol=1e-9, rtol=1e-14)
    net = 1000*b["Torque"] - drag
    off = b["Wrench"]/100
    F, low, high = net/lever(1), net*(1 - off)/lever(2), net*(1 + off)/lever(0)
    top = load(1, b["Mu"][1])
    out = dict(Preload=F/1e3, Low=low/1e3, High=high/1e3, Share=tight(F, b["Mu"][1])/b["Yield"], Yield=top/1e3,
        Torque90=load(0.9, b["Mu"][1])*lever(1)/1e3 + b["Drag"])

    # bolt: sections in series
    l, full, root = b["Grip"], ring(b["D"], b["Bore"]), ring(d3, b["Bore"])
    nominal = ring(b["D"], 0)
    def end(shank):
        waist = (b["WaistLength"] or shank) if b["Waist"] else 0
        parts = [((0.4 if b["Socket"] else 0.5)*b["D"], nominal), (shank - waist, full), (l - shank, root), (0.5*b["D"], root)]
        if waist: parts.append((waist, ring(b["Waist"], b["Bore"])))
        return sum(length/area for length, area in parts)/b["EBolt"]/1e3
    seat = 0.33*b["D"]/nominal/b["EHole"]/1e3 if b["Tapped"] else 0.4*b["D"]/nominal/b["EBolt"]/1e3
    if b["Shank"] is None:
        short = b["WaistLength"]
        long = max(short, 0.8*l)
        shanks = [(short + long)/2, short, long]
    else: shanks = [b["Shank"]]*3
    ends = [end(s) for s in shanks]
    end0, soft, stiff = ends[0], max(ends), min(ends)

    # parts: VDI 2230's cone, ring by ring; from a nut it narrows again on the far side
    beta, y = l/b["Dw"], b["Meet"]/b["Dw"]
    if b["Tapped"]: tan = 0.348 + 0.013*math.log(beta) + 0.193*math.log(y)
    else: tan = 0.362 + 0.032*math.log(beta/2) + 0.153*math.log(y)
    def wide(x):
        grown = b["Dw"] + 2*tan*(x if b["Tapped"] else min(x, l - x))
        return min(grown, max(b["Outer"], b["Dw"])) if b["Outer"] > b["Dw"] else b["Outer"]
    half = l if b["Tapped"] else l/2
    edge = min(half, max(0, (b["Outer"] - b["Dw"])/(2*tan)))
    one = quad(lambda x: 1/ring(wide(x), b["Dh"]), 0, edge, epsabs=0, epsrel=1e-12)[0] + (half - edge)/ring(b["Outer"], b["Dh"])*(edge < half)
    parts = one*(1 if b["Tapped"] else 2)/b["EParts"]/1e3
    out.update(Bolt=(end0 + seat)*1e6, Parts=parts*1e6, End=end0*1e6)

    # turn and stretch, held at yield
    way = b["P"]*b["Degrees"]/360
    def held(mid, lo, hi, pct):
        mid = min(mid, top)
        return [mid/1e3, min(mid*(1 - pct), lo, load(1, b["Mu"][2]))/1e3, max(mid*(1 + pct), min(hi, load(1, b["Mu"][0])))/1e3]
    out["Turned"], out["TurnedLow"], out["TurnedHigh"] = held(F + way/(end0 + seat + parts), low + way/(soft + seat + parts), high + way/(stiff + seat + parts), 0.12)
    out["Stretched"], out["StretchedLow"], out["StretchedHigh"] = held(b["Stretch"]/end0, 0.95*b["Stretch"]/soft, 1.05*b["Stretch"]/stiff, 0.05)

    # heat: bolt and parts would grow by so much, and are held together
    gain = l*b["Kelvin"]*(b["AlphaParts"] - b["AlphaBolt"])*1e-6/(end0 + seat + parts)
    out["Gain"] = gain/1e3
    out["WarmShare"] = stress(max(0, F + gain), F*thread(b["Mu"][1]))/b["Yield"]

    aimed = 0.5*top
    out["AimLow"], out["Aim"], out["AimHigh"] = [aimed*lever(i)/1e3 + b["Drag"] for i in (0, 1, 2)]
    return out

print(json.dumps([reckon(b) for b in json.load(sys.stdin)]))
`

// someBolts draws joints of every shape, always the same ones.
func someBolts() []anyBolt {
	r := rand.New(rand.NewPCG(2230, 965))
	between := func(low, high float64) float64 { return math.Round((low+(high-low)*r.Float64())*1e4) / 1e4 }
	often := func() bool { return r.IntN(2) == 0 }
	threads := [][2]float64{{5, 0.8}, {6, 1}, {8, 1.25}, {8, 1}, {10, 1.5}, {10, 1.25}, {12, 1.75}, {14, 1.5}, {16, 2}, {20, 1.5}, {24, 3}}
	var list []anyBolt
	for range 200 {
		th := threads[r.IntN(len(threads))]
		d, p := th[0], th[1]
		root := d - 1.226869*p
		b := anyBolt{D: d, P: p, Dw: between(1.35, 1.9) * d, Dh: between(1.03, 1.2) * d, Yield: between(200, 1200), Wrench: between(0, 10), Plastic: often(), Socket: often(), Tapped: often()}
		for _, mu := range []*[3]float64{&b.Mu, &b.MuHead} {
			low := between(0.05, 0.15)
			*mu = [3]float64{low, low + between(0, 0.1), low + between(0.1, 0.2)}
		}
		if often() {
			b.Bore = between(0.1, 0.5) * root
		}
		if often() {
			b.Waist = between(0.75, 1.1) * root
		}
		if often() {
			b.CrossHole = between(0.05, 0.3) * root
		}
		b.Grip = between(1.5, 9) * d
		if often() {
			shank := between(0, 1) * b.Grip
			b.Shank = &shank
		}
		if b.Waist > 0 && often() {
			room := b.Grip
			if b.Shank != nil {
				room = *b.Shank
			}
			b.WaistLength = between(0.1, 1) * room
		}
		b.Outer = max(b.Dh*1.1, between(0.9, 4)*b.Dw)
		b.Meet = between(1.2, 3) * b.Dw
		b.EBolt, b.EParts, b.EHole = between(110, 210), between(40, 210), between(40, 210)
		b.Torque = b.Yield / 640 * between(0.02, 0.25) * d * d * d / 10
		if often() {
			b.Drag = between(0.01, 0.1) * b.Torque
		}
		b.Degrees, b.Stretch = between(5, 120), between(0.0005, 0.005)*b.Grip
		b.AlphaBolt, b.AlphaParts, b.Kelvin = between(8, 18), between(8, 27), between(-60, 150)
		list = append(list, b)
	}
	return list
}

// ours is the same by the front doors of this package.
func (b anyBolt) ours(t *testing.T) reckoned {
	t.Helper()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatalf("%+v: %v", b, err)
		}
	}
	friction := func(mu [3]float64) Friction { return Friction{"drawn", mu[0], mu[1], mu[2], "drawn"} }
	j := Joint{
		Thread: bolt.Thread{Name: "drawn", DiameterMM: b.D, PitchMM: b.P}, YieldMPa: b.Yield, BoreMM: b.Bore, WaistMM: b.Waist, CrossHoleMM: b.CrossHole,
		Friction: friction(b.Mu), HeadFriction: friction(b.MuHead), BearingMM: b.Dw, HoleMM: b.Dh, PrevailingNm: b.Drag, Tool: Tool{"drawn", b.Wrench, 0, "drawn"},
	}
	if !b.Plastic {
		j.Edition = Older
	}
	if b.Socket {
		j.Head = bolt.Socket
	}
	g := Grip{
		LengthMM: b.Grip, WaistMM: b.WaistLength, Tapped: b.Tapped, OuterMM: b.Outer, MeetMM: b.Meet,
		Bolt: bolt.Metal{Name: "drawn", ElasticGPa: b.EBolt, ExpansionPerMK: b.AlphaBolt}, PartsGPa: b.EParts, PartsPerMK: b.AlphaParts, HoleGPa: b.EHole,
	}
	if b.Shank != nil {
		g.ShankMM, g.ShankKnown = *b.Shank, true
	}
	a, err := j.Assess(b.Torque)
	must(err)
	s, err := j.Stiffness(g)
	must(err)
	turn, err := j.Turn(g, b.Torque, b.Degrees)
	must(err)
	stretch, err := j.Stretched(g, b.Stretch)
	must(err)
	warm, err := j.Warm(g, Band{a.PreloadLowN, a.PreloadN, a.PreloadHighN}, 20, 20+b.Kelvin)
	must(err)
	m, err := j.model()
	must(err)
	aim := func(i int) float64 { return 0.5*a.YieldPreloadN*m.leverMM(b.Mu[i], b.MuHead[i])/1000 + b.Drag }
	const k, ppm = 1e-3, 1e6
	return reckoned{
		Preload: a.PreloadN * k, Low: a.PreloadLowN * k, High: a.PreloadHighN * k, Share: a.Utilisation, Yield: a.YieldPreloadN * k, Torque90: a.Torque90Nm,
		Bolt: s.BoltMMPerN * ppm, Parts: s.PartsMMPerN * ppm, End: s.StretchMMPerN * ppm,
		Turned: turn.PreloadN * k, TurnedLow: turn.LowN * k, TurnedHigh: turn.HighN * k,
		Stretched: stretch.PreloadN * k, StretchedLow: stretch.LowN * k, StretchedHigh: stretch.HighN * k,
		Gain: warm.GainN * k, WarmShare: warm.Utilisation, AimLow: aim(0), Aim: aim(1), AimHigh: aim(2),
	}
}

// 200 joints of every shape, against a program that shares nothing with this one but the published
// formulae. Both work in 53 bits, the other with roots and integrals to 1e-12: 1e-8 is left.
func TestAnyBoltAgainstAnIndependentProgram(t *testing.T) {
	bolts := someBolts()
	input, err := json.Marshal(bolts)
	if err != nil {
		t.Fatal(err)
	}
	text := outside.Answer(t, outside.Question{
		Name: "scipy-bolts", Command: "/usr/bin/python3 -c SCRIPT < BOLTS, both in " + t.Name(),
		Version: []string{"/usr/bin/python3", "-c", "import scipy; print('SciPy', scipy.__version__)"}, Install: "python3-scipy",
		Input: independent + "\n" + string(input),
		Ask: func() (string, error) {
			run := exec.Command("/usr/bin/python3", "-c", independent)
			run.Stdin = strings.NewReader(string(input))
			out, err := run.Output()
			return strings.ReplaceAll(string(out), "}, ", "},\n"), err
		},
	})
	var theirs []map[string]float64
	if err := json.Unmarshal([]byte(text), &theirs); err != nil || len(theirs) != len(bolts) {
		t.Fatalf("%d answers for %d bolts: %v", len(theirs), len(bolts), err)
	}
	compared, worst := 0, 0.0
	for i, b := range bolts {
		var ours map[string]float64
		text, err := json.Marshal(b.ours(t))
		if err == nil {
			err = json.Unmarshal(text, &ours)
		}
		if err != nil {
			t.Fatal(err)
		}
		for name, want := range theirs[i] {
			compared++
			off := math.Abs(ours[name]-want) / max(math.Abs(want), 1e-9)
			worst = max(worst, off)
			if !(off <= 1e-8) {
				t.Errorf("bolt %d, %s: %.10g here, %.10g there: %+v", i, name, ours[name], want, b)
			}
		}
		if len(ours) != len(theirs[i]) {
			t.Fatalf("%d figures here, %d there", len(ours), len(theirs[i]))
		}
	}
	t.Logf("%d figures of %d bolts, the worst %.1e apart", compared, len(bolts), worst)
}
