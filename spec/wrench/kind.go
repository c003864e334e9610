package wrench

import (
	"fmt"
	"slices"
	"strings"
)

// Kind is a type and class of ISO 6789-1 with its permissible deviation.
type Kind struct {
	Code     string  // "II A"
	What     string  // in words
	SmallPct float64 // ± per cent, when the tool's maximum is 10 N·m or less
	LargePct float64 // ± per cent above
	Source   string
}

const (
	inPrint = "ISO 6789, read in print"
	memory  = "ISO 6789:2003 and ISO 6789-1:2017, from memory"
)

var kinds = []Kind{
	{"II A", "adjustable, graduated", 6, 4, inPrint},
	{"I A", "torsion or flexion bar", 6, 6, memory},
	{"I B", "rigid housing with scale, dial or display", 6, 4, memory},
	{"I C", "rigid housing with electronic measurement", 6, 4, memory},
	{"I D", "screwdriver with scale, dial or display", 6, 6, memory},
	{"I E", "screwdriver with electronic measurement", 6, 4, memory},
	{"II B", "fixed adjustment", 6, 4, memory},
	{"II C", "adjustable, not graduated", 6, 4, memory},
	{"II D", "screwdriver, adjustable, graduated", 6, 6, memory},
	{"II E", "screwdriver, fixed adjustment", 6, 6, memory},
	{"II F", "screwdriver, adjustable, not graduated", 6, 6, memory},
	{"II G", "flexion bar, adjustable, graduated", 6, 6, memory},
}

// KindCodes lists the types and classes.
func KindCodes() []string {
	codes := make([]string, len(kinds))
	for i, k := range kinds {
		codes[i] = k.Code
	}
	return codes
}

// ParseKind reads a type and class: "II A", "type II class A", "2A". Unknown ones are refused with
// the list.
func ParseKind(text string) (Kind, error) {
	code := strings.NewReplacer("TYPE", "", "CLASS", "", " ", "", "-", "", ",", "", "1", "I", "2", "II").Replace(strings.ToUpper(text))
	i := slices.IndexFunc(kinds, func(k Kind) bool { return strings.ReplaceAll(k.Code, " ", "") == code })
	if i < 0 {
		return Kind{}, fmt.Errorf("no wrench type %.40q; write one of ISO 6789-1: %s", text, strings.Join(KindCodes(), ", "))
	}
	return kinds[i], nil
}

// Permissible is the deviation allowed as a share, 0.04 for ±4 %. The tool's maximum in
// N·m decides, not the reading (ISO 6789).
func (k Kind) Permissible(maximumNm float64) float64 {
	if maximumNm <= 10 {
		return k.SmallPct / 100
	}
	return k.LargePct / 100
}
