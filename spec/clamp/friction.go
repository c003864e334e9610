package clamp

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The coefficients of friction this package believes, lowest and highest. Outside
// them a number is a slip (VDI 2230's friction classes A to E span about these; from memory).
const (
	LeastFriction = 0.04
	MostFriction  = 0.5
)

// Friction is a coefficient of friction with the range to expect, the same in the thread
// and under the head unless a Joint says otherwise.
type Friction struct {
	Name               string
	Low, Nominal, High float64
	Source             string
}

var frictions = []Friction{
	{"dry", 0.14, 0.16, 0.24, "range: VDI 2230 friction class C (from memory); nominal: common practice, no source"},
	{"oiled", 0.08, 0.12, 0.16, "range: VDI 2230 friction class B (from memory); nominal: common practice, no source"},
	{"moly", 0.04, 0.08, 0.10, "range: VDI 2230 friction class A (from memory); nominal: common practice, no source"},
	{"threadlock", 0.10, 0.14, 0.20, "common practice, no source"},
}

// Unstated is the friction of a joint whose sheet says nothing about it.
var Unstated = Friction{"not stated", 0.08, 0.14, 0.24, "assumed, the friction is not stated; range: VDI 2230 friction classes B and C (from memory)"}

// FrictionNames lists the presets.
func FrictionNames() []string {
	names := make([]string, len(frictions))
	for i, f := range frictions {
		names[i] = f.Name
	}
	return names
}

// ParseFriction reads a preset name or a number from 0.04 to 0.5 ("0.12", "0,12"). A
// number gets a range of a fifth either way (common practice, no source).
func ParseFriction(text string) (Friction, error) {
	name := strings.ToLower(strings.TrimSpace(text))
	for _, f := range frictions {
		if f.Name == name {
			return f, nil
		}
	}
	mu, err := strconv.ParseFloat(strings.Replace(name, ",", ".", 1), 64)
	if err != nil {
		return Friction{}, fmt.Errorf("no friction %.60q; write %s, or a number from %v to %v", text, strings.Join(FrictionNames(), ", "), LeastFriction, MostFriction)
	}
	return FrictionOf(mu)
}

// FrictionOf is a friction given as a number.
func FrictionOf(mu float64) (Friction, error) {
	if err := checkFriction("friction", mu); err != nil {
		return Friction{}, err
	}
	low, high := max(LeastFriction, 0.8*mu), min(MostFriction, 1.2*mu)
	return Friction{"given", low, mu, high, "given as a number; a fifth either way is common practice, no source"}, nil
}

func checkFriction(what string, mu float64) error {
	if !(mu >= LeastFriction && mu <= MostFriction) { // catches NaN too
		return fmt.Errorf("%s is %v; give a coefficient from %v to %v, such as 0.12 for oiled steel", what, mu, LeastFriction, MostFriction)
	}
	return nil
}

func (f Friction) check(what string) error {
	for _, mu := range []float64{f.Low, f.Nominal, f.High} {
		if err := checkFriction(what, mu); err != nil {
			return err
		}
	}
	if f.Low > f.Nominal || f.Nominal > f.High {
		return fmt.Errorf("%s range %v, %v, %v is out of order; give low, nominal, high", what, f.Low, f.Nominal, f.High)
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// positive refuses what is not a finite number over 0.
func positive(what string, v float64, unit string) error {
	if v > 0 && finite(v) {
		return nil
	}
	return fmt.Errorf("%s is %v %s; give a number over 0", what, v, unit)
}

// notNegative refuses what is not a finite number of 0 or more.
func notNegative(what string, v float64, unit string) error {
	if v >= 0 && finite(v) {
		return nil
	}
	return fmt.Errorf("%s is %v %s; give 0 for none, or a number over 0", what, v, unit)
}
