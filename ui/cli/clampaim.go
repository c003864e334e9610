package cli

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"evenpull/spec/bolt"
	"evenpull/spec/clamp"
	"evenpull/spec/quantity"
	"evenpull/ui/estimate"
)

// aim is a clamp to be reached: a preload, or a share of proof load.
type aim struct {
	preloadN float64 // 0: by share
	share    float64
	assumed  bool // nobody named a share
}

// heat is a joint set cold and run warm, in °C.
type heat struct{ coldC, warmC float64 }

// aiming reports whether a torque is asked for, not given.
func (f clampFlags) aiming() bool { return f.torque == "" && f.stretch == "" }

func (f clampFlags) wrenched() bool {
	return f.tools.file != "" || f.tools.adapter != "" || len(f.tools.wrench) > 0
}

func countGiven(texts ...string) (n int) {
	for _, text := range texts {
		if text != "" {
			n++
		}
	}
	return n
}

func (f clampFlags) aimed(k *asking) *aim {
	switch {
	case f.preload != "":
		force, err := quantity.ParseForce(f.preload)
		if err == nil && force.N() <= 0 {
			err = fmt.Errorf("%s is no force over 0; give one such as 20 kN", f.preload)
		}
		k.bad("--preload", err)
		return &aim{preloadN: force.N()}
	case f.share != "":
		share, err := parseShare(f.share)
		k.bad("--share", err)
		return &aim{share: share}
	}
	return &aim{share: clamp.UsualShare, assumed: true}
}

// parseShare reads "75 %" or "75%" as 0.75.
func parseShare(text string) (float64, error) {
	digits, found := strings.CutSuffix(strings.TrimSpace(text), "%")
	share, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(digits), ",", ".", 1), 64)
	if err != nil || !found || !(share > 0 && share <= 100) {
		return 0, fmt.Errorf("%q is no share over 0 and up to 100 %%; write one such as 75%%", text)
	}
	return share / 100, nil
}

func (f clampFlags) heated(k *asking) *heat {
	if f.warm == "" {
		return nil
	}
	h := heat{coldC: clamp.Room}
	var err error
	h.warmC, err = clamp.ParseCelsius(f.warm)
	k.bad("--warm", err)
	if f.cold != "" {
		h.coldC, err = clamp.ParseCelsius(f.cold)
		k.bad("--cold", err)
	}
	return &h
}

// gripped reads what lies between head and thread.
func (f clampFlags) gripped(k *asking, g *clamp.Grip) {
	g.LengthMM, g.WaistMM = k.length("--grip", f.grip), k.length("--waist-length", f.waistLength)
	if f.shank != "" {
		shank, err := quantity.ParseLength(f.shank)
		k.bad("--shank", err)
		g.ShankMM, g.ShankKnown = shank.Mm(), true
	}
	if f.parts != "" {
		parts, err := bolt.ParseMaterial(f.parts)
		k.bad("--parts", err)
		g.Parts, g.PartsGPa, g.PartsPerMK = parts.Name, parts.ElasticGPa, parts.ExpansionPerMK
	}
	if f.metal != "" {
		metal, err := bolt.ParseMetal(f.metal)
		k.bad("--bolt-material", err)
		g.Bolt = metal
	}
}

// jsonAim is what was aimed at, and the wrench that comes nearest to it.
type jsonAim struct {
	clamp.Aim
	Assumed     bool    `json:"share_assumed"`
	Wrench      string  `json:"wrench,omitempty"`
	Set         float64 `json:"set,omitempty"` // on its scale
	SetUnit     string  `json:"set_unit,omitempty"`
	DeliveredNm float64 `json:"delivered_nm,omitempty"`
	line        string  // the wrench in words
}

// aim finds the torque for what was aimed at, in steps of the wrench that suits it best.
// It goes on with what that wrench delivers.
func (a *app) aim(q *question, f clampFlags) (*jsonAim, error) {
	var found clamp.Aim
	var err error
	if q.aim.preloadN > 0 {
		found, err = q.joint.AimAt(q.aim.preloadN)
	} else {
		found, err = q.joint.AimAtShare(q.aim.share)
	}
	if err != nil {
		return nil, problem(err)
	}
	ja := &jsonAim{Aim: found, Assumed: q.aim.assumed}
	q.torqueNm = found.TorqueNm
	b, err := a.bench(f.tools)
	var none noDrawer
	if errors.As(err, &none) && !f.wrenched() {
		return ja, nil
	} else if err != nil {
		return nil, err
	}
	list, err := b.Choices(found.TorqueNm)
	if err != nil {
		return nil, problem(err)
	}
	ja.wrench(q, list[0])
	return ja, nil
}

// wrench takes over what a wrench delivers, if it fits.
func (ja *jsonAim) wrench(q *question, best estimate.Advice) {
	ja.line = best.Line()
	if !best.Setting.Fits() {
		ja.line = "none of the drawer fits; " + ja.line
		return
	}
	s := best.Setting
	ja.Wrench, ja.Set, ja.SetUnit, ja.DeliveredNm = s.Wrench, s.Mark, best.Wrench.Unit, s.DeliveredNm
	q.torqueNm = s.DeliveredNm
	if q.joint.Tool == (clamp.Tool{}) {
		q.joint.Tool = clamp.Tool{Name: best.Wrench.Name, TorquePct: 100 * best.Wrench.Permissible(), Source: s.Source}
	}
}

// title is what was aimed at, for the first line.
func (ja *jsonAim) title(share float64) string {
	if share == 0 {
		return "for " + estimate.KN(ja.PreloadN)
	}
	return fmt.Sprintf("for %s of proof load", estimate.Percent(share))
}

func (ja *jsonAim) write(p *lineWriter) {
	aimed := fmt.Sprintf("%s, %s of proof load", estimate.KN(ja.PreloadN), estimate.Percent(ja.ShareOfProof))
	if ja.Assumed {
		aimed += ": usual for a bolt that is used again (Shigley, from memory), since none was named"
	}
	p.line("  %-14s %s", "aim", aimed)
	p.line("  %-14s %s N·m; from %s N·m on slick threads to %s N·m on rough ones", "takes", clamp.Digits(ja.TorqueNm, 3), clamp.Digits(ja.TorqueLowNm, 3), clamp.Digits(ja.TorqueHighNm, 3))
	if ja.line != "" {
		p.line("  %-14s %s", "wrench", ja.line)
	}
}

// warmed is the clamp at the running temperature.
func (ans *answer) warmed() error {
	q := ans.question
	if q.heat == nil {
		return nil
	}
	set := clamp.Band{LowN: ans.PreloadLowN, NominalN: ans.PreloadN, HighN: ans.PreloadHighN}
	if t := ans.Turn; t != nil {
		set = clamp.Band{LowN: t.LowN, NominalN: t.PreloadN, HighN: t.HighN}
	}
	w, err := q.joint.Warm(q.grip, set, q.heat.coldC, q.heat.warmC)
	ans.Warm = &w
	return err
}
