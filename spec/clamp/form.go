package clamp

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"evenpull/spec/bolt"
)

// Form names a torque-to-preload formula. They differ by under half a percent, but for
// the short one; a result always says which was used.
type Form string

// The forms. T torque, F preload, P pitch, d2 pitch diameter, D mean bearing diameter,
// µ friction in the thread (µG) and under the head (µK), φ the helix angle, ρ' that of
// tan ρ' = µG/cos 30°.
const (
	Table   Form = "VDI 2230 tables"  // T = F·((d2/2)·tan(φ+ρ') + µK·D/2), also Shigley's: what the published tables were reckoned with
	VDI     Form = "VDI 2230"         // T = F·(P/2π + d2·µG/(2·cos 30°) + µK·D/2)
	Rounded Form = "VDI 2230 rounded" // T = F·(0.16·P + 0.58·d2·µG + µK·D/2) (VDI 2230:2003, from memory)
	Short   Form = "K·F·d"            // T = K·F·d, K the nut factor
)

// forms: the first is the usual one.
var forms = []Form{Table, VDI, Rounded, Short}

// FormNames lists the forms.
func FormNames() []string {
	names := make([]string, len(forms))
	for i, f := range forms {
		names[i] = string(f)
	}
	return names
}

// ParseForm finds a form by name, whatever its dots, dashes and letter case. "Exact tangent",
// the textbooks' name, is that of the tables. An unknown name is an error with the list.
func ParseForm(text string) (Form, error) {
	plain := func(s string) string {
		return strings.NewReplacer("·", "", ".", "", " ", "", "-", "", "*", "").Replace(strings.ToLower(s))
	}
	if plain(text) == "exacttangent" {
		return Table, nil
	}
	for _, f := range forms {
		if plain(text) == plain(string(f)) {
			return f, nil
		}
	}
	return "", fmt.Errorf("there is no form %.40q; use one of: %s", text, strings.Join(FormNames(), ", "))
}

// cosFlank is the cosine of half the thread angle, 30°.
var cosFlank = math.Sqrt(3) / 2

// threadLeverMM is the torque in the thread for each newton of preload, in N·mm/N.
// The short form has no thread term of its own and takes that of VDI 2230.
func (f Form) threadLeverMM(t bolt.Thread, muThread float64) float64 {
	d2, p := t.PitchDiameterMM(), t.PitchMM
	switch f {
	case Table:
		return tangentLever(d2, p, muThread)
	case Rounded:
		return 0.16*p + 0.58*d2*muThread
	}
	return p/(2*math.Pi) + d2*muThread/(2*cosFlank)
}

// tangentLever is (dm/2)·tan(φ+ρ') for tan φ = P/(π·dm) and tan ρ' = µ/cos 30°, exact for a square-on helix.
func tangentLever(dm, pitch, mu float64) float64 {
	tan, rho := pitch/(math.Pi*dm), mu/cosFlank
	return dm / 2 * (tan + rho) / (1 - tan*rho)
}

func (f Form) describe() string {
	switch f {
	case Table:
		return "exact tangent torque formula, that of the VDI 2230 tables"
	case Rounded:
		return "VDI 2230 torque formula with its rounded constants 0.16 and 0.58"
	case Short:
		return "short torque formula T = K·F·d"
	}
	return "VDI 2230 torque formula with exact constants 1/(2π) and 1/(2·cos 30°)"
}

// Digits prints a figure to that many significant digits, never with an exponent: 1120, 24.5.
func Digits(v float64, digits int) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64) // its own print
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
