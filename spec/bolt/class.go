package bolt

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"evenpull/spec/near"
)

// ksiMPa is one ksi (1000 lbf/in²) in MPa, from the exact pound-force and inch.
const ksiMPa = 6.894757293168361

const (
	inPrint    = "read in print"
	fromMemory = "from memory"
)

// Class is a property class or grade. Its figures are minimums by size; see Strength.
type Class struct {
	Name     string // "8.8", "A2-70", "SAE 5"
	Standard string // "ISO 898-1", "ISO 3506-1", "SAE J429"
}

// grade is one class over one range of sizes, in MPa.
type grade struct {
	class                         Class
	overMM, upToMM                float64 // nominal diameter: over this, up to and with that
	proof, yield, tensile, yieldN float64 // proof 0: none is defined; yieldN is the nominal yield
	how                           string  // read in print, or from memory
}

var (
	iso898  = "ISO 898-1"
	iso3506 = "ISO 3506-1"
	saeJ429 = "SAE J429"
)

// grades is put together when the first class is read.
var grades = sync.OnceValue(func() []grade { return slices.Concat(carbonGrades, stainlessGrades(), saeGrades()) })

// carbonGrades: ISO 898-1:2013 (3.6: the 1999 edition). Proof Sp, yield (ReL, Rpf or
// Rp0.2) and tensile Rm, all minimum; last the nominal yield.
var carbonGrades = []grade{
	{Class{"3.6", iso898}, 0, 39, 180, 190, 330, 180, fromMemory},
	{Class{"4.6", iso898}, 0, 39, 225, 240, 400, 240, inPrint},
	{Class{"4.8", iso898}, 0, 39, 310, 340, 420, 320, fromMemory},
	{Class{"5.6", iso898}, 0, 39, 280, 300, 500, 300, fromMemory},
	{Class{"5.8", iso898}, 0, 39, 380, 420, 520, 400, inPrint},
	{Class{"6.8", iso898}, 0, 39, 440, 480, 600, 480, fromMemory},
	{Class{"8.8", iso898}, 0, 16, 580, 640, 800, 640, inPrint},
	{Class{"8.8", iso898}, 16, 39, 600, 660, 830, 640, inPrint},
	{Class{"9.8", iso898}, 0, 16, 650, 720, 900, 720, inPrint},
	{Class{"10.9", iso898}, 0, 39, 830, 940, 1040, 900, inPrint},
	{Class{"12.9", iso898}, 0, 39, 970, 1100, 1220, 1080, inPrint},
}

// stainlessGrades: ISO 3506-1, Rp0.2 and Rm by class number; the steel group (A1 to A5)
// makes no difference to them. "A-70" stands for a sheet that doesn't name the group.
func stainlessGrades() []grade {
	var list []grade
	add := func(name string, upTo, yield, tensile float64, how string) {
		list = append(list, grade{Class{name, iso3506}, 0, upTo, 0, yield, tensile, yield, how})
	}
	for _, group := range []string{"A1", "A2", "A3", "A4", "A5", "A"} {
		add(group+"-50", 39, 210, 500, "tensile read in print, yield from memory")
		add(group+"-70", 24, 450, 700, "tensile read in print, yield from memory")
		add(group+"-80", 24, 600, 800, "tensile read in print, yield from memory")
		add(group+"-100", 24, 800, 1000, fromMemory)
	}
	add("C1-50", 39, 250, 500, fromMemory)
	add("C1-70", 39, 410, 700, fromMemory)
	add("C1-110", 39, 820, 1100, fromMemory)
	add("C3-80", 39, 640, 800, fromMemory)
	add("C4-50", 39, 250, 500, fromMemory)
	add("C4-70", 39, 410, 700, fromMemory)
	add("F1-45", 24, 250, 450, fromMemory)
	add("F1-60", 24, 410, 600, fromMemory)
	return list
}

// saeGrades: SAE J429, given there in ksi. Grade 5.1 has no yield, so its proof stress serves.
func saeGrades() []grade {
	return []grade{
		sae("SAE 1", 0.25, 1.5, 33, 36, 60, fromMemory),
		sae("SAE 2", 0.25, 0.75, 55, 57, 74, inPrint),
		sae("SAE 2", 0.75, 1.5, 33, 36, 60, inPrint),
		sae("SAE 4", 0.25, 1.5, 65, 100, 115, fromMemory),
		sae("SAE 5", 0.25, 1, 85, 92, 120, inPrint),
		sae("SAE 5", 1, 1.5, 74, 81, 105, inPrint),
		sae("SAE 5.1", 0.138, 0.625, 85, 85, 120, fromMemory+"; no yield is defined, so the proof stress is used"),
		sae("SAE 5.2", 0.25, 1, 85, 92, 120, fromMemory),
		sae("SAE 7", 0.25, 1.5, 105, 115, 133, fromMemory),
		sae("SAE 8", 0.25, 1.5, 120, 130, 150, inPrint),
		sae("SAE 8.1", 0.25, 1.5, 120, 130, 150, fromMemory),
		sae("SAE 8.2", 0.25, 1, 120, 130, 150, fromMemory),
	}
}

