package bolt

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// inchMM is one inch, exactly.
const inchMM = 25.4

// Thread is one external thread by its nominal sizes. The zero Thread is no thread.
type Thread struct {
	Name       string  // as this program prints it: "M8x1.25", "3/8-16 UNC"
	Series     string  // "ISO coarse", "ISO fine", "ISO special pitch", "UNC", "UNF", "UNEF", "UN", "UNS"
	DiameterMM float64 // nominal diameter d
	PitchMM    float64 // pitch P, of a single start
	Inch       bool    // a Unified thread (ASME B1.1)
}

// ParseThread reads a thread as a sheet writes it: "M8x1.25", "M8×1,25", "m8" (coarse),
// "M10x1", "3/8-16 UNC", "1/4-28", "1/4 UNC", "#10-32 UNF", "No. 10-24". A tolerance class at
// the end ("-6g", "-2A") is allowed and ignored. An unknown thread is an error that names
// the nearest standard ones; so is a left-hand mark, which has its own key.
func ParseThread(text string) (Thread, error) {
	s := strings.ToLower(strings.TrimSpace(text))
	if s == "" {
		return Thread{}, errors.New("no thread given; write one such as M8x1.25, M8 or 3/8-16 UNC")
	}
	if len(s) > longestName {
		return Thread{}, fmt.Errorf("thread %s is too long; write one such as M8x1.25 or 3/8-16 UNC", quoted(text))
	}
	if strings.HasSuffix(s, "lh") || strings.HasSuffix(s, "left") {
		return Thread{}, fmt.Errorf("thread %s carries a left-hand mark; write the thread alone and hand = \"left\" beside it", quoted(text))
	}
	if s[0] == 'm' {
		return parseMetric(text, s)
	}
	return parseInch(text, s)
}

// The basic profile in pitches, as ISO 724 and ASME B1.1 print it: parts of the sharp
// triangle's height H = P·√3/2.
const (
	pitchDrop    = 0.649519 // 3/4 H, nominal to pitch diameter
	rootDrop     = 1.226869 // 17/12 H, nominal to root diameter
	rootDropUNR  = 1.190785 // 11/8 H, the same for a UNR thread
	internalDrop = 1.082532 // 5/4 H, nominal to the nut thread's minor diameter
)

// PitchDiameterMM is d2 = d − 0.649519·P (ISO 724, ASME B1.1).
func (t Thread) PitchDiameterMM() float64 { return t.DiameterMM - pitchDrop*t.PitchMM }

// RootDiameterMM is d3, the bolt's root: d − 1.226869·P (ISO 724), or d − 1.190785·P
// for a Unified thread (UNR reference minor diameter, ASME B1.1).
func (t Thread) RootDiameterMM() float64 {
	if t.Inch {
		return t.DiameterMM - rootDropUNR*t.PitchMM
	}
	return t.DiameterMM - rootDrop*t.PitchMM
}

// MinorInternalMM is D1 = d − 1.082532·P, the basic bore of the nut thread (ISO 724, ASME B1.1).
func (t Thread) MinorInternalMM() float64 { return t.DiameterMM - internalDrop*t.PitchMM }

// StressDiameterMM is d0, the diameter of a plain bar of the same tensile strength:
// (d2+d3)/2 (ISO 898-1), or d − 0.9743/n for a Unified thread (ASME B1.1).
func (t Thread) StressDiameterMM() float64 {
	if t.Inch {
		return t.DiameterMM - 0.9743*t.PitchMM
	}
	return (t.PitchDiameterMM() + t.RootDiameterMM()) / 2
}

// StressAreaMM2 is the tensile stress area As: (π/4)·d0² (ISO 898-1), or
// 0.7854·(d − 0.9743/n)² for a Unified thread (ASME B1.1).
func (t Thread) StressAreaMM2() float64 {
	d0 := t.StressDiameterMM()
	if t.Inch {
		return 0.7854 * d0 * d0
	}
	return math.Pi / 4 * d0 * d0
}

// check says what is wrong with a thread that ParseThread did not make.
func (t Thread) check() error {
	if !(t.DiameterMM > 0 && t.PitchMM > 0) || math.IsInf(t.DiameterMM, 0) || t.RootDiameterMM() <= 0 {
		return fmt.Errorf("thread of diameter %v mm and pitch %v mm has no core; give a thread such as M8x1.25", t.DiameterMM, t.PitchMM)
	}
	return nil
}