func sae(name string, overIn, upToIn, proof, yield, tensile float64, how string) grade {
	return grade{Class{name, saeJ429}, overIn * inchMM, upToIn * inchMM, proof * ksiMPa, yield * ksiMPa, tensile * ksiMPa, yield * ksiMPa, how}
}

// ClassNames lists every class this package knows, once each.
func ClassNames() []string {
	var names []string
	for _, g := range grades() {
		if !slices.Contains(names, g.class.Name) {
			names = append(names, g.class.Name)
		}
	}
	return names
}

// ParseClass reads a property class: "8.8", "class 10.9", "A2-70", "SAE 5", "grade 8",
// "J429 grade 5". A bare "5" or "8" is refused, for ISO has no such class. An unknown
// class is an error that names the nearest.
func ParseClass(text string) (Class, error) {
	bare := fold(text)
	for _, word := range []string{"iso 898-1", "iso 898", "en iso", "iso 3506-1", "iso 3506", "property class", "class", "cl."} {
		bare = strings.TrimSpace(strings.TrimPrefix(bare, word))
	}
	american := false
	for _, word := range []string{"sae", "j429", "j 429", "grade", "gr.", "gr"} {
		if rest, ok := strings.CutPrefix(bare, word); ok {
			bare, american = strings.TrimSpace(rest), true
		}
	}
	if american {
		bare = "sae " + bare
	}
	bare = strings.NewReplacer(",", ".", "–", "-", "/", "-").Replace(bare)
	for _, g := range grades() {
		name := fold(g.class.Name)
		if name == bare || g.class.Standard == iso3506 && strings.Replace(name, "-", " ", 1) == bare {
			return g.class, nil
		}
	}
	return Class{}, unknownClass(text, bare)
}

func unknownClass(text, bare string) error {
	if bare == "" {
		return fmt.Errorf("no property class given; write one such as 8.8, A2-70 or SAE 5")
	}
	near := near.Ranked(bare, ClassNames(), 3)
	if v, err := strconv.ParseFloat(bare, 64); err == nil {
		near = nearestNumber(v)
	}
	if sae := "SAE " + bare; slices.Contains(ClassNames(), sae) {
		near = []string{sae, near[0], near[1]}
	}
	return fmt.Errorf("no property class %s; the nearest are %s", quoted(text), choice(near))
}

// nearestNumber names the three ISO 898-1 classes nearest in number: "8.9" is a slip for 8.8.
func nearestNumber(v float64) []string {
	var names []string
	for _, g := range carbonGrades {
		if !slices.Contains(names, g.class.Name) {
			names = append(names, g.class.Name)
		}
	}
	off := func(name string) float64 {
		n, _ := strconv.ParseFloat(name, 64)
		return math.Abs(n - v)
	}
	slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(off(a), off(b)) })
	return names[:3]
}

// grade finds the row for a thread: that of its size, or else the nearest with a note.
func (c Class) grade(t Thread) (g grade, note string, ok bool) {
	const slack = 0.01 // mm: 1 in is 25.4, not over it
	for _, row := range grades() {
		if row.class != c {
			continue
		}
		if !ok && t.DiameterMM < row.overMM-slack {
			return row, fmt.Sprintf("%s starts at %.4g mm; its smallest size's figures are used", c.Standard, row.overMM), true
		}
		g, ok = row, true
		if t.DiameterMM <= row.upToMM+slack {
			return g, "", true
		}
	}
	if !ok {
		return grade{}, "", false
	}
	if c.Standard == iso3506 {
		return g, fmt.Sprintf("over %.4g mm the figures of %s are by agreement with the maker; those of the smaller sizes are used", g.upToMM, c.Name), true
	}
	return g, fmt.Sprintf("%s is not defined over %.4g mm; that size's figures are used", c.Name, g.upToMM), true
}

// Strength returns the minimum proof stress, yield strength and tensile strength of the
// class at the thread's size, in MPa, and what was assumed to get them. ISO 3506-1 defines
// no proof stress: Rp0.2 stands in and the assumption says so. An unknown class gives zeros.
func (c Class) Strength(t Thread) (ProofMPa, YieldMPa, TensileMPa float64, assumption string) {
	g, note, ok := c.grade(t)
	if !ok {
		return 0, 0, 0, "no property class"
	}
	assumption = fmt.Sprintf("%s %s minimum figures (%s)", c.Standard, strings.TrimPrefix(c.Name, "SAE "), g.how)
	proof := g.proof
	if proof == 0 {
		proof = g.yield
		assumption += "; no proof stress is defined for it, so Rp0.2 is used"
	}
	if note != "" {
		assumption += "; " + note
	}
	return proof, g.yield, g.tensile, assumption
}

// NominalYieldMPa is the nominal yield the class number stands for (8.8: 0.8 × 800 MPa),
// which older tables use instead of the minimum. 0 for an unknown class.
func (c Class) NominalYieldMPa(t Thread) float64 {
	g, _, _ := c.grade(t)
	return g.yieldN
}
